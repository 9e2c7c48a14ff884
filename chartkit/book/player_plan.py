"""One player's night, planned beside the plans of those the player keeps clear of, which stay."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import repeat
from typing import NamedTuple

from chartkit.advise.set_plan import cheapest_steps
from chartkit.advise.set_steps import (
    Guitarist,
    Offer,
    Pairing,
    PlannedSong,
    SetStep,
    SongSetup,
    is_straight,
    steps_cost,
    steps_for_offers,
)
from chartkit.advise.stage import StageCosts
from chartkit.book.offers import OVERLAP_COST, first_choice
from chartkit.book.plan_reasons import Reason, reasons
from chartkit.book.set_list import Player
from chartkit.theory.capo import NO_CAPO


@dataclass(frozen=True, slots=True)
class Changes:
    """A player's changes between songs over a night: how often each, and the time.

    ``score_gap`` is how far the chosen options lie below the best in the adviser's score.
    ``without_pause`` counts songs that run straight on from the one before and still ask for a
    change.
    """

    capo_moves: int
    retunes: int
    swaps: int
    seconds: float
    score_gap: float
    without_pause: int = 0


@dataclass(frozen=True, slots=True)
class GuitarNeighbour:
    """A guitarist, by name, whom another keeps clear of.

    ``shared`` is for each song how much of the same room both fill, 0 to 1, None where one of them
    rests; ``same_place`` has the places in the order where both play the same shapes at the same
    capo.
    """

    name: str
    shared: tuple[float | None, ...]
    same_place: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PlayerPlan:
    """One player's night in playing order: a step a song, None where it is sat out.

    ``best`` has the best choice for each song by itself, and ``one_by_one`` is the night played
    like that.
    ``reasons`` say for each song why it is played otherwise.
    ``neighbours`` are the guitarists whom the player keeps clear of.
    """

    player: Player
    steps: tuple[SetStep | None, ...]
    changes: Changes
    best: tuple[Offer | None, ...]
    one_by_one: Changes
    reasons: tuple[Reason | None, ...] = ()
    neighbours: tuple[GuitarNeighbour, ...] = ()

    @property
    def sets_up(self) -> bool:
        """Whether the player has anything to set up in a night: not who plays one ukulele without
        a capo."""
        ways = {step.offer.setup for step in self.steps if step is not None}
        several = len(self.player.guitars) > 1 or self.player.highest_capo > 0
        return several or ways != {SongSetup((NO_CAPO,))}


class Rehearsed(NamedTuple):
    """A player's plan for a song before another song was moved, with the reason."""

    offer: Offer
    reason: Reason | None


RehearsedSongs = tuple[Mapping[str, Rehearsed], ...]
"""For each song of the file what each player keeps; empty for a song that is planned anew."""


OverlapTables = dict[tuple[str, str], tuple[dict[Pairing, float], ...]]
"""Of each player who keeps clear of another, both by name: what the options of the two cost
together, that player's last, song by song."""
KeepingClear = Sequence[tuple[Player, tuple[Player, ...]]]
"""Players with those they keep clear of, as ``leaders_first`` gives them."""


ChosenOffers = tuple[Offer | None, ...]
"""The offer that a player takes for each song; None if it is sat out."""


