"""The numbers at the beginning of rows: those of bars and those of stacked verses.

Bars are counted as written, through the song, as in rehearsals (common practice, no source), so
that a number means the same on a folded page and on one in full.  A rest of several bars counts all
of them, a sign for two bars two.  Pick-ups and rows in free time are not counted, and a bar that is
broken over two rows counts once.  Bars printed again for further verses keep their numbers.

The numbers of verses stand in one column through the song, left of all pick-ups and of the numbers
of bars, so that the eye finds its verse at the same place in every row.
"""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.layout.boxes import BarBox, RowBox


def with_bar_numbers(
    sections: Sequence[tuple[RowBox, ...]], first_bars: Sequence[int]
) -> list[tuple[RowBox, ...]]:
    """Gives each row the number of its first bar, counted on from the first bar of its section;
    returns the rows of all sections."""
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


def number_column(rows: Sequence[RowBox], bar_numbers: float) -> float:
    """How far from the first bar line, but for a gap, the numbers of all verses end; 0 where there
    are none.  ``bar_numbers`` is the room for the numbers of bars, in points."""
    before = [row.before_numbers for row in rows if row.widest_number]
    return max(bar_numbers, *before) if before else 0.0


def with_number_column(
    sections: Sequence[tuple[RowBox, ...]], column: float
) -> list[tuple[RowBox, ...]]:
    """Puts the numbers of verses in one column through the song; returns the rows of all
    sections."""
    return [
        tuple(replace(row, number_column=column) if row.widest_number else row for row in rows)
        for rows in sections
    ]
