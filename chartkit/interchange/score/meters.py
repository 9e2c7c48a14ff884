"""Divides measures into bars: meters are carried along, missing ones inferred, pick-ups
recognised."""

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from chartkit.chart.model import Meter
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.anticipated_chords import with_chords_after_end, with_early_chords
from chartkit.interchange.score.beats import chords_sharing_a_note
from chartkit.interchange.score.events import NO_EDGE, REST_OF_MEASURE, Measure, StruckChord
from chartkit.interchange.score.timed import (
    Timed,
    beat_units,
    completes,
    is_played,
    is_short,
    joined_bars,
    upbeat_of,
    with_opening,
)

COMMON_TIME = Meter(4, 4)
_LONGEST_OWN_METER = 32
"""Beats of a bar that has a meter of its own; the language allows no more."""
_MEASURES_THAT_TELL = 2
"""The fewest measures of one length from which a meter is inferred (ours)."""


def timed_measures(
    measures: Sequence[Measure], units: int, findings: Findings
) -> tuple[Timed, ...]:
    """The measures as the chart's bars will be.  ``units`` are those to a quarter note."""
    counted = _counted(_with_first_meter(measures, units, findings), units)
    if len(counted) > 1:
        counted[0] = _from_the_top(counted[0])
    joined = _with_own_meters(_with_later_pickups(joined_bars(counted)), units, findings)
    if len(joined) > 1 and _is_pickup(joined[0]):
        joined[:2] = _with_pickup(joined[0], joined[1])
    if joined and _holds_upbeat_alone(joined):
        joined[0] = joined[0]._replace(upbeat=True)
    joined = [now._replace(pickup=True) if _opens_section(now) else now for now in joined]
    joined = with_chords_after_end(joined, findings)
    _tell_lengths(joined, findings)
    return tuple(with_early_chords(joined, findings))


def _counted(measures: Sequence[Measure], units: int) -> list[Timed]:
    """The measures with their meters and beats, chords that share a note each at its place."""
    counted: list[Timed] = []
    meter = COMMON_TIME
    for measure in measures:
        if counted and measure.meter == meter:
            measure = measure._replace(meter=None)
        meter = measure.meter or meter
        beat = beat_units(meter, units)
        if len(measure.struck) > 1 and any(one.over for one in measure.struck):
            sharing = _with_known_lengths(measure, beat * meter.beats)
            struck = chords_sharing_a_note(sharing, beat, _strong(meter, beat))
            measure = measure._replace(struck=struck)
        full = beat * meter.beats
        counted.append(
            Timed(measure=measure, meter=meter, beat=beat, full=full, rests=min(1, measure.rests))
        )
    return counted


def _with_known_lengths(measure: Measure, full: int) -> tuple[StruckChord, ...]:
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
        own = None if i in (0, len(counted) - 1) and is_short(now) else _own_meter(now, units)
        following = counted[i + 1] if i + 1 < len(counted) else None
        if now.measure.right.repeat and now.full - now.measure.length in upbeats:
            own = own if following and completes(now, following) else None
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
    if measure.simile or now.twice or (_opens_section(now) and is_short(now)):
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
        may_be_short = now.pickup or now.measure.right.repeat or i == len(timed) - 1
        if now.measure.free:
            findings.sure("free-measure", "a measure without meter is written in free time", place)
        elif now.measure.length > now.full and not (now.twice or now.rests):
            findings.guess(
                "long-measure",
                f"a measure is longer than {now.meter}; its last chords stand on the last beat",
                place,
            )
        elif is_short(now) and not may_be_short:
            findings.guess(
                "short-measure",
                f"a measure is shorter than {now.meter}: written as a full bar",
                place,
            )


# ---- pick-ups


def _opens_section(now: Timed) -> bool:
    """Whether a later measure is a pick-up of its own: short, uncounted, with chords, at the
    start of a section."""
    measure = now.measure
    if now.pickup or not (measure.implicit and measure.section):
        return now.pickup
    return is_played(measure) and _is_pickup(now)


def _from_the_top(first: Timed) -> Timed:
    """The first measure without the start of a repeat before the chords of a pick-up: a repeat
    that is not opened leads back to the top, and its pick-up is played again."""
    measure = first.measure
    if not (is_short(first) and is_played(measure) and measure.left.repeat):
        return first
    return first._replace(measure=measure._replace(left=measure.left._replace(repeat=False)))


def _is_pickup(first: Timed) -> bool:
    """Whether a first measure is a pick-up; one with chords cannot have a repeat before it,
    but at the top."""
    measure = first.measure
    opens = measure.left.repeat or measure.left.endings
    return is_short(first) and not (opens and is_played(measure))


def _with_pickup(first: Timed, second: Timed) -> list[Timed]:
    """The pick-up and the bar after it, which takes over all but the words of a pick-up that
    has no chords."""
    one, two = first.measure, second.measure
    if is_played(one):
        return _with_opening_before(first._replace(pickup=True), second)
    return [upbeat_of(first), second._replace(measure=with_opening(two, one))]


def _with_later_pickups(joined: list[Timed]) -> list[Timed]:
    """The bars, in which an uncounted short one with chords, between a full one and the first of a
    section, opens that section."""
    bars = list(joined)
    for i in range(1, len(bars) - 1):
        now, then = bars[i], bars[i + 1]
        measure = now.measure
        if measure.implicit and not measure.section and then.measure.section and is_played(measure):
            plain = measure.left == NO_EDGE and measure.meter is None
            if plain and is_short(now) and not is_short(bars[i - 1]):
                bars[i : i + 2] = _with_opening_before(now, then)
    return bars


def _with_opening_before(pickup: Timed, second: Timed) -> list[Timed]:
    """A pick-up with chords and the bar after it: the name of a section, a tempo or a feel over
    that bar holds from the pick-up on, unless that has its own."""
    one, two = pickup.measure, second.measure
    named, timed, felt = not one.section, one.tempo is None, not one.feel
    before = one._replace(
        section=one.section or two.section,
        tempo=two.tempo if timed else one.tempo,
        feel=one.feel or two.feel,
    )
    after = two._replace(
        section="" if named else two.section,
        tempo=None if timed else two.tempo,
        feel="" if felt else two.feel,
    )
    return [pickup._replace(measure=before), second._replace(measure=after)]


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
