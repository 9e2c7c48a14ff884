"""The exact search: the cheapest playable voicings of a chord among all there are.

Patterns are looked at window by window up the neck and, in a window, by what they cost
before any finger is thought of; fingers are worked out only while they can still matter.
That is safe because no pattern costs less than its own part, a finger for every fret that
is pressed, and what its window costs at the least.
"""

from bisect import insort
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from math import inf

from chartkit.fretboard.fingering import Fingerer, Fingering
from chartkit.fretboard.found import Found
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.movable import open_forms, slid
from chartkit.fretboard.patterns import highest_fret, window_patterns
from chartkit.fretboard.sounding import PatternFeatures
from chartkit.fretboard.tones import Tones
from chartkit.fretboard.weights import FEATURES, FINGERING_FEATURES, Weights, weight_tuple
from chartkit.theory.shape_text import Frets

FINGERED = len(FINGERING_FEATURES)
_MOVABLE = FEATURES.index("movable_form") - FINGERED
_CREDITS = ("open_strings", "movable_form")
"""The features whose weights may be negative without spoiling the lower bounds."""


@dataclass(slots=True)
class _Best:
    """The cheapest found so far: at most so many, and within a gap of the first."""

    most: int
    widest_gap: float
    found: list[Found] = field(default_factory=list)
    limit: float = inf
    """What another one must cost less than to count."""

    def add(self, found: Found) -> None:
        insort(self.found, found, key=lambda f: f.order)
        least = self.found[0].cost + self.widest_gap
        del self.found[self.most :]
        while self.found[-1].cost > least:
            self.found.pop()
        full = len(self.found) == self.most
        self.limit = min(least, self.found[-1].cost if full else inf) + 1e-9


class VoicingSearch:
    """Searches one instrument under one capo."""

    def __init__(
        self, instrument: Instrument, capo: int, moved: int, weights: Weights, hand: Hand
    ) -> None:
        """``moved`` is how many half steps capo and tuning move what sounds."""
        self._instrument = instrument
        self._capo = capo
        self._moved = moved
        self._named = weights
        self._hand = hand
        values = weight_tuple(weights)
        self._sound_weights = values[FINGERED:]
        self._fingerer = Fingerer(instrument, capo, hand, values[:FINGERED])
        others = (v for name, v in zip(FEATURES, values, strict=True) if name not in _CREDITS)
        self._prunable = min(others) >= 0

    def cheapest(self, tones: Tones, most: int, widest_gap: float) -> list[Found]:
        """The cheapest voicings, at most so many and within the gap of the first."""
        best = _Best(most, widest_gap)
        features_of = self._features(tones)
        forms = known_forms(self._instrument, tones.moved(-tones.bass), self._named, self._hand)
        for lowest in range(highest_fret(self._instrument, self._capo) + 1):
            if self._window_floor(lowest) >= best.limit:
                break
            patterns = window_patterns(
                self._instrument, tones, lowest, self._capo, self._hand.window_frets
            )
            for bound, cost, frets, sound in self._priced(patterns, features_of, forms):
                if bound >= best.limit:
                    break
                fingering = self._fingerer.cheapest(frets, barred=bool(sound[_MOVABLE]))
                if fingering is not None and cost + fingering.cost < best.limit:
                    best.add(Found(cost + fingering.cost, frets, fingering, sound))
        return best.found

    def own(self, tones: Tones, frets: Frets) -> Found:
        """A given pattern priced; its fingering is empty where the hand model has none."""
        forms = known_forms(self._instrument, tones.moved(-tones.bass), self._named, self._hand)
        ((_, cost, _, sound),) = self._priced([frets], self._features(tones), forms)
        fingering = self._fingerer.cheapest(frets) or Fingering((), (), (0.0,) * FINGERED, 0.0)
        return Found(cost + fingering.cost, frets, fingering, sound)

    def playable(self, tones: Tones, patterns: Iterable[Frets]) -> list[Found]:
        """Those of the patterns that a hand can play, with no credit for known forms."""
        found = []
        for _, cost, frets, sound in self._priced(patterns, self._features(tones), frozenset()):
            fingering = self._fingerer.cheapest(frets)
            if fingering is not None:
                found.append(Found(cost + fingering.cost, frets, fingering, sound))
        return found

    def _features(self, tones: Tones) -> PatternFeatures:
        return PatternFeatures(self._instrument, tones, self._hand.window_frets, self._moved)

    def _priced(
        self, patterns: Iterable[Frets], features_of: PatternFeatures, forms: frozenset[Frets]
    ) -> list[tuple[float, float, Frets, tuple[float, ...]]]:
        """Patterns with a lower bound, their own cost and features, lowest bound first."""
        weights = self._sound_weights
        priced = []
        for frets in patterns:
            sound = features_of(frets, frets in forms)
            cost = sum([w * f for w, f in zip(weights, sound, strict=True) if f])
            priced.append((self._bound(cost, frets), cost, frets, sound))
        priced.sort(key=lambda entry: entry[0])
        return priced

    def _bound(self, cost: float, frets: Frets) -> float:
        if not self._prunable:
            return -inf
        return cost + self._named.fingers * len({fret for fret in frets if fret})

    def _window_floor(self, lowest: int) -> float:
        """What any pattern costs whose lowest finger is at that fret; grows up the neck."""
        if not self._prunable:
            return -inf
        credit = min(0.0, self._named.movable_form)
        credit += min(0.0, self._named.open_strings) * len(self._instrument.strings)
        return self._named.position * max(0, lowest - 1) + credit


@lru_cache(maxsize=1024)
def known_forms(
    instrument: Instrument, kind: Tones, weights: Weights, hand: Hand
) -> frozenset[Frets]:
    """Every place on the neck of the movable forms of a chord's kind, judged at the nut."""
    search = VoicingSearch(instrument, 0, 0, weights, hand)
    forms = open_forms(instrument, kind, search.playable)
    return frozenset(slid(form, up) for form in forms for up in range(1, instrument.frets))
