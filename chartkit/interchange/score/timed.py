"""Measures with their meters, and measures that are parts of one bar."""

from dataclasses import dataclass, field, replace
from typing import NamedTuple

from chartkit.chart.marks import Mark
from chartkit.chart.model import Meter
from chartkit.interchange.score.beats import Grid
from chartkit.interchange.score.events import NO_EDGE, Measure, SungSyllable


class Timed(NamedTuple):
    """A measure with the meter that holds in it.

    ``beat`` is the length of a beat and ``full`` that of a full bar in units.  ``pickup`` marks
    a first measure shorter than its meter; it is ``sung_before`` the first bar when it has no
    chords, so that only its words are left in it.  ``twice`` is a simile over two bars, of two
    measures; ``rests`` is how many measures of rest it is made of.  ``upbeat`` marks a full
    first measure in which only the upbeat of the melody stands.
    """

    measure: Measure
    meter: Meter
    beat: int
    full: int
    pickup: bool = False
    sung_before: bool = False
    twice: bool = False
    rests: int = 0
    upbeat: bool = False

    @property
    def grid(self) -> Grid:
        """Its beats.  A chord may be half a beat early, but a quarter of one where the beat is
        a half note, for chords change on its halves: common practice, no source."""
        early = self.beat // 2 if self.meter.unit > 2 else self.beat // 4
        return Grid(self.beat, self.full // self.beat, early)


@dataclass(slots=True)
class RowOfMeasures:
    """The measures of one row, and what is sung before its first bar, verse by verse."""

    measures: list[Timed]
    before: dict[str, tuple[SungSyllable, ...]] = field(default_factory=dict)


def beat_units(meter: Meter, units: int) -> int:
    """The length of a beat, the dotted one in compound meters, in units."""
    return 4 * units // meter.unit * (3 if meter.compound else 1)


def is_played(measure: Measure) -> bool:
    """Whether a measure has something for the player of the chords."""
    return bool(measure.struck or measure.strums)


def is_short(timed: Timed) -> bool:
    """Whether something is written in a measure and does not fill its meter."""
    return not timed.measure.free and 0 < timed.measure.length < timed.full


# ---- measures that are one bar


def joined_bars(counted: list[Timed]) -> list[Timed]:
    """Joins measures that are one bar, or one written place; returns the measures."""
    bars: list[Timed] = []
    carried: Measure | None = None
    for i, now in enumerate(counted):
        if carried is not None:
            now, carried = now._replace(measure=with_opening(now.measure, carried)), None
        before, last = bars[-1] if bars else None, i == len(counted) - 1
        if before is None or _stand_apart(before, now):
            bars.append(now)
        elif _two_bars_again(before, now) or _rests_on(before, now):
            bars[-1] = _joined(before, now)
        elif _is_later_upbeat(before, now) and not last:
            bars.append(upbeat_of(now))
            carried = now.measure
        elif not completes(before, now) or (last and _begins(now.measure)):
            bars.append(now)
        elif not (_opens_repeat(before, now) or _is_upbeat_to_section(now)):
            bars[-1] = _joined(before, _without_opening(now))
            carried = now.measure._replace(marks=_opening(now.measure), instructions=())
        elif not (last or is_played(now.measure) or _comes_back_whole(counted, i)):
            # The end of a repeated part and the upbeat to the next are one bar.
            bars[-1] = _filled(before)
            bars.append(upbeat_of(now))
            carried = now.measure
        else:
            bars.append(now)
    return bars


def _stand_apart(before: Timed, now: Timed) -> bool:
    """Whether a measure after a full one has nothing that may join it to that, as nearly all."""
    measure = now.measure
    return not (measure.simile or measure.rests or measure.implicit or is_short(before))


def _is_later_upbeat(before: Timed, now: Timed) -> bool:
    """Whether a measure that is not counted, after a full one, holds only the upbeat to a new
    part."""
    measure, edge = now.measure, before.measure.right
    opens = _opens_repeat(before, now) or edge.double or bool(measure.section)
    uncounted = measure.implicit and is_short(now) and not is_short(before)
    return uncounted and opens and not is_played(measure) and measure.meter is None


def _comes_back_whole(counted: list[Timed], at: int) -> bool:
    """Whether a repeat that begins with the second part of a bar ends with a bar that leaves no
    room for that part, so that it is no upbeat: it is played each time."""
    begins = counted[at].measure
    if not begins.left.repeat:
        return False
    end = next((one for one in counted[at:] if one.measure.right.repeat), None)
    if end is None or end is counted[at]:
        return False
    return not is_short(end)


def _is_upbeat_to_section(now: Timed) -> bool:
    """Whether the second of two parts of a bar holds only the words before a section that begins
    with it."""
    measure = now.measure
    return bool(measure.section and measure.sung) and not is_played(measure)


def _opening(measure: Measure) -> tuple[Mark, ...]:
    return tuple(mark for mark in measure.marks if mark.opens_bar)


def upbeat_of(now: Timed) -> Timed:
    """A measure of which only the words are left, sung before the bar that follows."""
    measure = now.measure
    alone = Measure(measure.number, measure.length, measure.implicit, sung=measure.sung)
    return now._replace(measure=alone, pickup=True, sung_before=True)


def completes(before: Timed, now: Timed) -> bool:
    """Whether two short measures fill one bar together, split by a bar line or a line's end."""
    one, two = before.measure, now.measure
    if two.meter is not None or two.free or one.simile or before.pickup:
        return False
    return is_short(before) and one.length + two.length == before.full and two.length > 0


def _opens_repeat(before: Timed, now: Timed) -> bool:
    """Whether a repeat stands between two measures, or an ending begins with the second."""
    return before.measure.right.repeat or now.measure.left.repeat or bool(now.measure.left.endings)


def _without_opening(now: Timed) -> Timed:
    """The second part of a bar without what belongs to the start of a bar."""
    measure = now.measure
    marks = tuple(mark for mark in measure.marks if not mark.opens_bar)
    return now._replace(measure=measure._replace(marks=marks, section="", left=NO_EDGE))


def with_opening(measure: Measure, carried: Measure) -> Measure:
    """A measure that takes over what stood at the start of one that was joined to another bar."""
    return measure._replace(
        instructions=tuple(instruction._replace(onset=0) for instruction in carried.instructions)
        + measure.instructions,
        section=" ".join(filter(None, (carried.section, measure.section))),
        marks=tuple(dict.fromkeys((*carried.marks, *measure.marks))),
        key=measure.key or carried.key,
        meter=measure.meter or carried.meter,
        tempo=measure.tempo if measure.tempo is not None else carried.tempo,
        capo=measure.capo if measure.capo is not None else carried.capo,
        feel=measure.feel or carried.feel,
        left=measure.left._replace(
            repeat=measure.left.repeat or carried.left.repeat,
            endings=measure.left.endings or carried.left.endings,
        ),
    )


def _filled(timed: Timed) -> Timed:
    return timed._replace(measure=timed.measure._replace(length=timed.full))


def _rests_on(before: Timed, now: Timed) -> bool:
    """Whether a measure goes on with the rest that began before it."""
    one, two = before.measure, now.measure
    left = one.rests - before.rests
    return 0 < left == two.rests and not (_begins(two) or one.right.repeat or one.right.double)


def _two_bars_again(before: Timed, now: Timed) -> bool:
    """Whether two measures are one simile over two bars."""
    one, two = before.measure, now.measure
    both = one.simile == two.simile == 2 and not before.twice
    return both and not (one.struck or two.struck) and not (_begins(two) or one.right.repeat)


def _begins(measure: Measure) -> bool:
    """Whether something is said at the start of a measure that must stand before a bar."""
    changes = (measure.key, measure.meter, measure.tempo, measure.capo)
    return bool(
        measure.section
        or measure.left.repeat
        or measure.left.endings
        or measure.free
        or measure.feel
        or any(change is not None for change in changes)
    )


def _joined(before: Timed, now: Timed) -> Timed:
    one, two, shift = before.measure, now.measure, before.measure.length
    return before._replace(
        twice=one.simile == 2 and two.simile == 2,
        rests=before.rests + now.rests,
        measure=one._replace(
            length=one.length + two.length,
            strums=one.strums + tuple(s._replace(onset=s.onset + shift) for s in two.strums),
            struck=one.struck + tuple(s._replace(onset=s.onset + shift) for s in two.struck),
            sung=one.sung + tuple(s._replace(onset=s.onset + shift) for s in two.sung),
            instructions=one.instructions
            + tuple(s._replace(onset=s.onset + shift) for s in two.instructions),
            marks=one.marks + tuple(_later(mark, shift) for mark in two.marks),
            right=two.right._replace(double=two.right.double or one.right.double),
        ),
    )


def _later(mark: Mark, shift: int) -> Mark:
    """A mark of a measure that is joined after another."""
    return replace(mark, onset=mark.onset + shift) if mark.place == "beat" else mark
