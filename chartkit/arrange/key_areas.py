"""The keys a song goes through, each as written, as it sounds and as the hand plays it.

An interval is chosen once for each key area, so a change of key inside the song is followed
and every chord of an area moves alike.
"""

from dataclasses import dataclass
from typing import NamedTuple

from chartkit.arrange.page_look import READERS
from chartkit.arrange.view import View
from chartkit.chart.keys import written_key
from chartkit.chart.model import Chart, MusicRow, SettingRow
from chartkit.chart.walk import row_chords
from chartkit.theory.capo import NO_CAPO
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.key import Key
from chartkit.theory.transposition import key_moved_by, semitones_between


@dataclass(frozen=True, slots=True)
class Area:
    """One key area: its key as the chart has it, as it sounds, and in shapes.

    ``second`` is the key of a second guitar's shapes, ``read`` the key that a transposing
    instrument reads; without them they are the key that sounds.
    """

    written: Key
    sounding: Key
    shape: Key
    second: Key
    read: Key

    @property
    def to_sounding(self) -> int:
        """The interval from a written chord to what sounds, as a place."""
        return self.sounding.tonic - self.written.tonic

    @property
    def to_shape(self) -> int:
        """The interval from a written chord to its shape, as a place."""
        return self.shape.tonic - self.written.tonic

    @property
    def to_second(self) -> int:
        """The interval from a written chord to the second guitar's shape, as a place."""
        return self.second.tonic - self.written.tonic

    @property
    def to_read(self) -> int:
        """The interval from a written chord to what the player reads, as a place."""
        return self.read.tonic - self.written.tonic


def chords_by_key(chart: Chart) -> dict[Key, list[Chord]]:
    """The written chords of every key area, areas of one key taken together."""
    key = written_key(chart)
    chords: dict[Key, list[Chord]] = {key: []}
    for section in chart.sections:
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
            elif isinstance(row, MusicRow):
                chords.setdefault(key, []).extend(row_chords(row))
    return chords


def song_areas(chart: Chart, view: View, reads: str | None = None) -> dict[Key, Area]:
    """Every key area of the song, by its written key, read at one of the pitches in ``READERS``."""
    by_key = chords_by_key(chart)
    own_capo = chart.capo
    capo = own_capo if view.capo is None else view.capo
    lift = own_capo.raised if chart.written_as_shapes else 0
    first = written_key(chart)
    every = [chord for chords in by_key.values() for chord in chords]
    here = key_moved_by(first, lift, every)
    shift = _shift(here, view)
    sounding = view.key or key_moved_by(first, lift + shift, every)
    keeps_shapes = lift == capo.raised and sounding == here
    second = (view.second_capo or NO_CAPO).raised
    steps = _Steps(lift + shift, capo.raised, second, READERS.get(reads or "", 0))
    areas = {first: _area(first, sounding, every, steps, keeps_shapes, None)}
    for written, chords in by_key.items():
        if written != first:
            there = key_moved_by(written, steps.raised, chords, areas[first].to_sounding)
            areas[written] = _area(written, there, chords, steps, keeps_shapes, areas[first])
    return areas


class _Steps(NamedTuple):
    """How many half steps each kind of line lies from the next."""

    raised: int
    capo: int
    second_capo: int
    read_above: int


def _area(
    written: Key,
    sounding: Key,
    chords: list[Chord],
    steps: _Steps,
    keeps_shapes: bool,
    first: Area | None,
) -> Area:
    """An area whose sounding key is known; later ones are spelled in the direction of the
    first where that is open."""
    sounded = _moved(chords, sounding.tonic - written.tonic)

    def moved(semitones: int, like: Key | None) -> Key:
        interval = None if first is None or like is None else like.tonic - first.sounding.tonic
        return key_moved_by(sounding, semitones, sounded, interval)

    shape = written if keeps_shapes else moved(-steps.capo, None if first is None else first.shape)
    second = moved(-steps.second_capo, None if first is None else first.second)
    read = moved(steps.read_above, None if first is None else first.read)
    return Area(written, sounding, shape, second, read)


def _moved(chords: list[Chord], interval: int) -> list[Chord]:
    return [moved_chord(chord, interval) for chord in dict.fromkeys(chords)]


def _shift(sounding: Key, view: View) -> int:
    if view.key is not None:
        return semitones_between(sounding, view.key)
    return view.by or 0
