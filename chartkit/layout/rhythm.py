"""Rhythm inside a bar: where slashes and rests stand, and what notes these are."""

from fractions import Fraction
from typing import Literal, NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Bar

_QUARTER = Fraction(1, 4)
_MOST_FLAGS = 4
_LONG_RESTS = {Fraction(1): -2, Fraction(1, 2): -1}

Sign = Literal["slash", "mute", "rest"]
"""What stands in a place where no new chord is struck: the chord before struck again, a stroke
on damped strings, silence."""


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
    silent: dict[int, Sign] = dict.fromkeys(bar.silences, "rest")
    silent |= dict.fromkeys(bar.mutes, "mute")
    onsets = [*(strike.onset for strike in bar.strikes), *bar.holds, *bar.slashes, *silent]
    filled = {onset // TICKS_PER_BEAT for onset in onsets}
    beats = range(bar.length // TICKS_PER_BEAT)
    empty = [beat * TICKS_PER_BEAT for beat in beats if beat not in filled]
    held = [onset for onset in bar.holds if onset % TICKS_PER_BEAT == 0]
    signs: dict[int, Sign] = dict.fromkeys((*empty, *held, *bar.slashes), "slash")
    return sorted((signs | silent).items())


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
