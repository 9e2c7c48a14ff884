"""Rhythm inside a bar: where slashes stand, which places share a beat, what notes these are."""

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, NamedTuple

from chartkit.chart.model import TICKS_PER_BEAT, Bar

if TYPE_CHECKING:
    from chartkit.layout.boxes import Slot

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


def groups_of(slots: Sequence["Slot"], beat: Fraction) -> tuple[Group, ...]:
    """The beats that several places of a bar share, in order; ``beat`` is the value of one as
    part of a whole note."""
    if not any(slot.onset % TICKS_PER_BEAT for slot in slots):
        return ()
    beats: dict[int, list[int]] = {}
    for i, slot in enumerate(slots):
        if slot.sign or slot.strike is not None:
            beats.setdefault(slot.onset // TICKS_PER_BEAT, []).append(i)
    return tuple(
        _group(found, [slots[i] for i in found], (at + 1) * TICKS_PER_BEAT, beat)
        for at, found in beats.items()
        if len(found) > 1
    )


def _group(numbers: list[int], slots: list["Slot"], end: int, beat: Fraction) -> Group:
    onsets = [slot.onset for slot in slots]
    ticks = [after - at for at, after in zip(onsets, [*onsets[1:], end], strict=True)]
    lengths = [beat * Fraction(tick, TICKS_PER_BEAT) for tick in ticks]
    number, share = 0, Fraction(1)
    if beat.numerator == 1 and any(tick % 3 for tick in ticks):
        # A plain beat in three is a triplet, three notes in the time of two; in six, two of them.
        number, share = (6 if any(tick % 4 for tick in ticks) else 3), Fraction(3, 2)
    elif all(tick % 3 == 0 for tick in ticks) and None in map(note_value, lengths):
        # Four in a dotted beat: a quadruplet, in the time of three.
        number, share = 4, Fraction(4, 3)
    values = tuple(note_value(length * share) or NoteValue(0) for length in lengths)
    return Group(tuple(numbers), values, tuple(slot.sign == "rest" for slot in slots), number)
