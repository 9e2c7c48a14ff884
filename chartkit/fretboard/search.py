"""The exact search for the cheapest playable voicings of a chord.

Every shape is judged at the nut, whatever the capo: a player's habits move up with it. Known grips
are examined first, even those that no rule of the search would make. Other patterns are examined
window by window up the neck, and inside a window by their cost without fingers; fingerings are
computed only while they can still matter. This is safe because a pattern never costs less than its
own cost, a finger for every pressed fret, and the least cost of its window.
"""

from bisect import insort
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import inf

from chartkit.fretboard.barre_forms import moved_up, open_forms
from chartkit.fretboard.fingering import Fingerer, Fingering
from chartkit.fretboard.grip_library import grips_for, has_known_grips
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument, without_short_capo
from chartkit.fretboard.patterns import HIGHEST_FRET, window_patterns
from chartkit.fretboard.search_hit import SearchHit
from chartkit.fretboard.sounding import PatternFeatures, SoundFeatures
from chartkit.fretboard.tones import Tones
from chartkit.fretboard.weights import FEATURES, FINGERING_FEATURES, Weights, weight_tuple
from chartkit.theory.shape_text import Frets

FINGERED = len(FINGERING_FEATURES)
_CREDITS = ("open_strings", "movable_form", "known_grip")
"""The features whose weights may be negative without spoiling the lower bounds."""

KNOWN_MARGIN = 20.0
"""A known grip is kept if it costs at most this much more than the first (ours)."""

_STRETCH = 1.18
"""How much further than in the hand model a hand reaches for a known grip (ours): the fact that
players use it is better evidence than the model's figures."""


@dataclass(slots=True)
class _Best:
    """The cheapest hits so far: at most so many, and within a margin of the first's cost."""

    most: int
    cost_margin: float
    hits: list[SearchHit] = field(default_factory=list)
    limit: float = inf
    """The cost below which another voicing that is not a known grip is still kept."""

    def add(self, hit: SearchHit) -> None:
        insort(self.hits, hit, key=lambda voicing: voicing.order)
        least = self.hits[0].cost
        margins = (self.cost_margin, max(self.cost_margin, KNOWN_MARGIN))
        self.hits = [
            voicing
            for voicing in self.hits[: self.most]
            if voicing.cost <= least + margins[voicing.sound.known_grip > 0]
        ]
        last = self.hits[-1].cost if len(self.hits) == self.most else inf
        self.limit = min(least + self.cost_margin, last) + 1e-9


