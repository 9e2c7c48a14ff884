"""The numbers of bars: written bars, counted through the song as in rehearsals (common
practice, no source).  They are the same on a folded page and on one in full.

A rest of several bars counts all of them, a sign for two bars two.  Pick-ups and rows in free
time are not counted, and a bar that is broken over two rows counts once.  Bars printed again for
further verses keep their numbers.
"""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.layout.boxes import BarBox, RowBox


def with_bar_numbers(
    sections: Sequence[tuple[RowBox, ...]], first_bars: Sequence[int]
) -> list[tuple[RowBox, ...]]:
    """The rows of all sections, each with the number of its first bar, from those of the first
    bars of the sections on."""
    result = []
    for rows, counted in zip(sections, first_bars, strict=True):
        done, start = [], counted
        for row in rows:
            if row.restacked:
                counted = start
            elif not row.goes_on:
                start = counted
            bars = [] if row.free else [bar for bar in row.bars if _is_counted(bar)]
            done.append(replace(row, number=counted if bars else 0))
            counted += sum(bar.bar.lasts for bar in bars)
        result.append(tuple(done))
    return result


def _is_counted(bar: BarBox) -> bool:
    return not bar.continued and not bar.bar.pickup
