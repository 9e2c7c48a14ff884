"""Performances as a Standard MIDI File, format 1.

Written by mido.  The first track holds tempo, meter and the names of the sections; then come the
words, each guitar on a track and channel of its own, and the click on the percussion channel.
Programs and percussion keys are those of General MIDI (level 1, from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from io import BytesIO

import mido

from chartkit.chart.model import Meter
from chartkit.interchange.midi.performance import Performance, StringNote, TimedBar

TICKS_A_QUARTER = 480
STRUM_MS = 8.0
"""How long the hand takes from one string to the next (assumption)."""
PROGRAMS = (25, 27, 26, 24)
"""Steel-string, clean electric, jazz and nylon-string guitar, one part after the other."""
MOST_PLAYERS = 15
"""A file has 16 channels, and one is percussion's."""
HELD = 2
"""How many times as long a beat lasts under a fermata (common practice, no source)."""
_SLOWEST = 2**24 - 1
"""Microseconds to a quarter note that a file can say; source: the Standard MIDI File, set tempo."""
_PERCUSSION, _STICK, _WOOD_BLOCK = 9, 37, 76
_VELOCITY = {"down": 84, "up": 70, "muted": 42}


@dataclass(frozen=True, slots=True)
class MidiTrack:
    """A guitar on a track of its own."""

    name: str
    performance: Performance


@dataclass(frozen=True, slots=True)
class Listening:
    """The sounds beside the guitars: a bar counted in, and a click on every beat."""

    count_in: bool = True
    click: bool = True


def midi_bytes(
    title: str, players: Sequence[MidiTrack], listening: Listening | None = None
) -> bytes:
    """The file's bytes.

    Tempo, meter and words are those of the first player.  Raises ValueError for no player or
    more than ``MOST_PLAYERS``.
    """
    if not 1 <= len(players) <= MOST_PLAYERS:
        raise ValueError(f"a file holds 1 to {MOST_PLAYERS} guitars, not {len(players)}")
    listening = listening or Listening()
    lead = players[0].performance
    before = _count_in(lead) if listening.count_in else Fraction(0)
    file = mido.MidiFile(type=1, ticks_per_beat=TICKS_A_QUARTER, charset="utf-8")
    file.tracks.append(_tempo_track(title, lead, before))
    file.tracks[0].insert(1, mido.MetaMessage("text", text="chartkit", time=0))
    file.tracks.append(_words_track(lead, before))
    channels = [channel for channel in range(16) if channel != _PERCUSSION]
    for place, (player, channel) in enumerate(zip(players, channels, strict=False)):
        program = PROGRAMS[min(place, len(PROGRAMS) - 1)]
        file.tracks.append(_guitar_track(player, channel, program, lead.bars, before))
    if listening.count_in or listening.click:
        file.tracks.append(_click_track(lead, before, listening))
    out = BytesIO()
    file.save(file=out)
    return out.getvalue()


def _count_in(lead: Performance) -> Fraction:
    return _bar_length(lead.bars[0]) if lead.bars else Fraction(0)


def _bar_length(bar: TimedBar) -> Fraction:
    return bar.meter.beats * 4 * bar.meter.beat


def _ticks(quarters: Fraction) -> int:
    return round(quarters * TICKS_A_QUARTER)


Event = tuple[int, int, mido.Message | mido.MetaMessage]
"""Ticks from the start, rank among events of one time, the message."""


def _track(name: str, events: list[Event]) -> mido.MidiTrack:
    """The events in order of time, with the time between them."""
    track = mido.MidiTrack([mido.MetaMessage("track_name", name=name, time=0)])
    before = 0
    for ticks, _, message in sorted(events, key=lambda event: event[:2]):
        track.append(message.copy(time=ticks - before))
        before = ticks
    track.append(mido.MetaMessage("end_of_track", time=0))
    return track


def _tempo_track(title: str, lead: Performance, before: Fraction) -> mido.MidiTrack:
    events: list[Event] = []
    tempo, meter = 0, None
    for place, bar in enumerate(lead.bars):
        start = _ticks(bar.start + before)
        time = 0 if place == 0 else start
        if bar.section:
            events.append((start, 2, mido.MetaMessage("marker", text=bar.section)))
        if bar.meter != meter:
            events.append((time, 0, _time_signature(bar.meter)))
            meter = bar.meter
        for ticks, microseconds in _tempos(bar, time, before).items():
            if microseconds != tempo:
                events.append((ticks, 1, mido.MetaMessage("set_tempo", tempo=microseconds)))
                tempo = microseconds
    return _track(title, events)


