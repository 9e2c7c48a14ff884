"""Chords: a root, a quality and perhaps a bass, and how they move."""

from dataclasses import dataclass, replace

from chartkit.theory.note import (
    accidentals_of,
    note_name,
    pitch_class_of,
    without_double_accidental,
)
from chartkit.theory.quality import Quality


@dataclass(frozen=True, slots=True)
class Chord:
    """A chord.  ``root`` and ``bass`` are places on the line of fifths; no bass is None."""

    root: int
    quality: Quality
    bass: int | None = None

    @property
    def tones(self) -> tuple[int, ...]:
        """The spelled chord tones as places, root first, the bass left out."""
        return tuple(self.root + place for place in self.quality.places)

    @property
    def pitch_classes(self) -> frozenset[int]:
        """The sounding pitch classes of tones and bass."""
        bass = () if self.bass is None else (self.bass,)
        return frozenset(pitch_class_of(n) for n in (*self.tones, *bass))

    def __str__(self) -> str:
        bass = "" if self.bass is None else f"/{note_name(self.bass)}"
        return f"{note_name(self.root)}{quality_text(self)}{bass}"


_DOUBLE_FLAT = -2
_POWER = "5"


def quality_text(chord: Chord) -> str:
    """The quality as it is printed after the chord's root.

    "Ebb5" names E flat with a flat fifth, so a power chord on a double flat is ``Ebb(no3)``.
    """
    text = chord.quality.text
    if text.startswith(_POWER) and accidentals_of(chord.root) == _DOUBLE_FLAT:
        return "(no3)" + text.removeprefix(_POWER)
    return text


def moved_chord(chord: Chord, interval: int) -> Chord:
    """The chord moved by an interval (a place on the line of fifths), spelled exactly.

    Moving there and back restores the chord letter for letter; use ``simple_chord`` for
    what is printed.
    """
    if interval == 0:
        return chord
    bass = None if chord.bass is None else chord.bass + interval
    return replace(chord, root=chord.root + interval, bass=bass)


def simple_chord(chord: Chord) -> Chord:
    """The chord with double accidentals folded away, as transcribers print it.

    When the root folds, the bass folds with it (B double flat over F flat is A over E), so
    the two stay in one spelling; a bass that is double on its own folds alone.
    """
    root, bass = without_double_accidental(chord.root), chord.bass
    if bass is not None:
        bass = without_double_accidental(bass + root - chord.root)
    if root == chord.root and bass == chord.bass:
        return chord
    return replace(chord, root=root, bass=bass)


_PLAIN = {-8: 4, -7: 5, 11: -1, 12: 0}
"""F flat, C flat, E sharp and B sharp as places, and their plainer names: E, B, F, C."""


def with_plain_root(chord: Chord) -> Chord:
    """The chord with a root of F flat, C flat, E sharp or B sharp under its plainer name."""
    root = _PLAIN.get(chord.root, chord.root)
    bass = None if chord.bass is None else chord.bass + root - chord.root
    return simple_chord(replace(chord, root=root, bass=bass))


def accidental_count(chord: Chord) -> int:
    """How many sharps and flats the root and the bass carry together; doubles count twice."""
    bass = 0 if chord.bass is None else abs(accidentals_of(chord.bass))
    return abs(accidentals_of(chord.root)) + bass
