"""The keys a song goes through, each as written, as it sounds and as the hand plays it.

An interval is chosen once for each key area, so a change of key inside the song is followed
and every chord of an area moves alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from chartkit.arrange.view import View
from chartkit.chart.model import Chart, MusicRow, SettingRow
from chartkit.chart.systems import section_index
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.key import Key
from chartkit.theory.key_estimate import likely_key
from chartkit.theory.transposition import key_moved_by, semitones_between


@dataclass(frozen=True, slots=True)
class Area:
    """One key area: its key as the chart has it, as it sounds, in shapes, as it is read.

    ``reading`` differs from ``sounding`` for a transposing instrument alone.
    """

    written: Key
    sounding: Key
    shape: Key
    reading: Key

    @property
    def to_sounding(self) -> int:
        """The interval from a written chord to what sounds, as a place."""
        return self.sounding.tonic - self.written.tonic

    @property
    def to_shape(self) -> int:
        """The interval from a written chord to its shape, as a place."""
        return self.shape.tonic - self.written.tonic

    @property
    def to_reading(self) -> int:
        """The interval from a written chord to what a transposing instrument reads."""
        return self.reading.tonic - self.written.tonic


def row_chords(row: MusicRow) -> Iterator[Chord]:
    """The chords of a music row, N.C. left out."""
    for bar in row.bars:
        for strike in bar.strikes:
            if strike.chord is not None:
                yield strike.chord


def written_key(chart: Chart) -> Key:
    """The key of the chart as written; where none is given, the likeliest by its chords."""
    if chart.key is not None:
        return chart.key
    rows = (row for section in chart.sections for row in section.rows if isinstance(row, MusicRow))
    return likely_key([chord for row in rows for chord in row_chords(row)])


def keys_at_start(chart: Chart) -> tuple[Key, ...]:
    """The written key in which each section's music begins.

    A section with the music of another has that other's key.
    """
    keys: list[Key] = []
    key = written_key(chart)
    for index, section in enumerate(chart.sections):
        source = section_index(chart, section.same_as, index) if section.same_as else None
        keys.append(key if source is None else keys[source])
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
    return tuple(keys)


def chords_by_key(chart: Chart) -> dict[Key, list[Chord]]:
    """The written chords of every key area, areas of one key taken together."""
    key = written_key(chart)
    found: dict[Key, list[Chord]] = {key: []}
    for section in chart.sections:
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
            elif isinstance(row, MusicRow):
                found.setdefault(key, []).extend(row_chords(row))
    return found


def song_areas(chart: Chart, view: View) -> dict[Key, Area]:
    """Every key area of the song, by its written key."""
    by_key = chords_by_key(chart)
    own_capo = chart.capo
    capo = own_capo if view.capo is None else view.capo
    lift = own_capo if chart.written_as_shapes else 0
    first = written_key(chart)
    every = [chord for chords in by_key.values() for chord in chords]
    shift = _shift(key_moved_by(first, lift, every), view)
    sounding = view.key or key_moved_by(first, lift + shift, every)
    keeps_shapes = lift == capo and shift == 0 and view.key is None
    lowered = _moved(every, sounding.tonic - first.tonic)
    shape = first if keeps_shapes else key_moved_by(sounding, -capo, lowered)
    reading = key_moved_by(sounding, view.reads_up, lowered)
    areas = {first: Area(first, sounding, shape, reading)}
    for written, chords in by_key.items():
        if written != first:
            area = _area(written, chords, areas[first], lift + shift, capo, keeps_shapes)
            areas[written] = _read_by(area, view.reads_up, chords, areas[first])
    return areas


def _area(
    written: Key, chords: list[Chord], first: Area, raised: int, capo: int, keeps_shapes: bool
) -> Area:
    """A later key area, spelled in the direction of the first where that is open."""
    sounding = key_moved_by(written, raised, chords, first.to_sounding)
    if keeps_shapes:
        return Area(written, sounding, written, sounding)
    lowered = _moved(chords, sounding.tonic - written.tonic)
    lowering = first.shape.tonic - first.sounding.tonic
    shape = key_moved_by(sounding, -capo, lowered, lowering)
    return Area(written, sounding, shape, sounding)


def _read_by(area: Area, reads_up: int, chords: list[Chord], first: Area) -> Area:
    """The area as an instrument reads it that is written so much higher than it sounds."""
    if not reads_up:
        return area
    moved = _moved(chords, area.to_sounding)
    way = first.reading.tonic - first.sounding.tonic
    return replace(area, reading=key_moved_by(area.sounding, reads_up, moved, way))


def _moved(chords: list[Chord], interval: int) -> list[Chord]:
    return [moved_chord(chord, interval) for chord in dict.fromkeys(chords)]


def _shift(sounding: Key, view: View) -> int:
    if view.key is not None:
        return semitones_between(sounding, view.key)
    return view.by or 0
