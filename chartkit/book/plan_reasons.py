"""The reasons why a plan plays a song in another way than would be best for it alone."""

from collections.abc import Sequence
from typing import Literal

from chartkit.advise.set_steps import Offer

Reason = Literal["beside", "no pause", "fewer changes"]
"""To keep clear of another guitarist; because songs run straight into one another; or because it
saves changes between songs."""


def reasons(
    chosen: Sequence[Offer | None],
    best: Sequence[Offer | None],
    alone: Sequence[Offer | None],
    unhurried: Sequence[Offer | None],
) -> tuple[Reason | None, ...]:
    """The reason for each song, None where it is played at its best or sat out.

    ``alone`` is what a player takes who keeps clear of nobody, ``unhurried`` what one takes who has
    a pause before every song.  A reason is the constraint without which the song would be played in
    its best place, so each is true by the plan itself.
    """
    return tuple(map(_reason, chosen, best, alone, unhurried))


def _reason(
    chosen: Offer | None, best: Offer | None, alone: Offer | None, unhurried: Offer | None
) -> Reason | None:
    if _same(chosen, best):
        return None
    if not _same(chosen, alone):
        return "beside"
    return "fewer changes" if _same(alone, unhurried) else "no pause"


def _same(one: Offer | None, other: Offer | None) -> bool:
    if one is None or other is None:
        return one is other
    return (one.guitar, one.setup) == (other.guitar, other.setup)
