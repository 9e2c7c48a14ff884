"""Grips of two to four strings, as a second guitar plays them beside a full one.

A full chord needs its bass and every tone; a second guitar leaves root and fifth to the others
and keeps what tells chords apart: the third (or the note in its place) and the colour tones.
That is common practice, no source.  Every grip passes the hand model of ``fingering`` and the
low-interval limits.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from chartkit.fretboard.fingering import Fingerer, Fingering, fingers_on_strings
from chartkit.fretboard.hand import Hand, fret_places_mm
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.low_intervals import mud
from chartkit.fretboard.tones import tones_of
from chartkit.fretboard.weights import FINGERING_FEATURES, Weights
from chartkit.theory.chord import Chord
from chartkit.theory.note import pitch_class_of
from chartkit.theory.quality import DEGREE_PLACES
from chartkit.theory.shape_text import Frets

StringSet = tuple[int, ...]
"""Two to four strings, bass side first, counted from the bass string, 0 first."""
_THIRDS = ("3", "b3", "11", "9")
"""The tones that distinguish major from minor, or replace the third, in order of rank."""
_PLAIN = ("1", "5")
_NATURAL_TENSIONS = ("9", "11", "13")
"""Colour tones that a part may leave to others if it has few strings."""
_FEWEST_NAMING = 3
"""A written part sounds this many naming tones of a chord that has them: G7(♯9) is not B and F
alone, which would be any G7 (ours)."""

_Pattern = tuple[Frets, tuple[int, ...]]
"""A fret pattern and its pitches, lowest first."""

_MOST_KEPT = 20_000
"""The most fingerings of one neck that are kept, some 10 MB (ours)."""
_MOST_SETS_KEPT = 4_000
"""The most chords and sets of strings whose patterns are kept, some 10 MB (ours)."""


@dataclass(frozen=True, slots=True)
class ChordTones:
    """A chord's tones by their part in it, as pitch classes.

    ``third`` is what tells major from minor, or the note in its place, None for a power chord;
    ``colours`` are sevenths, tensions and altered fifths; ``plain`` root and natural fifth;
    ``telling`` the third and all colours but natural tensions, without which it is heard as
    another chord; ``naming`` those and the highest natural tension, which the symbol names.
    """

    root: int
    third: int | None
    colours: frozenset[int]
    plain: frozenset[int]
    telling: frozenset[int]
    naming: frozenset[int]

    @property
    def allowed(self) -> frozenset[int]:
        """Every pitch class that a grip may sound."""
        third = frozenset() if self.third is None else frozenset((self.third,))
        return self.colours | self.plain | third


@lru_cache(maxsize=4096)
def chord_tones(chord: Chord) -> ChordTones:
    """The chord's tones by their part in it; a bass that is no chord tone is left out."""
    sounding = tones_of(chord)
    classes = {
        degree: pitch_class_of(chord.root + DEGREE_PLACES[degree])
        for degree in chord.quality.degrees
    }
    played = {
        degree: tone
        for degree, tone in classes.items()
        if tone in sounding.allowed or tone == classes.get("1")
    }
    in_its_place = next((degree for degree in _THIRDS if degree in played), None)
    third = None if in_its_place is None else played[in_its_place]
    plain = frozenset(played[degree] for degree in _PLAIN if degree in played)
    colours = frozenset(played.values()) - plain - {third}
    tensions = [d for d in _NATURAL_TENSIONS if d in played and d != in_its_place]
    distinctive = frozenset(played.values()) - plain
    telling = distinctive - {played[degree] for degree in tensions}
    naming = distinctive - {played[degree] for degree in tensions[:-1]}
    return ChordTones(
        root=pitch_class_of(chord.root),
        third=third,
        colours=colours,
        plain=plain,
        telling=telling,
        naming=naming,
    )


def missing_from_part(chord: Chord, pitches: Sequence[int]) -> tuple[int, ...]:
    """The pitch classes that a part of the chord on so few strings lacks, lowest first.

    It may leave out root, natural fifth, bass and natural tensions, and more where it has fewer
    strings than telling tones, as long as every string sounds one (common practice, no source).
    """
    tones = chord_tones(chord)
    if _sounds(pitches, tones.third, tones.telling, len(pitches)):
        return ()
    return tuple(sorted(tones.telling - {pitch % 12 for pitch in pitches}))


def _sounds(pitches: Sequence[int], third: int | None, wanted: frozenset[int], fewest: int) -> bool:
    """Whether the pitches have the third and at least ``wanted`` of the tones, or all of them."""
    classes = {pitch % 12 for pitch in pitches}
    there = len(classes & wanted) >= min(len(wanted), fewest)
    return there and (third is None or third in classes)


@dataclass(frozen=True, slots=True)
class PartialGrip:
    """A grip of two to four strings.

    ``frets`` are counted from the capo, bass side first; ``strings`` are those that sound;
    ``fingers`` one a string, 0 for none; ``pitches`` are MIDI numbers, lowest first.  ``hand``
    is the fingering's cost in the hand model, without unit; ``place_mm`` where the hand lies,
    in mm from the nut, None where every string is open.  ``open_strings`` counts those,
    ``skipped`` the inner strings left out; ``highest_fret`` is the highest fret pressed.
    """

    frets: Frets
    strings: StringSet
    fingers: tuple[int, ...]
    pitches: tuple[int, ...]
    hand: float
    place_mm: float | None
    open_strings: int
    skipped: int
    highest_fret: int

    @property
    def top(self) -> int:
        """The highest pitch, which is heard as a melody."""
        return self.pitches[-1]


