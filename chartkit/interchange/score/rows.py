"""Measures to rows of bars: where a row begins, which words are sung before it, and the words of
each verse under each bar."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from chartkit.chart.model import Segment
from chartkit.interchange.score.events import Edge, Measure, Sung
from chartkit.interchange.score.timed import Timed

Cell = tuple[Segment, ...]
EMPTY: Cell = (Segment(),)


def verse_numbers(measures: Iterable[Measure]) -> dict[str, int]:
    """The number of each verse: its own where it has one, else the next that is free."""
    names = sorted({s.verse for m in measures for s in m.sung}, key=_verse_order)
    found = {name: int(name) for name in names if name.isdecimal() and 0 < int(name) < 1000}
    last = max(found.values(), default=0)
    for name in names:
        if name not in found:
            last += 1
            found[name] = last
    return {name: found[name] for name in names}


def _verse_order(name: str) -> tuple[int, int, str]:
    digits = name if name.isdecimal() else name.partition(",")[0].partition(" ")[0]
    plain = digits.isdecimal() and len(digits) < 6
    return (not plain, int(digits) if plain else 0, name)


def cell_of(sung: Sequence[Sung], starts: Sequence[int]) -> Cell:
    """The words of one verse in a bar; ``starts`` is where each segment begins, in units."""
    if not sung:
        return EMPTY
    if len(starts) == 1 and sung[0].onset >= starts[0]:
        return (_segment(sung),)
    ends = [*starts[1:], None]
    segments = [
        _segment([s for s in sung if start <= s.onset and (end is None or s.onset < end)])
        for start, end in zip(starts, ends, strict=True)
    ]
    while len(segments) > 1 and segments[-1] == Segment():
        segments.pop()
    return tuple(segments)


def _segment(sung: Sequence[Sung]) -> Segment:
    words = [one for one in sung if not one.held]
    if not words:
        return Segment(held=bool(sung))
    text = "".join([one.text if one.goes_on else f"{one.text} " for one in words])
    return Segment(text.strip(), words[-1].goes_on)


def sung_in(measure: Measure) -> dict[str, tuple[Sung, ...]]:
    """The syllables of a measure, each verse's by themselves."""
    found: dict[str, list[Sung]] = {}
    for sung in measure.sung:
        found.setdefault(sung.verse, []).append(sung)
    return {verse: tuple(syllables) for verse, syllables in found.items()}


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
    changes = (measure.key, measure.tempo, measure.capo)
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
