"""The numbers of stacked verses: one column through the song, left of all pick-ups and of the
numbers of bars, so that the eye finds its verse at the same place in every row.
"""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.layout.boxes import RowBox


def number_column(rows: Sequence[RowBox], bar_numbers: float) -> float:
    """How far from the first bar line, but for a gap, the numbers of all verses end; 0 where there
    are none.  ``bar_numbers`` is the room for the numbers of bars, in points."""
    before = [row.before_numbers for row in rows if row.widest_number]
    return max(bar_numbers, *before) if before else 0.0


def with_number_column(
    sections: Sequence[tuple[RowBox, ...]], column: float
) -> list[tuple[RowBox, ...]]:
    """The rows of all sections, the numbers of their verses in one column."""
    return [
        tuple(replace(row, number_column=column) if row.widest_number else row for row in rows)
        for rows in sections
    ]
