"""Measures to bars' worth of music: meters carried along, split measures joined, the
pick-up, chords struck just before a bar line given to the bar they belong to."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from chartkit.chart.marks import OPENING_MARKS, Mark
from chartkit.chart.model import Meter
from chartkit.interchange.score.beats import Grid, shared_out
from chartkit.interchange.score.events import NO_EDGE, REST_OF_MEASURE, Measure, Struck
from chartkit.interchange.taken import Findings

COMMON_TIME = Meter(4, 4)
_LONGEST_OWN_METER = 32
"""Beats of a bar that has a meter of its own; the language allows no more."""
_MEASURES_THAT_TELL = 2
"""So many measures must have one length before a meter is inferred from it; ours."""


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


def beat_units(meter: Meter, units: int) -> int:
    """The length of a beat, the dotted one in compound meters, in units."""
    return 4 * units // meter.unit * (3 if meter.compound else 1)


def timed_measures(
    measures: Sequence[Measure], units: int, findings: Findings
) -> tuple[Timed, ...]:
    """The measures as the chart's bars will be.  ``units`` are those to a quarter note."""
    counted: list[Timed] = []
    meter = COMMON_TIME
    for measure in _with_first_meter(measures, units, findings):
        if counted and measure.meter == meter:
            measure = measure._replace(meter=None)
        meter = measure.meter or meter
        beat = beat_units(meter, units)
        if any(one.over for one in measure.struck):
            sharing = _with_known_lengths(measure, beat * meter.beats)
            struck = shared_out(sharing, beat, _strong(meter, beat))
            measure = measure._replace(struck=struck)
        full = beat * meter.beats
        counted.append(
            Timed(measure=measure, meter=meter, beat=beat, full=full, rests=min(1, measure.rests))
        )
    joined = _with_own_meters(_joined_bars(counted, findings), units, findings)
    if len(joined) > 1 and _is_pickup(joined[0]):
        joined[:2] = _with_pickup(joined[0], joined[1])
    if joined and _holds_upbeat_alone(joined):
        joined[0] = joined[0]._replace(upbeat=True)
    joined = [now._replace(pickup=True) if _opens_section(now) else now for now in joined]
    joined = _with_chords_after_end(joined, findings)
    _tell_lengths(joined, findings)
    return tuple(_anticipated(joined, findings))


def _with_known_lengths(measure: Measure, full: int) -> tuple[Struck, ...]:
    """The chords of a measure, those that share the rest of it with its length."""
    end = measure.length or full
    return tuple(
        one._replace(over=max(0, end - one.onset)) if one.over == REST_OF_MEASURE else one
        for one in measure.struck
    )


def _strong(meter: Meter, beat: int) -> tuple[int, ...]:
    """The strong beats of a bar, in units: each third of bars in threes, each second of others
    that have an even count; common practice, no source."""
    step = 3 if meter.beats % 3 == 0 else 2
    if meter.beats % step:
        return (0,)
    return tuple(range(0, meter.beats * beat, step * beat))


# ---- meters


def _with_first_meter(measures: Sequence[Measure], units: int, findings: Findings) -> list[Measure]:
    """The measures with the first meter given at the start, also where free time precedes it;
    where none is given at all, the one that their lengths make likely."""
    given = list(measures)
    at = next((i for i, measure in enumerate(given) if not measure.free), 0)
    if given and not any(measure.meter for measure in given) and not given[at].free:
        return _with_likely_meter(given, units, findings)
    if at and given[0].meter is None:
        given[0] = given[0]._replace(meter=given[at].meter)
        given[at] = given[at]._replace(meter=None)
    return given


def _with_likely_meter(measures: list[Measure], units: int, findings: Findings) -> list[Measure]:
    lengths = Counter(m.length for m in measures if m.length and not m.free)
    if not lengths:
        return measures
    usual, count = lengths.most_common(1)[0]
    meter = _meter_of_length(usual, 4, units) or _meter_of_length(usual, 8, units)
    if meter is None or count < min(_MEASURES_THAT_TELL, len(measures)):
        return measures
    findings.guess(
        "no-meter",
        f"no time signature is given: most measures are as long as {meter}, which is written",
    )
    return [measures[0]._replace(meter=meter), *measures[1:]]


