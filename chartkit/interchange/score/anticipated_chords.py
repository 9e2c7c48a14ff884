"""Moves chords at the very end of a measure, or just before it, to the next bar."""

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.beats import MOVES, is_push
from chartkit.interchange.score.events import StruckChord
from chartkit.interchange.score.timed import Timed


def with_chords_after_end(timed: list[Timed], findings: Findings) -> list[Timed]:
    """Moves a chord at the very end of a full measure, after all its notes, to the start of the
    next, if nothing is struck there, else to the last beat of its own; returns the bars."""
    bars = list(timed)
    for i in range(len(bars) - 1):
        now, then = bars[i], bars[i + 1]
        struck = now.measure.struck
        if not struck or struck[-1].onset != now.full:
            continue
        if not _open_to_push(now, then):
            bars[i] = _with_end_on_beat(now, then, findings)
            continue
        moved = struck[-1]._replace(onset=0)
        bars[i] = now._replace(measure=now.measure._replace(struck=struck[:-1]))
        one = then.measure._replace(struck=(moved, *then.measure.struck))
        bars[i + 1] = then._replace(measure=one)
        findings.guess(
            "chord-after-end",
            "a chord after the last note is written at the start of the next bar",
            f"measure {now.measure.number}",
        )
    return bars


def _with_end_on_beat(now: Timed, then: Timed, findings: Findings) -> Timed:
    """A bar whose chord behind the last note stands on its last free half beat: another one begins
    the next bar.  N.C. has no time there, nor has a chord that the next bar begins with."""
    *struck, last = now.measure.struck
    place = f"measure {now.measure.number}"
    follows = next((one.chord for one in then.measure.struck if one.onset == 0), None)
    if last.chord is None:
        findings.leave_out("chord-after-end", "an N.C. after the last note", place)
    elif last.chord != follows:
        before = struck[-1].onset if struck else -1
        places = (now.full - now.beat, now.full - now.beat // 2)
        onset = next((at for at in places if at > before), None)
        if onset is None:
            return now
        struck.append(last._replace(onset=onset))
        findings.guess(
            "chord-after-end",
            "a chord after the last note, before another, is written on the last beat",
            place,
        )
    return now._replace(measure=now.measure._replace(struck=tuple(struck)))


def with_early_chords(timed: list[Timed], findings: Findings) -> list[Timed]:
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
        onsets = [*(one.onset for one in rest), *(one.onset for one in before)]
        if not (late.tied and is_push(late.onset, now.full, now.grid.early, onsets)):
            findings.guess(
                *MOVES["tied" if late.tied else "pushed"], f"measure {now.measure.number}"
            )
    return bars


def _late_chord(timed: Timed) -> StruckChord | None:
    struck = timed.measure.struck
    last_beat = timed.full - timed.beat
    if not struck or struck[-1].onset < last_beat:
        return None
    if timed.measure.free or timed.pickup or struck[-1].pushed:
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
