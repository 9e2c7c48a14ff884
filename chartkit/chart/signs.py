"""The signs of a bar whose beats are written, beside its chords and around them."""

from typing import Literal, Protocol

from chartkit.chart.model import TICKS_PER_BEAT, Bar

Sign = Literal["/", "_", "r", "x"]
"""A slash (the chord struck again), a hold, a rest, a muted stroke, as each is typed."""
SLASH: Sign = "/"
HOLD: Sign = "_"
SILENCE: Sign = "r"
MUTE: Sign = "x"


class Articulated(Protocol):
    """How a chord is struck: the flags that a strike carries through every stage."""

    @property
    def pushed(self) -> bool:
        """Whether it is struck early, before its beat."""

    @property
    def stopped(self) -> bool:
        """Whether it is stopped short."""

    @property
    def ringing(self) -> bool:
        """Whether it is left to ring."""

    @property
    def optional(self) -> bool:
        """Whether players may leave it out."""


def as_typed(name: str, strike: Articulated) -> str:
    """A chord's name with the signs typed around it: ``<C!``, ``(C7)``."""
    name = f"({name})" if strike.optional else name
    return "<" * strike.pushed + name + "!" * strike.stopped + "~" * strike.ringing


def written_signs(bar: Bar) -> dict[int, Sign]:
    """The signs that the bar keeps, by their onsets in ticks."""
    signs: dict[int, Sign] = dict.fromkeys(bar.holds, HOLD)
    signs |= dict.fromkeys(bar.slashes, SLASH)
    signs |= dict.fromkeys(bar.silences, SILENCE)
    return signs | dict.fromkeys(bar.mutes, MUTE)


def has_signs(bar: Bar) -> bool:
    """Whether the bar has any sign besides its chords."""
    return bool(bar.holds or bar.slashes or bar.silences or bar.mutes)


def plain_slashes(bar: Bar) -> list[int]:
    """The onsets of slashes that need not be stored: beats with nothing else in them."""
    onsets = (*(strike.onset for strike in bar.strikes), *written_signs(bar))
    filled = {onset // TICKS_PER_BEAT for onset in onsets}
    beats = range(bar.length // TICKS_PER_BEAT)
    return [beat * TICKS_PER_BEAT for beat in beats if beat not in filled]
