"""How chord names are written: letters, German letters or syllables; minor and major seventh.

German usage calls B natural H and B flat B; a sharp adds "is" and a flat "es" or "s": Fis, Es, As.
Its keys are B-Dur and h-Moll.  Syllables are those of the Latin countries.  The
ways to write minor and the major seventh are those of handbooks: "m" and "maj7" on most
charts, "mi" and "MA7" after Brandt & Roemer, *Standardized Chord Symbol Notation* (1976; from
memory), a dash, and in German-speaking countries small letters for minor chords.
"""

import re
from dataclasses import dataclass
from typing import Literal

from chartkit.theory.chord_parts import NamePart, PrintedChord
from chartkit.theory.key import Key
from chartkit.theory.note import accidentals_of, letter_of

NoteStyle = Literal["letters", "german", "syllables"]
MinorStyle = Literal["m", "mi", "-", "small"]
MajorSeventhStyle = Literal["maj", "ma", "MA", "M", "△"]
HalfDiminishedStyle = Literal["m7(b5)", "ø"]
"""How the half-diminished chord is written: as a minor seventh with a flat fifth, or by a sign."""

_SYLLABLES = {"C": "Do", "D": "Re", "E": "Mi", "F": "Fa", "G": "Sol", "A": "La", "B": "Si"}
LETTER_OF = {syllable.lower(): letter for letter, syllable in _SYLLABLES.items()} | {"ré": "D"}
"""The letter of each syllable, in small letters."""


_GERMAN_MODES = {
    "major": "Dur",
    "minor": "Moll",
    "dorian": "Dorisch",
    "phrygian": "Phrygisch",
    "lydian": "Lydisch",
    "mixolydian": "Mixolydisch",
    "locrian": "Lokrisch",
}
MODE_OF = {german.lower(): mode for mode, german in _GERMAN_MODES.items()} | {
    "ionisch": "major",
    "äolisch": "minor",
}
"""The mode that each German name means, in small letters."""
_GERMAN_IRREGULAR = {("E", -1): "Es", ("A", -1): "As", ("A", -2): "Asas", ("B", -1): "B"}


def _german_name(letter: str, alteration: int) -> str:
    """The German name of a note given by its English letter: ``Fis``, ``Es``, ``H``, ``B``."""
    irregular = _GERMAN_IRREGULAR.get((letter, alteration))
    if irregular is not None:
        return irregular
    stem = "H" if letter == "B" else letter
    flats = "s" + "es" * (-alteration - 1) if letter in "AE" else "es" * -alteration
    return stem + ("is" * alteration if alteration >= 0 else flats)


def note_from_german(letter: str, sign: str) -> str:
    """The note that a capital letter with "is", "es", "s" or nothing names in German."""
    if letter == "B" and not sign:
        return "Bb"
    return ("B" if letter == "H" else letter) + ("#" if sign == "is" else "b" if sign else "")


@dataclass(frozen=True, slots=True)
class Naming:
    """A way of writing chord names."""

    notes: NoteStyle = "letters"
    minor: MinorStyle = "m"
    major: MajorSeventhStyle = "maj"
    half_diminished: HalfDiminishedStyle = "m7(b5)"


PLAIN = Naming()


def note_part(part: NamePart, notes: NoteStyle) -> NamePart:
    """A root or bass in that naming; German names include the sharp or flat."""
    if notes == "syllables":
        return part._replace(symbol=_SYLLABLES[part.symbol])
    if notes == "german":
        return NamePart(_german_name(part.symbol, part.alteration), 0)
    return part


def note_words(note: int, naming: Naming = PLAIN) -> str:
    """A note's name in that naming, with a true flat or sharp sign."""
    part = note_part(NamePart(letter_of(note), accidentals_of(note)), naming.notes)
    return part.symbol + ("♯" * part.alteration if part.alteration > 0 else "♭" * -part.alteration)


def in_naming(name: PrintedChord, naming: Naming) -> PrintedChord:
    """The chord's name in that way of writing; degree numbers keep their numbers."""
    if naming == PLAIN:
        return name
    root, bass = name.root, name.bass
    if not name.number:
        root = note_part(root, naming.notes)
        bass = None if bass is None else note_part(bass, naming.notes)
    quality = name.quality
    if naming.half_diminished == "ø":
        quality = _HALF_DIMINISHED.sub(r"ø\1", quality)
    minor = quality.startswith("m") and not quality.startswith("maj")
    if minor and naming.minor == "small" and not name.number:
        root, quality = root._replace(symbol=root.symbol.lower()), quality[1:]
    elif minor and naming.minor != "small":
        quality = naming.minor + quality[1:]
    quality = quality.replace("maj", naming.major)
    return name._replace(root=root, bass=bass, quality=quality)


_HALF_DIMINISHED = re.compile(r"m(7|9|11)\(b5\)")


def key_words(key: Key, naming: Naming = PLAIN) -> str:
    """The key's name in that naming, with a true flat or sharp sign: ``B♭ major``.

    A German name has German words for its mode, ``B-Dur`` and ``h-Moll``, because "B major" would
    invite an English reader to play B natural.
    """
    tonic = note_words(key.tonic, naming)
    if naming.notes == "german":
        tonic = tonic.lower() if key.mode == "minor" else tonic
        return f"{tonic}-{_GERMAN_MODES[key.mode]}"
    return f"{tonic} {key.mode}"


def short_key(key: Key, naming: Naming = PLAIN) -> str:
    """The short name of the key, for tables: ``D♭``, ``Cm``, ``D dor.``; in German ``B-Dur``,
    ``c-Moll``, ``D dor.``"""
    if naming.notes == "german" and key.mode in ("major", "minor"):
        return key_words(key, naming)
    mode = {"major": "", "minor": "m"}.get(key.mode, f" {key.mode[:3]}.")
    return note_words(key.tonic, naming) + mode