@dataclass(frozen=True, slots=True)
class GripLimits:
    """The limits of a part: the highest fret, and the lowest and highest pitch (MIDI)."""

    highest_fret: int = 12
    lowest_pitch: int = 0
    highest_pitch: int = 127


class PartialGrips:
    """The partial grips of one instrument under a capo, each fingered once."""

    def __init__(
        self, instrument: Instrument, capo: int = 0, down: int = 0, hand: Hand | None = None
    ) -> None:
        """``capo`` is a fret, ``down`` the half steps all strings are tuned down."""
        weights = Weights()
        self._instrument = instrument
        self._hand = hand or Hand()
        self._capo = capo
        self._opened = tuple(p + capo - down for p in instrument.open_pitches)
        self._places = fret_places_mm(instrument, capo)
        costs = [getattr(weights, name) for name in FINGERING_FEATURES]
        self._fingerer = Fingerer(instrument, capo, self._hand, costs)
        self._fingerings: dict[Frets, Fingering | None] = {}
        self._patterns: dict[tuple[ChordTones, StringSet, int], list[_Pattern]] = {}

    @property
    def strings(self) -> int:
        """How many strings the instrument has."""
        return len(self._opened)

    def patterns(
        self, chord: Chord, string_sets: Sequence[StringSet], limits: GripLimits
    ) -> list[_Pattern]:
        """Every fret pattern on the sets of strings within the limits, with its pitches.

        Pitches are lowest first; the hand is not asked yet.  If a chord's naming tones cannot all
        be sounded within the limits, the telling ones are enough.
        """
        tones = chord_tones(chord)
        patterns = self._telling_patterns(tones, string_sets, limits)
        return [pattern for pattern in patterns if _names_the_chord(pattern[1], tones)] or patterns

    def _telling_patterns(
        self, tones: ChordTones, string_sets: Sequence[StringSet], limits: GripLimits
    ) -> list[_Pattern]:
        low, high = limits.lowest_pitch, limits.highest_pitch
        return [
            pattern
            for strings in string_sets
            for pattern in self._anywhere(tones, strings, limits.highest_fret)
            if low <= pattern[1][0] and pattern[1][-1] <= high
        ]

    def _anywhere(self, tones: ChordTones, strings: StringSet, highest: int) -> list[_Pattern]:
        """The patterns on a set of strings at any pitch, which songs share."""
        key = tones, strings, highest
        known = self._patterns.get(key)
        if known is not None:
            return known
        if len(self._patterns) >= _MOST_SETS_KEPT:
            self._patterns = {}
        per_string = self._frets_per_string(tones.allowed, highest)
        patterns: list[_Pattern] = []
        for frets in product(*(per_string[string] for string in strings)):
            if not self._within_window(frets):
                continue
            pitches = tuple(
                sorted([self._opened[s] + f for s, f in zip(strings, frets, strict=True)])
            )
            if _tells_the_chord(pitches, tones):
                whole: list[int | None] = [None] * len(self._opened)
                for string, fret in zip(strings, frets, strict=True):
                    whole[string] = fret
                patterns.append((tuple(whole), pitches))
        self._patterns[key] = patterns
        return patterns

    def grip(self, frets: Frets) -> PartialGrip | None:
        """The grip of a fret pattern; None where the hand model has no fingering for it."""
        if len(self._fingerings) >= _MOST_KEPT:
            self._fingerings = {}
        known = self._fingerings
        if frets not in known:
            known[frets] = self._fingerer.cheapest(frets)
        fingering = known[frets]
        if fingering is None:
            return None
        strings = [string for string, fret in enumerate(frets) if fret is not None]
        pressed = [fret for fret in frets if fret]
        return PartialGrip(
            frets=frets,
            strings=tuple(strings),
            fingers=fingers_on_strings(frets, fingering),
            pitches=tuple(sorted(self._opened[s] + (frets[s] or 0) for s in strings)),
            hand=fingering.cost,
            place_mm=self._places[min(pressed)] if pressed else None,
            open_strings=len(strings) - len(pressed),
            skipped=strings[-1] - strings[0] + 1 - len(strings),
            highest_fret=max(pressed, default=0),
        )

    def _frets_per_string(self, allowed: frozenset[int], highest: int) -> list[tuple[int, ...]]:
        last = min(highest, self._instrument.frets - self._capo)
        return [
            tuple(
                fret
                for fret in range(last + 1)
                if (opened + fret) % 12 in allowed
                and not (fret and self._instrument.strings[string].drone)
            )
            for string, opened in enumerate(self._opened)
        ]

    def _within_window(self, frets: Sequence[int]) -> bool:
        widest = max(frets)
        lowest = min(frets) or min([fret for fret in frets if fret], default=widest)
        return widest - lowest < self._hand.window_frets


def _names_the_chord(pitches: tuple[int, ...], tones: ChordTones) -> bool:
    """Whether three naming tones sound if a chord has three, and one on each string."""
    return _sounds(pitches, tones.third, tones.naming, max(_FEWEST_NAMING, len(pitches)))


def _tells_the_chord(pitches: tuple[int, ...], tones: ChordTones) -> bool:
    """Whether two tones differ, no pitch sounds twice, no tone is missing, and nothing is muddy."""
    if len({pitch % 12 for pitch in pitches}) < 2 or len(set(pitches)) < len(pitches):
        return False
    return _sounds(pitches, tones.third, tones.telling, len(pitches)) and not mud(pitches)
