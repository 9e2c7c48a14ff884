"""Puts words under chords: cuts a line of words by columns.

People aim at the syllable and miss by a column: a chord above the second letter of a word is
meant for the word (common practice, no source); one further in cuts the word there, if both
halves can be syllables.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import accumulate

from chartkit.chart.model import Bar, MusicRow, Segment, WordsRow
from chartkit.diagnostics import Span
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.read_rows import ReadRow
from chartkit.interchange.text.rows.typed_syllables import SEAM, closed, without_held
from chartkit.interchange.text.vocabulary.syllables import syllable_count, syllable_near

_NEAR = 1
_LONGEST_WORD = 60
_LONGEST_KEPT = 240


def segments_of(line: Line, columns: Sequence[int]) -> tuple[Segment, ...]:
    """The words of a line cut at columns: one segment before the first and one for each."""
    places = columns if line.columns is None else map(line.index, columns)
    cut = _segments_at if len(line.text) <= _LONGEST_KEPT else _segments_at.__wrapped__
    return cut(line.text, tuple(places))


@lru_cache(maxsize=256)  # songs say their lines again
def _segments_at(text: str, places: tuple[int, ...]) -> tuple[Segment, ...]:
    """The words of a text cut at places."""
    segments = []
    start, last = 0, -1
    for place in places:
        if start == len(text):  # nothing is left for this chord
            segments.append(_NO_WORDS)
            continue
        last = max(_cut(text, place, last), last, 0)
        segments.append(_segment(text, start, last))
        start = last
    segments.append(_segment(text, start, len(text)))
    return tuple(_sewn(segments) if SEAM in text else segments)


def _sewn(segments: Sequence[Segment]) -> list[Segment]:
    """The words between chords with their seams closed: one at the edge of a segment says that its
    word goes on in the next."""
    result: list[Segment] = []
    for segment in segments:
        text = segment.text
        if text.startswith(SEAM) and result and result[-1].text:
            result[-1] = replace(result[-1], split=True)
        within = closed(text.strip(f"{SEAM} "))
        if text and not within:
            result.append(Segment(held=True))
        else:
            split = segment.split or text.endswith(SEAM)
            result.append(replace(segment, text=within, split=split))
    return result


def _cut(text: str, at: int, last: int) -> int:
    """The place to cut nearest to an index: within the word where it has a syllable there;
    else before it, or behind it where the ``last`` chord has it already."""
    if at >= len(text) or at <= 0:
        return max(0, min(at, len(text)))
    if text[at].isspace() or text[at - 1].isspace():
        return at
    low, high = max(0, at - _LONGEST_WORD), min(len(text), at + _LONGEST_WORD)
    start = max(low, text.rfind(" ", low, at) + 1)
    if at - start <= _NEAR and start > last:
        return start
    for near in (at, at - 1, at + 1):
        if text[near - 1 : near] in ("-", SEAM):
            return near
    end = text.find(" ", at, high)
    end = high if end < 0 else end
    inside = syllable_near(text[start:end], at - start) if at - start > _NEAR else 0
    if at == end - 1 and not text[at].isalnum() and text[end:].strip():
        return end  # behind the word's last letter: for the next one
    if inside:
        return start + inside
    before = at == end - 1 and 0 <= last < start <= last + _NEAR and text[last].isspace()
    return start if start > last and not before else end  # the chord in the gap has the word


def _segment(line: str, start: int, end: int) -> Segment:
    """The words between two places of a line, and whether they break off within a word."""
    words = " ".join(line[start:end].split())
    if not words:
        return _NO_WORDS
    if "_" in words:
        if not words.strip("_"):
            return Segment(held=True)
        words = without_held(words)
    inside = end < len(line) and not (line[end] == " " or line[end - 1] == " ")
    inside = inside and not (line[end].isspace() or line[end - 1].isspace())
    inside = inside and unicodedata.east_asian_width(line[end]) != "W"  # no blanks there
    if words.endswith("-") and words[-2:-1].isalnum():
        return Segment(words.rstrip("-").rstrip(), split=True)
    return Segment(words, inside)


_NO_WORDS = Segment()
VERSE = re.compile(r"\s*(\d{1,2})[.)](?:\s+(?=\S)|\s*$)")
"""The number of a verse before its words."""

Cells = tuple[tuple[Segment, ...], ...]


def words_row(line: Line, read: ReadRow) -> WordsRow:
    """The words under a row that was read."""
    verse = VERSE.match(line.text)
    if verse is not None:
        blank = " " * verse.end() + line.text[verse.end() :]
        line = replace(line, text=blank)
    number = int(verse[1]) if verse is not None else None
    cells = _free_cells(line, read) if read.music.free else _barred_cells(line, read)
    return WordsRow(cells, number, span=Span(line.number, line.number))


def _free_cells(line: Line, read: ReadRow) -> Cells:
    pieces = segments_of(line, read.columns[0])
    return (pieces[:1], pieces[1:])


def _barred_cells(line: Line, read: ReadRow) -> Cells:
    """A cell for the pick-up where the row begins with a bar line, then one a bar."""
    if "|" in line.text:  # some type the bar lines among the words too
        line = replace(line, text=line.text.replace("|", " "))
    flat = [column for columns in read.columns for column in columns]
    opened = read.music.lines[0].kind != "none"
    pieces = segments_of(line, flat if opened else flat[1:])
    cells: list[tuple[Segment, ...]] = [pieces[:1]] if opened else []
    at = 1 if opened else 0
    for columns in read.columns:
        cells.append(_trimmed(pieces[at : at + len(columns)]))
        at += len(columns)
    return tuple(cells)


def _trimmed(cell: tuple[Segment, ...]) -> tuple[Segment, ...]:
    while len(cell) > 1 and cell[-1] == Segment():
        cell = cell[:-1]
    return cell or (Segment(),)


def places_by_syllables(words: str, count: int) -> tuple[int, ...]:
    """The columns of so many chords spread over a line of words, each before a word where there
    are words enough."""
    pieces = list(re.finditer(r"\S+", words))
    before = [0, *accumulate(syllable_count(piece[0]) for piece in pieces)]
    total = before.pop()
    places: list[int] = []
    at = -1
    for number in range(count):
        free = range(at + 1, max(at + 2, len(pieces) - (count - number - 1)))
        wanted = number * total / count
        at = min(free, key=lambda i: abs(before[i] - wanted) if i < len(before) else total + i)
        places.append(pieces[at].start() if at < len(pieces) else len(words))
    return tuple(places)


def at_end_of(music: MusicRow) -> ReadRow:
    """The row as if its last chord stood where a line of words begins."""
    places = [max(1, len(bar.strikes) + _held(bar, music.free)) for bar in music.bars]
    return ReadRow(music, tuple((0,) * count for count in places))


def _held(bar: Bar, free: bool) -> bool:
    return not free and bool(bar.strikes) and bar.strikes[0].onset > 0


def sung_on(row: WordsRow, text: str) -> WordsRow:
    """The row with more words after its last ones."""
    *cells, last = row.cells
    *segments, end = last
    joined = Segment(f"{end.text}{'' if end.split else ' '}{text}".strip())
    return replace(row, cells=(*cells, (*segments, joined)))
