"""The tempo as a page says it: the note that is a beat, and how many of them a minute has.

The beat of 4/4 is a quarter note, of 6/8 a dotted quarter, of 2/2 a half note (common practice).
"""

from fractions import Fraction

_HALF, _WHOLE = "\U0001d157\U0001d165", "\U0001d15d"
"""A half note as Unicode takes it apart: a hollow head and a stem; and a whole note."""
_BEATS = {
    Fraction(1, 4): "♩",
    Fraction(3, 8): "♩.",
    Fraction(1, 8): "♪",
    Fraction(3, 16): "♪.",
    Fraction(1, 2): _HALF,
    Fraction(3, 4): f"{_HALF}.",
    Fraction(1, 1): _WHOLE,
    Fraction(1, 16): "sixteenth",
}
"""Beats as signs, in words where the fonts have no sign."""


def tempo_words(tempo: str | int, beat: Fraction) -> str:
    """``♩ = 92``, ``sixteenth = 66``."""
    return f"{_BEATS.get(beat, f'{beat} note')} = {tempo}"
