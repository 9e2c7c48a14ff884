"""Small type that is raised or lowered beside a larger letter, as in a chord's "7", brought down to
its line.

What stands on a baseline of its own would else be a row of its own.  How far word processors and
engravers raise type: common practice, no source.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.pdf_text.page_text import TextRun

_SMALLER = 0.88
"""Raised type is at most so large beside what it stands by."""
_RAISED, _LOWERED = 0.62, 0.32
"""How far it is raised or lowered at most, in ems of what it stands by."""
_OFF = 0.04
"""From how many ems on it is."""
_BESIDE = 0.3
"""How far its left end is at most from the right end of what it stands by, in ems."""
_HIGH, _WIDE = 4.0, 8.0
"""The height and width of the boxes, in points, in which ends are looked up."""
_MOST_IN_BOX = 40
"""More than any page has so near each other; a hostile file takes no long time."""


@dataclass(frozen=True, slots=True)
class _End:
    """The right end of a piece, with the baseline and the size of the line it belongs to."""

    x: float
    y: float
    size: float


def with_raised_type(pieces: Sequence[TextRun]) -> list[TextRun]:
    """Brings the raised or lowered pieces of a page to the line and the size of the letters beside
    them; returns all pieces."""
    ends = defaultdict[tuple[int, int], list[_End]](list)
    made: list[TextRun] = []
    for piece in sorted(pieces, key=lambda one: (one.x, -one.size)):
        by = _what_it_stands_by(piece, ends)
        one = piece if by is None else replace(piece, y=by.y, size=by.size)
        made.append(one)
        there = ends[round(one.y / _HIGH), round(one.end / _WIDE)]
        if len(there) < _MOST_IN_BOX:
            there.append(_End(one.end, one.y, one.size))
    return made


def _what_it_stands_by(piece: TextRun, ends: dict[tuple[int, int], list[_End]]) -> _End | None:
    """The nearest end of larger type that a piece stands beside, above or below its baseline."""
    largest = 3 * piece.size
    lowest = round((piece.y - _RAISED * largest) / _HIGH)
    highest = round((piece.y + _LOWERED * largest) / _HIGH)
    column = round(piece.x / _WIDE)
    near = [
        end
        for across in (column - 1, column, column + 1)
        for height in range(lowest, highest + 1)
        for end in ends.get((height, across), ())
        if _stands_by(piece, end)
    ]
    return min(near, key=lambda end: (abs(end.x - piece.x), abs(end.y - piece.y)), default=None)


def _stands_by(piece: TextRun, end: _End) -> bool:
    up = (piece.y - end.y) / end.size
    beside = abs(piece.x - end.x) <= _BESIDE * end.size
    off = -_LOWERED <= up <= -_OFF or _OFF <= up <= _RAISED
    return beside and off and piece.size <= _SMALLER * end.size