def _meter_of_length(length: int, unit: int, units: int) -> Meter | None:
    """The meter with this unit that fills so many units of time; None where none does."""
    count = Fraction(length * unit, 4 * units)
    if count.denominator != 1 or not 0 < count <= _LONGEST_OWN_METER:
        return None
    return Meter(int(count), unit)


def _with_own_meters(counted: list[Timed], units: int, findings: Findings) -> list[Timed]:
    """The bars with a meter of their own where a measure is shorter or longer than its meter by
    whole beats, and with the meter before restored after them.

    A last bar, and one before a repeat, may lack what the pick-up holds.
    """
    written: list[Timed] = []
    holding: Meter | None = None
    upbeats = {now.measure.length for now in counted if now.sung_before}
    upbeats |= {now.measure.length for now in counted[:1] if _is_pickup(now)}
    for i, now in enumerate(counted):
        if now.sung_before:
            written.append(now)
            continue
        own = None if i in (0, len(counted) - 1) and _short(now) else _own_meter(now, units)
        following = counted[i + 1] if i + 1 < len(counted) else None
        if now.measure.right.repeat and now.full - now.measure.length in upbeats:
            own = own if following and _completes(now, following) else None
        meter = own or now.meter
        if holding is not None:
            change = meter if meter != holding else None
            if now.measure.meter != change:
                now = now._replace(measure=now.measure._replace(meter=change))
        if own is not None:
            findings.guess(
                "own-meter",
                f"a measure does not fill {now.meter}: it is written in {own}",
                f"measure {now.measure.number}",
            )
            beat = beat_units(own, units)
            now = now._replace(meter=own, beat=beat, full=beat * own.beats)
            if i == 0:
                now = now._replace(measure=now.measure._replace(meter=own))
        holding = meter
        written.append(now)
    return written


def _own_meter(now: Timed, units: int) -> Meter | None:
    """The meter that a measure fills exactly, where it is another than the one that holds."""
    measure = now.measure
    if measure.free or now.rests or now.pickup or measure.length in (0, now.full):
        return None
    if measure.simile or now.twice or (_opens_section(now) and _short(now)):
        return None
    own = _meter_of_length(measure.length, now.meter.unit, units)
    if own is None and any(one.onset >= now.full for one in measure.struck):
        return _meter_of_length(measure.length, 8, units)
    return own


def _tell_lengths(timed: list[Timed], findings: Findings) -> None:
    """Notes bars whose measure is not as long as the meter asks.

    The last bar and one before a repeat may lack what the pick-up holds.
    """
    for i, now in enumerate(timed):
        place = f"measure {now.measure.number}"
        if now.measure.free:
            findings.sure("free-measure", "a measure without meter is written in free time", place)
        elif now.measure.length > now.full and not (now.twice or now.rests):
            findings.guess(
                "long-measure",
                f"a measure is longer than {now.meter}; its last chords stand on the last beat",
                place,
            )
        elif _short(now) and not now.pickup and i < len(timed) - 1 and not now.measure.right.repeat:
            findings.guess(
                "short-measure",
                f"a measure is shorter than {now.meter}: written as a full bar",
                place,
            )


# ---- measures that are one bar


