"""A guitar playing a chart: which string sounds when, jumps and repeats played out.

Conventions
-----------
Time is counted in quarter notes from the start of the first bar, as fractions.  A bar is struck
where its chart says: at each chord, and at each slash where its beats are written.  A string
rings until it is struck again, until the hand moves to a chord without it, or until a rest, N.C.
or a stop (common practice, no source).  Under a fermata the last beat of a chord goes at half
speed, so that it is held twice as long (common practice, no source).  Where the feel says swing
or shuffle, eighths are swung (``swing.py``).
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from chartkit.advise.ranking import played_option
from chartkit.advise.requests import boards_on_disk, instrument_of, own_shapes
from chartkit.advise.song import FREE_BEATS, song_of
from chartkit.chart.capos import capos_of_rows
from chartkit.chart.keys import written_key
from chartkit.chart.model import TICKS_PER_BEAT, Bar, Chart, Meter, MusicRow, Strike
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.signs import plain_slashes
from chartkit.chart.tempi import Pace, paces_of_rows
from chartkit.chart.written_order import written_order
from chartkit.fretboard.voicing import Voicing
from chartkit.interchange.midi.sung import VerseWords
from chartkit.interchange.midi.swing import is_swung, swung_time
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key

STOPPED = Fraction(1, 4)
"""How much of a beat a stopped chord sounds (assumption)."""
MUTED = Fraction(1, 16)
"""How much of a beat a stroke on damped strings is heard (assumption)."""
USUAL_TEMPO = 100
"""Beats a minute, of the meter the song begins in, where the chart gives no tempo (assumption)."""

_MOST_STROKES = 40_000
"""How many strokes are ever played out: on four strings each they take some 300 MB."""

Stroke = Literal["down", "up", "muted"]


@dataclass(frozen=True, slots=True)
class StringNote:
    """A string sounding: its number from the bass side, its MIDI pitch, start and end.

    ``stroke`` is how it is struck; ``place`` counts the strings of the stroke in the order in
    which the hand reaches them.
    """

    string: int
    pitch: int
    start: Fraction
    end: Fraction
    stroke: Stroke
    place: int


@dataclass(frozen=True, slots=True)
class TimedBar:
    """A played bar: its start, its meter, and beats a minute in it.

    ``held`` are the stretches under a fermata, from where to where in quarter notes after the bar's
    start, in order.  ``section`` is the name of the section that begins here, else empty.
    """

    start: Fraction
    meter: Meter
    tempo: Fraction
    held: tuple[tuple[Fraction, Fraction], ...] = ()
    section: str = ""


@dataclass(frozen=True, slots=True)
class SungWords:
    """Words sung from a moment on; ``split`` says that the last word goes on."""

    start: Fraction
    text: str
    split: bool


@dataclass(frozen=True, slots=True)
class Performance:
    """One guitar through a whole song: its notes, the bars under them, the words over them.

    ``end`` is where the last bar ends; ``cut_short`` says that the song had more bars or strokes
    than are ever played out.
    """

    notes: tuple[StringNote, ...]
    bars: tuple[TimedBar, ...]
    words: tuple[SungWords, ...]
    end: Fraction
    cut_short: bool


def performance(chart: Chart, capo: Capo | None = None) -> Performance:
    """The chart played on its instrument with its capo, or with another one.

    ``chart`` holds sounding chords.  Voicings are the adviser's best for that place, or the
    chart's own shapes.  Where the chart moves the capo inside the song, what follows is played
    there, unless ``capo`` overrides it.
    """
    bars = list(_playable(_rhythmic_bars(chart)))
    capos = {} if capo is not None else capos_of_rows(chart)
    first = chart.capo if capo is None else capo
    voicings = {place: _voicings(chart, place) for place in dict.fromkeys([first, *capos.values()])}
    stretch = section = -1
    hand = _Hand()
    timed, words = [], []
    time = Fraction(0)
    key = written_key(chart)
    last: tuple[Chord, Key] | None = None
    for one in bars:
        begins = one.played.section != section
        section = one.played.section
        name = chart.sections[section].name if begins else ""
        timed.append(TimedBar(time, one.played.meter, one.tempo, one.held(), name))
        where = one.played.key or key
        here = voicings[capos.get(one.played.row_place, first)]
        if last is not None and one.goes_on and (last[0], where) != last:
            stretch, last = stretch + 1, (last[0], where)
        for moment in one.moments():
            if moment.strike is not None and moment.strike.chord is not None:
                now = (moment.strike.chord, where)
                if now != last:
                    stretch, last = stretch + 1, now
            voicing = here[stretch] if 0 <= stretch < len(here) else None
            hand.plays(time + moment.after, moment, voicing)
        words += one.words(time)
        time += one.quarters
    hand.stops(time)
    order = playing_order(chart)
    cut_short = order.cut_short or len(bars) < len(order.bars)
    notes = sorted(hand.notes, key=lambda note: (note.start, note.place, note.string))
    return Performance(tuple(notes), tuple(timed), tuple(words), time, cut_short)


def _playable(bars: Iterable["_RhythmicBar"]) -> Iterator["_RhythmicBar"]:
    """The bars until their strokes are too many."""
    strokes = 0
    for bar in bars:
        strokes += len(bar.moments())
        if strokes > _MOST_STROKES:
            return
        yield bar


def _voicings(chart: Chart, capo: Capo) -> Sequence[Voicing | None]:
    """A voicing for each held chord of the song, in playing order."""
    instrument = instrument_of(chart)
    song = song_of(chart, FREE_BEATS)
    if not song.held_chords:
        return ()
    own = own_shapes(chart, instrument)
    return played_option(song, capo, instrument, None, own, boards_on_disk()).voicings


# ---- what happens in a bar


@dataclass(frozen=True, slots=True)
class _Moment:
    """Something the hand does, ``after`` quarters into the bar (below 0 where it is pushed).

    ``strike`` is the chord where a new one is struck, None where the last one is struck again.
    """

    after: Fraction
    action: Literal["strike", "mute", "silence"]
    beat: Fraction
    off_beat: bool
    strike: Strike | None = None


@dataclass(frozen=True, slots=True)
class _RhythmicBar:
    """A played bar with the written bar whose rhythm it has, the words sung in it, where its
    fermatas stand, in ticks or, in free time, by the number of their chord, and whether its
    eighths are ``swung``."""

    played: PlayedBar
    rhythm: Bar
    tempo: Fraction
    sung: tuple[tuple[int, str, bool], ...]
    fermatas: tuple[int, ...] = ()
    swung: bool = False

    @property
    def beat(self) -> Fraction:
        """A beat in quarter notes."""
        return 4 * self.played.meter.beat

    @property
    def quarters(self) -> Fraction:
        """How long the bar lasts, in quarter notes."""
        if not self.played.length:
            return Fraction(FREE_BEATS * max(1, len(self.played.strikes)))
        return self.played.length * self.beat / TICKS_PER_BEAT

    @property
    def goes_on(self) -> bool:
        """Whether the chord of the bar before sounds on at its start."""
        strikes = self.played.strikes
        return bool(strikes[0].onset if strikes else self.played.length)

    def _after(self, onset: int, early: Fraction = Fraction(0)) -> Fraction:
        after = onset * self.beat / TICKS_PER_BEAT - early
        return swung_time(after) if self.swung else after

    def moments(self) -> list[_Moment]:
        """The moments of the hand in the bar, in order of time."""
        if not self.played.length:
            return [
                replace(self._struck(replace(strike, onset=0)), after=Fraction(FREE_BEATS * place))
                for place, strike in enumerate(self.played.strikes)
            ]
        moments = [self._struck(strike) for strike in self.played.strikes]
        bar = self.rhythm
        again = [*bar.slashes, *(plain_slashes(bar) if bar.beats_written else ())]
        moments += [self._other(onset, "strike") for onset in again]
        moments += [self._other(onset, "mute") for onset in bar.mutes]
        moments += [self._other(onset, "silence") for onset in bar.silences]
        moments.sort(key=lambda moment: moment.after)
        return [m for m in moments if not self._joined_by_push(m, moments)]

    def _struck(self, strike: Strike) -> _Moment:
        action: Literal["strike", "silence"] = "silence" if strike.chord is None else "strike"
        early = self._push() if strike.pushed else Fraction(0)
        off = bool(strike.onset % TICKS_PER_BEAT) or strike.pushed
        return _Moment(self._after(strike.onset, early), action, self.beat, off, strike)

    def _push(self) -> Fraction:
        """How early a pushed chord comes: an eighth, half a beat or a third of a dotted one."""
        return self.beat / (3 if self.played.meter.compound else 2)

    def _other(self, onset: int, action: Literal["strike", "mute", "silence"]) -> _Moment:
        return _Moment(self._after(onset), action, self.beat, bool(onset % TICKS_PER_BEAT))

    @staticmethod
    def _joined_by_push(moment: _Moment, moments: Sequence[_Moment]) -> bool:
        """Whether a pushed chord is struck at the very time of a stroke that repeats the last."""
        return moment.strike is None and any(
            other.strike is not None and other.after == moment.after for other in moments
        )

    def held(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """The last beat of what stands under each fermata, from where to where in the bar."""
        moments = [moment.after for moment in self.moments()]
        stretches = []
        for onset in self.fermatas:
            after = self._after(onset) if self.played.length else Fraction(FREE_BEATS * onset)
            end = min((moment for moment in moments if moment > after), default=self.quarters)
            if end > after:
                stretches.append((max(after, end - self.beat), end))
        return tuple(sorted(set(stretches)))

    def words(self, start: Fraction) -> list[SungWords]:
        """The words sung in the bar, at the places of their chords."""
        return [
            SungWords(max(Fraction(0), start + self._after(onset)), text, split)
            for onset, text, split in self.sung
        ]


def _rhythmic_bars(chart: Chart) -> Iterator[_RhythmicBar]:
    rhythms = _rhythms(chart)
    paces = paces_of_rows(chart)
    usual = USUAL_TEMPO * 4 * chart.meter.beat
    singing = VerseWords(chart)
    place, last = 0, (-1, -1, -1, -1)
    for bar in playing_order(chart).bars:
        here = (bar.section, bar.written_in, bar.row, bar.bar)
        written = rhythms[here[1:]]
        place = place + 1 if here == last and place + 1 < len(written) else 0
        last = here
        sung = singing.in_bar(bar) if place == 0 else ()
        last_place = place == len(written) - 1
        pace = paces.get(here[:3], Pace(None, ""))
        yield _RhythmicBar(
            played=bar,
            rhythm=written[place],
            tempo=pace.beats(bar.meter) or usual / (4 * bar.meter.beat),
            sung=sung,
            fermatas=_fermatas(chart, bar) if last_place else (),
            swung=is_swung(pace.feel, bar.meter),
        )


def _fermatas(chart: Chart, bar: PlayedBar) -> tuple[int, ...]:
    """Where the fermatas of a written bar stand."""
    row = chart.sections[bar.written_in].rows[bar.row]
    assert isinstance(row, MusicRow)
    return tuple(mark.onset for mark in row.bars[bar.bar].marks if mark.holds_time)


def _rhythms(chart: Chart) -> dict[tuple[int, int, int], tuple[Bar, ...]]:
    """For each written place the bars it stands for, simile signs resolved."""
    earlier: list[Bar] = []
    rhythms: dict[tuple[int, int, int], tuple[Bar, ...]] = {}
    for one in written_order(chart):
        place = (one.written_in, one.row, one.bar)
        if place in rhythms:
            continue
        bar = one.written
        if bar.simile:
            missing = (Bar(),) * max(0, bar.simile - len(earlier))
            bars = (*missing, *earlier[-bar.simile :])
        elif bar.rest:
            bars = (replace(bar, strikes=()),) * bar.rest
        else:
            bars = (bar,)
        rhythms[place] = bars
        earlier += bars
    return rhythms


# ---- the hand


class _Hand:
    """Strings that sound, and the notes that have ended."""

    def __init__(self) -> None:
        self.notes: list[StringNote] = []
        self._ringing: dict[int, StringNote] = {}

    def plays(self, time: Fraction, moment: _Moment, voicing: Voicing | None) -> None:
        """Plays one moment of the hand."""
        time = max(time, Fraction(0))
        self.stops(time)
        if moment.action == "silence" or voicing is None:
            return
        stroke: Stroke = "up" if moment.off_beat else "down"
        if moment.action == "mute":
            self._sound(time, voicing, "muted", time + MUTED * moment.beat)
            return
        stopped = moment.strike is not None and moment.strike.stopped
        self._sound(time, voicing, stroke, time + STOPPED * moment.beat if stopped else None)

    def stops(self, time: Fraction) -> None:
        """Ends whatever rings."""
        for note in self._ringing.values():
            if time > note.start:
                self.notes.append(replace(note, end=min(note.end, time)))
        self._ringing = {}

    def _sound(
        self, time: Fraction, voicing: Voicing, stroke: Stroke, end: Fraction | None
    ) -> None:
        strings = [s for s, pitch in enumerate(voicing.pitches) if pitch is not None]
        if stroke == "up":
            strings.reverse()
        far = time + 1_000_000
        for place, string in enumerate(strings):
            pitch = voicing.pitches[string]
            assert pitch is not None
            self._ringing[string] = StringNote(
                string=string,
                pitch=pitch,
                start=time,
                end=far if end is None else end,
                stroke=stroke,
                place=place,
            )
