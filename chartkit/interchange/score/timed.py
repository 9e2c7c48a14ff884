"""Measures to bars' worth of music: meters carried along, split measures joined, the
pick-up found, chords struck just before a bar line given to the bar they belong to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.chart.marks import Mark
from chartkit.chart.model import Meter
from chartkit.interchange.score.events import Measure, Struck
from chartkit.interchange.taken import Findings

COMMON_TIME = Meter(4, 4)


@dataclass(frozen=True, slots=True)
class Timed:
    """A measure with the meter that holds in it.

    ``beat`` is the length of a beat in units.  ``pickup`` marks a first measure shorter
    than its meter; it is ``sung_before`` the first bar when it has no chords, so that only
    its words are left in it.  ``twice`` is a simile over two bars, of two measures; ``rests``
    is how many measures of rest it is made of.
    """

    measure: Measure
    meter: Meter
    beat: int
    pickup: bool = False
    sung_before: bool = False
    twice: bool = False
    rests: int = 0

    @property
    def full(self) -> int:
        """The length of a full bar in units."""
        return self.beat * self.meter.beats


def beat_units(meter: Meter, units: int) -> int:
    """The length of a beat, the dotted one in compound meters, in units."""
    return 4 * units // meter.unit * (3 if meter.compound else 1)


def timed_measures(
    measures: Sequence[Measure], units: int, findings: Findings
) -> tuple[Timed, ...]:
    """The measures as the chart's bars will be.  ``units`` are those to a quarter note."""
    found: list[Timed] = []
    meter = COMMON_TIME
    for measure in _with_first_meter(measures):
        if found and measure.meter == meter:
            measure = replace(measure, meter=None)
        meter = measure.meter or meter
        now = Timed(measure, meter, beat_units(meter, units), rests=min(1, measure.rests))
        if found and _belongs(found[-1], now):
            found[-1] = _joined(found[-1], now)
        else:
            found.append(now)
    if len(found) > 1 and _is_pickup(found[0]):
        found[:2] = _with_pickup(found[0], found[1])
    found = [replace(now, pickup=True) if _opens_section(now) else now for now in found]
    _tell_lengths(found, findings)
    return tuple(_anticipated(found, findings))


def _opens_section(now: Timed) -> bool:
    """Whether a later measure is a pick-up of its own: short, uncounted, with chords, at the
    start of a section."""
    measure = now.measure
    return bool(
        now.pickup or (measure.implicit and measure.section and measure.struck and _is_pickup(now))
    )


def _with_first_meter(measures: Sequence[Measure]) -> list[Measure]:
    """The measures with the first meter given at the start, also where free time precedes it."""
    found = list(measures)
    at = next((i for i, measure in enumerate(found) if not measure.free), 0)
    if at and found[0].meter is None:
        found[0] = replace(found[0], meter=found[at].meter)
        found[at] = replace(found[at], meter=None)
    return found


def _belongs(before: Timed, now: Timed) -> bool:
    """Whether a measure is one bar, or one written place, with that before it."""
    return _completes(before, now) or _two_bars_again(before, now) or _rests_on(before, now)


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
        measure.section or measure.left.repeat or measure.left.endings or measure.free
        or measure.feel or any(change is not None for change in changes)
    )  # fmt: skip


def _short(timed: Timed) -> bool:
    return not timed.measure.free and 0 < timed.measure.length < timed.full


def _is_pickup(first: Timed) -> bool:
    return _short(first) and not (first.measure.left.repeat or first.measure.left.endings)


def _with_pickup(first: Timed, second: Timed) -> list[Timed]:
    """The pick-up and the bar after it, which takes over all but the words of a pick-up that
    has no chords."""
    one, two = first.measure, second.measure
    if one.struck:
        return [replace(first, pickup=True), second]
    taking = replace(
        two,
        said=tuple(said._replace(onset=0) for said in one.said) + two.said,
        marks=one.marks + two.marks,
        key=two.key or one.key,
        meter=two.meter or one.meter,
        tempo=two.tempo or one.tempo,
        capo=one.capo if two.capo is None else two.capo,
        feel=two.feel or one.feel,
        section=" ".join(filter(None, (one.section, two.section))),
    )
    return [replace(first, pickup=True, sung_before=True), replace(second, measure=taking)]


