"""A song played with the capos that its chart gives: moves inside the song, or a short capo."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.advise.play_through import OwnShapes
from chartkit.advise.ranking import played_option
from chartkit.advise.register import Moment, moments_of
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.chart.capos import capos_in_order
from chartkit.chart.model import Chart
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.store import BoardStore
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.capo import Capo


@dataclass(frozen=True, slots=True)
class MovingCapo:
    """The chart's own way: its capos down the page, and the result.

    ``score`` compares with that of a ``RankedOption``; ``voicings`` has one for each held chord of
    the song, None for a chord that the instrument cannot sound.
    """

    capos: tuple[Capo, ...]
    score: float
    voicings: tuple[Voicing | None, ...]

    def part(self, song: Song, instrument: Instrument) -> tuple[Moment, ...]:
        """The pitches that the guitar sounds through the song."""
        return moments_of(song, self.voicings, instrument)


def moved_capos(chart: Chart) -> tuple[Capo, ...]:
    """The capos of a chart, down the page, if it moves its capo inside the song or has a short one.

    Empty if one whole capo stays in one place, if the choice is left open, or if another tuning
    would be needed.
    """
    capos = capos_in_order(chart)
    same_tuning = len({capo.tuned_down for capo in capos}) == 1
    meant = len(capos) > 1 or bool(capos[0].strings)
    return capos if meant and same_tuning and not chart.wants_best_capo else ()


def with_moving_capo(
    chart: Chart,
    song: Song,
    instrument: Instrument,
    settings: AdviceSettings | None = None,
    own: OwnShapes | None = None,
    boards: BoardStore | None = None,
) -> MovingCapo | None:
    """The song with its chart's capo; None for a chart that leaves the choice open.

    What is played at each capo is scored by itself, and the score is their mean, weighed by beats.
    The moves cost nothing, since a chart moves its capo where there is silence for it.
    """
    capos = moved_capos(chart)
    if not capos or not song.held_chords:
        return None
    places = [held.capo or capos[0] for held in song.held_chords]
    voicings: dict[int, Voicing | None] = {}
    score = 0.0
    for capo in dict.fromkeys(places):
        there = [number for number, place in enumerate(places) if place == capo]
        part = _only(song, there)
        played = played_option(part, capo, instrument, settings, own, boards)
        voicings |= dict(zip(there, played.voicings, strict=True))
        score += played.score * part.beats / song.beats
    return MovingCapo(capos, score, tuple(voicings[number] for number in range(len(places))))


def _only(song: Song, numbers: Sequence[int]) -> Song:
    """The song with some of its held chords alone."""
    return replace(song, held_chords=tuple(song.held_chords[number] for number in numbers))