def _time_signature(meter: Meter) -> mido.MetaMessage:
    clocks = min(255, round(24 * 4 * meter.beat))
    return mido.MetaMessage(
        "time_signature",
        numerator=meter.count,
        denominator=meter.unit,
        clocks_per_click=clocks,
    )


def _tempos(bar: TimedBar, start: int, before: Fraction) -> dict[int, int]:
    """Microseconds to a quarter note from each tick on where they change in a bar: at its start,
    and around what is held under a fermata."""
    usual = min(_SLOWEST, round(60_000_000 / (bar.tempo * 4 * bar.meter.beat)))
    changes = {start: usual}
    for begin, end in bar.held:
        changes[_ticks(bar.start + before + begin)] = min(_SLOWEST, HELD * usual)
        changes[_ticks(bar.start + before + end)] = usual
    return changes


def _words_track(lead: Performance, before: Fraction) -> mido.MidiTrack:
    return _track(
        "words",
        [
            (
                _ticks(one.start + before),
                0,
                mido.MetaMessage("lyrics", text=one.text + ("-" if one.split else " ")),
            )
            for one in lead.words
        ],
    )


def _guitar_track(
    player: MidiTrack,
    channel: int,
    program: int,
    bars: Sequence[TimedBar],
    before: Fraction,
) -> mido.MidiTrack:
    events: list[Event] = [(0, 0, mido.Message("program_change", channel=channel, program=program))]
    tempo = _Tempo(bars)
    for note in player.performance.notes:
        start = _ticks(note.start + before) + tempo.strum(note)
        end = max(start + 1, _ticks(note.end + before))
        velocity = _VELOCITY[note.stroke]
        # A string's end comes before what is struck at the same time.
        events.append(
            (start, 2, mido.Message("note_on", channel=channel, note=note.pitch, velocity=velocity))
        )
        events.append((end, 1, mido.Message("note_off", channel=channel, note=note.pitch)))
    return _track(player.name, _without_clashes(events))


def _without_clashes(events: list[Event]) -> list[Event]:
    """The events without the end of a pitch that another string goes on sounding.

    Two strings of one pitch share a note of the channel, so the first end would cut both.
    """
    kept: list[Event] = []
    sounding: dict[int, int] = {}
    for event in sorted(events, key=lambda one: one[:2]):
        message = event[2]
        if message.type == "note_on":
            sounding[message.note] = sounding.get(message.note, 0) + 1
            if sounding[message.note] > 1:
                kept.append(
                    (
                        event[0],
                        1,
                        mido.Message("note_off", channel=message.channel, note=message.note),
                    )
                )
            kept.append(event)
        elif message.type == "note_off":
            sounding[message.note] -= 1
            if not sounding[message.note]:
                kept.append(event)
        else:
            kept.append(event)
    return kept


class _Tempo:
    """How many ticks a strum takes where it happens."""

    def __init__(self, bars: Sequence[TimedBar]) -> None:
        self._bars = bars
        self._place = 0

    def strum(self, note: StringNote) -> int:
        """The delay of the note's string; notes come in order of time."""
        while self._place + 1 < len(self._bars) and (
            self._bars[self._place + 1].start <= note.start
        ):
            self._place += 1
        bar = self._bars[self._place]
        quarters_a_second = bar.tempo * 4 * bar.meter.beat / 60
        after = note.start - bar.start
        if any(begin <= after < end for begin, end in bar.held):
            quarters_a_second /= HELD
        delay = note.place * STRUM_MS / 1000 * float(quarters_a_second) * TICKS_A_QUARTER
        longest = float(note.end - note.start) * TICKS_A_QUARTER / 2
        return round(min(delay, longest))


def _click_track(lead: Performance, before: Fraction, listening: Listening) -> mido.MidiTrack:
    events: list[Event] = []

    def click(time: Fraction, first: bool) -> None:
        key = _WOOD_BLOCK if first else _STICK
        events.append(
            (_ticks(time), 1, mido.Message("note_on", channel=_PERCUSSION, note=key, velocity=60))
        )
        events.append(
            (
                _ticks(time) + TICKS_A_QUARTER // 8,
                0,
                mido.Message("note_off", channel=_PERCUSSION, note=key),
            )
        )

    if listening.count_in and lead.bars:
        meter = lead.bars[0].meter
        for beat in range(meter.beats):
            click(beat * 4 * meter.beat, not beat)
    if listening.click:
        ends = [*(bar.start for bar in lead.bars[1:]), lead.end]
        for bar, end in zip(lead.bars, ends, strict=True):
            time = bar.start
            while time < end:
                click(time + before, time == bar.start)
                time += 4 * bar.meter.beat
    return _track("click", events)
