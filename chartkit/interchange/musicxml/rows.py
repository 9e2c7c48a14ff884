"""Measures to rows of bars: where a row begins, and which words are sung before it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from chartkit.interchange.musicxml.events import Edge, Sung
from chartkit.interchange.musicxml.timed import Timed
from chartkit.interchange.musicxml.verses import sung_in

BARS_IN_A_ROW = 4
"""How many bars a row of a chart usually has; common practice, no source."""


@dataclass(slots=True)
class RowOfMeasures:
    """The measures of one row, and what is sung before its first bar, verse by verse."""

    measures: list[Timed]
    before: dict[str, tuple[Sung, ...]] = field(default_factory=dict)


def rows_of(timed: Sequence[Timed], by_systems: bool) -> list[RowOfMeasures]:
    """The rows of a score; ``by_systems`` breaks them where the source breaks its systems."""
    rows: list[RowOfMeasures] = []
    waiting: dict[str, tuple[Sung, ...]] = {}
    right = Edge()
    for now in timed:
        if now.sung_before:
            waiting = sung_in(now.measure)
        elif rows and not _begins_row(rows[-1].measures, now, right, by_systems):
            rows[-1].measures.append(now)
        else:
            rows.append(RowOfMeasures([now], waiting))
            waiting = {}
        right = now.measure.right
    for row, following in pairwise(rows):
        _move_pickups(row, following)
    return rows


def _begins_row(row: list[Timed], now: Timed, right: Edge, by_systems: bool) -> bool:
    measure, last = now.measure, row[-1].measure
    changes = (measure.key, measure.tempo)
    if measure.section or measure.feel or any(c is not None for c in changes):
        return True
    if measure.free or last.free:
        return True
    if by_systems:
        return measure.new_row
    ends = (right.repeat or right.double) and not measure.left.endings
    return bool(measure.left.repeat or ends or len(row) >= _room(row, now))


def _room(row: list[Timed], now: Timed) -> int:
    """How many bars the row holds; a later ending stays on the row of the first."""
    room = BARS_IN_A_ROW + row[0].pickup
    endings = now.measure.left.endings
    return 2 * room if endings and endings != (1,) else room


def _move_pickups(row: RowOfMeasures, following: RowOfMeasures) -> None:
    """Takes what is sung after a line has ended out of the last measure of a row, and gives
    it to the next row as its pick-up."""
    last = row.measures[-1].measure
    if not last.sung:
        return
    earlier = [sung_in(timed.measure) for timed in row.measures[:-1]]
    goes_on = sung_in(following.measures[0].measure)
    kept: list[Sung] = []
    for verse, sung in sung_in(last).items():
        before = [one for measure in earlier for one in measure.get(verse, ())]
        begins = not before and verse not in row.before
        stay = _staying(row.measures[-1], before, sung, begins and verse in goes_on)
        kept += sung[:stay]
        if sung[stay:]:
            following.before[verse] = sung[stay:]
    if len(kept) < len(last.sung):
        row.measures[-1] = replace(row.measures[-1], measure=replace(last, sung=tuple(kept)))


def _staying(
    last: Timed, earlier: Sequence[Sung], sung: tuple[Sung, ...], begins_here: bool
) -> int:
    """How many of a verse's syllables in the last measure belong to its row.

    Those after the end of a line do not, nor does a verse that only begins in the second
    half of the measure and goes on in the next row, as ``begins_here`` says it does.
    """
    if any(one.ends_line for one in earlier):
        return 0
    for i, one in enumerate(sung, 1):
        if one.ends_line:
            return i
    late = sung[0].onset * 2 >= last.full and not sung[0].held
    return 0 if begins_here and late and not last.measure.free else len(sung)


def sections_of(rows: Sequence[RowOfMeasures]) -> Iterator[tuple[str, list[RowOfMeasures]]]:
    """The rows gathered under the sections they belong to, with their names."""
    opened: list[RowOfMeasures] = []
    name = ""
    for row in rows:
        section = row.measures[0].measure.section
        if section and opened:
            yield name, opened
            opened = []
        name = section or name
        opened.append(row)
    if opened:
        yield name, opened
