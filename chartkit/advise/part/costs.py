"""The cost of a second guitar's grip while it sounds, and of a change of grip.

The weights are ours, set on a prototype over 63 songs, without a published source; the rules behind
them are common practice: keep out of the first guitar's register and of the middle of the voice,
keep the notes that tell the chord, move the top voice by small steps.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from chartkit.advise.part.chord_occurrences import ChordOccurrence
from chartkit.advise.register import BELL, REACH, Histogram, histogram, sung_histogram
from chartkit.fretboard.partial_grips import ChordTones, PartialGrip
from chartkit.theory.pitch import PitchRange


@dataclass(frozen=True, slots=True)
class PartWeights:
    """The costs of a beat of a part and, below, of a change of chords (ours); no unit.

    ``overlap_floor`` keeps the search from choosing two lone notes high up: less overlap than that
    gains nothing.
    """

    overlap: float = 0.6
    overlap_floor: float = 0.2
    unisons: float = 0.38
    voice: float = 0.28
    voice_top: float = 0.12
    """For the two highest notes in the middle half of the voice's range."""
    mud: float = 0.06
    """For notes within a third below E3 of a note of the first guitar."""
    hand: float = 0.03
    two_notes: float = 0.105
    four_strings: float = 0.02
    missing_colour: float = 0.07
    doubled: float = 0.03
    """A third or seventh that sounds in two octaves."""
    missing_plain: float = 0.02
    skipped: float = 0.08
    """A string between two that sound, where no grip is without one; half of it where thumb and
    fingers take the edges."""
    high_fret: float = 0.012
    high_fret_from: int = 9
    open_under_hand: float = 0.15
    """An open string that rings below a hand past the third fret or a finger past the fourth."""
    open_string: float = -0.01
    top_step: float = 0.003
    """Each half step that the top voice moves."""
    top_leap: float = 0.012
    """Each half step past two."""
    hand_mm: float = 0.0004
    other_strings: float = 0.015
    unheard: float = 0.05
    """A change that is not heard, since both chords have one grip of two notes."""


@lru_cache(maxsize=65536)
def _bells(pitches: tuple[int, ...]) -> tuple[int, list[float]]:
    """The pitches as bell curves that sum to 1: the lowest place they reach, and the values."""
    lowest = pitches[0] - REACH
    filled = [0.0] * (pitches[-1] - pitches[0] + len(BELL))
    share = 1 / len(pitches)
    for pitch in pitches:
        for place, value in enumerate(BELL, pitch - REACH - lowest):
            filled[place] += value * share
    return lowest, filled


def overlap_with(room: Histogram, pitches: tuple[int, ...]) -> float:
    """How much of a register the pitches (lowest first) share with a histogram, 0 to 1.

    Equals ``register.overlap(room, histogram(pitches))`` for pitches well inside 0 to 127.
    """
    lowest, filled = _bells(pitches)
    there = room[lowest : lowest + len(filled)]
    return sum([a if a < b else b for a, b in zip(there, filled, strict=False)])


