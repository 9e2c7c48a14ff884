"""Music in another key or meter: rows of a chart moved as they are written."""

from dataclasses import dataclass, replace

from chartkit.chart.keys import key_of_row
from chartkit.chart.meters import meter_after
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    CueRow,
    Meter,
    MusicRow,
    Row,
    SettingRow,
    Strike,
)
from chartkit.chart.systems import System
from chartkit.theory.key import MOST_SIGNS, Key, simplest_spelling
from chartkit.theory.respelling import printed_chord


@dataclass(frozen=True, slots=True)
class KeyAndMeter:
    """The key, None where none is written yet, and the meter that hold at a place."""

    key: Key | None
    meter: Meter

    def after(self, rows: tuple[Row, ...]) -> "KeyAndMeter":
        """The place after some rows."""
        key, meter = self.key, self.meter
        for row in rows:
            key = key_of_row(row) or key
            meter = meter_after(row, meter)
        return KeyAndMeter(key, meter)


class NoPlace(ValueError):
    """A bar that the writer would have to say how to play in another meter."""

    def __init__(self, bar: Bar) -> None:
        super().__init__()
        self.bar = bar


def moved_systems(
    systems: tuple[System, ...], start: KeyAndMeter, target: KeyAndMeter
) -> tuple[System, ...]:
    """The systems of music that begins at one place, in the key and meter of another.

    Their own changes of key move along; what they say of key and meter before the music begins is
    left out.  Raises NoPlace for a bar that does not fit the other meter.
    """
    old, new, moved, begun = start.key, target.key, list[System](), False
    for system in systems:
        above: list[CueRow | SettingRow] = []
        for row in system.above:
            value = row.value if isinstance(row, SettingRow) else None
            if not begun and isinstance(value, Key | Meter):
                continue
            if isinstance(row, SettingRow) and isinstance(value, Key) and old and new:
                old, new = value, _key_moved(value, new.tonic - old.tonic)
                row = replace(row, value=new)
            above.append(row)
        music = system.music
        if music is not None:
            begun = True
            if old is not None and new is not None:
                music = moved_row(music, old, new.tonic - old.tonic)
            if start.meter != target.meter:
                if any(isinstance(row, SettingRow) and row.name == "meter" for row in above):
                    raise NoPlace(music.bars[0])
                music = _row_in(music, start.meter, target.meter)
        words = tuple(replace(row) for row in system.words)
        moved.append(System(music, words, tuple(above)))
    return tuple(moved)


def _key_moved(key: Key, interval: int) -> Key:
    """The key moved, under another name where it would need more than seven signs."""
    moved = replace(key, tonic=key.tonic + interval)
    return moved if abs(moved.signature) <= MOST_SIGNS else simplest_spelling(moved)


def moved_row(row: MusicRow, key: Key, interval: int) -> MusicRow:
    """The row of a written key with its chords moved by an interval, as they are printed."""
    if interval == 0:
        return row
    return replace(row, bars=tuple(_moved_bar(bar, key, interval) for bar in row.bars))


def _moved_bar(bar: Bar, key: Key, interval: int) -> Bar:
    return replace(
        bar, strikes=tuple(_moved_strike(strike, key, interval) for strike in bar.strikes)
    )


def _moved_strike(strike: Strike, key: Key, interval: int) -> Strike:
    if strike.chord is None:
        return strike
    return replace(strike, chord=printed_chord(strike.chord, key, interval))


def _row_in(row: MusicRow, old: Meter, new: Meter) -> MusicRow:
    """The row in another meter.  Raises NoPlace for a bar that does not fit."""
    if row.free:
        return row
    return replace(row, bars=tuple(_bar_in(bar, old, new) for bar in row.bars))


def _bar_in(bar: Bar, old: Meter, new: Meter) -> Bar:
    """The bar in a meter of other beats.  Raises NoPlace where the writer would have to say how.

    Where the number of beats stays, so does the bar.  Else its chords share the new meter equally,
    as those of a bar without beats do.
    """
    if bar.meter is not None:
        raise NoPlace(bar)
    if old.beats == new.beats:
        return bar
    length = new.beats * TICKS_PER_BEAT * bar.lasts
    if bar.pickup:
        if bar.length >= length:
            raise NoPlace(bar)
        return bar
    count = len(bar.strikes)
    exact = bar.holds or bar.slashes or bar.silences or bar.mutes
    whole = count == 1 and bar.strikes[0].onset == 0
    if exact or (bar.beats_written and not whole) or (count and new.beats % count):
        raise NoPlace(bar)
    onsets = {strike.onset: i * length // count for i, strike in enumerate(bar.strikes)} or {0: 0}
    annotated = [cue.onset for cue in bar.cues] + [mark.onset for mark in bar.marks]
    if not {0, *onsets}.issuperset(annotated):
        raise NoPlace(bar)
    strikes = tuple(
        replace(strike, onset=onsets[strike.onset], length=length // count)
        for strike in bar.strikes
    )
    return replace(
        bar,
        strikes=strikes,
        length=length,
        beats_written=False,
        cues=tuple(replace(cue, onset=onsets.get(cue.onset, 0)) for cue in bar.cues),
        marks=tuple(replace(mark, onset=onsets.get(mark.onset, 0)) for mark in bar.marks),
    )
