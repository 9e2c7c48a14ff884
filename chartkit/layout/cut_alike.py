"""Rows that are cut although they would fit, because others like them are: rows of as many bars in
sections of a kind, and the same music in every section that has it.  Who has read one verse then
knows where the lines of the next one end.
"""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from chartkit.chart.numbered_names import name_without_number
from chartkit.layout.boxes import RowBox, SectionBox
from chartkit.layout.break_rows import MOST_BARS

_LEAST_CUT = 4
"""The fewest bars of a row that is cut because other rows of the same length are."""
_CROWDED = 0.94
"""The part of a line from which a row counts as crowded."""
_HALF, _NEARLY_ALL = 0.5, 0.75
"""The part of the rows of some number of bars that do not fit where all are cut."""


class FittingRow(NamedTuple):
    """A row with no bar wider than the line: the room for its bars, and their least widths, or
    those of all rows that are cut like it."""

    row: RowBox
    room: float
    widths: tuple[float, ...]

    @property
    def is_long(self) -> bool:
        """Whether it may be cut: it does not fit, or has more bars than are easily read."""
        return sum(self.widths) > self.room + 0.01 or len(self.widths) > MOST_BARS


def numbers_cut_alike(rows: list[FittingRow], in_columns: bool) -> set[int]:
    """The numbers of bars that rows are cut for where half of them do not fit well, or in columns
    nearly all do not fit."""
    most, full = (_NEARLY_ALL, 1.0) if in_columns else (_HALF, _CROWDED)
    counts, close, cut = Counter[int](), Counter[int](), set[int]()
    for row, room, widths in rows:
        bars = len(widths)
        if _LEAST_CUT <= bars <= MOST_BARS and not row.free:
            filled = sum(widths)
            counts[bars] += 1
            close[bars] += filled > full * room
            cut |= {bars} if filled > room else set()
    return {bars for bars in cut if close[bars] >= most * counts[bars]}


def same_music_alike(
    sections: Sequence[SectionBox], fitting: Sequence[list[FittingRow]]
) -> list[list[FittingRow]]:
    """Gives rows of the same music one room and one width for each bar, if one of them has to be
    cut; returns the rows of all sections."""
    if not any(one.is_long for rows in fitting for one in rows):
        return list(fitting)
    groups: dict[tuple[object, ...], list[FittingRow]] = {}
    music = map(_music_of, sections)
    keys = [
        [(name, i, _lengths(one.row)) for i, one in enumerate(rows)]
        for name, rows in zip(music, fitting, strict=True)
    ]
    for own, rows in zip(keys, fitting, strict=True):
        for key, one in zip(own, rows, strict=True):
            if not one.row.free and one.row.bars:
                groups.setdefault(key, []).append(one)
    joined = {
        key: (min(one.room for one in rows), tuple(map(max, *(one.widths for one in rows))))
        for key, rows in groups.items()
        if len(rows) > 1 and any(one.is_long for one in rows)
    }
    return [
        [
            one if key not in joined else FittingRow(one.row, *joined[key])
            for key, one in zip(own, rows, strict=True)
        ]
        for own, rows in zip(keys, fitting, strict=True)
    ]


def _music_of(section: SectionBox) -> str:
    """The kind of section whose music a section has: that of its own name, or of the earlier one
    that it plays again."""
    return name_without_number(section.same_as or section.name).casefold()


def _lengths(row: RowBox) -> tuple[object, ...]:
    """What rows of the same music have in common in every key: the length of each bar, how many
    chords are struck in it, and where it is torn."""
    return tuple([(bar.lasts, len(bar.bar.strikes), bar.broken) for bar in row.bars])
