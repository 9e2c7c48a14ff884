"""The grips of a part: one for each chord of the song, in one register."""

from bisect import insort
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from operator import itemgetter

from chartkit.advise.part.choose import ChoiceProblem, best_choice
from chartkit.advise.part.chord_occurrences import ChordOccurrence
from chartkit.advise.part.costs import (
    OccupiedRegister,
    PartWeights,
    change_cost,
    hand_cost,
    sound_cost,
)
from chartkit.advise.part.registers import RegisterRule, skipped_strings, string_sets
from chartkit.advise.register import Moment
from chartkit.fretboard.partial_grips import (
    ChordTones,
    GripLimits,
    PartialGrip,
    PartialGrips,
    StringSet,
    chord_tones,
)
from chartkit.theory.chord import Chord
from chartkit.theory.pitch import PitchRange
from chartkit.theory.shape_text import Frets

CANDIDATES = 18
"""How many grips of a chord compete (ours)."""


@dataclass(frozen=True, slots=True)
class ChosenGrips:
    """One grip for each chord in a register, their cost, and whether it is the least.

    ``grips`` are by ``upper_part``: a slash bass is left to the bass player.

    ``cost`` is the mean over the song's beats plus the cost of the changes; no unit.
    """

    register: RegisterRule
    grips: Mapping[Chord, PartialGrip]
    cost: float
    exact: bool


def upper_part(chord: Chord) -> Chord:
    """The chord without its slash bass, which the second guitar leaves to others."""
    return chord if chord.bass is None else replace(chord, bass=None)


class GripChooser:
    """Chooses the grips of one song in any register; what registers share is kept."""

    def __init__(
        self,
        song: Sequence[ChordOccurrence],
        neck: PartialGrips,
        sung: PitchRange | None,
        weights: PartWeights | None = None,
    ) -> None:
        """``song`` is the whole song in playing order, ``neck`` the second guitar's."""
        self._song = [
            replace(occurrence, chord=upper_part(occurrence.chord)) for occurrence in song
        ]
        self._neck = neck
        self._weights = weights or PartWeights()
        by_chord: dict[Chord, list[ChordOccurrence]] = {}
        for occurrence in self._song:
            by_chord.setdefault(occurrence.chord, []).append(occurrence)
        self.chords = tuple(by_chord)
        self._rooms = {
            chord: OccupiedRegister(those, sung, self._weights) for chord, those in by_chord.items()
        }
        self._beats = sum(occurrence.beats for occurrence in song) or 1.0

    def choose(self, register: RegisterRule) -> ChosenGrips | None:
        """The cheapest grips in the register; None if a chord has none there."""
        candidates = [self._candidates(chord, register) for chord in self.chords]
        if not all(candidates):
            return None
        problem = self._problem(candidates)
        choice = best_choice(problem)
        grips = {
            chord: options[place][1]
            for chord, options, place in zip(self.chords, candidates, choice.places, strict=True)
        }
        return ChosenGrips(register, grips, choice.cost, choice.exact)

    def _candidates(self, chord: Chord, register: RegisterRule) -> list[tuple[float, PartialGrip]]:
        """The cheapest grips of a chord in a register, each with its cost a beat.

        Under a pick a grip has no dead string inside, and no open string under a hand high up the
        neck, unless the register has no other (common practice, no source); thumb and fingers may
        leave strings out.
        """
        sets = string_sets(register, self._neck.strings)
        whole = tuple(strings for strings in sets if not skipped_strings(strings))
        strummed = not register.spread and self._cheapest(chord, register, whole, _is_strummed)
        return strummed or self._cheapest(chord, register, sets)

    def _cheapest(
        self,
        chord: Chord,
        register: RegisterRule,
        sets: Sequence[StringSet],
        fits: Callable[[Frets], bool] | None = None,
    ) -> list[tuple[float, PartialGrip]]:
        """The cheapest grips of a chord on some sets of strings, of the patterns that fit."""
        room, tones = self._rooms[chord], chord_tones(chord)
        candidates: list[tuple[float, PartialGrip]] = []
        for sound, frets, _ in self._patterns(chord, tones, room, register, sets):
            if len(candidates) >= CANDIDATES and sound >= candidates[-1][0]:
                break
            grip = self._neck.grip(frets) if fits is None or fits(frets) else None
            if grip is not None:
                hand = hand_cost(grip, self._weights, register.spread)
                insort(candidates, (sound + hand, grip), key=_rank)
                del candidates[CANDIDATES:]
        return candidates

    def _patterns(
        self,
        chord: Chord,
        tones: ChordTones,
        room: OccupiedRegister,
        register: RegisterRule,
        sets: Sequence[StringSet],
    ) -> list[tuple[float, Frets, tuple[int, ...]]]:
        """Patterns by the cost of their sound per beat, cheapest first; the hand comes later."""
        floor = 0 if register.under_the_bass else room.first_bass
        limits = GripLimits(register.highest_fret, floor)
        priced = [
            (
                round(room.cost(pitches) + sound_cost(pitches, tones, self._weights), 9),
                frets,
                pitches,
            )
            for frets, pitches in self._neck.patterns(chord, sets, limits)
        ]
        priced.sort(key=itemgetter(0))
        return priced

    def _problem(self, candidates: Sequence[list[tuple[float, PartialGrip]]]) -> ChoiceProblem:
        places = {chord: place for place, chord in enumerate(self.chords)}
        nodes = [
            [cost * self._rooms[chord].beats / self._beats for cost, _ in options]
            for chord, options in zip(self.chords, candidates, strict=True)
        ]
        changes: dict[tuple[int, int], int] = {}
        for one, other in pairwise(self._song):
            if one.chord != other.chord:
                i, j = sorted((places[one.chord], places[other.chord]))
                changes[i, j] = changes.get((i, j), 0) + 1
        all_changes = sum(changes.values()) or 1
        edges = {
            (i, j): [
                [
                    count / all_changes * change_cost(one, other, self._weights)
                    for _, other in candidates[j]
                ]
                for _, one in candidates[i]
            ]
            for (i, j), count in changes.items()
        }
        return ChoiceProblem(nodes, edges)


_LAST_WITH_OPEN_STRINGS = 5
"""The last fret over which the lowest finger of a strummed grip lets strings ring open (ours)."""


def _is_strummed(frets: Frets) -> bool:
    """Whether no string rings open under a hand high up the neck."""
    pressed = [fret for fret in frets if fret]
    return 0 not in frets or not pressed or min(pressed) <= _LAST_WITH_OPEN_STRINGS


def _rank(candidate: tuple[float, PartialGrip]) -> tuple[float, tuple[int, ...]]:
    """Cheapest first; of equal ones the one whose first differing fret is lower."""
    cost, grip = candidate
    return round(cost, 9), tuple(99 if fret is None else fret for fret in grip.frets)


def part_moments(
    song: Sequence[ChordOccurrence], grips: Mapping[Chord, PartialGrip]
) -> list[Moment]:
    """The sounding notes of the part, in beats from the start."""
    moments, beat = [], 0.0
    for occurrence in song:
        pitches = grips[upper_part(occurrence.chord)].pitches
        moments.append(Moment(beat, beat + occurrence.beats, pitches))
        beat += occurrence.beats
    return moments
