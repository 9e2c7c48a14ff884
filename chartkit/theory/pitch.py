"""Sounding pitches with an octave, as a range header names them: ``Ab3-F5``.

Octaves follow scientific pitch notation: C4 is middle C, and the octave number belongs to
the letter (B#3 sounds as C4 does).
"""

import re
from dataclasses import dataclass

from chartkit.theory.note import (
    NOTE_NAME,
    accidentals_of,
    letter_of,
    note_name,
    parse_note,
    typographic_name,
)

_STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
_PITCH = re.compile(rf"({NOTE_NAME.pattern})(-?\d)")


@dataclass(frozen=True, slots=True)
class Pitch:
    """A spelled note in an octave.

    ``note`` is a place on the line of fifths, ``octave`` a scientific octave number.
    """

    note: int
    octave: int

    @property
    def midi(self) -> int:
        """The MIDI note number; middle C is 60."""
        return 12 * (self.octave + 1) + _STEPS[letter_of(self.note)] + accidentals_of(self.note)

    def printed(self) -> str:
        """The pitch for a reader, with a true sign: ``A♭3``."""
        return f"{typographic_name(self.note)}{self.octave}"

    def __str__(self) -> str:
        return f"{note_name(self.note)}{self.octave}"


@dataclass(frozen=True, slots=True)
class PitchRange:
    """The lowest and the highest sung note."""

    lowest: Pitch
    highest: Pitch

    def printed(self) -> str:
        """The range for a reader, with true signs: ``A♭3–F5``."""
        return f"{self.lowest.printed()}–{self.highest.printed()}"

    def __str__(self) -> str:
        return f"{self.lowest}-{self.highest}"


def parse_pitch(text: str) -> Pitch:
    """The pitch written as ``Ab3`` or ``F♯5``.  Raises ValueError for anything else."""
    match = _PITCH.fullmatch(text)
    if match is None:
        raise ValueError(f'"{text}" is not a note with an octave, such as Ab3')
    return Pitch(parse_note(match[1]), int(match[2]))


_TO = re.compile(r"\s*(?:[-–—]|\bto\b)\s*", re.IGNORECASE)
_SPOKEN = re.compile(r"([A-Ga-g])\s?(?:(flat|sharp)|([b#♭♯]{0,2}))\s?(-?\d)", re.IGNORECASE)
_SIGNS = {"flat": "b", "sharp": "#"}


def parse_range(text: str) -> PitchRange:
    """The range written as ``Ab3-F5``, or as it is said: ``A flat 3 to F5``.

    Raises ValueError if a note is misspelt or the first note is above the second.
    """
    low, *rest = _TO.split(text, maxsplit=1)
    if not rest:
        raise ValueError(f'"{text}" is not a range, such as Ab3-F5')
    sung = PitchRange(_named_pitch(low.strip()), _named_pitch(rest[0].strip()))
    if sung.lowest.midi > sung.highest.midi:
        raise ValueError(f"{sung.lowest} is above {sung.highest}: the lowest note comes first")
    return sung


def _named_pitch(text: str) -> Pitch:
    said = _SPOKEN.fullmatch(text)
    if said is None:
        return parse_pitch(text)
    letter, word, signs, octave = said.groups()
    return parse_pitch(f"{letter.upper()}{_SIGNS[word.lower()] if word else signs}{octave}")


def transposed_pitch(pitch: Pitch, interval: int, semitones: int) -> Pitch:
    """The pitch moved by an interval.

    ``interval`` is the interval's place on the line of fifths and ``semitones`` its signed
    size; together they fix the octave.
    """
    note = pitch.note + interval
    size = pitch.midi + semitones - _STEPS[letter_of(note)] - accidentals_of(note)
    return Pitch(note, size // 12 - 1)
