"""The parts of a chord's name, before they are set in type."""

from typing import NamedTuple

from chartkit.theory.chord import Chord, quality_text
from chartkit.theory.key import Key
from chartkit.theory.note import accidentals_of, letter_of
from chartkit.theory.scale_degree import scale_degree


class NamePart(NamedTuple):
    """A root or a bass: a letter or a degree number, and its alteration in half steps."""

    symbol: str
    alteration: int


class PrintedChord(NamedTuple):
    """A chord name in parts.

    ``bass_only`` says that only the bass is printed, after its slash.  Degree numbers carry
    their accidental in front, letters behind.
    """

    root: NamePart
    quality: str
    bass: NamePart | None = None
    bass_only: bool = False
    number: bool = False

    def plain(self) -> str:
        """The name in plain text with ♭ and ♯, as a search in the PDF would find it."""
        bass = "" if self.bass is None else f"/{self._part(self.bass)}"
        quality = self.quality.replace("b", "♭").replace("#", "♯")
        return bass if self.bass_only else self._part(self.root) + quality + bass

    def _part(self, part: NamePart) -> str:
        sign = "♯" * part.alteration if part.alteration > 0 else "♭" * -part.alteration
        return sign + part.symbol if self.number else part.symbol + sign


def _letter(note: int) -> NamePart:
    return NamePart(letter_of(note), accidentals_of(note))


def letter_name(chord: Chord, bass_only: bool = False) -> PrintedChord:
    """The chord by its letters, as spelled. Callers fold double accidentals first if they want
    to."""
    bass = None if chord.bass is None else _letter(chord.bass)
    return PrintedChord(_letter(chord.root), quality_text(chord), bass, bass_only)


def number_name(chord: Chord, key: Key, bass_only: bool = False) -> PrintedChord:
    """The chord by its scale degree in the key."""
    root = _degree(chord.root, key)
    bass = None if chord.bass is None else _degree(chord.bass, key)
    return PrintedChord(root, chord.quality.text, bass, bass_only, True)


def _degree(note: int, key: Key) -> NamePart:
    number, alteration = scale_degree(note, key)
    return NamePart(str(number), alteration)
