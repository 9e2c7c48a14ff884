"""The parts of a chord's name, before they are set in type: letters, or degrees of the key.

Degrees are those of the key's own scale: in A minor, C is 3 and F is 6; in A major, C is a flat 3.
Numbering a minor song from its own first degree, rather than from the relative major's, is one of
the two common practices (no source); it keeps a tune's numbers the same whichever mode name the
writer used for its tonic.
"""

from typing import NamedTuple

from chartkit.theory.chord import Chord, quality_text
from chartkit.theory.key import Key
from chartkit.theory.note import accidentals_of, letter_of

_LETTER_ORDER = "CDEFGAB"


class NamePart(NamedTuple):
    """A root or a bass: a letter or a degree number, and its alteration in half steps."""

    symbol: str
    alteration: int


class PrintedChord(NamedTuple):
    """A chord name in parts.

    ``bass_only`` says that only the bass is printed, after its slash.  Degree numbers carry
    their accidental in front, letters after.
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
    return PrintedChord(root, chord.quality.text, bass, bass_only, number=True)


def _degree(note: int, key: Key) -> NamePart:
    number, alteration = scale_degree(note, key)
    return NamePart(str(number), alteration)


def scale_degree(note: int, key: Key) -> tuple[int, int]:
    """The degree number 1 to 7 and its alteration in half steps against the key's scale.

    ``scale_degree(Gb, C major)`` is ``(5, -1)``.  The note counts as it is spelled: B double flat
    is the flat six of D flat major, A its sharp five.
    """
    steps = _LETTER_ORDER.index(letter_of(note)) - _LETTER_ORDER.index(letter_of(key.tonic))
    degree = steps % 7
    in_scale = next(n for n in key.scale if letter_of(n) == letter_of(note))
    return degree + 1, accidentals_of(note) - accidentals_of(in_scale)
