"""Each guitarist's capo over a whole night: the exact least-cost choice.

A song costs the difference between its option and the best one, in the adviser's score; the change
before it costs its seconds. The cheapest plan is found by dynamic programming over the states of
the guitars (R. Bellman, *Dynamic Programming*, 1957).  Two prunings keep it quick and exact,
because changes obey the triangle inequality:

- an option of a song is left out where another of the same guitar costs less by more than changing
  between the two, before the song and after it;
- a setup of a guitar is left out where another costs less by more than changing into it.

What a change between songs that run straight into each other costs on top is charged once
there, whatever is changed; taking up another guitar is such a change, so later ones of its
kind cost the same either way, which is why ``swap_seconds`` must be above 0.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice, product
from typing import NamedTuple

from chartkit.advise.set_steps import (
    Guitarist,
    Offer,
    OverlapCosts,
    PlannedSong,
    SetStep,
    is_straight,
    rig_after_rest,
)
from chartkit.advise.stage import (
    GuitarSetup,
    Rig,
    StageCosts,
    change_cost,
    change_seconds,
    rig_after,
    setup_seconds,
)

_TINY = 1e-9
"""Costs closer than this are equal; the first found stays, so the plan is always the same."""

_COMPARED = 40
"""The number of cheapest states with which each one is compared; any number leaves the plan
exact."""


class PartialPlan(NamedTuple):
    """A plan for the songs so far, linked backwards: its cost, the last song, each player's
    step."""

    cost: float
    song: int = -1
    steps: tuple[SetStep | None, ...] = ()
    before: "PartialPlan | None" = None


Rigs = tuple[Rig, ...]
_Move = tuple[int, float, tuple[SetStep | None, ...]]
"""A state after a song, its cost, and every player's step."""


def cheapest_steps(
    guitarist: Guitarist, songs: tuple[PlannedSong, ...], costs: StageCosts
) -> tuple[SetStep | None, ...]:
    """The cheapest step for every song in the given order; None where the player rests."""
    return cheapest_steps_together((guitarist,), songs, costs)[0]


