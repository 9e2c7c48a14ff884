"""Chords that stay where they are, among words or in remarks, which are reported."""

import re
from collections.abc import Sequence

from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.kinds.line_kinds import Chords, KnownLine, SectionStart, Words
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.inline_chords import chords_in_cues, squared_chords
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import WORDS_TOO
from chartkit.interchange.wording import counted

_LOOSE = re.compile(
    r"[A-G](?<!\S.)(?:[#b♯♭]|m|maj|sus|\d)*\s(?:.*\s)?[A-G](?:[#b♯♭]|m|maj|sus|\d)*(?!\S)"
)


def report_chords_among_words(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Reports chords that stay among the words or in remarks, once of each kind."""
    squared = [
        (one.line, names)
        for one in known
        if not isinstance(one.kind, (Chords, SectionStart))
        and (names := squared_chords(one.line.text, sheet.tokens))
    ]
    if squared:
        text, count = _named(squared)
        are = "is" if count == 1 else "are"
        sheet.findings.guess(
            "chords-in-brackets",
            f"{counted(count, 'chord')} in square brackets among words {are} kept as "
            f"words: set them above the words, or in ( ): {text}",
            squared[0][0].place(),
        )
    cues = [
        (one.line, names)
        for one in known
        if isinstance(one.kind, Chords) and (names := chords_in_cues(one.kind.tokens, sheet.tokens))
    ]
    if cues:
        text, count = _named(cues)
        stay = "stays there" if count == 1 else "stay there"
        sheet.findings.guess(
            "chords-in-remarks",
            f"{counted(count, 'chord')} named in remarks among chords {stay}: {text}",
            cues[0][0].place(),
        )


def report_loose_chords(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Reports what looks like chords typed in front of their words on one line, where that is not
    a letter's, left out or read for its settings."""
    of_letters = ("letter", "head-settings")
    letters = {one.place for one in sheet.findings.collected if one.code in of_letters}
    loose = [
        (one.line, names)
        for one in known
        if isinstance(one.kind, Words)
        and one.line.place() not in letters
        and _LOOSE.search(one.line.text) is not None
        and len(names := _loose_chords(one.line.text, sheet.tokens)) > 1
    ]
    if loose:
        text, count = _named(loose)
        sheet.findings.guess(
            "chords-among-words",
            f"{counted(count, 'word')} among the words may be chords ({text}): they are kept as "
            "words; type chords above their words, or in ( )",
            loose[0][0].place(),
        )


_DOTS = ("..", "…")


def report_slips(sheet: Sheet, known: Sequence[KnownLine]) -> None:
    """Reports chords that were read in spite of a slip of the finger."""
    usual: set[str] = set()  # most chords of a song come often
    for one in known:
        if not isinstance(one.kind, Chords):
            continue
        for token in one.kind.tokens:
            if token.kind != "chord" or token.text in usual:
                continue
            if token.text.endswith(_DOTS):
                sheet.findings.guess(
                    "dots-behind-chord",
                    f'"{token.text}" is read as a chord alone: what its dots say is left out',
                    one.line.place(),
                )
            if token.text.endswith("^"):
                sheet.findings.guess(
                    "accent-or-triangle",
                    f'"{token.text}" is read as a chord with an accent, which is left out: the '
                    "sign may also mean a major seventh",
                    one.line.place(),
                )
                usual.add(token.text)
            symbol = token.text.strip("<>!~,*;.…()")
            slipped = sheet.tokens.symbol(symbol) is None
            if slipped and (meant := sheet.tokens.without_slip(symbol)):
                sheet.findings.guess(
                    "mistyped-chord", f'"{symbol}" is read as {meant}', one.line.place()
                )
            elif not slipped:
                usual.add(token.text)


def _named(result: list[tuple[Line, list[str]]]) -> tuple[str, int]:
    """The names of chords, each once, and how many they are."""
    every = [name for _, names in result for name in names]
    return ", ".join(dict.fromkeys(every)), len(every)


def _loose_chords(text: str, tokens: TokenReader) -> list[str]:
    names = [word.strip(",.;") for word in text.split()]
    sure = any(name not in WORDS_TOO and tokens.symbol(name) for name in names)
    return [name for name in names if sure and name[:1].isupper() and tokens.symbol(name)]
