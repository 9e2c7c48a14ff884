"""Rows measured once for several ways in which a song is tried.

A row has the same measures in every form and on every paper of one size of type, unless a line is
too short for one of its names or a page for its verses.
"""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedSystem
from chartkit.layout.boxes import RowBox

_OWN_SIZE = 0.98
"""A name set in its own size takes less than this part of its room; one set smaller fills it."""


class _Measured(NamedTuple):
    """A system, kept so that its identity stays its own, its row, and its widest name."""

    system: ArrangedSystem
    row: RowBox
    widest: float


class SharedRows:
    """The rows of systems that have bars, by the systems' identity: one size of type."""

    def __init__(self) -> None:
        self._known: dict[int, _Measured] = {}

    def row(
        self, system: ArrangedSystem, widest: float, measure: Callable[[ArrangedSystem], RowBox]
    ) -> RowBox:
        """The row of a system whose names are set no wider than ``widest``."""
        known = self._known.get(id(system))
        if known is not None and known.widest <= widest:
            return known.row
        row = measure(system)
        needed = max(_widths(row), default=0.0)
        if needed < _OWN_SIZE * widest:
            self._known[id(system)] = _Measured(system, row, needed)
        return row


def _widths(row: RowBox) -> Iterable[float]:
    """The widths of the names of chords in a row."""
    return (
        label.width
        for bar in row.bars
        for slot in bar.slots
        for label in slot.labels
        if label is not None
    )