def _joined_bars(counted: list[Timed], findings: Findings) -> list[Timed]:
    """The measures with those joined that are one bar, or one written place."""
    bars: list[Timed] = []
    carried: Measure | None = None
    for i, now in enumerate(counted):
        if carried is not None:
            now, carried = now._replace(measure=_with_opening(now.measure, carried)), None
        before, last = bars[-1] if bars else None, i == len(counted) - 1
        if before is None:
            bars.append(now)
        elif _two_bars_again(before, now) or _rests_on(before, now):
            bars[-1] = _joined(before, now)
        elif _is_later_upbeat(before, now) and not last:
            bars.append(_upbeat(now))
            carried = now.measure
        elif not _completes(before, now) or (last and _begins(now.measure)):
            bars.append(now)
        elif not _opens_repeat(before, now):
            bars[-1] = _joined(before, _without_opening(now))
            carried = now.measure._replace(marks=_opening(now.measure), said=())
        elif not (last or _is_played(now.measure)):
            # The end of a repeated part and the upbeat to the next are one bar.
            bars[-1] = _filled(before)
            bars.append(_upbeat(now))
            carried = now.measure
        else:
            bars.append(now)
    return bars


def _is_later_upbeat(before: Timed, now: Timed) -> bool:
    """Whether a measure that is not counted, after a full one, holds only the upbeat to a new
    part."""
    measure, edge = now.measure, before.measure.right
    opens = _opens_repeat(before, now) or edge.double or bool(measure.section)
    uncounted = measure.implicit and _short(now) and not _short(before)
    return uncounted and opens and not _is_played(measure) and measure.meter is None


def _opening(measure: Measure) -> tuple[Mark, ...]:
    return tuple(mark for mark in measure.marks if mark.kind in OPENING_MARKS)


def _upbeat(now: Timed) -> Timed:
    """A measure of which only the words are left, sung before the bar that follows."""
    measure = now.measure
    alone = Measure(measure.number, measure.length, measure.implicit, sung=measure.sung)
    return now._replace(measure=alone, pickup=True, sung_before=True)


def _completes(before: Timed, now: Timed) -> bool:
    """Whether two short measures fill one bar together, split by a bar line or a line's end."""
    one, two = before.measure, now.measure
    if two.meter is not None or two.free or one.simile or before.pickup:
        return False
    return _short(before) and one.length + two.length == before.full and two.length > 0


def _opens_repeat(before: Timed, now: Timed) -> bool:
    """Whether a repeat stands between two measures, or an ending begins with the second."""
    return before.measure.right.repeat or now.measure.left.repeat or bool(now.measure.left.endings)


def _without_opening(now: Timed) -> Timed:
    """The second part of a bar without what belongs to the start of a bar."""
    measure = now.measure
    marks = tuple(mark for mark in measure.marks if mark.kind not in OPENING_MARKS)
    return now._replace(measure=measure._replace(marks=marks, section="", left=NO_EDGE))


def _with_opening(measure: Measure, carried: Measure) -> Measure:
    """A measure that takes over what stood at the start of one that was joined to another bar."""
    return measure._replace(
        said=tuple(said._replace(onset=0) for said in carried.said) + measure.said,
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
            said=one.said + tuple(s._replace(onset=s.onset + shift) for s in two.said),
            marks=one.marks + tuple(_later(mark, shift) for mark in two.marks),
            right=two.right._replace(double=two.right.double or one.right.double),
        ),
    )


def _later(mark: Mark, shift: int) -> Mark:
    """A mark of a measure that is joined behind another."""
    return replace(mark, onset=mark.onset + shift) if mark.place == "beat" else mark


# ---- pick-ups


def _opens_section(now: Timed) -> bool:
    """Whether a later measure is a pick-up of its own: short, uncounted, with chords, at the
    start of a section."""
    measure = now.measure
    if now.pickup or not (measure.implicit and measure.section):
        return now.pickup
    return _is_played(measure) and _is_pickup(now)


def _is_played(measure: Measure) -> bool:
    """Whether whoever plays the chords has something to play in a measure."""
    return bool(measure.struck or measure.strums)


def _short(timed: Timed) -> bool:
    return not timed.measure.free and 0 < timed.measure.length < timed.full


def _is_pickup(first: Timed) -> bool:
    """Whether a first measure is a pick-up; one with chords cannot have a repeat before it."""
    measure = first.measure
    opens = measure.left.repeat or measure.left.endings
    return _short(first) and not (opens and _is_played(measure))


