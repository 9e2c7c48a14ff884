"""The extent of numbered endings: in a row, and over the rows after it."""

from collections.abc import Sequence

from chartkit.layout.boxes import BarBox, RowBox

_CLOSING = ("repeat-end", "repeat-both")
_OVER = (*_CLOSING, "double", "repeat-start")
"""Bar lines that close the bracket of an ending, and those up to which one reaches."""


def ending_stretch(bars: tuple[BarBox, ...], first: int) -> tuple[int, bool]:
    """The last bar of an ending that has ``first``, and whether its bracket closes there."""
    for i in range(first, len(bars)):
        if not bars[i].broken and bars[i].closing.kind in _CLOSING:
            return i, True
        if _ends(bars[i]):
            return i, False
    return len(bars) - 1, False


def endings_carried(rows: Sequence[RowBox]) -> tuple[bool, ...]:
    """For each row of a section, whether an ending that began in an earlier one goes on in it.

    It does in all that was cut from one row.  Into the writer's next row it goes on only where
    its repeat sign is still to come: a last ending need not say where it ends, and is taken to
    end with its row.
    """
    carried, inside = [], False
    for i, row in enumerate(rows):
        if inside:
            begins = not row.bars or bool(row.bars[0].opening.endings and not row.bars[0].continued)
            inside = not begins and (row.goes_on or _is_repeated(rows[i:]))
        carried.append(inside)
        for bar in row.bars:
            inside = (inside or bool(bar.opening.endings)) and not _ends(bar)
    return tuple(carried)


def _ends(bar: BarBox) -> bool:
    closing = bar.closing
    return not bar.broken and (bool(closing.endings) or closing.kind in _OVER)


def _is_repeated(rows: Sequence[RowBox]) -> bool:
    """Whether the first sign that could end an ending in these rows is one of a repeat."""
    ends = (bar for row in rows for bar in row.bars if _ends(bar))
    return next((bar.closing.kind in _CLOSING for bar in ends), False)
