"""Tokens between two bar lines to beats: a group of what is played in each, empty where a
chord goes on."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike
from chartkit.interchange.sheet.token import HOLD, SLASH, STRUCK, Played, Token

Group = tuple[Played, ...]
MOST_IN_A_BEAT = 4
"""How many chords may share one beat, as in the chart language."""


@dataclass(frozen=True, slots=True)
class Slot:
    """What takes up time in a bar: what is played, which token it is among those of the bar,
    and whether a comma after it joins it to the next."""

    played: Group
    at: int
    joins: bool = False

    @property
    def held(self) -> bool:
        """Whether it is a lone ``_``, which may be a mere filler."""
        return self.played == (HOLD,)


def slots_of(tokens: Sequence[Token]) -> list[Slot]:
    """The tokens that take a beat or strike a chord; ``///`` takes three."""
    found: list[Slot] = []
    for at, token in enumerate(tokens):
        if token.kind in (*STRUCK, "hold"):
            found.append(Slot(token.played, at, token.text.endswith(",")))
        elif token.kind == "beat":
            found += [Slot((), at)] * len(token.text)
    return found


def fitted(slots: Sequence[Slot], beats: int) -> list[Slot]:
    """The slots read so that they are one for each beat, where they can be: those that a comma
    ends joined to the next, a lone hold a beat or a filler.  Else without lone holds."""
    struck = [slot for slot in slots if not slot.held]
    for some in (joined_by_commas(slots), slots, joined_by_commas(struck)):
        if len(some) == beats and not crowded(some):
            return list(some)
    return struck


def joined_by_commas(slots: Sequence[Slot]) -> list[Slot]:
    """The slots with those that end in a comma joined to the next, as one beat."""
    found: list[Slot] = []
    for slot in slots:
        before = found[-1] if found else None
        if before is not None and before.joins and slot.played:
            found[-1] = replace(before, played=before.played + slot.played, joins=slot.joins)
        else:
            found.append(slot)
    return found


def crowded(slots: Sequence[Slot]) -> bool:
    """Whether a beat has more in it than can be written."""
    return any(len(slot.played) > MOST_IN_A_BEAT for slot in slots)


def shared(chords: Sequence[Played], beats: int) -> list[Group]:
    """Groups of chords, one for each beat, empty where a chord goes on."""
    if len(chords) > beats:
        size, more = divmod(len(chords), beats)
        sizes = [size + (i < more) for i in range(beats)]
        starts = [sum(sizes[:i]) for i in range(beats)]
        return [tuple(chords[a : a + n]) for a, n in zip(starts, sizes, strict=True)]
    size, more = divmod(beats, len(chords))
    return [
        group for i, one in enumerate(chords) for group in ((one,), *[()] * (size + (i < more) - 1))
    ]


def with_nothing_held(groups: Sequence[Group]) -> list[Group]:
    """The groups with slashes for the holds before the first chord, for a place in the song
    where there is nothing yet to hold."""
    found: list[Group] = []
    struck = False
    for group in groups:
        parts = []
        for part in group:
            struck = struck or not part.sign
            parts.append(SLASH if part == HOLD and not struck else part)
        found.append(() if parts == [SLASH] else tuple(parts))
    return found


def on_beats(groups: Sequence[Group], written: bool = True, pickup: bool = False) -> Bar:
    """A bar of groups, one for each beat, with empty strikes to be filled in."""
    parts = [
        (i * TICKS_PER_BEAT + k * TICKS_PER_BEAT // len(group), part.sign, len(group) > 1)
        for i, group in enumerate(groups)
        for k, part in enumerate(group)
    ]
    onsets = [onset for onset, sign, _ in parts if not sign]
    length = len(groups) * TICKS_PER_BEAT
    strikes = tuple(
        Strike(None, at, following - at)
        for at, following in zip(onsets, [*onsets[1:], length], strict=False)
    )
    holds = tuple(onset for onset, sign, _ in parts if sign == "_")
    slashes = tuple(onset for onset, sign, split in parts if sign == "/" and split)
    silences = tuple(onset for onset, sign, _ in parts if sign == "r")
    mutes = tuple(onset for onset, sign, _ in parts if sign == "x")
    return Bar(
        strikes, length, written, 0, pickup, holds=holds, slashes=slashes, silences=silences,
        mutes=mutes,
    )  # fmt: skip
