"""The keys a song goes through, each as written, as it sounds and as the hand plays it.

An interval is chosen once for each key area, so a change of key inside the song is followed
and every chord of an area moves alike.
"""

from dataclasses import dataclass
from typing import NamedTuple

from chartkit.arrange.page_look import TRANSPOSING_INSTRUMENTS
from chartkit.arrange.view import View
from chartkit.chart.capos import capo_of_row, capos_of_systems, moves_capo
from chartkit.chart.keys import key_of_row, keys_at_start, written_key
from chartkit.chart.model import Chart, MusicRow, SettingRow
from chartkit.chart.restated import restated_systems
from chartkit.chart.walk import iter_rows, row_chords
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.key import Key
from chartkit.theory.transposition import key_moved_by, plain_interval, semitones_between


@dataclass(frozen=True, slots=True)
class KeyArea:
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


KeyAndCapo = tuple[Key, Capo]
"""A written key and the capo that the chart has there."""


class SongAreas:
    """The areas of a song, by their written keys and the capos the chart has in them."""

    def __init__(self, areas: dict[KeyAndCapo, KeyArea], first: KeyAndCapo) -> None:
        self._areas = areas
        self._first = first

    @property
    def first(self) -> KeyArea:
        """The area in which the song begins."""
        return self._areas[self._first]

    def __getitem__(self, key: Key) -> KeyArea:
        """The area of a written key under the capo that the chart begins with."""
        return self.at(key, self._first[1])

    def at(self, key: Key, capo: Capo) -> KeyArea:
        """The area of a written key under a capo of the chart's; where it has the key only under
        another, that one."""
        exact = self._areas.get((key, capo))
        if exact is not None:
            return exact
        return next(area for (written, _), area in self._areas.items() if written == key)

    def places(self) -> tuple[KeyAndCapo, ...]:
        """Every key and capo of the song."""
        return tuple(self._areas)


def chords_by_place(chart: Chart) -> dict[KeyAndCapo, list[Chord]]:
    """The written chords of every key area, areas of one key and capo taken together."""
    key, capo = written_key(chart), chart.capo
    chords: dict[KeyAndCapo, list[Chord]] = {(key, capo): []}
    named: dict[Key, Capo] = {}
    for row in iter_rows(chart.sections):
        capo = capo_of_row(row) or capo
        if (new_key := key_of_row(row)) is not None:
            key = new_key
            named.setdefault(key, capo)
        elif isinstance(row, MusicRow):
            chords.setdefault((key, capo), []).extend(row_chords(row))
    if moves_capo(chart):
        _add_shared(chart, chords)
    played = {written for written, _ in chords}
    for key in [key for key in named if key not in played]:
        # A key in which nothing is played is announced all the same.
        chords[key, named[key]] = []
    return chords


def _add_shared(chart: Chart, chords: dict[KeyAndCapo, list[Chord]]) -> None:
    """Adds the areas of sections that are played under another capo than where they stand."""
    restated = restated_systems(chart)
    capos = capos_of_systems(chart, restated)
    for i, (key, systems) in enumerate(zip(keys_at_start(chart), restated, strict=True)):
        for system, capo in zip(systems, capos[i], strict=True):
            values = [row.value for row in system.above if isinstance(row, SettingRow)]
            key = next((value for value in reversed(values) if isinstance(value, Key)), key)
            if system.music is not None and (key, capo) not in chords:
                chords[key, capo] = list(row_chords(system.music))


def song_areas(chart: Chart, view: View, reads: str | None = None) -> SongAreas:
    """Every key area of the song, read at one of the pitches in ``TRANSPOSING_INSTRUMENTS``.

    A capo of the view's is one place for the whole song, and the chart's moves do not count.
    """
    by_place = chords_by_place(chart)
    first = (written_key(chart), chart.capo)
    every = [chord for chords in by_place.values() for chord in chords]
    here = key_moved_by(first[0], _lift(chart, chart.capo), every)
    shift = half_steps_moved(here, view)
    stays = True
    areas: dict[KeyAndCapo, KeyArea] = {}
    for (written, own), chords in {first: by_place[first], **by_place}.items():
        lift = _lift(chart, own)
        steps = _Steps(
            raised=lift + shift,
            capo=(own if view.capo is None else view.capo).raised,
            second_capo=(view.second_capo or NO_CAPO).raised,
            read_above=TRANSPOSING_INSTRUMENTS.get(reads or "", 0),
        )
        if not areas:
            sounding = view.key or key_moved_by(written, steps.raised, every)
            stays = sounding == here
            keeps_shapes = stays and lift == steps.capo
            areas[first] = _area(written, sounding, every, steps, keeps_shapes, None)
            continue
        keeps_shapes = stays and lift == steps.capo
        like = areas[first] if own == chart.capo or not chart.written_as_shapes else None
        there = key_moved_by(
            written, steps.raised, chords, None if like is None else like.to_sounding
        )
        same_capo = own == chart.capo or view.capo is not None
        like = like if same_capo else None
        areas[written, own] = _area(written, there, chords, steps, keeps_shapes, like)
    return SongAreas(areas, first)


def _lift(chart: Chart, capo: Capo) -> int:
    """How many half steps the sound lies above the written chords with this capo of the chart's."""
    return capo.raised if chart.written_as_shapes else 0


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
    first: KeyArea | None,
) -> KeyArea:
    """The area of a known sounding key. If two spellings are possible, it takes the one in the
    direction of the song's first area.

    There a transposing instrument reads the one that lies its own interval above the sound, as a
    printed part does: an alto saxophone F sharp major for A major, a sixth above, and no G flat.
    """
    sounded = _moved(chords, sounding.tonic - written.tonic)

    def moved(semitones: int, like: Key | None, own: int | None = None) -> Key:
        interval = own if first is None or like is None else like.tonic - first.sounding.tonic
        return key_moved_by(sounding, semitones, sounded, interval)

    shape = written if keeps_shapes else moved(-steps.capo, None if first is None else first.shape)
    second = moved(-steps.second_capo, None if first is None else first.second)
    above = plain_interval(steps.read_above)
    read = moved(steps.read_above, None if first is None else first.read, above)
    return KeyArea(written, sounding, shape, second, read)


def _moved(chords: list[Chord], interval: int) -> list[Chord]:
    return [moved_chord(chord, interval) for chord in dict.fromkeys(chords)]


def sounding_key(chart: Chart, view: View | None = None) -> Key:
    """The key in which the song sounds at first, as the view plays it or else as it stands."""
    return song_areas(chart, view or View())[written_key(chart)].sounding


def half_steps_moved(sounding: Key, view: View) -> int:
    """How many half steps a view moves a song up that sounds in a key; negative is down."""
    if view.key is not None:
        return semitones_between(sounding, view.key)
    return view.by or 0
