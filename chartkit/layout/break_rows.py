"""Cuts rows that are too long for the line, with the least badness.

Rows are the writer's phrases: one that fits and is easily read is never cut, and two are never
joined.  For the others every way of cutting has a badness, and the cheapest is found exactly,
as paragraphs are broken into lines (D. E. Knuth, M. F. Plass, "Breaking Paragraphs into
Lines", *Software: Practice and Experience* 11, 1981).  All of a section are measured against
one number of bars a line, which is chosen with them, so that bars stand under one another;
sections share nothing, so the song's badness is the least there is as well.  The weights are
ours, set by looking at pages.
"""

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

_LINE = 0.15
"""One line more."""
_UNEVEN = 3.0
"""A line with another number of bars than wanted, by the square of the relative difference."""
_LAST_SHORT = 0.6
"""The same for a short last line, which looks natural."""
_LAST_ALONE = 0.5
"""A last line of a single bar, which does not look natural."""
MOST_BARS = 8
"""The number of bars in a line that the eye easily finds again."""
_CROWDED = 0.3
"""Each bar more."""
_ODD = 0.25
"""A cut after an odd number of bars (phrases are mostly of four bars, or two: common practice, no
source)."""
_NOT_FOUR = 0.2
"""A cut after a number of bars that four does not divide."""
_IN_ENDING = 0.2
"""A cut inside a numbered ending."""
_AT_SIGN = -0.1
"""A cut at a double line, a repeat or where an ending starts."""
_IN_BAR = 3.0
"""A cut inside a bar that was broken because it is wider than the line."""
_TIGHT = 0.1
"""A line whose bars have no room left."""
_TIGHT_FROM = 0.85
"""The part of the line that they must fill for it to count."""
_FITS = 0.01
"""Points by which a line may be over-full through rounding."""


class BarEnd(NamedTuple):
    """A bar for breaking: its least width, and the kind of the line after it.

    ``bars`` counts the bars of the row up to it; a part of a bar counts as none.
    """

    width: float
    bars: int
    in_bar: bool = False
    at_sign: bool = False
    in_ending: bool = False


class LongRow(NamedTuple):
    """A row that does not fit, and the room of its lines in points."""

    bars: tuple[BarEnd, ...]
    room: float


def best_row_breaks(rows: Sequence[LongRow]) -> list[tuple[int, ...]]:
    """For each row the numbers of the bars that begin a line."""
    ways = [_possible_lines(row) for row in rows]
    lengths = (end - start for way in ways for end, lines in enumerate(way) for start, _ in lines)
    most = max(lengths, default=1)
    ways_by_target = [[_cheapest(way, target) for way in ways] for target in range(1, most + 1)]
    best = min(ways_by_target, key=lambda cuts: sum(cost for cost, _ in cuts), default=[])
    return [starts for _, starts in best]


def row_breaks(row: LongRow, target: int) -> tuple[float, tuple[int, ...]]:
    """The least badness (``line_cost``, summed) of cutting a row for so many bars a line, and then
    the first bar of each line.

    A bar wider than the line gets one to itself.
    """
    return _cheapest(_possible_lines(row), target)


_Lines = list[list[tuple[int, float]]]
"""For each bar that can end a line, from 0 for none: the bars that can begin it, each with the
badness of that line but for its number of bars."""


def _possible_lines(row: LongRow) -> _Lines:
    lines: _Lines = [[]]
    for end in range(1, len(row.bars) + 1):
        used, starts = 0.0, list[tuple[int, float]]()
        cut = _cut_cost(row.bars[end - 1]) if end < len(row.bars) else 0.0
        for start in range(end - 1, -1, -1):
            used += row.bars[start].width
            if used > row.room + _FITS and end - start > 1:
                break
            starts.append((start, _room_cost(end - start, used / row.room) + cut))
        lines.append(starts)
    return lines


def _cheapest(lines: _Lines, target: int) -> tuple[float, tuple[int, ...]]:
    count = len(lines) - 1
    best = [0.0] + [float("inf")] * count
    came_from = [0] * (count + 1)
    for end in range(1, count + 1):
        uneven = _uneven_costs(count, target, end == count)
        least, begins = float("inf"), 0
        for start, own in lines[end]:
            cost = best[start] + own + uneven[end - start]
            if cost < least:
                least, begins = cost, start
        best[end], came_from[end] = least, begins
    starts = [count]
    while starts[-1]:
        starts.append(came_from[starts[-1]])
    return best[count], tuple(reversed(starts[1:]))


def line_cost(row: LongRow, start: int, end: int, used: float, target: int) -> float:
    """The badness of a line of the bars from ``start`` up to ``end``, not including it: 0 is a good
    line, and badness has no unit (ours)."""
    last = end == len(row.bars)
    cut = 0.0 if last else _cut_cost(row.bars[end - 1])
    own = _room_cost(end - start, used / row.room) + cut
    return own + _uneven_cost(end - start, target, last)


@cache
def _uneven_costs(most: int, target: int, last: bool) -> tuple[float, ...]:
    """The same for every number of bars up to ``most``."""
    return (0.0, *(_uneven_cost(bars, target, last) for bars in range(1, most + 1)))


def _uneven_cost(bars: int, target: int, last: bool) -> float:
    """The cost of a line with another number of bars than wanted."""
    uneven = (bars - target) / target
    if last and uneven < 0:
        return _LAST_SHORT * uneven * uneven + _LAST_ALONE * (bars == 1)
    return _UNEVEN * uneven * uneven


def _room_cost(bars: int, filled: float) -> float:
    """The cost of a line, by its number of bars and the part of it that they fill."""
    cost = _LINE if bars <= MOST_BARS else _LINE + _CROWDED * (bars - MOST_BARS)
    if filled <= _TIGHT_FROM:
        return cost
    tight = (filled - _TIGHT_FROM) / (1 - _TIGHT_FROM)
    return cost + _TIGHT * min(1.0, tight * tight)


def _cut_cost(bar: BarEnd) -> float:
    if bar.in_bar:
        return _IN_BAR
    cost = _ODD * (bar.bars % 2 != 0) + _NOT_FOUR * (bar.bars % 4 != 0)
    return cost + _AT_SIGN * bar.at_sign + _IN_ENDING * bar.in_ending
