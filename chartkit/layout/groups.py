"""Groups the places of a bar that share a beat, with the notes they stand for."""

from collections.abc import Sequence
from fractions import Fraction

from chartkit.chart.model import TICKS_PER_BEAT
from chartkit.chart.signs import MUTE, SILENCE
from chartkit.layout.boxes import Slot
from chartkit.layout.rhythm import Group, NoteValue, note_value


def groups_of(slots: Sequence[Slot], beat: Fraction) -> tuple[Group, ...]:
    """The beats of a bar in which any beat is exact, in order: where one is split, tied, muted or a
    rest, every note of the bar has its stem; slashes without stems leave the rhythm to the player
    (G. Read, *Music Notation*, 1969; E. Gould, *Behind Bars*, 2011; from memory).  ``beat`` is the
    value of one as part of a whole note; a beat that one rest fills is no group."""
    if not any(map(_is_exact, slots)):
        return ()
    beats: dict[int, list[int]] = {}
    for i, slot in enumerate(slots):
        if slot.sign or slot.strike is not None:
            beats.setdefault(slot.onset // TICKS_PER_BEAT, []).append(i)
    return tuple(
        _group(members, [slots[i] for i in members], (at + 1) * TICKS_PER_BEAT, beat)
        for at, members in beats.items()
        if len(members) > 1 or slots[members[0]].sign != SILENCE
    )


def _is_exact(slot: Slot) -> bool:
    """Whether a place of a bar says more than that a beat is played."""
    return bool(slot.onset % TICKS_PER_BEAT) or slot.held or slot.sign in (SILENCE, MUTE)


def _group(numbers: list[int], slots: list[Slot], end: int, beat: Fraction) -> Group:
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
    return Group(tuple(numbers), values, tuple(slot.sign == SILENCE for slot in slots), number)