def cheapest_steps_together(
    players: tuple[Guitarist, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
    beside: tuple[OverlapCosts, ...] = (),
) -> tuple[tuple[SetStep | None, ...], ...]:
    """Each player's cheapest steps, including what they cost beside one another."""
    planner = JointPlanner(players=players, songs=songs, costs=costs, beside=beside)
    states = planner.start()
    for song in range(len(songs)):
        after: dict[int, PartialPlan] = {}
        planner.extend(after, states, song)
        states = planner.pruned(after, song)
    best = min(states.values(), key=lambda plan: plan.cost)
    plan = songs_in_order(best)
    return tuple(tuple(step.steps[player] for step in plan) for player in range(len(players)))


def songs_in_order(plan: PartialPlan) -> list[PartialPlan]:
    """The plan song by song, from the first to the last."""
    plans = []
    while plan.before is not None:
        plans.append(plan)
        plan = plan.before
    return plans[::-1]


@dataclass(slots=True)
class JointPlanner:
    """Plans all players together from song to song, keeping the plans that may be the best.

    A state is a number for the state of every player's guitars.
    """

    players: tuple[Guitarist, ...]
    songs: tuple[PlannedSong, ...]
    costs: StageCosts
    beside: tuple[OverlapCosts, ...] = ()
    _useful: list[list[tuple[Offer, ...]]] = field(default_factory=list)
    _rigs: list[Rigs] = field(default_factory=list)
    _numbers: dict[Rigs, int] = field(default_factory=dict)
    _moves: dict[tuple[int, int], tuple[_Move, ...]] = field(default_factory=dict)
    _ways: dict[tuple[int, int], float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._useful = [
            [self._without_dominated(number, song) for song in range(len(self.songs))]
            for number in range(len(self.players))
        ]

    def start(self) -> dict[int, PartialPlan]:
        """The state before the first song: no guitar in hand, every guitar as it was brought."""
        rigs = tuple(Rig(None, player.start) for player in self.players)
        return {self._number(rigs): PartialPlan(0.0)}

    def extend(
        self,
        into: dict[int, PartialPlan],
        states: Mapping[int, PartialPlan],
        song: int,
        extra: float = 0.0,
        most: float = float("inf"),
    ) -> None:
        """Changes ``into``, the plans by the state after them: adds where the plans in ``states``
        may lead through one more song.

        ``extra`` is added to the cost of each; of ways to one state the cheapest stays, and
        none that costs more than ``most``.
        """
        for state, plan in states.items():
            moves = self._moves.get((state, song))
            if moves is None:
                moves = self._moves[state, song] = tuple(self._new_moves(state, song))
            so_far = plan.cost + extra
            for after, cost, steps in moves:
                total = so_far + cost
                if total > most:
                    continue
                known = into.get(after)
                if known is None or total < known.cost - _TINY:
                    into[after] = PartialPlan(total, song, steps, plan)

    def pruned(self, states: dict[int, PartialPlan], last: int) -> dict[int, PartialPlan]:
        """The states without those that a cheaper one can be turned into for less.

        ``last`` is the song just played.
        """
        if len(states) == 1:
            return states
        kept: dict[int, PartialPlan] = {}
        flat = self.costs.straight_cost if self.songs[last].straight else 0.0
        for state, plan in sorted(states.items(), key=lambda item: item[1].cost):
            bound = plan.cost - flat * len(self.players)
            cheapest = islice(kept.items(), _COMPARED)
            if not any(
                other.cost + self._change_bound(near, state) <= bound for near, other in cheapest
            ):
                kept[state] = plan
        return kept

    def _number(self, rigs: Rigs) -> int:
        number = self._numbers.get(rigs)
        if number is None:
            number = self._numbers[rigs] = len(self._rigs)
            self._rigs.append(rigs)
        return number

    def _new_moves(self, state: int, song: int) -> Iterator[_Move]:
        """The steps that all players together may take for a song: the state after it, its cost,
        the steps."""
        each = [
            tuple(self._player_moves(number, rig, song))
            for number, rig in enumerate(self._rigs[state])
        ]
        for together in product(*each):
            rigs, costs, steps = zip(*together, strict=True)
            cost = sum(costs)
            for two in self.beside:
                one, other = steps[two.first], steps[two.second]
                cost += two.cost(song, one and one.offer, other and other.offer)
            yield self._number(rigs), cost, steps

    def _player_moves(
        self, number: int, rig: Rig, song: int
    ) -> Iterator[tuple[Rig, float, SetStep | None]]:
        offers, strings = self._useful[number][song], self.players[number].strings
        straight = is_straight(self.songs, song)
        if not offers:
            yield rig_after_rest(rig, self.songs[song]), 0.0, None
        for offer in offers:
            seconds = change_seconds(rig, offer.guitar, offer.before, strings, self.costs)
            cost = offer.score_gap + change_cost(
                seconds, straight and not rig.rested_seconds, self.costs
            )
            after = rig_after(rig, offer.guitar, offer.after, self.costs)
            yield after, cost, SetStep(offer, seconds)

    # ---- pruning
    def _without_dominated(self, number: int, song: int) -> tuple[Offer, ...]:
        """The offers that a plan may use: those for which no other offer on the same guitar is
        always cheaper, whatever the other players do."""
        player = self.players[number]
        flat = 0.0
        if is_straight(self.songs, song) or self.songs[song].straight:
            flat = 2 * self.costs.straight_cost
        kept: list[Offer] = []
        for offer in sorted(
            player.offers[song], key=lambda o: (o.score_gap, o.guitar, o.setup.capos)
        ):
            near = (other for other in kept if other.guitar == offer.guitar)
            strings = player.strings[offer.guitar]
            if not any(
                self._replaces(
                    other, offer, strings, flat, self._extra_overlap(number, song, other, offer)
                )
                for other in near
            ):
                kept.append(offer)
        return tuple(kept)

    def _extra_overlap(self, number: int, song: int, better: Offer, offer: Offer) -> float:
        """The most that the better offer can cost more beside the other players."""
        most = 0.0
        for two in self.beside:
            if number not in (two.first, two.second):
                continue
            other = two.second if number == two.first else two.first
            worse = [
                two.cost(song, better, their) - two.cost(song, offer, their)
                if number == two.first
                else two.cost(song, their, better) - two.cost(song, their, offer)
                for their in self.players[other].offers[song]
            ]
            most += max(0.0, *worse) if worse else 0.0
        return most

    def _replaces(
        self, better: Offer, offer: Offer, strings: int, flat: float, extra: float
    ) -> bool:
        """Whether the better offer is always cheaper: it saves more than it costs to change to it
        before the song and back after it."""
        before = self._between(better.before, offer.before, strings)
        after = self._between(better.after, offer.after, strings)
        changes = (before + after) * self.costs.score_a_second
        return better.score_gap + changes + (flat if changes else 0.0) + extra <= offer.score_gap

    def _between(self, now: GuitarSetup, other: GuitarSetup, strings: int) -> float:
        """An upper bound, in seconds, on what one setup of a guitar costs more than another."""
        if other.fret is None:
            tuned = replace(other, fret=now.fret or 0, strings=now.strings)
            retune = setup_seconds(now, tuned, strings, self.costs)
            return retune + (self.costs.capo_move_seconds if now.fret is not None else 0.0)
        return setup_seconds(now, other, strings, self.costs)

    def _change_bound(self, now: int, other: int) -> float:
        """An upper bound on how much more it costs to continue from ``now`` than from ``other``."""
        cost = self._ways.get((now, other))
        if cost is None:
            seconds = sum(map(self._player_way, self.players, self._rigs[now], self._rigs[other]))
            cost = self._ways[now, other] = seconds * self.costs.score_a_second
        return cost

    def _player_way(self, player: Guitarist, here: Rig, there: Rig) -> float:
        if here.rested_seconds < there.rested_seconds:
            return float("inf")
        seconds = 0.0
        if here.in_hand != there.in_hand:
            if self.costs.helper or there.in_hand is None or here.in_hand is None:
                return float("inf")
            seconds = self.costs.swap_seconds
        for strings, one, two in zip(player.strings, here.guitars, there.guitars, strict=True):
            seconds += self._between(one, two, strings) if one != two else 0.0
        return seconds
