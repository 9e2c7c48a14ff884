"""Upright lines of a page as bar lines can be: those of a grid cut where level lines cross them."""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import pairwise

Level = tuple[float, float, float]
"""A level line: its height, its left and its right end, in points."""
_THIN, _SHORT = 3.0, 6.0
"""How wide an upright line is at most, and how high at least, in points."""
_LOWEST_CELL, _MOST_CROSSED = 13.0, 100
"""How high the cells of a grid are at least, in points: the lines of a staff are nearer; how many
level lines one upright line crosses at most, to be one of a grid."""
_MOST_AT_ONE_HEIGHT = 50
"""How many level lines of one height are looked at."""
_MEETS, _REACHES = 1.0, 3.0
"""How far the ends of two lines that meet lie apart, up and across, in points."""

Part = tuple[float, float, float, bool, bool]
"""Of an upright line its place from the left, its lower and its upper end, whether it reaches from
one level line to another, and whether it was cut."""


class GridLines:
    """The level lines of a page, which meet its upright lines or cross them."""

    def __init__(self, levels: Iterable[Level]) -> None:
        self._at = defaultdict[int, list[Level]](list)
        for level in levels:
            self._at[round(level[0])].append(level)
        self._heights = sorted(self._at)

    def parts(self, x0: float, y0: float, x1: float, y1: float) -> list[Part]:
        """The parts of a straight line that is upright: its cells in a grid, else itself; none of
        any other line."""
        low, high = min(y0, y1), max(y0, y1)
        if abs(x1 - x0) > _THIN or high - low < _SHORT:
            return []
        x = (x0 + x1) / 2
        ends = [low, *self._crossed(x, low, high), high]
        if any(above - below < _LOWEST_CELL for below, above in pairwise(ends)):
            ends = [low, high]
        cut = len(ends) > 2
        return [
            (x, below, above, self._meets(x, below) and self._meets(x, above), cut)
            for below, above in pairwise(ends)
        ]

    def _crossed(self, x: float, low: float, high: float) -> list[float]:
        """The heights between its ends at which level lines cross an upright line."""
        first = bisect_left(self._heights, low + 2 * _MEETS)
        last = bisect_right(self._heights, high - 2 * _MEETS)
        if last - first > _MOST_CROSSED:
            return []
        crossed: list[float] = []
        for at in self._heights[first:last]:
            near = _across(self._at[at], x)
            if near is not None and (not crossed or near - crossed[-1] > 2 * _MEETS):
                crossed.append(near)
        return crossed

    def _meets(self, x: float, y: float) -> bool:
        near = (self._at.get(round(y) + by, ()) for by in (-1, 0, 1))
        return any(
            abs(y - at) <= _MEETS and left - _REACHES <= x <= right + _REACHES
            for levels in near
            for at, left, right in levels[:_MOST_AT_ONE_HEIGHT]
        )


def _across(levels: Sequence[Level], x: float) -> float | None:
    """The height of the first of level lines that reaches over a place; None where none does."""
    return next(
        (
            y
            for y, left, right in levels[:_MOST_AT_ONE_HEIGHT]
            if left - _REACHES <= x <= right + _REACHES
        ),
        None,
    )
