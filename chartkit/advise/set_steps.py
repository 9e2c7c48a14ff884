"""The planner's values: the offers of each song, the steps taken, their cost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from chartkit.advise.stage import (
    GuitarSetup,
    Rig,
    StageCosts,
    change_cost,
    change_seconds,
    rig_after,
)
from chartkit.fretboard.retuning import SongTuning
from chartkit.theory.capo import Capo

_NO_TIME = 1e-6
"""The assumed length of a song without one, such as a broken chart's, for players who sit it
out."""


class Offer(NamedTuple):
    """A way to play a song: the guitar, the option, and its score below the best.

    ``charted`` says that a short capo is the chart's own and not the player's wish.  ``moves`` are
    the capos that it is moved to inside the song, in order; ``song_tuning`` is the chart's tuning,
    where the song is played in that rather than in the guitar's own.  ``open_share`` is the share
    of the song's time on open shapes, 0 to 1, None where that is not known.
    """

    guitar: int
    option: Capo
    score_gap: float
    moves: tuple[Capo, ...] = ()
    song_tuning: SongTuning | None = None
    charted: bool = True
    open_share: float | None = None

    @property
    def setup(self) -> "SongSetup":
        """How the song is played, on any guitar."""
        return SongSetup((self.option, *self.moves), self.song_tuning)

    @property
    def as_written(self) -> bool:
        """Whether these are the chart's own capos: moves inside the song, or a short one."""
        return bool(self.moves or (self.option.strings and self.charted))

    @property
    def before(self) -> GuitarSetup:
        """The state of the guitar when the song begins."""
        return GuitarSetup.of(self.option, self.song_tuning)

    @property
    def after(self) -> GuitarSetup:
        """The state of the guitar when the song is over."""
        return GuitarSetup.of(self.setup.capos[-1], self.song_tuning)


class SetStep(NamedTuple):
    """A player's step for a song: the offer taken and the seconds of the change before it."""

    offer: Offer
    seconds: float


SetSteps = Sequence[SetStep | None]
"""A player's steps, None for a song that the player sits out."""


@dataclass(frozen=True, slots=True)
class Guitarist:
    """One player's data for the planner.

    ``strings`` and ``start`` have one entry for each guitar; ``offers`` one a song, empty where the
    player sits the song out.
    """

    strings: tuple[int, ...]
    start: tuple[GuitarSetup, ...]
    offers: tuple[tuple[Offer, ...], ...]


class SongSetup(NamedTuple):
    """How a song is played: the capo at the start and after each move inside the song, and the
    chart's tuning, where the guitar is retuned for it."""

    capos: tuple[Capo, ...]
    song_tuning: SongTuning | None = None


Pairing = tuple[int, SongSetup, int, SongSetup]
"""A guitar of one player and a way to play the song on it, then those of another."""


@dataclass(frozen=True, slots=True)
class OverlapCosts:
    """The cost, in the adviser's score, of two players filling the same register.

    ``first`` and ``second`` count the players; ``costs`` has one table a song, by pairing; what
    is not in it costs nothing.
    """

    first: int
    second: int
    costs: tuple[Mapping[Pairing, float], ...]

    def cost(self, song: int, one: Offer | None, other: Offer | None) -> float:
        """The cost of two offers together in a song; nothing if one of the players rests."""
        if one is None or other is None:
            return 0.0
        pairing = (one.guitar, one.setup, other.guitar, other.setup)
        return self.costs[song].get(pairing, 0.0)

    def ordered(self, order: Sequence[int]) -> "OverlapCosts":
        """A copy for the songs in another order."""
        return replace(self, costs=tuple(self.costs[song] for song in order))


@dataclass(frozen=True, slots=True)
class PlannedSong:
    """A song in a set: how long it lasts, and whether it goes straight into the next."""

    seconds: float = 0.0
    straight: bool = False


def steps_for_offers(
    guitarist: Guitarist,
    chosen: tuple[Offer | None, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> tuple[SetStep | None, ...]:
    """The steps of offers chosen by somebody else, with the seconds their changes take."""
    rig, steps = Rig(None, guitarist.start), list[SetStep | None]()
    for song, offer in enumerate(chosen):
        if offer is None:
            rig = rig_after_rest(rig, songs[song])
            steps.append(None)
            continue
        seconds = change_seconds(rig, offer.guitar, offer.before, guitarist.strings, costs)
        rig = rig_after(rig, offer.guitar, offer.after, costs)
        steps.append(SetStep(offer, seconds))
    return tuple(steps)


def steps_cost(
    steps: tuple[SetStep | None, ...], songs: tuple[PlannedSong, ...], costs: StageCosts
) -> float:
    """The total cost of the steps: the options' scores below the best, and the worth of the
    seconds."""
    total = 0.0
    for song, step in enumerate(steps):
        if step is not None:
            straight = is_straight(songs, song) and steps[song - 1] is not None
            total += step.offer.score_gap + change_cost(step.seconds, straight, costs)
    return total


def is_straight(songs: tuple[PlannedSong, ...], song: int) -> bool:
    """Whether the song before goes straight into this one."""
    return song > 0 and songs[song - 1].straight


def rig_after_rest(rig: Rig, song: PlannedSong) -> Rig:
    """The player's guitars after a song sat out; it takes more than no time, so that the rest
    shows."""
    return replace(rig, rested_seconds=rig.rested_seconds + (song.seconds or _NO_TIME))
