"""A line of words under a row of chords: cut at their columns, verse by verse."""

import re
from collections.abc import Container
from dataclasses import replace

from chartkit.chart.model import Bar, MusicRow, Segment, WordsRow
from chartkit.interchange.sheet.align import segments_of
from chartkit.interchange.sheet.bars import ReadRow
from chartkit.interchange.sheet.lines import Line, line_of
from chartkit.interchange.sheet.token import STRUCK, Kind, Played, Token
from chartkit.interchange.sheet.tokens import WORDS_TOO, Tokens

VERSE = re.compile(r"\s*(\d{1,2})[.)](?:\s+(?=\S)|\s*$)")
"""The number of a verse before its words."""
_TAIL = re.compile(r"\s\(([^()]+)\)\s*$")
_TIMES = re.compile(r"\s{2,}(\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?)$", re.IGNORECASE)
_LONGEST_TIMES = 12
_GAP = 2
_MOST_BEHIND = 8

Cells = tuple[tuple[Segment, ...], ...]


def words_row(line: Line, read: ReadRow) -> WordsRow:
    """The words under a row that was read."""
    verse = VERSE.match(line.text)
    if verse is not None:
        blank = " " * verse.end() + line.text[verse.end() :]
        line = replace(line, text=blank)
    number = int(verse[1]) if verse is not None else None
    cells = _free_cells(line, read) if read.music.free else _barred_cells(line, read)
    return WordsRow(cells, number)


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


def without_tail(
    line: Line, tokens_of: Tokens, row_end: int = 0, columns: Container[int] = ()
) -> tuple[Line, list[Token]]:
    """A line of words without what stands behind them, and that: chords, in parentheses or
    after a gap, or how often the line is sung.

    ``row_end`` is the column in which the row of chords above ends: what stands under it and
    has no parentheses is words.
    """
    times = _TIMES.search(line.text, max(0, len(line.text) - _LONGEST_TIMES))
    if (
        times is not None
        and (line.column(times.start(1)) >= row_end or times[1].startswith("("))
        and line.text.strip() != times[1]
        and line.column(times.start(1)) not in columns
    ):
        return _before(line, times.start()), [_token("times", line, times.start(1), times[1])]
    found = _TAIL.search(line.text)
    if found is None:
        return _without_chords_behind(line, tokens_of, row_end)
    inside = line_of(line.number, " " * found.start(1) + found[1])
    tokens = [token for token in tokens_of.row(inside) or () if token.kind != "filler"]
    if not tokens or any(token.kind not in STRUCK for token in tokens):
        return line, []
    if len(tokens) == 1:  # several in parentheses are one group, not chords that may be left out
        tokens = [_optional(tokens[0])]
    return _before(line, found.start()), tokens


def _optional(token: Token) -> Token:
    return replace(token, played=tuple(replace(one, optional=True) for one in token.played))


def _without_chords_behind(line: Line, tokens_of: Tokens, row_end: int) -> tuple[Line, list[Token]]:
    """A line of words without the chords that stand behind it after a gap, and these."""
    if "  " not in line.text:
        return line, []
    text = line.text.rstrip()
    at = len(text)
    found: list[Token] = []
    while len(found) < _MOST_BEHIND:
        start = text.rfind(" ", 0, at) + 1
        word = text[start:at]
        kind, played = tokens_of.read(word)
        if not word or kind not in STRUCK:
            break
        found.insert(0, _token(kind, line, start, word, played))
        at = len(text[:start].rstrip())
        if not at:
            return line, []
    if found and found[0].column < row_end:
        return line, []
    words_too = len(found) == 1 and found[0].text in WORDS_TOO
    if not found or words_too or line.index(found[0].column) - at < _GAP:
        return line, []
    return _before(line, at), found


def _before(line: Line, at: int) -> Line:
    columns = None if line.columns is None else line.columns[: at + 1]
    return replace(line, text=line.text[:at], columns=columns)


def _token(kind: Kind, line: Line, at: int, text: str, played: tuple[Played, ...] = ()) -> Token:
    return Token(kind, line.column(at), text, played, line.column(at + len(text)))