def _with_pickup(first: Timed, second: Timed) -> list[Timed]:
    """The pick-up and the bar after it, which takes over all but the words of a pick-up that
    has no chords."""
    one, two = first.measure, second.measure
    if _is_played(one):
        return [first._replace(pickup=True), second]
    return [_upbeat(first), second._replace(measure=_with_opening(two, one))]


def _holds_upbeat_alone(timed: list[Timed]) -> bool:
    """Whether a full first measure holds only an upbeat: no repeat, and no chord and no note in its
    first half, while the next bar has a chord."""
    first, measure = timed[0], timed[0].measure
    if first.pickup or first.rests or measure.free or measure.left.repeat or len(timed) < 2:
        return False
    late = all(one.chord is None or 2 * one.onset >= first.full for one in measure.struck)
    begins = measure.first_note
    late = late and begins is not None and 2 * begins >= first.full
    return late and any(one.chord for one in timed[1].measure.struck)


# ---- chords at the end of a measure and just before it


def _with_chords_after_end(timed: list[Timed], findings: Findings) -> list[Timed]:
    """The bars with a chord that stands behind all notes of a full measure, at its very end, struck
    at the start of the next, where nothing else is."""
    bars = list(timed)
    for i in range(len(bars) - 1):
        now, then = bars[i], bars[i + 1]
        struck = now.measure.struck
        if not struck or struck[-1].onset != now.full or not _open_to_push(now, then):
            continue
        moved = struck[-1]._replace(onset=0)
        bars[i] = now._replace(measure=now.measure._replace(struck=struck[:-1]))
        one = then.measure._replace(struck=(moved, *then.measure.struck))
        bars[i + 1] = then._replace(measure=one)
        findings.guess(
            "chord-after-end",
            "a chord behind the last note is written at the start of the next bar",
            f"measure {now.measure.number}",
        )
    return bars


def _anticipated(timed: list[Timed], findings: Findings) -> list[Timed]:
    """Gives a chord struck alone just before a bar line to the next bar, as a pushed chord, where
    nothing is struck on that bar's first beat."""
    bars = list(timed)
    for i in range(len(bars) - 1):
        now, then = bars[i], bars[i + 1]
        late = _late_chord(now)
        if late is None or not _open_to_push(now, then):
            continue
        rest = tuple(struck for struck in now.measure.struck if struck is not late)
        pushed = (late._replace(onset=0, pushed=True), *then.measure.struck)
        before = tuple(strum for strum in now.measure.strums if strum.onset < late.onset)
        after = tuple(strum for strum in then.measure.strums if strum.onset >= then.beat)
        bars[i] = now._replace(measure=now.measure._replace(struck=rest, strums=before))
        bars[i + 1] = then._replace(measure=then.measure._replace(struck=pushed, strums=after))
        if not late.tied:
            findings.guess(
                "pushed-chord",
                "a chord struck before its beat is written as pushed",
                f"measure {now.measure.number}",
            )
    return bars


def _late_chord(timed: Timed) -> Struck | None:
    struck = timed.measure.struck
    last_beat = timed.full - timed.beat
    if not struck or timed.measure.free or timed.pickup or struck[-1].pushed:
        return None
    alone = struck[-1].tied or len(struck) == 1 or struck[-2].onset < last_beat
    in_time = timed.full - timed.grid.early <= struck[-1].onset < timed.full
    return struck[-1] if alone and in_time and struck[-1].chord is not None else None


def _open_to_push(now: Timed, then: Timed) -> bool:
    one, two = now.measure, then.measure
    plain = not (one.right.repeat or two.left.repeat or two.left.endings or two.section)
    first_beat = any(struck.onset < then.beat for struck in two.struck)
    first_beat |= any(strum.onset < then.beat and not strum.held for strum in two.strums)
    return plain and not first_beat and not (two.free or two.simile or then.rests)
