"""An instrument under a capo, asked for the ways to play a chord."""

from collections.abc import Iterable, Mapping, Sequence
from heapq import heappush, heappushpop

from chartkit.fretboard.fingering import Fingerer, Fingering
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.movable import open_forms, slid
from chartkit.fretboard.own_shape import shape_problems
from chartkit.fretboard.patterns import chord_patterns
from chartkit.fretboard.sounding import PatternFeatures
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.fretboard.weights import (
    EFFORT_FEATURES,
    FEATURES,
    FINGERING_FEATURES,
    Weights,
    weight_tuple,
)
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets, shape_text

MOST_VOICINGS = 12
"""How many voicings of a chord are kept."""

_FINGERED = len(FINGERING_FEATURES)
_EFFORT = len(EFFORT_FEATURES)
_FINGERS = FEATURES.index("fingers")
_MOVABLE = FEATURES.index("movable_form")


class Fretboard:
    """One instrument with the capo at one fret, or tuned down, and the voicings on it.

    Voicings are found when asked for and remembered.  Chords are asked for as shapes: what
    the frets above the capo would sound if the capo were the nut.
    """

    def __init__(
        self,
        instrument: Instrument,
        capo: int = 0,
        down: int = 0,
        weights: Weights | None = None,
        hand: Hand | None = None,
        most: int = MOST_VOICINGS,
    ) -> None:
        """``capo`` is a fret, ``down`` the half steps all strings are tuned down."""
        self.instrument = instrument
        self.capo = capo
        self.down = down
        self.hand = hand or Hand()
        self.weights = weights or Weights()
        self.most = most
        self._weights = weight_tuple(self.weights)
        self._fingerer = Fingerer(instrument, capo, self.hand, self._weights[:_FINGERED])
        self._prunable = min(self._weights[:_FINGERED]) >= 0
        self._found: dict[Tones, tuple[Voicing, ...]] = {}
        self._news: dict[Tones, tuple[Voicing, ...]] = {}
        self._forms: dict[Tones, frozenset[Frets]] = {}

    def voicings(self, chord: Chord) -> tuple[Voicing, ...]:
        """The cheapest playable voicings of a shape chord, cheapest first.

        At most ``most`` of them, and exactly the cheapest of all that keep the hand rules;
        empty where the instrument cannot sound the chord.
        """
        tones = tones_of(chord)
        found = self._found.get(tones)
        if found is None:
            found = self._found[tones] = self._news[tones] = self._cheapest(tones)
        return found

    def remember(self, known: Mapping[Tones, tuple[Voicing, ...]]) -> None:
        """Takes voicings found earlier on an equal fretboard, to answer with them."""
        self._found.update(known)

    def news(self) -> dict[Tones, tuple[Voicing, ...]]:
        """What has been worked out since this was last asked."""
        news, self._news = self._news, {}
        return news

    def voicing_of(self, chord: Chord, frets: Frets) -> Voicing:
        """The voicing of a shape chord that a player fingers in their own way.

        Where the hand model finds no fingering the fingers are all 0 and only the pattern
        is priced.  Raises ValueError, in plain words, where the frets do not sound it.
        """
        problems = shape_problems(self.instrument, chord, frets)
        if problems:
            raise ValueError(f"{shape_text(frets)} is no {chord}: {'; '.join(problems)}")
        tones = tones_of(chord)
        features_of = PatternFeatures(
            self.instrument, tones, self.hand.window_frets, self.capo - self.down
        )
        sound = features_of(frets, frets in self._movable_forms(tones))
        fingering = self._fingerer.cheapest(frets) or Fingering((), (), (0.0,) * _FINGERED, 0.0)
        return self._voicing(frets, fingering, sound)

    def _cheapest(self, tones: Tones) -> tuple[Voicing, ...]:
        window = self.hand.window_frets
        patterns = chord_patterns(self.instrument, tones, self.capo, window)
        if not patterns and not self.instrument.bass_counts:
            tones = tones.without_root()
            patterns = chord_patterns(self.instrument, tones, self.capo, window)
        priced = self._priced(tones, patterns, self._movable_forms(tones))
        best: list[tuple[float, tuple[int, ...], Frets, Fingering, tuple[float, ...]]] = []
        for cost, frets, features in priced:
            if len(best) == self.most and -best[0][0] <= cost:
                break
            fingering = self._fingerer.cheapest(frets, barred=bool(features[_MOVABLE - _FINGERED]))
            if fingering is None:
                continue
            total = cost + fingering.cost - self._least_fingering(frets)
            entry = (-total, _reversed_order(frets), frets, fingering, features)
            if len(best) < self.most:
                heappush(best, entry)
            else:
                heappushpop(best, entry)
        best.sort(reverse=True)
        return tuple(self._voicing(frets, fing, feats) for _, _, frets, fing, feats in best)

    def _priced(
        self, tones: Tones, patterns: Iterable[Frets], forms: frozenset[Frets]
    ) -> list[tuple[float, Frets, tuple[float, ...]]]:
        """Patterns with a lower bound of their cost and their features, cheapest first."""
        features_of = PatternFeatures(
            self.instrument, tones, self.hand.window_frets, self.capo - self.down
        )
        weights = self._weights[_FINGERED:]
        priced = []
        for frets in patterns:
            features = features_of(frets, frets in forms)
            cost = sum([w * f for w, f in zip(weights, features, strict=True) if f])
            priced.append((cost + self._least_fingering(frets), frets, features))
        priced.sort(key=lambda entry: entry[0])
        return priced

    def _least_fingering(self, frets: Frets) -> float:
        """A lower bound of the fingering's cost: a finger for each fret that is pressed."""
        if not self._prunable:
            return -1e9
        return self._weights[_FINGERS] * len({fret for fret in frets if fret})

    def _movable_forms(self, tones: Tones) -> frozenset[Frets]:
        kind = tones.moved(-tones.bass)
        if kind not in self._forms:
            forms = open_forms(self.instrument, kind, self._price)
            highest = range(1, self.instrument.frets)
            self._forms[kind] = frozenset(slid(form, up) for form in forms for up in highest)
        return self._forms[kind]

    def _price(self, tones: Tones, patterns: Iterable[Frets]) -> list[tuple[float, int, Frets]]:
        found = []
        for bound, frets, _ in self._priced(tones, patterns, frozenset()):
            fingering = self._fingerer.cheapest(frets)
            if fingering is not None:
                cost = bound - self._least_fingering(frets) + fingering.cost
                found.append((cost, len(fingering.presses), frets))
        return found

    def _voicing(self, frets: Frets, fingering: Fingering, sound: tuple[float, ...]) -> Voicing:
        features = (*map(float, fingering.features), *map(float, sound))
        products = [w * f for w, f in zip(self._weights, features, strict=True)]
        return Voicing(
            frets,
            fingers_on_strings(frets, fingering),
            _index_barre(fingering),
            self.pitches(frets),
            sum(products),
            sum(products[:_EFFORT]),
            features,
        )

    def pitches(self, frets: Frets) -> tuple[int | None, ...]:
        """What the frets sound as MIDI numbers, None for a muted string."""
        moved = self.capo - self.down
        opened = self.instrument.open_pitches
        return tuple(
            None if fret is None else pitch + fret + moved
            for pitch, fret in zip(opened, frets, strict=True)
        )


def _reversed_order(frets: Frets) -> tuple[int, ...]:
    """Sorts equal costs the same way on every run, and no two patterns alike."""
    return tuple(1 if fret is None else -fret for fret in frets)


def fingers_on_strings(frets: Sequence[int | None], fingering: Fingering) -> tuple[int, ...]:
    """The finger on each string, 0 for none."""
    fingers = [0] * len(frets)
    for (fret, first, last), finger in zip(fingering.presses, fingering.fingers, strict=True):
        for string in range(first, last + 1):
            if frets[string] == fret:
                fingers[string] = finger
    return tuple(fingers)


def _index_barre(fingering: Fingering) -> tuple[int, int, int] | None:
    if fingering.fingers[:1] == (1,) and fingering.presses[0][2] > fingering.presses[0][1]:
        return fingering.presses[0]
    return None
