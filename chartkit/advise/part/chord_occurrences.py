"""When each chord of a song sounds, what the first guitar plays, and whether
somebody sings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from chartkit.advise.register import Moment, moments_together
from chartkit.advise.song import FREE_BEATS, chords_of_bar
from chartkit.chart.model import Chart, MusicRow, WordsRow
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.systems import placed_systems
from chartkit.theory.chord import Chord


@dataclass(frozen=True, slots=True)
class ChordOccurrence:
    """A chord sounding for some beats over what the first guitar plays.

    ``first`` holds the first guitar's pitches (MIDI), lowest first, empty where it is silent;
    ``sung`` says whether the bar has words; ``section`` counts the chart's sections.
    """

    chord: Chord
    beats: float
    first: tuple[int, ...]
    sung: bool
    section: int


@dataclass(frozen=True, slots=True)
class _Sounding:
    start: float
    end: float
    chord: Chord
    sung: bool
    section: int


def chord_occurrences(chart: Chart, first: Sequence[Moment]) -> tuple[ChordOccurrence, ...]:
    """Every chord of the chart in playing order, split where the first guitar changes.

    ``chart`` holds sounding chords.  ``first`` is the first guitar's part in beats from the start;
    if it ends before the chart, the second guitar plays alone.
    """
    sounding = list(_sounding(chart))
    moments = []
    own = [Moment(moment.start, moment.end, (place,)) for place, moment in enumerate(sounding)]
    whole = sounding[-1].end if sounding else 0.0
    last = first[-1].end if first else 0.0
    beside = [*first, Moment(last, max(last, whole), ())]
    for beats, pitches, (place,) in moments_together(beside, own):
        moment = sounding[place]
        moments.append(ChordOccurrence(moment.chord, beats, pitches, moment.sung, moment.section))
    return tuple(moments)


@dataclass(frozen=True, slots=True)
class BarStart:
    """A played bar: its start in sounding beats, its section, whether it has words, and where its
    row stands (``PlayedBar.row_place``)."""

    beat: float
    section: int
    sung: bool
    row_place: tuple[int, int, int]


def bar_starts(chart: Chart) -> tuple[BarStart, ...]:
    """The bars in playing order; the last entry is the end of the song."""
    starts, beat, place = [], 0.0, (0, 0, 0)
    for bar, singing, chords in _bars(chart):
        place = bar.row_place
        starts.append(BarStart(beat, bar.section, singing, place))
        beat += sum(beats for _, beats in chords)
    return (*starts, BarStart(beat, place[0], sung=False, row_place=place))


def _sounding(chart: Chart) -> Iterator[_Sounding]:
    """The chords in playing order; silences take no time, in either guitar's part.

    Time runs as in ``song.song_of``, so that both guitars keep together.
    """
    beat = 0.0
    for bar, singing, chords in _bars(chart):
        for chord, beats in chords:
            yield _Sounding(beat, beat + beats, chord, singing, bar.section)
            beat += beats


def _bars(chart: Chart) -> Iterator[tuple[PlayedBar, bool, list[tuple[Chord, float]]]]:
    """Each played bar, whether it is sung, and its chords with their beats."""
    sung = sung_bars(chart)
    last: Chord | None = None
    for bar in playing_order(chart).bars:
        singing = SungBar(bar.section, bar.written_in, bar.row, bar.bar) in sung
        sounding = chords_of_bar(bar, last, FREE_BEATS)
        yield bar, singing, [(chord, beats) for chord, beats in sounding if chord is not None]
        if bar.strikes:
            last = bar.strikes[-1].chord


class SungBar(NamedTuple):
    """A bar with words: the section that is played, the section that holds its music, its row
    there, its place in the row; all from 0."""

    section: int
    written_in: int
    row: int
    bar: int


def sung_bars(chart: Chart) -> frozenset[SungBar]:
    """The bars with words."""
    return frozenset(
        SungBar(section, home, row, bar)
        for section, systems in enumerate(placed_systems(chart))
        for home, row, system in systems
        if system.music is not None
        for words in system.words
        for bar in _bars_with_words(words, system.music)
    )


def _bars_with_words(words: WordsRow, music: MusicRow) -> Iterator[int]:
    """The places of the bars that a line of words sings in."""
    starts_bare = not music.free and music.lines[0].kind == "none"
    cells = words.cells if starts_bare else words.cells[1:]
    for bar, segments in enumerate(cells[: len(music.bars)]):
        if any(segment.text or segment.held for segment in segments):
            yield bar
