"""Keys: a tonic and a mode, their signatures and their names.

A key's signature is its tonic's place on the line of fifths plus the mode's offset:
D dorian is 2 - 2 = 0 signs, as C major is.  Only keys with at most seven signs are keys
here, which gives 15 major and 15 minor ones.
"""

import re
from dataclasses import dataclass

from chartkit.phrases import listed, nearest
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
"""The signs each mode adds to its tonic's place."""

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
_NAMED_MODES = (*MODES, "ionian", "aeolian")
_SHORTEST_MODE = 3


class UnknownMode(ValueError):
    """A key whose mode is unknown: ``word`` as written, ``suggestion`` the likely mode or empty."""

    def __init__(self, word: str, suggestion: str) -> None:
        super().__init__(f'"{word}" is not a mode: {listed(_NAMED_MODES, "or")}')
        self.word = word
        self.suggestion = suggestion


def _mode_meant(word: str) -> str:
    """The mode that a word begins, or that is closest to it; empty where none is."""
    lowered = word.lower()
    begun = [mode for mode in _NAMED_MODES if mode.startswith(lowered)]
    if len(lowered) >= _SHORTEST_MODE and len(begun) == 1:
        return begun[0]
    return nearest(lowered, _NAMED_MODES, 0.7)


_SIGN_IN_WORDS = re.compile(r"([A-G])[\s-]*(flat|sharp)(?![A-Za-z])", re.IGNORECASE)
_KEY = re.compile(rf"({NOTE_NAME.pattern})\s*([A-Za-z]*)")
MOST_SIGNS = 7
"""The most sharps or flats of a key signature (common practice)."""


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
    match = _KEY.fullmatch(_SIGN_IN_WORDS.sub(_with_sign, text.strip()))
    if match is None:
        raise ValueError(f'"{text}" is not a key: write one like Db major, Bbm or D dorian')
    word = match[2]
    mode = _MODE_SPELLINGS.get(word) or _MODE_SPELLINGS.get(word.lower())
    if mode is None:
        raise UnknownMode(word, _mode_meant(word))
    key = Key(parse_note(match[1]), mode)
    if abs(key.signature) > MOST_SIGNS:
        simple = simplest_spelling(key)
        raise ValueError(f"{key} would need {abs(key.signature)} signs: write {simple}")
    return key


def _with_sign(match: re.Match[str]) -> str:
    return match[1] + ("b" if match[2].lower() == "flat" else "#")


def simplest_spelling(key: Key) -> Key:
    """The key of the same tonic and mode with the fewest signs, the flattest of two."""
    named = spellings(pitch_class_of(key.tonic), key.mode)
    return min(named, key=lambda key: abs(key.signature))


def spellings(pitch_class: int, mode: str) -> tuple[Key, ...]:
    """Every key of that tonic pitch class and mode with at most seven signs, flattest first."""
    offset = MODES[mode]
    tonics = notes_of_pitch_class(pitch_class, -MOST_SIGNS - offset, MOST_SIGNS - offset)
    return tuple(Key(tonic, mode) for tonic in tonics)
