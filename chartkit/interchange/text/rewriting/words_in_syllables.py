"""Lines of words that were typed in syllables: without hyphens where no chords stand above; with
seams, which close when words are put under chords, where some do."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.typed_syllables import (
    SEAM,
    SyllablesOfSheet,
    chains_of,
    kept_places,
)
from chartkit.interchange.text.tokens import IsChords

_LONGEST = 240
_MOST_LINES = 5_000
_MOST_STACKED = 20


def with_words_whole(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, below the first row of chords, with words that were typed in syllables as words.

    Lines of a page with places of its own stay: its letters are put under chords by these places.
    """
    if len(lines) > _MOST_LINES or any(line.where for line in lines):
        return list(lines)
    doubtful = [at for at, line in enumerate(lines) if _may_have_syllables(line)]
    begin = next((at for at, line in enumerate(lines) if is_chords(line.text)), len(lines))
    doubtful = [at for at in doubtful if at > begin and not is_chords(lines[at].text)]
    if not doubtful:
        return list(lines)
    words = (line.text for line in lines if len(line.text) <= _LONGEST)
    sheet = SyllablesOfSheet([text for text in words if not is_chords(text)])
    result = list(lines)
    for at in doubtful:
        under = _has_chords_above(lines, at, is_chords)
        text = sheet.with_seams(lines[at].text, sung=under)
        if SEAM in text:
            seamed = replace(lines[at], text=text)
            result[at] = seamed if under else _whole(seamed)
    return result


def _may_have_syllables(line: Line) -> bool:
    if len(line.text) > _LONGEST or next(chains_of(line.text), None) is None:
        return False
    return heading_of(line.text) is None


def _has_chords_above(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether a row of chords stands in the block of a line above it."""
    for line in reversed(lines[max(0, at - _MOST_STACKED) : at]):
        if not line.text.strip():
            return False
        if is_chords(line.text):
            return True
    return False


def _whole(line: Line) -> Line:
    """A line without its seams; its letters keep their columns."""
    kept = kept_places(line.text)
    columns = tuple(line.column(at) for at in (*kept, len(line.text)))
    return replace(line, text="".join(line.text[at] for at in kept), columns=columns)
