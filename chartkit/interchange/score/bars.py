"""From one measure to one bar: strikes, marks, cues, similes, and where its words begin."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    Cue,
    Strike,
)
from chartkit.chart.signs import plain_slashes, written_signs
from chartkit.interchange.held_rests import Silence, without_first_holds, without_held_silence
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.beats import PlacedStrikes, placed_strikes
from chartkit.interchange.score.events import Measure, PlayerInstruction
from chartkit.interchange.score.timed import Timed
from chartkit.interchange.wording import counted, cue_text
from chartkit.theory.chord import Chord


class BarAndStarts(NamedTuple):
    """A bar and where each of its segments of words begins, in units of its measure."""

    bar: Bar
    starts: tuple[int, ...]


@dataclass(slots=True)
class BarWriter:
    """Writes bars one after another, and remembers what the next may refer to.

    ``says_pickups`` writes a cue in pick-ups that have no slashes: a chord before the first bar
    line could be a bar whose line was forgotten.  ``silent_first`` writes N.C. in bars before the
    first chord; without it they have slashes, since their chords are unknown.
    """

    findings: Findings
    says_pickups: bool = True
    silent_first: bool = True
    struck_before: bool = False
    whole_bar_chord: bool = False
    bars: list[Bar] = field(default_factory=list)
    chord: Chord | None = None
    silence: Silence = "none"
    anything_struck: bool = False

    def write(self, timed: Timed, after_break: bool, opens_row: bool = False) -> BarAndStarts:
        """The bar of a measure.  ``after_break`` keeps a simile from pointing back over a
        repeat or into another section; one that ``opens_row`` has its chord again."""
        measure = timed.measure
        if measure.free:
            written = self._free(measure)
        elif timed.rests:
            written = self._rest(timed)
        elif timed.pickup and (measure.struck or measure.strums):
            written = self._pickup(timed)
        elif measure.struck:
            written = self._struck(timed)
        else:
            written = self._continued(timed, after_break, opens_row)
        bar, self.silence = without_held_silence(self._with_new_basses(written.bar), self.silence)
        bar = bar if self.anything_struck else without_first_holds(bar)
        self.anything_struck |= bool(bar.strikes)
        self.bars.append(bar)
        return written if bar is written.bar else written._replace(bar=bar)

    def _with_new_basses(self, bar: Bar) -> Bar:
        """The bar, in which only a bass under the chord before stays a new bass."""
        strikes = []
        has_new_bass = False
        for strike in bar.strikes:
            has_new_bass = has_new_bass or strike.bass_only
            if strike.bass_only and not _same_but_bass(self.chord, strike.chord):
                strike = replace(strike, bass_only=False)
            strikes.append(strike)
            self.chord = strike.chord or self.chord
        return replace(bar, strikes=tuple(strikes)) if has_new_bass else bar

    # ---- kinds of bars
    def _struck(self, timed: Timed) -> BarAndStarts:
        measure = self._silent_from_start(timed.measure)
        put = placed_strikes(
            measure.struck,
            timed.grid,
            self.findings,
            f"measure {measure.number}",
            measure.slashes,
            measure.strums,
        )
        self.struck_before = True
        self.whole_bar_chord = len(put.strikes) == 1 and put.strikes[0].onset == 0
        return self._finished(put, timed, timed.meter.beats, pickup=False)

    def _silent_from_start(self, measure: Measure) -> Measure:
        """The measure with an N.C. that comes before any chord struck at its start: nothing is
        played before it either, unless muted strokes are."""
        first = measure.struck[0]
        if self.struck_before or first.chord is not None:
            return measure
        if any(s.sign == "mute" and s.onset < first.onset for s in measure.strums):
            return measure
        return measure._replace(struck=(first._replace(onset=0), *measure.struck[1:]))

    def _pickup(self, timed: Timed) -> BarAndStarts:
        measure = timed.measure
        beats = max(1, -(-measure.length // timed.beat))
        if beats >= timed.meter.beats:
            return self._struck(timed)
        self.struck_before = True
        self.whole_bar_chord = False
        place = f"measure {measure.number}"
        if beats * timed.beat != measure.length:
            beats_said = counted(beats, "beat")
            self.findings.guess("pickup-rounded", f"the pick-up is written as {beats_said}", place)
        grid = timed.grid._replace(beats=beats)
        put = placed_strikes(
            measure.struck, grid, self.findings, place, slashes=True, strums=measure.strums
        )
        written = self._finished(put, timed, beats, pickup=True)
        counts = plain_slashes(written.bar) or written_signs(written.bar)
        if counts or not self.says_pickups:
            return written
        cues = (Cue("pick-up"), *written.bar.cues)
        return written._replace(bar=replace(written.bar, cues=cues))

    def _finished(self, put: PlacedStrikes, timed: Timed, beats: int, pickup: bool) -> BarAndStarts:
        said = timed.measure.instructions
        for one in put.crowded:
            said = (*said, PlayerInstruction(one.onset, str(one.chord or "N.C.")))
            self.findings.leave_out(
                "crowded-beat",
                f"more than four chords in one beat: {one.chord or 'N.C.'} is written as a cue",
                f"measure {timed.measure.number}",
            )
        length = beats * TICKS_PER_BEAT
        written = put.written or pickup or _needs_beats(put.strikes, said, timed)
        slots = _slots(put.strikes, written, length)
        bar = Bar(
            strikes=put.strikes,
            length=length,
            beats_written=written,
            simile=0,
            pickup=pickup,
            cues=_cues(said, slots, timed, self._end(length)),
            marks=_marks(timed, slots),
            holds=put.holds,
            slashes=put.slashes,
            silences=put.silences,
            mutes=put.mutes,
        )
        held_start = not put.strikes or put.strikes[0].onset > 0
        starts = (0, *put.from_units) if held_start else (0, *put.from_units[1:])
        return BarAndStarts(bar, starts)

    def _continued(self, timed: Timed, after_break: bool, opens_row: bool) -> BarAndStarts:
        """A measure without a chord symbol: the chord before goes on.

        Other programs name it once; a player who looks for a row finds its chord there (common
        practice, no source)."""
        length = timed.meter.beats * TICKS_PER_BEAT
        measure = timed.measure
        if measure.strums and (rhythm := self._rhythm_alone(timed)):
            return rhythm
        cues = tuple(
            Cue(cue_text(instruction.text), length) for instruction in measure.instructions
        )
        if timed.twice and sum(bar.lasts for bar in self.bars if bar.length) > 1:
            length, simile = 2 * length, 2
        else:
            simile = 1
        if not self.struck_before and self.silent_first and not measure.slashes:
            self._report_silence(measure)
            return self._silent(timed)
        signs = measure.slashes or measure.simile or timed.twice
        if opens_row and self.chord and self.silent_first and not (self.silence or signs):
            return self._whole(timed, self.chord)
        as_long = simile == 2 or (bool(self.bars) and self._lasts_as_before(length))
        sure = as_long or self.whole_bar_chord or not self.says_pickups  # ours mean what they say
        marked = measure.simile == simile and bool(self.bars) and sure
        unmarked = self.whole_bar_chord and as_long and not (measure.slashes or after_break)
        if marked or unmarked:
            marks = _marks(timed, (0,))
            return BarAndStarts(Bar((), length, simile=simile, cues=cues, marks=marks), (0,))
        if self.silence == "none" and self.silent_first and not (measure.slashes or timed.twice):
            return self._silent(timed)  # slashes would ask for something to be played
        slots = tuple(range(0, length, TICKS_PER_BEAT))
        cues, marks = (
            _cues(measure.instructions, slots, timed, self._end(length)),
            _marks(timed, slots),
        )
        return BarAndStarts(Bar((), length, beats_written=True, cues=cues, marks=marks), (0,))

    def _end(self, length: int) -> int | None:
        """Where a cue after the last note of a measure stands: at the end of the bar in scores
        of our own, before its last beat in those of others, who put it where there is room."""
        return None if self.says_pickups else length

    def _lasts_as_before(self, length: int) -> bool:
        """Whether a bar is as long as the one before it, so that a simile can stand for it."""
        last = self.bars[-1]
        return last.length == length * last.lasts

    def _rhythm_alone(self, timed: Timed) -> BarAndStarts | None:
        """A measure without a chord symbol whose rhythm is more than slashes on its beats."""
        measure = timed.measure
        put = placed_strikes(
            (),
            timed.grid,
            self.findings,
            f"measure {measure.number}",
            slashes=True,
            strums=measure.strums,
        )
        if not (put.silences or put.mutes or (self.struck_before and (put.holds or put.slashes))):
            return None
        self.whole_bar_chord = False
        return self._finished(put, timed, timed.meter.beats, pickup=False)

    def _rest(self, timed: Timed) -> BarAndStarts:
        """A rest of one measure or several; the chord before does not go on after it."""
        self.whole_bar_chord = False
        length = timed.meter.beats * TICKS_PER_BEAT * timed.rests
        cues = _cues(timed.measure.instructions, (0,), timed)
        marks = _marks(timed, (0,))
        return BarAndStarts(Bar((), length, cues=cues, marks=marks, rest=timed.rests), (0,))

    def _report_silence(self, measure: Measure) -> None:
        self.findings.guess(
            "no-chord-yet",
            "no chord is written yet: the bars before the first one say N.C.",
            f"measure {measure.number}",
        )

    def _silent(self, timed: Timed) -> BarAndStarts:
        """A bar of N.C."""
        return self._whole(timed, None)

    def _whole(self, timed: Timed, chord: Chord | None) -> BarAndStarts:
        """A bar of one chord, or of N.C."""
        self.struck_before = self.whole_bar_chord = True
        length = timed.meter.beats * TICKS_PER_BEAT
        cues = _cues(timed.measure.instructions, (0,), timed)
        strike = Strike(chord, 0, length)
        return BarAndStarts(Bar((strike,), length, cues=cues, marks=_marks(timed, (0,))), (0,))

    def _free(self, measure: Measure) -> BarAndStarts:
        """A measure in free time: its chords in order; N.C. where it has none."""
        strikes = tuple(
            Strike(
                s.chord,
                bass_only=s.bass_only,
                stopped=s.stopped,
                ringing=s.ringing,
                optional=s.optional,
            )
            for s in measure.struck
        ) or (Strike(None),)
        self.struck_before, self.whole_bar_chord = True, False
        onsets = [struck.onset for struck in measure.struck] or [0]
        cues = tuple(
            Cue(
                cue_text(instruction.text),
                len(onsets)
                if instruction.onset >= measure.length > 0
                else sum(onset <= instruction.onset for onset in onsets[1:]),
            )
            for instruction in measure.instructions
        )
        marks = ordered_marks(
            replace(mark, onset=sum(onset <= mark.onset for onset in onsets[1:]))
            if mark.place == "beat"
            else mark
            for mark in measure.marks
        )
        return BarAndStarts(Bar(strikes, cues=cues, marks=marks), (0, *onsets[1:]))


def _same_but_bass(before: Chord | None, now: Chord | None) -> bool:
    if before is None or now is None:
        return False
    return (before.root, before.quality) == (now.root, now.quality)


def _needs_beats(
    strikes: tuple[Strike, ...], said: Sequence[PlayerInstruction], timed: Timed
) -> bool:
    """Whether something stands over a beat on which no chord is struck, so that the beats must be
    written for it to have its place."""
    measure = timed.measure
    onsets = {strike.onset for strike in strikes}
    places = [mark.onset for mark in measure.marks if mark.place == "beat"]
    places += [one.onset for one in said if one.onset < measure.length]
    return any(
        place % timed.beat == 0 and place * TICKS_PER_BEAT // timed.beat not in onsets
        for place in places
    )


def _slots(strikes: tuple[Strike, ...], written: bool, length: int) -> tuple[int, ...]:
    """Where a cue may stand in a bar: before a beat or a chord."""
    if written:
        return tuple(range(0, length, TICKS_PER_BEAT))
    return tuple([strike.onset for strike in strikes])


def _slot_of(onset: int, slots: tuple[int, ...], timed: Timed) -> int:
    """The slot that holds a place of the measure, given in its units."""
    if len(slots) == 1:
        return slots[0]
    tick = onset * TICKS_PER_BEAT // timed.beat
    return max((slot for slot in slots if slot <= tick), default=slots[0])


def _cues(
    instructions: tuple[PlayerInstruction, ...],
    slots: tuple[int, ...],
    timed: Timed,
    end: int | None = None,
) -> tuple[Cue, ...]:
    if not instructions:
        return ()
    cues = []
    for one in instructions:
        slot = _slot_of(one.onset, slots, timed)
        if end is not None and one.onset >= timed.measure.length > 0:
            slot = end
        cues.append(Cue(cue_text(one.text), slot))
    cues = [cue for cue in cues if cue.text]
    return tuple(sorted(cues, key=lambda cue: cue.onset) if len(cues) > 1 else cues)


def _marks(timed: Timed, slots: tuple[int, ...]) -> tuple[Mark, ...]:
    """The marks of a measure in order; one over a beat goes to the slot it stands over."""
    if not timed.measure.marks:
        return ()
    return ordered_marks(
        replace(mark, onset=_slot_of(mark.onset, slots, timed)) if mark.place == "beat" else mark
        for mark in timed.measure.marks
    )
