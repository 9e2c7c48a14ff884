"""The pitches that a part fills, moment by moment, and the overlap of two parts.

A moment's pitches become a histogram, each pitch a bell curve of σ = 1.5 half steps, so that near
misses count as well as unisons.  Overlap is computed moment by moment; over the whole song at once
it would be too high.  Method and σ are ours, unsourced.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp

from chartkit.advise.ranked import RankedOption
from chartkit.advise.song import Song
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.pitch import PitchRange

SIGMA_HALF_STEPS = 1.5
REACH = 5
"""The half steps to either side at which a pitch still counts: past them its bell curve is
near 0."""
_CURVE = tuple(exp(-((step / SIGMA_HALF_STEPS) ** 2) / 2) for step in range(-REACH, REACH + 1))
BELL = tuple(value / sum(_CURVE) for value in _CURVE)
"""The share of a pitch's sound at each half step from ``REACH`` below to ``REACH`` above it."""
_PITCHES = 128

Histogram = tuple[float, ...]
"""The share of sound at each MIDI number, 0 to 127; sums to 1."""


@dataclass(frozen=True, slots=True)
class PartComparison:
    """How two parts lie against each other, as means over the time in which both sound.

    ``overlap`` and ``unisons`` (pitches of the second that the first sounds too) run from 0
    to 1; ``half_steps_above`` is how far the second's middle lies above the first's.
    """

    overlap: float
    unisons: float
    half_steps_above: float


@dataclass(frozen=True, slots=True)
class Moment:
    """A period of time in beats from the start and the pitches that sound in it."""

    start: float
    end: float
    pitches: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Register:
    """The register of a part over the whole song.

    MIDI numbers of its lowest, middle (weighed by time) and highest pitch, and the share of
    its sound at each pitch it uses, lowest first.
    """

    lowest: int
    middle: float
    highest: int
    shares: tuple[tuple[int, float], ...]


def sounded(voicing: Voicing, instrument: Instrument) -> tuple[int, ...]:
    """Every pitch of a voicing, lowest first, the paired strings of courses with them."""
    pitches = []
    for string, pitch in zip(instrument.strings, voicing.pitches, strict=True):
        if pitch is not None:
            pitches.append(pitch)
            if string.paired is not None:
                pitches.append(pitch + string.paired.midi - string.pitch.midi)
    return tuple(sorted(pitches))


def part_of(song: Song, played: RankedOption, instrument: Instrument) -> tuple[Moment, ...]:
    """A guitar's sounding notes through a song, as moments in playing order."""
    return moments_of(song, played.voicings, instrument)


def moments_of(
    song: Song, voicings: Sequence[Voicing | None], instrument: Instrument
) -> tuple[Moment, ...]:
    """The moments of one voicing for each held chord of the song, None if nothing sounds."""
    moments = []
    beat = 0.0
    for held, voicing in zip(song.held_chords, voicings, strict=True):
        pitches = () if voicing is None else sounded(voicing, instrument)
        moments.append(Moment(beat, beat + held.beats, pitches))
        beat += held.beats
    return tuple(moments)


def register_of(part: Sequence[Moment]) -> Register | None:
    """The register of a part; None where it never sounds."""
    weights: dict[int, float] = {}
    for moment in part:
        for pitch in moment.pitches:
            share = (moment.end - moment.start) / len(moment.pitches)
            weights[pitch] = weights.get(pitch, 0.0) + share
    total = sum(weights.values())
    if not total:
        return None
    shares = tuple((pitch, weights[pitch] / total) for pitch in sorted(weights))
    middle = sum(pitch * share for pitch, share in shares)
    return Register(shares[0][0], middle, shares[-1][0], shares)


@lru_cache(maxsize=8192)
def histogram(pitches: tuple[int, ...]) -> Histogram:
    """The smoothed histogram of some pitches; all zero for none."""
    return _smoothed(tuple((pitch, 1.0) for pitch in pitches))


@lru_cache(maxsize=64)
def sung_histogram(sung: PitchRange) -> Histogram:
    """The smoothed histogram of a sung range, its middle half weighed three to one.

    The weighing is ours, unsourced: tunes dwell in the middle of their range.
    """
    return _smoothed(sung_weights(sung))


def sung_weights(sung: PitchRange) -> tuple[tuple[int, float], ...]:
    """Each half step of a sung range and its weight: 3 in the middle half, 1 outside."""
    low, high = sung.lowest.midi, sung.highest.midi
    quarter = (high - low) / 4
    return tuple(
        (pitch, 3.0 if low + quarter <= pitch <= high - quarter else 1.0)
        for pitch in range(low, high + 1)
    )


def _smoothed(weights: tuple[tuple[int, float], ...]) -> Histogram:
    histogram = [0.0] * _PITCHES
    for pitch, weight in weights:
        for near, share in enumerate(BELL, pitch - REACH):
            if 0 <= near < _PITCHES:
                histogram[near] += weight * share
    total = sum(histogram) or 1.0
    return tuple(value / total for value in histogram)


@lru_cache(maxsize=65536)
def shared_sound(one: tuple[int, ...], other: tuple[int, ...]) -> float:
    """How far two sets of pitches fill the same register, 0 to 1."""
    return overlap(histogram(one), histogram(other))


def overlap(one: Histogram, other: Histogram) -> float:
    """The common part of two histograms, 0 to 1."""
    return sum(map(min, one, other))


def moments_together(
    one: Sequence[Moment], other: Sequence[Moment]
) -> Iterator[tuple[float, tuple[int, ...], tuple[int, ...]]]:
    """The beats that two parts share, with what each sounds, for as long as both go on."""
    i = j = 0
    while i < len(one) and j < len(other):
        start = max(one[i].start, other[j].start)
        end = min(one[i].end, other[j].end)
        if end > start:
            yield end - start, one[i].pitches, other[j].pitches
        if one[i].end <= other[j].end:
            i += 1
        else:
            j += 1