class VoicingSearch:
    """Searches one instrument, at the nut."""

    def __init__(self, instrument: Instrument, weights: Weights, hand: Hand) -> None:
        """``weights`` price what ``hand`` can play."""
        self._instrument = instrument
        self._named = weights
        self._hand = hand
        self._any_known = has_known_grips(instrument)
        self._grips_of: dict[Tones, Mapping[Frets, float]] = {}
        values = weight_tuple(weights)
        self._sound_weights = values[FINGERED:]
        self._fingerer = Fingerer(instrument, 0, hand, values[:FINGERED])
        self._stretched = Fingerer(instrument, 0, _stretched(hand), values[:FINGERED])
        others = (v for name, v in zip(FEATURES, values, strict=True) if name not in _CREDITS)
        self._prunable = min(others) >= 0

    def cheapest(
        self, tones: Tones, most: int, cost_margin: float, highest: int
    ) -> list[SearchHit]:
        """The cheapest voicings up to a fret, at most so many and within the margin of the first.

        Known grips are kept within ``KNOWN_MARGIN`` of the first.
        """
        best = _Best(most, cost_margin)
        features_of = self._features(tones)
        grips = self._grips(tones)
        for hit in self._known_hits(features_of, grips, highest):
            best.add(hit)
        forms = self._forms(tones)
        floor = self._least_cost(bool(forms), features_of.any_known)
        for lowest in range(highest + 1):
            if floor + self._named.position * max(0, lowest - 1) >= best.limit:
                break
            patterns = [
                frets
                for frets in window_patterns(
                    self._instrument, tones, lowest, highest, self._hand.window_frets
                )
                if frets not in grips
            ]
            for bound, cost, frets, sound in self._priced(patterns, features_of, forms):
                if bound >= best.limit:
                    break
                fingering = self._fingered(frets, barred=bool(sound.movable_form))
                if fingering is not None and cost + fingering.cost < best.limit:
                    best.add(SearchHit(cost + fingering.cost, frets, fingering, sound))
        return best.hits

    def own(self, tones: Tones, frets: Frets) -> SearchHit:
        """A given pattern priced; its fingering is empty where the hand model has none."""
        strength = self._grips(tones).get(frets, 0.0)
        movable = frets in self._forms(tones)
        hit = self._hit(self._features(tones), frets, movable=movable, strength=strength)
        return hit or self._unfingered(self._features(tones), frets)

    def playable(self, tones: Tones, patterns: Iterable[Frets]) -> list[SearchHit]:
        """The hits of the patterns that a hand can play, without credit for known forms."""
        features_of = self._features(tones)
        hits = (self._hit(features_of, frets) for frets in patterns)
        return [hit for hit in hits if hit is not None]

    def _known_hits(
        self, features_of: PatternFeatures, grips: Mapping[Frets, float], highest: int
    ) -> Iterable[SearchHit]:
        """The known grips up to a fret that a hand can play."""
        for frets, strength in grips.items():
            if max(fret or 0 for fret in frets) <= highest:
                hit = self._hit(features_of, frets, strength=strength)
                if hit is not None:
                    yield hit

    def _fingered(self, frets: Frets, barred: bool = False) -> Fingering | None:
        """The cheapest fingering, with the thumb where this hand uses it."""
        fingering = self._fingerer.cheapest(frets, barred=barred)
        if not self._hand.thumb:
            return fingering
        over = self._fingerer.over_the_neck(frets)
        if fingering is None or (over is not None and over.cost < fingering.cost):
            return over
        return fingering

    def _hit(
        self,
        features_of: PatternFeatures,
        frets: Frets,
        *,
        movable: bool = False,
        strength: float = 0.0,
    ) -> SearchHit | None:
        """A pattern priced; None where a hand cannot play it."""
        fingering = self._fingered(frets)
        if fingering is None and strength:
            fingering = self._stretched.cheapest(frets)
        if fingering is None:
            return None
        sound = features_of(frets, movable=movable, strength=strength)
        return SearchHit(self._cost(sound) + fingering.cost, frets, fingering, sound)

    def _unfingered(self, features_of: PatternFeatures, frets: Frets) -> SearchHit:
        sound = features_of(frets)
        return SearchHit(self._cost(sound), frets, Fingering((), (), (0.0,) * FINGERED, 0.0), sound)

    def _grips(self, tones: Tones) -> Mapping[Frets, float]:
        if not self._named.known_grip:
            return {}
        if tones not in self._grips_of:
            self._grips_of[tones] = grips_for(self._instrument, tones)
        return self._grips_of[tones]

    def _forms(self, tones: Tones) -> frozenset[Frets]:
        """The derived movable forms, where no grips are known."""
        if self._named.known_grip and self._any_known:
            return frozenset()
        return known_forms(
            without_short_capo(self._instrument), tones.moved(-tones.bass), self._named, self._hand
        )

    def _features(self, tones: Tones) -> PatternFeatures:
        window = self._hand.window_frets
        features_of = PatternFeatures(self._instrument, tones, window, self._any_known)
        features_of.any_known = bool(self._grips(tones))
        return features_of

    def _cost(self, sound: SoundFeatures) -> float:
        return sum([w * f for w, f in zip(self._sound_weights, sound, strict=True) if f])

    def _priced(
        self, patterns: Iterable[Frets], features_of: PatternFeatures, forms: frozenset[Frets]
    ) -> list[tuple[float, float, Frets, SoundFeatures]]:
        """Patterns with a lower bound, their own cost and features, lowest bound first."""
        priced = []
        for frets in patterns:
            sound = features_of(frets, movable=frets in forms)
            cost = self._cost(sound)
            priced.append((self._bound(cost, frets), cost, frets, sound))
        priced.sort(key=lambda entry: entry[0])
        return priced

    def _bound(self, cost: float, frets: Frets) -> float:
        if not self._prunable:
            return -inf
        return cost + self._named.fingers * len({fret for fret in frets if fret})

    def _least_cost(self, with_forms: bool, any_known: bool) -> float:
        """The least cost of any pattern that is not a known grip, without its place."""
        if not self._prunable:
            return -inf
        credit = min(0.0, self._named.movable_form) if with_forms else 0.0
        credit += min(0.0, self._named.open_strings) * len(self._instrument.strings)
        return credit + (self._named.unfamiliar if any_known else 0.0)


def _stretched(hand: Hand) -> Hand:
    """The same hand at its widest: for grips that players are known to play."""
    reaches = tuple((comfort, largest * _STRETCH) for comfort, largest in hand.reaches_mm)
    return replace(hand, reaches_mm=reaches)


@lru_cache(maxsize=1024)
def known_forms(
    instrument: Instrument, kind: Tones, weights: Weights, hand: Hand
) -> frozenset[Frets]:
    """Every place on the neck of the movable forms of a chord's kind."""
    search = VoicingSearch(instrument, weights, hand)
    forms = open_forms(instrument, kind, search.playable)
    top = min(HIGHEST_FRET, instrument.frets)
    return frozenset(moved_up(form, up) for form in forms for up in range(1, top + 1))