def _completes(before: Timed, now: Timed) -> bool:
    """Whether two short measures are one, split where a line breaks or a pick-up follows."""
    one, two = before.measure, now.measure
    quiet = not (one.right.repeat or _begins(two))
    written_apart = two.implicit or two.number.startswith("X") or two.number == one.number
    return (
        quiet and written_apart and _short(before)
        and one.length + two.length == before.full and two.length > 0
    )  # fmt: skip


def _joined(before: Timed, now: Timed) -> Timed:
    one, two, shift = before.measure, now.measure, before.measure.length
    return replace(
        before,
        twice=one.simile == 2 and two.simile == 2,
        rests=before.rests + now.rests,
        measure=replace(
            one,
            length=one.length + two.length,
            strums=one.strums + tuple(s._replace(onset=s.onset + shift) for s in two.strums),
            struck=one.struck + tuple(replace(s, onset=s.onset + shift) for s in two.struck),
            sung=one.sung + tuple(replace(s, onset=s.onset + shift) for s in two.sung),
            said=one.said + tuple(s._replace(onset=s.onset + shift) for s in two.said),
            marks=one.marks + tuple(_later(mark, shift) for mark in two.marks),
            right=two.right,
        ),
    )


def _later(mark: Mark, shift: int) -> Mark:
    """A mark of a measure that is joined behind another."""
    return replace(mark, onset=mark.onset + shift) if mark.place == "beat" else mark


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
                "long-measure", f"a measure is longer than {now.meter}; its last chords stand "
                "on the last beat", place,
            )  # fmt: skip
        elif _short(now) and not now.pickup and i < len(timed) - 1 and not now.measure.right.repeat:
            findings.guess(
                "short-measure", f"a measure is shorter than {now.meter}: written as a full bar",
                place,
            )  # fmt: skip


def _anticipated(timed: list[Timed], findings: Findings) -> list[Timed]:
    """Gives a chord struck alone in the second half of a bar's last beat to the next bar, as
    a pushed chord, where nothing is struck on that bar's first beat."""
    found = list(timed)
    for i in range(len(found) - 1):
        now, then = found[i], found[i + 1]
        late = _late_chord(now)
        if late is None or not _open_to_push(now, then):
            continue
        rest = tuple(struck for struck in now.measure.struck if struck is not late)
        pushed = (replace(late, onset=0, pushed=True), *then.measure.struck)
        before = tuple(strum for strum in now.measure.strums if strum.onset < late.onset)
        after = tuple(strum for strum in then.measure.strums if strum.onset >= then.beat)
        found[i] = replace(now, measure=replace(now.measure, struck=rest, strums=before))
        found[i + 1] = replace(then, measure=replace(then.measure, struck=pushed, strums=after))
        if not late.tied:
            findings.guess(
                "pushed-chord", "a chord struck before its beat is written as pushed",
                f"measure {now.measure.number}",
            )  # fmt: skip
    return found


def _late_chord(timed: Timed) -> Struck | None:
    struck = timed.measure.struck
    last_beat = timed.full - timed.beat
    if not struck or timed.measure.free or timed.pickup or struck[-1].pushed:
        return None
    alone = struck[-1].tied or len(struck) == 1 or struck[-2].onset < last_beat
    in_time = last_beat + timed.beat // 2 <= struck[-1].onset < timed.full
    return struck[-1] if alone and in_time and struck[-1].chord is not None else None


def _open_to_push(now: Timed, then: Timed) -> bool:
    one, two = now.measure, then.measure
    plain = not (one.right.repeat or two.left.repeat or two.left.endings or two.section)
    first_beat = any(struck.onset < then.beat for struck in two.struck)
    first_beat |= any(strum.onset < then.beat and not strum.held for strum in two.strums)
    return plain and not first_beat and not (two.free or two.simile or then.rests)
