"""A chart as the adviser sees it: the sounding chords in playing order, with their time."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import groupby
from operator import attrgetter

from chartkit.advise.lifts import lifts_of
from chartkit.arrange.rewrite import moved_chart
from chartkit.arrange.view import View
from chartkit.chart.capos import capos_of_rows, moves_capo
from chartkit.chart.keys import written_key
from chartkit.chart.model import TICKS_PER_BEAT, Chart, Strike
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.key import Key
from chartkit.theory.naming import key_words
from chartkit.theory.respelling import intended_chord
from chartkit.theory.transposition import key_moved_by

FREE_BEATS = 4
"""The assumed beats of a chord in free time."""


@dataclass(frozen=True, slots=True)
class HeldChord:
    """One chord held: what sounds, for how many beats, in which key area.

    ``area`` counts the song's distinct keys in order of appearance.  ``capo`` is where a chart
    that moves its capo has it there, None in any other chart.
    """

    chord: Chord
    beats: float
    area: int
    capo: Capo | None = None


@dataclass(frozen=True, slots=True)
class KeyPassage:
    """One passage in a key: its area, the names of its sections, and the silence before it.

    ``inside`` says that it begins in the middle of its first section.
    """

    area: int
    sections: tuple[str, ...]
    rest_beats: float
    inside: bool = False


@dataclass(frozen=True)
class Song:
    """The held chords of a song in playing order, and its keys in order of appearance.

    ``key_passages`` follow the song from key to key, in playing order.
    """

    held_chords: tuple[HeldChord, ...]
    keys: tuple[Key, ...]
    tempo: int | None = None
    key_passages: tuple[KeyPassage, ...] = ()

    @cached_property
    def beats(self) -> float:
        """The sounding beats of the whole song."""
        return sum(held.beats for held in self.held_chords)

    @property
    def changes(self) -> int:
        """How often the chord changes."""
        return max(0, len(self.held_chords) - 1)

    def area_chords(self, area: int) -> tuple[Chord, ...]:
        """The distinct chords of a key area, in order of appearance."""
        return tuple(dict.fromkeys(s.chord for s in self.held_chords if s.area == area))

    def area_words(self, area: int) -> str:
        """A key and the sections that stand in it: ``E♭ major (Last Chorus)``."""
        sections = [
            name
            for passage in self.key_passages
            if passage.area == area
            for name in passage.sections
        ]
        key = key_words(self.keys[area])
        return f"{key} ({', '.join(dict.fromkeys(sections))})" if sections else key

    def area_beats(self, area: int) -> float:
        """The beats spent in a key area."""
        return sum(held.beats for held in self.held_chords if held.area == area)


def song_of(chart: Chart, free_beats: int = FREE_BEATS) -> Song:
    """The sounding chords of a chart in playing order.

    Chords of a chart written as shapes are raised by its capo.  Strikes that repeat the
    chord are one held chord; silence (N.C.) is left out.  Stopped strikes count one beat at
    most; a chord in free time counts ``free_beats``.
    """
    if chart.written_as_shapes and moves_capo(chart):
        chart = moved_chart(chart, View())
    guessed = written_key(chart)
    timed = _lifted(list(_timed(chart, free_beats)), guessed)
    if not timed:
        return Song((), ())
    keys = tuple(dict.fromkeys(timed_chord.key or guessed for timed_chord in timed))
    held_chords: list[HeldChord] = []
    for timed_chord in timed:
        chord, beats, key = timed_chord.chord, timed_chord.beats, timed_chord.key or guessed
        last = held_chords[-1] if held_chords else None
        if last is not None and last.chord == chord and keys[last.area] == key:
            held_chords[-1] = replace(last, beats=last.beats + beats)
        else:
            held_chords.append(HeldChord(chord, beats, keys.index(key), timed_chord.capo))
    tempo = chart.setting("tempo")
    passages = _key_passages(timed, keys, guessed)
    song = Song(tuple(held_chords), keys, tempo if isinstance(tempo, int) else None, passages)
    return moved_song(song, chart.capo.raised) if chart.written_as_shapes else song


def moved_song(song: Song, semitones: int) -> Song:
    """The song that many half steps up, each key area spelled in its usual key, as it is on
    the page."""
    if semitones == 0 or not song.keys:
        return song
    first = key_moved_by(song.keys[0], semitones, [s.chord for s in song.held_chords])
    together = first.tonic - song.keys[0].tonic
    later = (
        key_moved_by(key, semitones, song.area_chords(area), together)
        for area, key in enumerate(song.keys[1:], 1)
    )
    keys = (first, *later)
    intervals = [new.tonic - old.tonic for new, old in zip(keys, song.keys, strict=True)]
    moved = tuple(
        replace(
            held,
            chord=moved_chord(
                intended_chord(held.chord, song.keys[held.area]), intervals[held.area]
            ),
        )
        for held in song.held_chords
    )
    return Song(moved, keys, song.tempo, song.key_passages)


@dataclass(frozen=True, slots=True)
class _Timed:
    """A chord sounded: its beats, the key, section and moved capo, the silence before it.

    ``piece`` counts the sections as they are played, one played again apart.
    """

    chord: Chord
    beats: float
    key: Key | None
    section: str
    rest_beats: float
    piece: int
    capo: Capo | None = None


def _lifted(timed: list[_Timed], guessed: Key) -> list[_Timed]:
    """The same with a key for each lift, where the chart itself names one key at most."""
    if len({timed_chord.key for timed_chord in timed}) != 1:
        return timed
    pieces = [list(those) for _, those in groupby(timed, key=attrgetter("piece"))]
    lifts = lifts_of([[timed_chord.chord for timed_chord in piece] for piece in pieces])
    key = timed[0].key or guessed
    keys = {up: key_moved_by(key, up) for up in lifts}
    return [
        replace(timed_chord, key=keys[up])
        for piece, up in zip(pieces, lifts, strict=True)
        for timed_chord in piece
    ]


def _key_passages(
    timed: Sequence[_Timed], keys: Sequence[Key], guessed: Key
) -> tuple[KeyPassage, ...]:
    passages: list[KeyPassage] = []
    piece = -1
    for timed_chord in timed:
        area = keys.index(timed_chord.key or guessed)
        names = (timed_chord.section,) if timed_chord.section else ()
        inside, piece = piece == timed_chord.piece, timed_chord.piece
        if not passages or passages[-1].area != area:
            passages.append(KeyPassage(area, names, timed_chord.rest_beats, inside))
        elif names and timed_chord.section not in passages[-1].sections:
            passages[-1] = replace(passages[-1], sections=passages[-1].sections + names)
    return tuple(passages)


def _timed(chart: Chart, free_beats: int) -> Iterator[_Timed]:
    """Each chord sounded, with its beats, where it stands, and the silence before it."""
    capos = capos_of_rows(chart)
    last: Chord | None = None
    rest = 0.0
    piece, before = 0, (-1, -1, -1)
    for bar in playing_order(chart).bars:
        place = (bar.section, bar.row, bar.bar)
        piece += place[0] != before[0] or place <= before
        before = place
        name = chart.sections[bar.section].name
        capo = capos.get(bar.row_place)
        for chord, beats in chords_of_bar(bar, last, free_beats):
            if chord is None:
                rest += beats
            else:
                yield _Timed(
                    chord=chord,
                    beats=beats,
                    key=bar.key,
                    section=name,
                    rest_beats=rest,
                    piece=piece,
                    capo=capo,
                )
                rest = 0.0
        last = bar.strikes[-1].chord if bar.strikes else last


def chords_of_bar(
    bar: PlayedBar, last: Chord | None, free_beats: int
) -> Iterator[tuple[Chord | None, float]]:
    """The chords that sound in a played bar, each with its beats; None for silence.

    ``last`` sounds until the first strike.  A stopped strike lasts a beat at most, and a chord in
    free time ``free_beats``.
    """
    lead = bar.strikes[0].onset if bar.strikes else bar.length
    if lead:
        yield last, lead / TICKS_PER_BEAT
    for strike in bar.strikes:
        yield strike.chord, _beats(strike, bar, free_beats)


def _beats(strike: Strike, bar: PlayedBar, free_beats: int) -> float:
    if not bar.length:
        return free_beats
    beats = strike.length / TICKS_PER_BEAT
    return min(beats, 1.0) if strike.stopped else beats
