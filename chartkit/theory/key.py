"""Keys: a tonic and a mode, their signatures and their names.

A key's signature is its tonic's place on the line of fifths plus the mode's offset:
D dorian is 2 - 2 = 0 signs, as C major is.  Only keys with at most seven signs are keys
here, which gives 15 major and 15 minor ones.
"""

import re
from dataclasses import dataclass

from chartkit.theory.note import (
    NOTE_NAME,
    note_name,
    notes_of_pitch_class,
    parse_note,
    pitch_class_of,
)

MODES = {
    "major": 0,
    "minor": -3,
    "dorian": -2,
    "phrygian": -4,
    "lydian": 1,
    "mixolydian": -1,
    "locrian": -5,
}
"""Mode name to the signs it adds to its tonic's place."""

_MODE_SPELLINGS = {
    "": "major",
    "maj": "major",
    "M": "major",
    "ionian": "major",
    "m": "minor",
    "min": "minor",
    "aeolian": "minor",
    **{name: name for name in MODES},
}
_SIGN_IN_WORDS = re.compile(r"([A-G])[\s-]*(flat|sharp)(?![A-Za-z])", re.IGNORECASE)
_KEY = re.compile(rf"({NOTE_NAME.pattern})\s*([A-Za-z]*)")
_MOST_SIGNS = 7


@dataclass(frozen=True, slots=True)
class Key:
    """A key: the tonic's place on the line of fifths and the name of the mode."""

    tonic: int
    mode: str = "major"

    @property
    def signature(self) -> int:
        """The number of sharps (positive) or flats (negative) in the signature."""
        return self.tonic + MODES[self.mode]

    @property
    def scale(self) -> tuple[int, ...]:
        """The seven notes of the key, first degree first, as places."""
        low = MODES[self.mode] - 1
        lined = range(self.tonic + low, self.tonic + low + 7)
        by_step = sorted(lined, key=lambda n: pitch_class_of(n - self.tonic))
        return tuple(by_step)

    def __str__(self) -> str:
        return f"{note_name(self.tonic)} {self.mode}"


def parse_key(text: str) -> Key:
    """The key written as ``Db``, ``Db major``, ``Bbm``, ``F# minor`` or ``D dorian``.

    The sign may also be a word: ``D flat``, ``C sharp minor``.
    Raises ValueError when it is not a key, or has more than seven signs.
    """
    found = _KEY.fullmatch(_SIGN_IN_WORDS.sub(_with_sign, text.strip()))
    if found is None:
        raise ValueError(f'"{text}" is not a key: write one like Db major, Bbm or D dorian')
    word = found[2]
    mode = _MODE_SPELLINGS.get(word) or _MODE_SPELLINGS.get(word.lower())
    if mode is None:
        raise ValueError(
            f'"{word}" is not a mode: major, minor, dorian, phrygian, lydian, mixolydian or locrian'
        )
    key = Key(parse_note(found[1]), mode)
    if abs(key.signature) > _MOST_SIGNS:
        simple = min(spellings(pitch_class_of(key.tonic), mode), key=lambda k: abs(k.signature))
        raise ValueError(f"{key} would need {abs(key.signature)} signs: write {simple}")
    return key


def _with_sign(found: re.Match[str]) -> str:
    return found[1] + ("b" if found[2].lower() == "flat" else "#")


def spellings(pitch_class: int, mode: str) -> tuple[Key, ...]:
    """Every key of that tonic pitch class and mode with at most seven signs, flattest first."""
    offset = MODES[mode]
    tonics = notes_of_pitch_class(pitch_class, -_MOST_SIGNS - offset, _MOST_SIGNS - offset)
    return tuple(Key(tonic, mode) for tonic in tonics)
