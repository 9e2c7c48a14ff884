"""A night as the planner sees it: the offers of each song, the steps taken, their cost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from chartkit.advise.stage import (
    Rig,
    StageCosts,
    Standing,
    change_cost,
    change_seconds,
    rig_after,
)
from chartkit.fretboard.retuning import Retuned
from chartkit.theory.capo import Capo

_NO_TIME = 1e-6
"""How long a song of no length is sat out: a broken chart's, of which nothing is known."""


class Offer(NamedTuple):
    """A way to play a song: on which guitar, with which option, and what the score lacks.

    ``charted`` says that a short capo is the chart's own and not the player's wish.  ``moves`` are
    the capos that it is moved to inside the song, in order; ``retuned`` is the chart's tuning,
    where the song is played in that rather than in the guitar's own.
    """

    guitar: int
    option: Capo
    lack: float
    moves: tuple[Capo, ...] = ()
    retuned: Retuned | None = None
    charted: bool = True

    @property
    def way(self) -> "Way":
        """How the song is played, on whichever guitar."""
        return Way((self.option, *self.moves), self.retuned)

    @property
    def as_written(self) -> bool:
        """Whether this is how the chart has it: with moves of the capo inside, or a short one."""
        return bool(self.moves or (self.option.strings and self.charted))

    @property
    def before(self) -> Standing:
        """How the guitar stands when the song begins."""
        return Standing.of(self.option, self.retuned)

    @property
    def after(self) -> Standing:
        """How the guitar stands when the song is over."""
        return Standing.of(self.way.capos[-1], self.retuned)


class Step(NamedTuple):
    """What a player does for a song: the offer taken and the seconds of the change before."""

    offer: Offer
    seconds: float


@dataclass(frozen=True, slots=True)
class Guitarist:
    """One player as the planner sees them.

    ``strings`` and ``start`` have one entry a guitar; ``offers`` one a song, empty where the
    player sits the song out.
    """

    strings: tuple[int, ...]
    start: tuple[Standing, ...]
    offers: tuple[tuple[Offer, ...], ...]


class Way(NamedTuple):
    """How a song is played: the capo at the start and after each move inside the song, and the
    chart's tuning, where the guitar is retuned for it."""

    capos: tuple[Capo, ...]
    retuned: Retuned | None = None


Pairing = tuple[int, Way, int, Way]
"""A guitar of one player and a way to play the song on it, then those of another."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What it costs, in the adviser's score, that two players fill the same room.

    ``first`` and ``second`` count the players; ``costs`` has one table a song, by pairing; what
    is not in it costs nothing.
    """

    first: int
    second: int
    costs: tuple[Mapping[Pairing, float], ...]

    def cost(self, song: int, one: Offer | None, other: Offer | None) -> float:
        """What the two offers cost together in a song; nothing where one of them rests."""
        if one is None or other is None:
            return 0.0
        pairing = (one.guitar, one.way, other.guitar, other.way)
        return self.costs[song].get(pairing, 0.0)

    def ordered(self, order: Sequence[int]) -> "Beside":
        """The same for the songs in another order."""
        return replace(self, costs=tuple(self.costs[song] for song in order))


@dataclass(frozen=True, slots=True)
class PlannedSong:
    """A song in a set: how long it lasts, and whether it goes straight into the next."""

    seconds: float = 0.0
    straight: bool = False


def walked(
    guitarist: Guitarist,
    taken: tuple[Offer | None, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> tuple[Step | None, ...]:
    """The steps of offers chosen by somebody else, with the seconds their changes take."""
    rig, steps = Rig(None, guitarist.start), list[Step | None]()
    for song, offer in enumerate(taken):
        if offer is None:
            rig = rested(rig, songs[song])
            steps.append(None)
            continue
        seconds = change_seconds(rig, offer.guitar, offer.before, guitarist.strings, costs)
        rig = rig_after(rig, offer.guitar, offer.after, costs)
        steps.append(Step(offer, seconds))
    return tuple(steps)


def steps_cost(
    steps: tuple[Step | None, ...], songs: tuple[PlannedSong, ...], costs: StageCosts
) -> float:
    """What the steps cost altogether: what the options lack, and the worth of the seconds."""
    total = 0.0
    for song, step in enumerate(steps):
        if step is not None:
            straight = is_straight(songs, song) and steps[song - 1] is not None
            total += step.offer.lack + change_cost(step.seconds, straight, costs)
    return total


def is_straight(songs: tuple[PlannedSong, ...], song: int) -> bool:
    """Whether the song before goes straight into this one."""
    return song > 0 and songs[song - 1].straight


def rested(rig: Rig, song: PlannedSong) -> Rig:
    """The player's guitars after a song sat out; more than no time, so that the rest shows."""
    return replace(rig, rested_seconds=rig.rested_seconds + (song.seconds or _NO_TIME))
