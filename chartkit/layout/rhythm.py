"""Rhythm inside a bar: the places of slashes and rests, and their note values."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Bar
from chartkit.chart.signs import HOLD, SILENCE, SLASH, Sign, plain_slashes, written_signs

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
    chord is struck again inside a beat.  Rests that fill a beat, or a half of a beat or of such a
    half, are one rest (E. Gould, *Behind Bars*, 2011; from memory).
    """
    drawn: dict[int, Sign] = dict.fromkeys(plain_slashes(bar), SLASH)
    for onset, sign in written_signs(bar).items():
        if sign != HOLD or onset % TICKS_PER_BEAT == 0:
            drawn[onset] = SLASH if sign == HOLD else sign
    kept = {mark.onset for mark in bar.marks if mark.place == "beat"}
    rests = {onset for onset, sign in drawn.items() if sign == SILENCE and onset not in kept}
    begins = sorted({*drawn, *(strike.onset for strike in bar.strikes)})
    for beat in {onset // TICKS_PER_BEAT for onset in rests}:
        start = beat * TICKS_PER_BEAT
        inside = [onset for onset in begins if start <= onset < start + TICKS_PER_BEAT]
        for onset in _joined_rests(inside, rests, start, TICKS_PER_BEAT):
            del drawn[onset]
    return sorted(drawn.items())


def _joined_rests(begins: Sequence[int], rests: set[int], start: int, ticks: int) -> list[int]:
    """The rests of a beat, or of a part of it, that an earlier one lasts through; ``begins`` are
    the onsets in it."""
    if len(begins) < 2:
        return []
    if begins[0] == start and rests.issuperset(begins[1:]) and begins[0] in rests:
        return list(begins[1:])
    if ticks % 2 or any((onset - start) % 3 for onset in begins):
        return []  # Parts in three have no halves.
    middle = start + ticks // 2
    halves = ([at for at in begins if at < middle], [at for at in begins if at >= middle])
    return [
        onset
        for half, at in zip(halves, (start, middle), strict=True)
        for onset in _joined_rests(half, rests, at, ticks // 2)
    ]


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
