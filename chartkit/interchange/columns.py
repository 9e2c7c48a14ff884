"""Columns side by side on a page or in a text: where they begin, known from how rows lie,
whatever their measure.

What tells columns from words that were spread out under their chords: in each row of words
there is one gap for each column but the last and no other, what stands after it begins at one
place, and chords do not stand above just that place in row after row.  Headings side by side
show columns too, where words stand under each.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, combinations, islice

_FEWEST_ROWS = 4
_FEWEST_UNDER_HEADINGS = 2
_MOST_TRIED = 4
_FEWEST_WORDS = 2.0
"""How many words a run has on the average where it is a line of a song and no bar of one."""
_MOSTLY = 0.8
_SUNG = re.compile(r"(?!maj|min|dim|aug|sus|add)[^\W\dA-H_]{3,}|[^\W\d_]{5,}")

_SYLLABLE_CHORD = re.compile(
    r"\b(?:do|r[ée]|mi|fa|sol|la|si)[b#♭♯]?(?:m|min|maj|dim|sus)?\d{0,2}\b", re.IGNORECASE
)
"""A chord named by syllables, as in Romance languages."""


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a row without a gap: where it begins and ends, its text, and whether that is a
    section's heading."""

    start: float
    end: float
    text: str
    is_heading: bool = False


Rows = Sequence[Sequence[Run]]


@dataclass(frozen=True, slots=True)
class Columns:
    """Columns: the rows from ``first`` to before ``end`` have them; ``starts`` is where the
    second begins, and any further one."""

    starts: tuple[float, ...]
    first: int
    end: int

    def of(self, run: Run) -> int:
        """The number of the column a run stands in, from 0."""
        return sum(run.start >= start - 1 for start in self.starts)

    def parted(self, row: Sequence[Run]) -> list[tuple[int, int]]:
        """For each column the first run of a row in it, and the one after its last."""
        numbers = [self.of(run) for run in row]
        ends = [sum(number <= column for number in numbers) for column in range(self.count)]
        return list(zip([0, *ends], ends, strict=False))

    @property
    def count(self) -> int:
        """How many columns there are."""
        return len(self.starts) + 1


def columns_in(rows: Rows) -> Columns | None:
    """The columns that rows stand in; None for a single column. A row may be empty."""
    worded = {i for i, row in enumerate(rows) if any(map(is_sung, row))}
    for starts in _candidates(rows, worded):
        held = [i for i, row in enumerate(rows) if any(_at_one(run, starts) for run in row)]
        columns = Columns(starts, held[0], held[-1] + 1)
        if _stand_apart(rows, columns, worded) or _are_chords_under_headings(rows, columns):
            return columns
    return None


def _candidates(rows: Rows, worded: set[int]) -> Iterator[tuple[float, ...]]:
    """Where columns may begin: under headings side by side, or where most words after a gap
    do."""
    headings = [row for row in rows if len(row) > 1 and all(run.is_heading for run in row)]
    under = dict.fromkeys(tuple(run.start for run in row[1:]) for row in headings)
    yield from islice(under, _MOST_TRIED)
    starts = Counter(round(run.start) for i in worded for run in rows[i][1:])
    usual = sorted(start for start, _ in starts.most_common(_MOST_TRIED))
    yield from ((float(start),) for start, _ in starts.most_common(_MOST_TRIED))
    yield from combinations(usual, 2)


def is_sung(run: Run) -> bool:
    """Whether a run has a word that is no chord."""
    return _SUNG.search(_SYLLABLE_CHORD.sub("", run.text)) is not None


def _is_at(run: Run, start: float) -> bool:
    return abs(run.start - start) <= 1


def _at_one(run: Run, starts: Sequence[float]) -> bool:
    return any(_is_at(run, start) for start in starts)


def crosses(row: Sequence[Run], starts: Sequence[float]) -> bool:
    """Whether something in a row stands over the beginning of a column."""
    return any(run.start < start - 1 < run.end for run in row for start in starts)


def _stand_apart(rows: Rows, columns: Columns, worded: set[int]) -> bool:
    """Whether the rows have columns there."""
    inside = range(columns.first, columns.end)
    if any(crosses(rows[i], columns.starts) for i in inside):
        return False
    sung = [_sides(rows[i], columns) for i in inside if i in worded]
    each = [[side for side in one if any(map(is_sung, side))] for one in zip(*sung, strict=True)]
    named = any(run.is_heading for i in inside for run in rows[i] if columns.of(run))
    fewest = _FEWEST_UNDER_HEADINGS if named else _FEWEST_ROWS
    if not sung or min(map(len, each)) < fewest:
        return False
    sides = list(chain(*each))
    one_run = sum(len(side) == 1 for side in sides)
    begin = all(_begin_at(*pair) for pair in zip(columns.starts, each[1:], strict=True))
    typed = all(map(_says_much, each)) and not _chords_at(rows, columns, worded)
    return one_run >= _MOSTLY * len(sides) and begin and (named or typed)


def _are_chords_under_headings(rows: Rows, columns: Columns) -> bool:
    """Whether under headings side by side rows of chords stand, one in each column."""
    first = rows[columns.first]
    if len(first) != columns.count or not all(run.is_heading for run in first):
        return False
    below = rows[columns.first + 1 : columns.end]
    starts = (first[0].start, *columns.starts)
    return bool(below) and all(
        all(
            side and _is_at(side[0], at)
            for at, side in zip(starts, _sides(row, columns), strict=True)
        )
        and not any(map(is_sung, row))
        for row in below
    )


def _sides(row: Sequence[Run], columns: Columns) -> list[Sequence[Run]]:
    return [row[first:end] for first, end in columns.parted(row)]


def _begin_at(start: float, sides: Sequence[Sequence[Run]]) -> bool:
    """Whether what stands in a column mostly begins where it does."""
    return sum(_is_at(side[0], start) for side in sides) >= _MOSTLY * len(sides)


def _says_much(sides: Sequence[Sequence[Run]]) -> bool:
    runs = [run for side in sides for run in side]
    return sum(len(run.text.split()) for run in runs) >= _FEWEST_WORDS * len(runs)


def _chords_at(rows: Rows, columns: Columns, worded: set[int]) -> bool:
    """Whether mostly a chord stands just where a column begins, as bars have it."""
    chords = [
        row
        for i, row in enumerate(rows[columns.first : columns.end], columns.first)
        if i not in worded and any(columns.of(run) for run in row)
    ]
    at = sum(any(_at_one(run, columns.starts) for run in row) for row in chords)
    return len(chords) >= _FEWEST_ROWS and at > _MOSTLY * len(chords)