@dataclass(frozen=True, slots=True)
class OrderedNight:
    """The songs in playing order, what changes cost, every guitarist's offers, the tables of
    overlap of those who keep clear of another, and what stays as it was rehearsed."""

    songs: tuple[PlannedSong, ...]
    costs: StageCosts
    guitarists: dict[str, Guitarist]
    overlaps: OverlapTables
    rehearsed: RehearsedSongs

    def ordered(self, order: Sequence[int]) -> "OrderedNight":
        """A copy of the night with its songs in another order."""
        return replace(
            self,
            songs=tuple(self.songs[i] for i in order),
            guitarists={
                name: replace(guitarist, offers=tuple(guitarist.offers[i] for i in order))
                for name, guitarist in self.guitarists.items()
            },
            overlaps={
                pair: tuple(table[i] for i in order) for pair, table in self.overlaps.items()
            },
            rehearsed=tuple(self.rehearsed[i] for i in order),
        )

    def cost(self, minded: KeepingClear) -> float:
        """The cost of the night for these players, planned one after the other, in units of the
        adviser's score: their score gaps, the price of the seconds, and the register they share."""
        total, taken = 0.0, dict[str, ChosenOffers]()
        for player, others in minded:
            own = self._priced(player.name, {other.name: taken[other.name] for other in others})
            steps = cheapest_steps(own, self.songs, self.costs.weighed)
            total += steps_cost(steps, self.songs, self.costs.weighed)
            taken[player.name] = _taken(steps)
        return total

    def plan(self, player: Player, others: Sequence[PlayerPlan]) -> PlayerPlan:
        """A player's plan, beside the plans of the others, which stay."""
        own = self._free(player.name)
        best = tuple(map(first_choice, self.guitarists[player.name].offers, repeat(own.start)))
        alone, unhurried = self._alone(own, self.songs), self._alone(own, _with_pauses(self.songs))
        theirs = {one.player.name: _taken(one.steps) for one in others}
        taken = self._beside(player.name, theirs) if theirs else alone
        steps = steps_for_offers(own, taken, self.songs, self.costs)
        return PlayerPlan(
            player=player,
            steps=steps,
            changes=self._counted(steps, own),
            best=best,
            one_by_one=self._counted(steps_for_offers(own, best, self.songs, self.costs), own),
            reasons=tuple(
                reason if kept is None else kept.reason
                for reason, kept in zip(
                    reasons(taken, best, alone, unhurried),
                    (song.get(player.name) for song in self.rehearsed),
                    strict=True,
                )
            ),
            neighbours=tuple(
                self._company(player.name, taken, other, their) for other, their in theirs.items()
            ),
        )

    def _free(self, name: str) -> Guitarist:
        """The guitarist with the remaining choices: a rehearsed song has only its own."""
        own = self.guitarists[name]
        offers = (
            (song[name].offer,) if name in song and every else every
            for every, song in zip(own.offers, self.rehearsed, strict=True)
        )
        return replace(own, offers=tuple(offers))

    def _alone(self, own: Guitarist, songs: tuple[PlannedSong, ...]) -> ChosenOffers:
        """The best plan for a player who keeps clear of nobody."""
        return _taken(cheapest_steps(own, songs, self.costs.weighed))

    def _beside(self, name: str, theirs: Mapping[str, ChosenOffers]) -> ChosenOffers:
        """The best plan for a player beside the plans of others, which stay."""
        priced = self._priced(name, theirs)
        own = [{(one.guitar, one.setup): one for one in song} for song in self._free(name).offers]
        return tuple(
            offer and at_hand[offer.guitar, offer.setup]
            for offer, at_hand in zip(self._alone(priced, self.songs), own, strict=True)
        )

    def _priced(self, name: str, theirs: Mapping[str, ChosenOffers]) -> Guitarist:
        """A guitarist whose offers also cost what they share with the others' choices. The others'
        plans do not change, so that cost is known."""
        own = self._free(name)
        offers = tuple(
            tuple(
                offer._replace(
                    score_gap=offer.score_gap
                    + sum(
                        self._room(name, other, song, their[song], offer)
                        for other, their in theirs.items()
                    )
                )
                for offer in every
            )
            for song, every in enumerate(own.offers)
        )
        return replace(own, offers=offers)

    def _room(self, name: str, other: str, song: int, their: Offer | None, own: Offer) -> float:
        """The cost of a player's offer beside another player's choice."""
        if their is None:
            return 0.0
        pairing = (their.guitar, their.setup, own.guitar, own.setup)
        return self.overlaps[name, other][song].get(pairing, 0.0)

    def _company(
        self, name: str, taken: ChosenOffers, other: str, theirs: ChosenOffers
    ) -> GuitarNeighbour:
        """What a player shares with another, whose plan stays."""
        both = tuple(enumerate(zip(theirs, taken, strict=True)))
        return GuitarNeighbour(
            other,
            tuple(
                None
                if their is None or own is None
                else self._room(name, other, song, their, own) / OVERLAP_COST
                for song, (their, own) in both
            ),
            tuple(
                song
                for song, (their, own) in both
                if their is not None and own is not None and their.setup == own.setup
            ),
        )

    def _counted(self, steps: tuple[SetStep | None, ...], own: Guitarist) -> Changes:
        """The number of changes of each kind in a night, and the time they take."""
        setups = list(own.start)
        moves = retunes = swaps = 0
        hand: int | None = None
        for step in filter(None, steps):
            offer = step.offer
            before = setups[offer.guitar]
            moves += not before.has_capo_of(offer.before)
            tuned = (offer.option.tuned_down, offer.song_tuning)
            retunes += (before.tuned_down, before.song_tuning) != tuned
            swaps += hand is not None and hand != offer.guitar
            hand, setups[offer.guitar] = offer.guitar, offer.after
        return Changes(
            capo_moves=moves,
            retunes=retunes,
            swaps=swaps,
            seconds=sum(step.seconds for step in steps if step),
            score_gap=sum(step.offer.score_gap for step in steps if step),
            without_pause=sum(
                bool(step and step.seconds and is_straight(self.songs, song) and steps[song - 1])
                for song, step in enumerate(steps)
            ),
        )


def _taken(steps: tuple[SetStep | None, ...]) -> ChosenOffers:
    return tuple(step and step.offer for step in steps)


def _with_pauses(songs: tuple[PlannedSong, ...]) -> tuple[PlannedSong, ...]:
    """The songs, none of which runs straight into the next."""
    return tuple(replace(song, straight=False) for song in songs)
