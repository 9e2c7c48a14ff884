"""The likeliest key of a row of chords, for charts that do not name one.

A plain count (ours, no published source): a chord whose tones all lie in the key's scale
counts one; a first or last chord that is the tonic triad counts more.  It only ever serves
as a stated guess that the writer can overrule.
"""

from collections.abc import Sequence

from chartkit.theory.chord import Chord
from chartkit.theory.key import Key, spellings
from chartkit.theory.note import accidentals_of, pitch_class_of

_FIRST_IS_TONIC = 1.5
_LAST_IS_TONIC = 2.0


def likely_key(chords: Sequence[Chord]) -> Key:
    """The major or minor key the chords fit best; C major for no chords at all."""
    candidates = [
        key
        for mode in ("major", "minor")
        for pitch_class in range(12)
        for key in _fewest_signs(spellings(pitch_class, mode))
    ]
    return max(candidates, key=lambda key: (_fit(key, chords), _same_side(key, chords)))


def _fewest_signs(keys: tuple[Key, ...]) -> tuple[Key, ...]:
    """The keys with the fewest signs: one, or two where F sharp and G flat are as near."""
    fewest = min(abs(key.signature) for key in keys)
    return tuple(key for key in keys if abs(key.signature) == fewest)


def _fit(key: Key, chords: Sequence[Chord]) -> float:
    scale = {pitch_class_of(note) for note in key.scale}
    inside = sum(1 for chord in chords if chord.pitch_classes <= scale)
    if not chords:
        return float(key == Key(0))
    first = _FIRST_IS_TONIC * _is_tonic(chords[0], key)
    return inside + first + _LAST_IS_TONIC * _is_tonic(chords[-1], key)


def _is_tonic(chord: Chord, key: Key) -> bool:
    third = "b3" if key.mode == "minor" else "3"
    same = pitch_class_of(chord.root) == pitch_class_of(key.tonic)
    return same and third in chord.quality.degrees


def _same_side(key: Key, chords: Sequence[Chord]) -> int:
    """How far the key's signature lies on the side of the chords' own accidentals."""
    return key.signature * sum(accidentals_of(chord.root) for chord in chords)
