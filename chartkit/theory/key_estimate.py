"""The likeliest key, for music that does not name one or names one that does not fit.

There are two methods. A row of chords has an order but no durations, so its chords are counted (our
own rule, no published source). A chord whose tones all lie in the key's scale counts one. A chord
with only its triad in the scale counts a little less, since a blues has sevenths from outside its
key everywhere. A first or last chord on the tonic counts more, also a power chord, which has no
third that could say otherwise. The result decides how a chart without a key is spelled; it is shown
as a guess that the writer can overrule.

Music with durations is judged by the Krumhansl-Schmuckler method, which correlates how long each
pitch class sounds with the profile of every key.  Source of the profiles: C. L. Krumhansl and E. J.
Kessler, "Tracing the dynamic changes in perceived tonal organization in a spatial representation of
musical keys", *Psychological Review* 89 (1982); of the method: C. L. Krumhansl, *Cognitive
Foundations of Musical Pitch* (1990), chapter 4.
"""

from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from math import sqrt
from typing import NamedTuple

from chartkit.theory.chord import Chord
from chartkit.theory.key import Key, spellings
from chartkit.theory.note import accidentals_of, pitch_class_of

_FIRST_IS_TONIC = 1.5
_LAST_IS_TONIC = 2.0
_TRIAD_INSIDE = 0.9
"""The weight of a chord with only its triad in the scale (ours)."""
_TINTED_TONIC = 0.5
"""The weight of such a chord as a tonic: a row that ends on a seventh has rarely come home
(ours)."""
_BARE_MINOR = 0.9
"""The weight of a power chord as the tonic of a minor key: where all else is equal, major is
likelier (ours)."""
_POWER = {"1", "5"}
_TRIAD = {"1", "b3", "3", "b5", "5", "#5"}


def likely_key(chords: Sequence[Chord], ends_on: Chord | None = None) -> Key:
    """The major or minor key the chords fit best; C major for no chords at all.

    ``ends_on`` is the chord that the music ends on, where that is not the last of them."""
    if not chords:
        return Key(0)
    side = sum(accidentals_of(chord.root) for chord in chords)
    tones_by_chord: dict[Chord, _Tones] = {}
    tones = [
        tones_by_chord.get(chord) or tones_by_chord.setdefault(chord, _tones_of(chord))
        for chord in chords
    ]
    ends = tones[-1] if ends_on is None else _tones_of(ends_on)
    return max(_candidates(), key=lambda key: (_fit(key, tones, ends), key.signature * side))


@cache
def _candidates() -> tuple[Key, ...]:
    """The keys that music can be in, each in the spelling with the fewest signs."""
    return tuple(
        key
        for mode in ("major", "minor")
        for pitch_class in range(12)
        for key in _fewest_signs(spellings(pitch_class, mode))
    )


def _fewest_signs(keys: tuple[Key, ...]) -> tuple[Key, ...]:
    """The keys with the fewest signs: one, or two if F sharp and G flat are equally near."""
    fewest = min(abs(key.signature) for key in keys)
    return tuple(key for key in keys if abs(key.signature) == fewest)


class _Tones(NamedTuple):
    """The pitch classes of a chord: all, and those of its triad, each set as the bits of a number;
    its root, which thirds it has, and whether it is a root and its fifth alone."""

    all: int
    triad: int
    root: int
    minor: bool
    major: bool
    bare: bool


def _bits(pitch_classes: Iterable[int]) -> int:
    """A set of pitch classes as the bits of a number."""
    return sum(1 << pitch_class for pitch_class in set(pitch_classes))


def _tones_of(chord: Chord) -> _Tones:
    degrees = chord.quality.degrees
    tones = zip(degrees, chord.tones, strict=True)
    return _Tones(
        _bits(chord.pitch_classes),
        _bits(pitch_class_of(tone) for degree, tone in tones if degree in _TRIAD),
        pitch_class_of(chord.root),
        "b3" in degrees,
        "3" in degrees,
        set(degrees) == _POWER,
    )


def _fit(key: Key, chords: Sequence[_Tones], ends: _Tones) -> float:
    """How well chords fit a key: each counts 1 if all its tones lie in the scale, a little less for
    its triad alone, else 0; more is added for a first or last chord on the tonic."""
    outside = ~_scale_bits(key)
    inside = sum(
        [
            _TRIAD_INSIDE
            if chord.all & outside and not chord.triad & outside
            else 0.0
            if chord.all & outside
            else 1.0
            for chord in chords
        ]
    )
    first = _FIRST_IS_TONIC * _is_tonic(chords[0], key, outside)
    return inside + first + _LAST_IS_TONIC * _is_tonic(ends, key, outside)


@lru_cache(maxsize=64)
def _scale_bits(key: Key) -> int:
    return _bits(map(pitch_class_of, key.scale))


def _is_tonic(chord: _Tones, key: Key, outside: int) -> float:
    """1 for a chord on the tonic with the key's third, less if it has tones outside the scale or,
    in a minor key, no third."""
    if chord.bare and chord.root == pitch_class_of(key.tonic):
        return _BARE_MINOR if key.mode == "minor" else 1.0
    third = chord.minor if key.mode == "minor" else chord.major
    if chord.root != pitch_class_of(key.tonic) or not third:
        return 0.0
    return _TINTED_TONIC if chord.all & outside else 1.0


# ---- by sounding time

MAJOR_PROFILE = (6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88)
MINOR_PROFILE = (6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17)
"""How well each pitch class, the tonic first, was heard to fit a key."""


def key_by_profile(weights: Sequence[float]) -> tuple[Key, float]:
    """The major or minor key that fits best, and its correlation (-1 to 1).

    ``weights`` is how long each pitch class sounds, C first.  The spelling is the one with
    the fewest signs.  C major and 0 where all weights are the same.
    """
    fits = [
        (correlation(weights, pitch_class, mode), -pitch_class, mode)
        for mode in ("major", "minor")
        for pitch_class in range(12)
    ]
    best, pitch_class, mode = max(fits)
    if best == 0:
        return Key(0), 0.0
    return min(spellings(-pitch_class, mode), key=lambda key: abs(key.signature)), best


FEWEST_PITCH_CLASSES = 5
"""With fewer, many keys fit; ours, no source."""


def has_enough_pitch_classes(weights: Sequence[float]) -> bool:
    """Whether enough pitch classes sound to tell one key from another."""
    return sum(weight > 0 for weight in weights) >= FEWEST_PITCH_CLASSES


def correlation(weights: Sequence[float], pitch_class: int, mode: str) -> float:
    """Pearson's correlation of the weights with the profile of a key; 0 for equal weights."""
    profile = MINOR_PROFILE if mode == "minor" else MAJOR_PROFILE
    turned = [profile[(i - pitch_class) % 12] for i in range(12)]
    mean, own_mean = sum(weights) / 12, sum(turned) / 12
    above = [weight - mean for weight in weights]
    own = [value - own_mean for value in turned]
    size = sqrt(sum(a * a for a in above) * sum(b * b for b in own))
    return sum(a * b for a, b in zip(above, own, strict=True)) / size if size else 0.0


def share_outside(weights: Sequence[float], key: Key) -> float:
    """The share of the sounding time outside the key's scale, 0 to 1."""
    inside = {pitch_class_of(note) for note in key.scale}
    total = sum(weights)
    outside = sum(weight for i, weight in enumerate(weights) if i not in inside)
    return outside / total if total else 0.0