class OccupiedRegister:
    """The pitches occupied while a chord sounds: the first guitar's notes and the voice, by
    time."""

    def __init__(
        self, occurrences: Iterable[ChordOccurrence], sung: PitchRange | None, weights: PartWeights
    ) -> None:
        """``occurrences`` are those of one chord."""
        self._weights = weights
        together: dict[tuple[tuple[int, ...], bool], float] = {}
        for occurrence in occurrences:
            key = (occurrence.first, occurrence.sung and sung is not None)
            together[key] = together.get(key, 0.0) + occurrence.beats
        self.beats = sum(together.values())
        self._moments = [(first, singing, beats) for (first, singing), beats in together.items()]
        self._voice = sung_histogram(sung) if sung is not None else None
        self._middle = _middle_half(sung)
        self._known: dict[tuple[int, ...], float] = {}

    @property
    def first_bass(self) -> int:
        """The lowest note of the first guitar under this chord, where it is highest; 0 where it
        is silent."""
        return max((first[0] for first, _, _ in self._moments if first), default=0)

    def cost(self, pitches: tuple[int, ...]) -> float:
        """The cost per beat of what these pitches, lowest first, share with guitar and voice."""
        if pitches not in self._known:
            self._known[pitches] = sum(
                beats / self.beats * self._at_once(pitches, first, singing)
                for first, singing, beats in self._moments
            )
        return self._known[pitches]

    def _at_once(self, pitches: tuple[int, ...], first: tuple[int, ...], singing: bool) -> float:
        w = self._weights
        cost = 0.0
        if first:
            cost += w.overlap * max(overlap_with(histogram(first), pitches), w.overlap_floor)
            cost += w.unisons * sum(pitch in first for pitch in pitches) / len(pitches)
            cost += w.mud * _muddy(pitches, first)
        if singing and self._voice is not None:
            low, high = self._middle
            cost += w.voice * overlap_with(self._voice, pitches)
            cost += w.voice_top * sum(low <= pitch <= high for pitch in pitches[-2:]) / 2
        return cost


def _middle_half(sung: PitchRange | None) -> tuple[float, float]:
    if sung is None:
        return 0.0, 0.0
    low, high = sung.lowest.midi, sung.highest.midi
    return low + (high - low) / 4, high - (high - low) / 4


_MUD_BELOW = 52
"""E3: seconds and thirds below it turn to mud between two guitars as within one."""


def _muddy(pitches: tuple[int, ...], first: tuple[int, ...]) -> int:
    """How many notes lie below E3 within a third of another note of the first guitar."""
    return sum(
        pitch < _MUD_BELOW and any(0 < abs(pitch - other) <= 4 for other in first)
        for pitch in pitches
    )


_LAST_HOME_FRET, _LAST_OPEN_FRET = 3, 4
"""Where the hand lies, and how far it reaches, in an open shape (common practice, no source)."""


def hand_cost(grip: PartialGrip, weights: PartWeights, spread: bool = False) -> float:
    """The cost of a grip for the hand per beat; never below the credit of its open strings.

    ``spread`` says that thumb and fingers pluck it.
    """
    w = weights
    cost = w.hand * grip.hand + w.skipped * grip.skipped / (2 if spread else 1)
    cost += w.high_fret * max(0, grip.highest_fret - w.high_fret_from)
    lowest = min([fret for fret in grip.frets if fret], default=0)
    away = lowest > _LAST_HOME_FRET or grip.highest_fret > _LAST_OPEN_FRET
    return cost + (w.open_under_hand if away else w.open_string) * grip.open_strings


def sound_cost(pitches: tuple[int, ...], tones: ChordTones, weights: PartWeights) -> float:
    """The cost per beat of the tones that the pitches have, lack and double."""
    w = weights
    classes = [pitch % 12 for pitch in pitches]
    telling = tones.colours | (frozenset() if tones.third is None else {tones.third})
    cost = w.two_notes * (len(pitches) == 2) + w.four_strings * (len(pitches) == 4)
    cost += w.missing_colour * len(tones.colours.difference(classes))
    cost += w.missing_plain * len(tones.plain.difference(classes))
    cost += w.doubled * sum(classes.count(tone) > 1 for tone in telling)
    return cost


def change_cost(one: PartialGrip, other: PartialGrip, weights: PartWeights) -> float:
    """The cost of a change from one grip to the other."""
    w = weights
    step = abs(one.top - other.top)
    cost = w.top_step * step + w.top_leap * max(0, step - 2)
    if one.place_mm is not None and other.place_mm is not None:
        cost += w.hand_mm * abs(one.place_mm - other.place_mm)
    if one.frets == other.frets and len(one.pitches) == 2:
        cost += w.unheard
    return cost + w.other_strings * (one.strings != other.strings)
