"""Rhythm inside a bar: the places of slashes and rests, and their note values."""

from fractions import Fraction
from typing import NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Bar
from chartkit.chart.signs import HOLD, SLASH, Sign, plain_slashes, written_signs

_QUARTER = Fraction(1, 4)
_MOST_FLAGS = 4
_LONG_RESTS = {Fraction(1): -2, Fraction(1, 2): -1}


class NoteValue(NamedTuple):
    """How a note or rest is drawn: flags or beams, a dot or none.  A half rest has -1 flags, a
    whole one -2."""

    flags: int
    dotted: bool = False


class Group(NamedTuple):
    """Places of one bar that share a beat.

    ``slots`` are their numbers, ``values`` their notes and rests, ``rests`` says which are the
    latter; ``tuplet`` is the number over them, 0 where they divide the beat as its notes do.
    """

    slots: tuple[int, ...]
    values: tuple[NoteValue, ...]
    rests: tuple[bool, ...]
    tuplet: int = 0

    @property
    def beamed(self) -> bool:
        """Whether one beam can run over them all."""
        return len(self.slots) > 1 and all(
            value.flags and not rest for value, rest in zip(self.values, self.rests, strict=True)
        )


def signs_of(bar: Bar) -> list[tuple[int, Sign]]:
    """The signs in a bar whose beats are written, by their onsets.

    Slashes stand on beats with nothing else in them, on holds that begin a beat, and where a
    chord is struck again inside a beat.
    """
    drawn: dict[int, Sign] = dict.fromkeys(plain_slashes(bar), SLASH)
    for onset, sign in written_signs(bar).items():
        if sign != HOLD or onset % TICKS_PER_BEAT == 0:
            drawn[onset] = SLASH if sign == HOLD else sign
    return sorted(drawn.items())


def note_value(length: Fraction) -> NoteValue | None:
    """The note of a length that is part of a whole note; None where no single note has it."""
    for flags in range(_MOST_FLAGS):
        plain = _QUARTER / 2**flags
        if length in (plain, plain * Fraction(3, 2)):
            return NoteValue(flags, length != plain)
    return None


def rest_value(length: Fraction) -> NoteValue | None:
    """The rest of a length that is part of a whole note; None where no single rest has it."""
    for plain, flags in _LONG_RESTS.items():
        if length in (plain, plain * Fraction(3, 2)):
            return NoteValue(flags, length != plain)
    return note_value(length)
