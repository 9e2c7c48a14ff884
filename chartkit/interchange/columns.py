"""Two columns side by side on a page or in a text: where the second begins, told from how
rows lie, whatever their measure.

What tells columns from words that were spread out under their chords: in each row of words
there is one gap and no other, what stands behind it begins at one place, and chords do not
stand above just that place in row after row.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

_FEWEST_ROWS = 4
_FEWEST_UNDER_HEADINGS = 2
_MOST_TRIED = 4
_FEWEST_WORDS = 2.0
"""How many words a run has on the average where it is a line of a song and no bar of one."""
_MOSTLY = 0.8
_SUNG = re.compile(r"(?!maj|min|dim|aug|sus|add)[^\W\dA-H_]{3,}|[^\W\d_]{5,}")


@dataclass(frozen=True, slots=True)
class Run:
    """What stands together in a row: where it begins and ends, and its text."""

    start: float
    end: float
    text: str


Rows = Sequence[Sequence[Run]]


@dataclass(frozen=True, slots=True)
class Columns:
    """Two columns: the rows from ``first`` to before ``end`` have them, the right one begins
    at ``start``."""

    start: float
    first: int
    end: int


def columns_in(rows: Rows, is_heading: Sequence[bool]) -> Columns | None:
    """The two columns that rows stand in; None where they are one.

    ``is_heading`` tells of each row whether a run behind its first is a section's heading.
    """
    worded = [i for i, row in enumerate(rows) if any(_SUNG.search(run.text) for run in row)]
    starts = Counter(round(run.start) for i in worded for run in rows[i][1:])
    for start, _ in starts.most_common(_MOST_TRIED):
        held = [i for i, row in enumerate(rows) if any(_is_at(run, start) for run in row)]
        found = Columns(start, held[0], held[-1] + 1)
        if _stand_apart(rows, found, set(worded), is_heading):
            return found
    return None


def _is_at(run: Run, start: float) -> bool:
    return abs(run.start - start) <= 1


def _stand_apart(
    rows: Rows, columns: Columns, worded: set[int], is_heading: Sequence[bool]
) -> bool:
    """Whether the rows have two columns there."""
    x = columns.start - 1
    inside = range(columns.first, columns.end)
    if any(run.start < x < run.end for i in inside for run in rows[i]):
        return False
    sung = [i for i in inside if i in worded]
    left = [[run for run in rows[i] if run.start < x] for i in sung]
    right = [[run for run in rows[i] if run.start >= x] for i in sung]
    sides = [side for side in (*left, *right) if side]
    fewest = _FEWEST_UNDER_HEADINGS if any(is_heading[i] for i in inside) else _FEWEST_ROWS
    if min(sum(map(bool, left)), sum(map(bool, right))) < fewest:
        return False
    one_run = sum(len(side) == 1 for side in sides)
    flush = sum(_is_at(side[0], columns.start) for side in right if side)
    return (
        one_run >= _MOSTLY * len(sides)
        and flush >= _MOSTLY * sum(map(bool, right))
        and (
            fewest == _FEWEST_UNDER_HEADINGS
            or (_says_much(left) and _says_much(right) and not _chords_at(rows, columns, worded))
        )
    )  # fmt: skip


def _says_much(sides: Sequence[Sequence[Run]]) -> bool:
    runs = [run for side in sides for run in side]
    return sum(len(run.text.split()) for run in runs) >= _FEWEST_WORDS * len(runs)


def _chords_at(rows: Rows, columns: Columns, worded: set[int]) -> bool:
    """Whether mostly a chord stands just where the right column begins, as bars have it."""
    chords = [
        row for i, row in enumerate(rows[columns.first : columns.end], columns.first)
        if i not in worded and any(run.start >= columns.start - 1 for run in row)
    ]  # fmt: skip
    at = sum(any(_is_at(run, columns.start) for run in row) for row in chords)
    return len(chords) >= _FEWEST_ROWS and at > _MOSTLY * len(chords)
