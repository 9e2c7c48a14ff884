"""How far columns reach up and down where one is longer than the other, and whether what
stands below them goes on in the first."""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.columns import Columns, Rows, Run, columns_in, crosses, is_sung
from chartkit.interchange.intake_result import Findings

_APART = 1.58
"""The distance, in lines, from which two rows stand in two blocks."""
_WIDER = 1.3
"""The same where rows are set wide, in usual distances of two rows."""
_HELD_OFF = 2.0
"""How many times the usual distance of a block below its column is below all columns."""
_COUNTS = ("no", "one", "two", "three", "four")
_NUMBERED = re.compile(r"(\D+?)\s*(\d{1,2})")


def whole_columns(rows: Rows, places: Sequence[float]) -> Columns | None:
    """The columns that rows stand in, with all that belongs to each; None for a single column.

    ``places`` are the rows' distances from the first one, in lines of text.  A block of the first
    column that is longer than the others stays whole, and then all below it that is no wider
    than the column is in it too; otherwise what stands below the columns is read after them,
    unless the numbers of verses say that it comes before the second column.
    """
    columns = columns_in(rows)
    if columns is None:
        return None
    columns = replace(columns, first=_first(rows, places, columns))
    whole = replace(columns, end=_end_of_block(rows, places, columns))
    longer = replace(whole, end=_end_of_narrow(rows, places, whole))
    goes_on = any(row and not whole.of(row[0]) for row in rows[columns.end : whole.end])
    out_of_order = _unordered(rows, whole) - _unordered(rows, longer)
    if goes_on or out_of_order > 0:
        return longer
    stays = out_of_order < 0 or _is_held_off(rows, places, whole)
    return whole if stays or _stand_side_by_side(rows, places, columns) else longer


def report_columns(columns: Columns, rows: Rows, findings: Findings, place: str) -> None:
    """Tells that columns are read one after the other, and what comes last."""
    below = any(rows[columns.end :])
    number = _COUNTS[columns.count] if columns.count < len(_COUNTS) else str(columns.count)
    findings.guess(
        "columns",
        f"text in {number} columns is read column by column, the left one "
        f"first{', and what stands below them last' if below else ''}",
        place,
    )


def _first(rows: Rows, places: Sequence[float], columns: Columns) -> int:
    """The first row of the columns: not one of the head alone, and with the chords above."""
    first, apart = columns.first, _apart(places)
    below = _next(rows, first + 1)
    alone = below < columns.end and places[below] - places[first] > apart
    if alone and not any(run.is_heading for run in rows[first]):
        first = next((i for i in range(below, columns.end) if any(map(columns.of, rows[i]))), first)
    above = rows[first - 1] if first else ()
    if not above or places[first] - places[first - 1] > apart or crosses(above, columns.starts):
        return first
    behind = [run for run in above if columns.of(run)]
    return first - 1 if behind and not any(map(is_sung, above)) else first


def _apart(places: Sequence[float]) -> float:
    """How many lines apart the rows of two blocks stand."""
    steps = sorted(below - above for above, below in pairwise(places))
    usual = steps[len(steps) * 3 // 4] if steps else 0.0
    return max(_APART, _WIDER * usual)


def _next(rows: Rows, at: int) -> int:
    """The first row from there that is not empty."""
    return next((i for i in range(at, len(rows)) if rows[i]), len(rows))


def _end_of_block(rows: Rows, places: Sequence[float], columns: Columns) -> int:
    """Where the last blocks of the columns end."""
    apart = _apart(places)
    last = [-apart - 1.0] * columns.count
    for i in range(columns.first, columns.end):
        for run in rows[i]:
            last[columns.of(run)] = places[i]
    end = at = columns.end
    while (at := _next(rows, at)) < len(rows):
        numbers = {columns.of(run) for run in rows[at][:1]}
        if any(places[at] - last[number] > apart for number in numbers):
            return end
        for number in numbers:
            last[number] = places[at]
        end = at = at + 1
    return end


def _end_of_narrow(rows: Rows, places: Sequence[float], columns: Columns) -> int:
    """Where the blocks below end that are no wider than the first column."""
    end, apart = columns.end, _apart(places)
    for at in range(columns.end, len(rows)):
        if crosses(rows[at], columns.starts) or any(map(columns.of, rows[at])):
            return end
        after = _next(rows, at + 1)
        if rows[at] and (after == len(rows) or places[after] - places[at] > apart):
            end = at + 1
    return end


def _is_held_off(rows: Rows, places: Sequence[float], columns: Columns) -> bool:
    """Whether what stands below columns stands so far below the first that it was set below the
    longer column."""
    inside = range(columns.first, columns.end)
    first = [places[i] for i in inside if any(not columns.of(run) for run in rows[i])]
    below = _next(rows, columns.end)
    return below == len(rows) or places[below] - first[-1] > _HELD_OFF * _apart(places)


def _stand_side_by_side(rows: Rows, places: Sequence[float], columns: Columns) -> bool:
    """Whether each block of the further columns begins beside one of the first column, as blocks
    do that are meant to be compared; where none does, the columns are those of a newspaper."""
    apart = _apart(places)
    last = [-apart - 1.0] * columns.count
    for i in range(columns.first, columns.end):
        numbers = {columns.of(run) for run in rows[i]}
        begin = {number for number in numbers if places[i] - last[number] > apart}
        if begin and 0 not in begin:
            return False
        for number in numbers:
            last[number] = places[i]
    return True


def _unordered(rows: Rows, columns: Columns) -> int:
    """How often a numbered heading comes before one of its name with a smaller number."""
    inside = rows[columns.first : columns.end]
    order = [run for row in rows[: columns.first] for run in row]
    for column in range(columns.count):
        order += [run for row in inside for run in row if columns.of(run) == column]
    order += [run for row in rows[columns.end :] for run in row]
    return _descents(order)


def _descents(order: Sequence[Run]) -> int:
    count = 0
    last: dict[str, int] = {}
    for run in order:
        match = _NUMBERED.match(run.text) if run.is_heading else None
        if match is not None:
            name, number = match[1].strip().lower(), int(match[2])
            count += number < last.get(name, 0)
            last[name] = number
    return count
