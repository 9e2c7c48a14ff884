"""Chords that stay where they were typed, among words and in remarks, and are told by name."""

from collections.abc import Sequence

from chartkit.interchange.sheet.headings import heading_of
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.sheet.state import Sheet
from chartkit.interchange.sheet.token import Token
from chartkit.interchange.sheet.within import chords_in_cues, squared_chords
from chartkit.interchange.wording import counted


def tell_chords_among_words(
    sheet: Sheet, lines: Sequence[Line], kinds: Sequence[tuple[Token, ...] | None]
) -> None:
    """Tells of chords that stay among the words or in remarks, once of each kind."""
    words = (line for line, kind in zip(lines, kinds, strict=True) if kind is None)
    squared = [
        (line, found) for line in words
        if heading_of(line.text.strip()) is None
        and (found := squared_chords(line.text, sheet.tokens))
    ]  # fmt: skip
    if squared:
        names, count = _named(squared)
        sheet.findings.guess(
            "chords-in-brackets", f"{counted(count, 'chord')} in square brackets among words are "
            f"kept as words: set them above the words, or in ( ): {names}", squared[0][0].place(),
        )  # fmt: skip
    rows = ((line, kind) for line, kind in zip(lines, kinds, strict=True) if kind is not None)
    cues = [(line, found) for line, row in rows if (found := chords_in_cues(row, sheet.tokens))]
    if cues:
        names, count = _named(cues)
        sheet.findings.guess(
            "chords-in-remarks", f"{counted(count, 'chord')} named in remarks among chords stay in "
            f"them: {names}", cues[0][0].place(),
        )  # fmt: skip


def _named(found: list[tuple[Line, list[str]]]) -> tuple[str, int]:
    """The names of chords, each once, and how many they are."""
    every = [name for _, names in found for name in names]
    return ", ".join(dict.fromkeys(every)), len(every)
