"""Pieces of text to lines in reading order: columns one after another, running heads dropped."""

import re
from collections import Counter
from itertools import groupby

from chartkit.interchange.pdf_text.pieces import Piece
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.taken import Findings

_SAME_LINE = 0.35
"""How far apart, in ems, the baselines of one line may lie."""
_BLANK = 0.12
"""A gap of so many ems is a blank between words."""
_NEW_BLOCK = 1.9
"""A drop of so many ems leaves an empty line."""
_TENTHS = 10
_FEWEST_IN_COLUMN = 4
_Row = list[Piece]


def lines_of(pieces: list[Piece], findings: Findings) -> list[Line]:
    """The lines of all pages, with an empty one between blocks.  Columns of a line are tenths
    of a point."""
    pages = [_rows(list(page)) for _, page in groupby(pieces, key=lambda piece: piece.page)]
    pages = _without_running_heads(pages, findings)
    lines: list[Line] = []
    for rows in pages:
        for column in _columns(rows):
            lines += _column_lines(column, len(lines))
            lines.append(Line(len(lines) + 1, ""))
    return lines


def _rows(pieces: list[Piece]) -> list[_Row]:
    """Pieces of one page gathered on their baselines, from the top."""
    rows: list[_Row] = []
    for piece in sorted(pieces, key=lambda p: (-p.y, p.x)):
        if rows and abs(rows[-1][0].y - piece.y) <= _SAME_LINE * max(piece.size, 4):
            rows[-1].append(piece)
        else:
            rows.append([piece])
    return [sorted(row, key=lambda piece: piece.x) for row in rows]


def _text(row: _Row) -> str:
    return " ".join(piece.text.strip() for piece in row)


def _plain(row: _Row) -> str:
    """The text of a row with every number as 0, so that page numbers are alike."""
    return re.sub(r"\d+", "0", _text(row))


def _without_running_heads(pages: list[list[_Row]], findings: Findings) -> list[list[_Row]]:
    """Pages without what stands first or last on several of them, page numbers aside."""
    if len(pages) < 2:
        return pages
    ends = Counter(text for rows in pages for text in {_plain(row) for row in _edges(rows)})
    heads = {text for text, count in ends.items() if count > 1}
    if heads:
        as_first = {_plain(row): _text(row) for rows in reversed(pages) for row in _edges(rows)}
        said = "; ".join(as_first[head] for head in sorted(heads))[:80]
        findings.leave_out("running-heads", f"what stands at the edge of every page: {said}")
    return [
        [row for row in rows if not (_plain(row) in heads and any(row is e for e in _edges(rows)))]
        for rows in pages
    ]


def _edges(rows: list[_Row]) -> list[_Row]:
    return rows[:1] + rows[-1:]


def _columns(rows: list[_Row]) -> list[list[_Row]]:
    """The rows of a page; or what stands over two columns, then the left and the right one."""
    for x in _starts(rows):
        head = next(i for i, row in enumerate(rows) if any(round(p.x) == x for p in row))
        if _parts_at(rows[head:], x):
            left = [[p for p in row if p.x < x - 1] for row in rows[head:]]
            right = [[p for p in row if p.x >= x - 1] for row in rows[head:]]
            first, second = ([row for row in side if row] for side in (left, right))
            return [[*rows[:head], *first], second]
    return [rows]


def _starts(rows: list[_Row]) -> list[int]:
    """Where a second column could begin: places at which several rows have a later piece."""
    starts = Counter(round(p.x) for row in rows for p in row[1:])
    return [x for x, count in starts.most_common(4) if count >= _FEWEST_IN_COLUMN]


def _parts_at(rows: list[_Row], x: int) -> bool:
    """Whether rows are in two columns, the second from ``x`` on: no line crosses, and each
    side has its own words on lines that begin at one place."""
    crossing = any(p.x < x - 1 < p.x + sum(p.advances) for row in rows for p in row)
    lefts = sum(any(p.x < x - 1 for p in row) for row in rows)
    return not crossing and lefts >= _FEWEST_IN_COLUMN and all(_gap_before(r, x) for r in rows)


def _gap_before(row: _Row, x: float) -> bool:
    """Whether what stands left of a place on a line ends well before it."""
    left = [p for p in row if p.x < x - 1]
    return not left or left[-1].x + sum(left[-1].advances) < x - 1.2 * left[-1].size


def _column_lines(rows: list[_Row], before: int) -> list[Line]:
    lines: list[Line] = []
    last: Piece | None = None
    for on_page, row in enumerate(rows, 1):
        if last is not None and last.y - row[0].y > _NEW_BLOCK * max(last.size, row[0].size):
            lines.append(Line(before + len(lines) + 1, ""))
        lines.append(_line(row, before + len(lines) + 1, on_page))
        last = row[0]
    return lines


def _line(row: _Row, number: int, on_page: int) -> Line:
    """The text of a row; a gap becomes a blank, and each letter keeps its place."""
    text: list[str] = []
    columns: list[int] = []
    end = row[0].x
    for piece in row:
        if text and piece.x - end > _BLANK * piece.size and text[-1] != " ":
            text.append(" ")
            columns.append(round(end * _TENTHS))
        end = piece.x
        for character, advance in zip(piece.text, piece.advances, strict=True):
            text.append(character if character.isprintable() else " ")
            columns.append(round(end * _TENTHS))
            end += advance
    ordered = [max(columns[: i + 1][-2:]) for i in range(len(columns))]
    where = f"page {row[0].page}, line {on_page}"
    return Line(number, "".join(text), (*ordered, round(end * _TENTHS)), where)
