"""An instrument under a capo, asked for the ways to play a chord."""

from collections.abc import Callable

from chartkit.fretboard.fingering import Fingering, fingers_on_strings
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.patterns import highest_fret
from chartkit.fretboard.player_shape import neck_problems
from chartkit.fretboard.search import VoicingSearch
from chartkit.fretboard.search_hit import SearchHit
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.fretboard.weights import FINGERING_FEATURES, Weights, weight_tuple
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets, shape_text

MOST_VOICINGS = 12
"""How many voicings of a chord are kept (ours)."""

COST_MARGIN = 4.0
"""A voicing that costs this much more than the cheapest is dropped: it is an oddity that no path
through a song takes (ours)."""

_EFFORT = len(FINGERING_FEATURES)


class Fretboard:
    """One instrument with the capo at one fret, or tuned down, and the voicings on it.

    Chords are asked for as shapes: what the frets above the capo would sound if the capo were the
    nut.  Shapes are judged at the nut, so a capo or a tuning only changes the pitches and removes
    frets past the end of the neck; ``nut`` is the fretboard without them, which remembers its
    voicings.
    """

    def __init__(
        self,
        instrument: Instrument,
        capo: int = 0,
        down: int = 0,
        *,
        weights: Weights | None = None,
        hand: Hand | None = None,
        most: int = MOST_VOICINGS,
        cost_margin: float = COST_MARGIN,
        nut: "Fretboard | None" = None,
        recall: Callable[[Tones], tuple[Voicing, ...] | None] | None = None,
    ) -> None:
        """``capo`` is a fret, ``down`` the half steps all strings are tuned down.  ``recall``
        gives the voicings found earlier on an equal fretboard, or None."""
        self.instrument = instrument
        self.capo = capo
        self.down = down
        self.hand = hand or Hand()
        self.weights = weights or Weights()
        self.most = most
        self.cost_margin = cost_margin
        self._weights = weight_tuple(self.weights)
        self._search = VoicingSearch(instrument, self.weights, self.hand)
        self._nut = nut
        self._recall = recall
        if nut is None and (capo or down):
            self._nut = Fretboard(
                instrument, 0, 0, weights=weights, hand=hand, most=most, cost_margin=cost_margin
            )
        self._known: dict[Tones, tuple[Voicing, ...]] = {}
        self._news: dict[Tones, tuple[Voicing, ...]] = {}

    def voicings(self, chord: Chord) -> tuple[Voicing, ...]:
        """The cheapest playable voicings of a shape chord, cheapest first.

        At most ``most`` of them and within ``cost_margin`` of the first (known grips within
        ``search.KNOWN_MARGIN``), and exactly the cheapest that keep the hand rules; empty if the
        instrument cannot sound the chord.
        """
        tones = tones_of(chord)
        voicings = self._known.get(tones)
        if voicings is None and self._recall is not None:
            voicings = self._recall(tones)
        if voicings is None:
            voicings = self._cheapest(tones) if self._nut is None else self._at_the_nut(chord)
            if self._nut is None:
                self._news[tones] = voicings
        self._known[tones] = voicings
        return voicings

    def news(self) -> dict[Tones, tuple[Voicing, ...]]:
        """The voicings computed since the last call."""
        news, self._news = self._news, {}
        return news

    def voicing_of(self, chord: Chord, frets: Frets) -> Voicing:
        """The voicing of a shape chord that a player fingers in their own way.

        If the hand model has no fingering, the fingers are all 0 and only the pattern is priced; it
        may sound other tones. Raises ValueError in plain words if the frets cannot be fingered
        here.
        """
        problems = neck_problems(self.instrument, frets, self.capo)
        if problems:
            raise ValueError(f"{shape_text(frets)} cannot be played: {'; '.join(problems)}")
        return self._voicing(self._search.own(tones_of(chord), frets))

    def _at_the_nut(self, chord: Chord) -> tuple[Voicing, ...]:
        assert self._nut is not None
        highest = highest_fret(self.instrument, self.capo)
        voicings = self._nut.voicings(chord)
        if any(max(fret or 0 for fret in voicing.frets) > highest for voicing in voicings):
            return self._cheapest(tones_of(chord))
        return tuple(voicing.sounding(self.pitches(voicing.frets)) for voicing in voicings)

    def _cheapest(self, tones: Tones) -> tuple[Voicing, ...]:
        highest = highest_fret(self.instrument, self.capo)
        hits = self._search.cheapest(tones, self.most, self.cost_margin, highest)
        if not self.instrument.bass_counts and (not hits or self._too_few_strings(tones)):
            rootless = tones.without_root()
            hits += self._search.cheapest(rootless, self.most, self.cost_margin, highest)
            hits = _cheapest_of_each_shape(hits, self.most, self.cost_margin)
        return tuple(self._voicing(hit) for hit in hits)

    def _too_few_strings(self, tones: Tones) -> bool:
        """Whether a ninth over its own root has more tones than the instrument strings.

        Players leave its root out then: third and seventh name the chord (common practice, no
        source).
        """
        strings = sum(not string.drone for string in self.instrument.strings)
        return tones.bass == tones.root and len(tones.allowed) > strings and tones.is_ninth

    def _voicing(self, hit: SearchHit) -> Voicing:
        features = (*map(float, hit.fingering.features), *map(float, hit.sound))
        products = [w * f for w, f in zip(self._weights, features, strict=True)]
        return Voicing(
            frets=hit.frets,
            fingers=fingers_on_strings(hit.frets, hit.fingering),
            barre=_index_barre(hit.fingering),
            pitches=self.pitches(hit.frets),
            cost=sum(products),
            effort=sum(products[:_EFFORT]),
            features=features,
        )

    def pitches(self, frets: Frets) -> tuple[int | None, ...]:
        """The pitches of the frets as MIDI numbers, None for a muted string."""
        moved = self.capo - self.down
        return tuple(
            None if fret is None else string.sounding(fret) + moved
            for string, fret in zip(self.instrument.strings, frets, strict=True)
        )


def _cheapest_of_each_shape(
    hits: list[SearchHit], most: int, cost_margin: float
) -> list[SearchHit]:
    """The cheapest hits, each shape once, within a margin of the first."""
    shapes = {hit.frets: hit for hit in sorted(hits, key=lambda hit: hit.order, reverse=True)}
    cheapest = sorted(shapes.values(), key=lambda hit: hit.order)[:most]
    return [hit for hit in cheapest if hit.cost <= cheapest[0].cost + cost_margin]


def _index_barre(fingering: Fingering) -> tuple[int, int, int] | None:
    if fingering.fingers[:1] == (1,) and fingering.presses[0][2] > fingering.presses[0][1]:
        return fingering.presses[0]
    return None
