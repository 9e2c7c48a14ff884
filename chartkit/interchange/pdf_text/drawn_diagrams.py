"""Chord diagrams on other people's pages: a name over a small grid of lines.

The names are no row of music.  A diagram has four strings or more, close together (common practice,
no source).
"""

from collections.abc import Sequence

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.page_text import Upright
from chartkit.interchange.pdf_text.rows import Row, RowReader
from chartkit.phrases import counted

_STRINGS = 4
_NARROWEST, _WIDEST = 2.0, 14.0
"""How far apart the strings of a diagram are, in points (ours)."""
_BELOW = 3.5
"""How many ems below the baseline of its name the top of a diagram is at most."""
_BESIDE = 30.0
"""How far, in points, a name's left end is from the strings of its diagram at most."""


def without_diagrams(
    rows: list[Row], uprights: Sequence[Upright], read: RowReader, findings: Findings
) -> list[Row]:
    """The rows of a page without those that are the names of diagrams, which is reported."""
    grids = _grids(uprights) if rows else []
    gone = [row for row in rows if grids and _are_names(row, grids, read)]
    if gone:
        names = sum(len(row) for row in gone)
        findings.leave_out(
            "diagrams",
            f"{counted(names, 'chord diagram')}: the drawn shapes cannot be read",
            f"page {rows[0][0].page}",
        )
    return [row for row in rows if not any(row is one for one in gone)]


_Grid = tuple[float, float, float]
"""The left and the right string of a diagram, and how high they reach."""


def _grids(uprights: Sequence[Upright]) -> list[_Grid]:
    grids: list[_Grid] = []
    strings: list[Upright] = []
    for line in (*sorted(uprights, key=lambda one: (-round(one.high), one.x)), None):
        if strings and (line is None or not _is_next_string(strings[-1], line)):
            if len(strings) >= _STRINGS:
                grids.append((strings[0].x, strings[-1].x, strings[0].high))
            strings = []
        if line is not None:
            strings.append(line)
    return grids


def _is_next_string(before: Upright, line: Upright) -> bool:
    as_high = abs(before.high - line.high) <= 1 and abs(before.low - line.low) <= 1
    return as_high and _NARROWEST <= line.x - before.x <= _WIDEST


def _are_names(row: Row, grids: Sequence[_Grid], read: RowReader) -> bool:
    """Whether a row is of chords, each with a diagram right below it."""
    size = max(piece.size for piece in row)
    below = [grid for grid in grids if 0 <= row[0].y - grid[2] <= _BELOW * size]
    if not below or not read.chords(row):
        return False
    return all(
        any(left - _BESIDE <= piece.x <= right + size for left, right, _ in below) for piece in row
    )
