"""The plan of a set: every guitarist's guitar, capo and tuning for each song.

A guitarist who keeps clear of nobody gets the best plan of all. One who keeps clear of another gets
the best plan beside that one's, which does not change: the first guitarist of a band gives nothing
up for the second (common practice, no source), and one song in another key does not change the
whole night of both.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import repeat
from typing import NamedTuple

from chartkit.advise.set_order import Character, best_order, too_alike
from chartkit.advise.set_plan import planned, planned_together
from chartkit.advise.set_steps import (
    Beside,
    Guitarist,
    Offer,
    Pairing,
    PlannedSong,
    Step,
    is_straight,
    walked,
)
from chartkit.advise.stage import StageCosts
from chartkit.book.guitars_asked import all_guitars_asked, guitars_asked, leaders_first, pairs_asked
from chartkit.book.offers import ROOM_COST, first_choice, guitarist
from chartkit.book.plan_reasons import Reason, reasons
from chartkit.book.read_song import SongFacts
from chartkit.book.set_list import Player, SetList
from chartkit.theory.capo import Capo

_MOST_ORDERED = 6
"""The guitarists for whom an order is sought, the first of the set file: each takes three times as
long (ours)."""


@dataclass(frozen=True, slots=True)
class Changes:
    """A player's changes between songs over a night:

    how often each, and the time. ``lack`` is how far the chosen options lie below the best in the
    adviser's score.  ``without_pause`` counts songs that run straight on from the one before and
    still ask for a change.
    """

    capo_moves: int
    retunes: int
    swaps: int
    seconds: float
    lack: float
    without_pause: int = 0


@dataclass(frozen=True, slots=True)
class PlayerPlan:
    """One player's night in playing order: a step a song, None where it is sat out.

    ``best`` has the best choice for each song by itself, and ``one_by_one`` is the night played
    like that. ``reasons`` say for each song why it is played otherwise. ``shared`` is for each song
    how much of the room of the guitarist beside it fills, 0 to 1, None where one of them rests or
    there is none; ``same_place`` has the places in the order where both play the same shapes at the
    same capo.
    """

    player: Player
    steps: tuple[Step | None, ...]
    changes: Changes
    best: tuple[Offer | None, ...]
    one_by_one: Changes
    reasons: tuple[Reason | None, ...] = ()
    shared: tuple[float | None, ...] = ()
    same_place: tuple[int, ...] = ()


class Rehearsed(NamedTuple):
    """A player's plan for a song before another song was moved, with the reason."""

    offer: Offer
    reason: Reason | None


RehearsedSongs = tuple[Mapping[str, Rehearsed], ...]
"""For each song of the file what each player keeps; empty for a song that is planned anew."""


@dataclass(frozen=True, slots=True)
class NightPlan:
    """The order of the songs, by their number in the file from 0, and each player's night.

    ``alike`` has the places in the order whose song is too like the one before.
    """

    order: tuple[int, ...]
    players: tuple[PlayerPlan, ...]
    alike: tuple[int, ...] = ()


def night_plan(
    set_list: SetList,
    facts: Sequence[SongFacts],
    sat_out: Sequence[frozenset[int]],
    free_order: bool = False,
    rehearsed: RehearsedSongs = (),
) -> NightPlan:
    """The plan for everybody who reads shapes.

    ``facts`` must have been asked about ``all_guitars_asked``; ``sat_out`` numbers the songs
    each player sits out.  Broken songs keep their place and are sat out by everybody.  What is
    ``rehearsed`` stays.
    Raises ValueError when a free order is asked for a set that is too long.
    """
    players = [player for player in set_list.players if player.guitars]
    away = {p.name: out for p, out in zip(set_list.players, sat_out, strict=True)}
    guitarists = {p.name: guitarist(set_list, p, facts, away[p.name]) for p in players}
    tables = _room_tables(set_list, facts)
    songs = tuple(
        PlannedSong(one.seconds, entry.straight_into_next)
        for one, entry in zip(facts, set_list.songs, strict=True)
    )
    costs = set_list.stage.costs
    clash = _clash(facts)
    order = tuple(range(len(songs)))
    if free_order:
        few = {p.name: guitarists[p.name] for p in players[:_MOST_ORDERED]}
        tied = _ties(set_list, list(few), tables)
        order = best_order(tuple(few.values()), songs, costs.weighed, clash, tied).order
    night = _OrderedNight(
        songs=tuple(songs[i] for i in order),
        costs=costs,
        guitarists={
            name: replace(one, offers=tuple(one.offers[i] for i in order))
            for name, one in guitarists.items()
        },
        rooms={name: tuple(table[i] for i in order) for name, table in tables.items()},
        rehearsed=tuple(rehearsed[i] for i in order) if rehearsed else ({},) * len(order),
    )
    plans = dict[str, PlayerPlan]()
    for player, leader in leaders_first(set_list):
        plans[player.name] = night.plan(player, plans[leader.name] if leader else None)
    alike = tuple(i for i in range(1, len(order)) if clash(order[i - 1], order[i]))
    return NightPlan(order, tuple(plans[player.name] for player in players), alike)


_RoomTables = dict[str, tuple[dict[Pairing, float], ...]]
"""For each player who keeps clear of another: the cost of the two players' options together, song
by song."""


def _room_tables(set_list: SetList, facts: Sequence[SongFacts]) -> _RoomTables:
    asked, pairs = all_guitars_asked(set_list), pairs_asked(set_list)

    def table(one: SongFacts, leader: Player, player: Player) -> dict[Pairing, float]:
        costs = dict[Pairing, float]()
        for g, theirs in enumerate(guitars_asked(leader, set_list)):
            for h, own in enumerate(guitars_asked(player, set_list)):
                pair = pairs.index((asked.index(theirs), asked.index(own)))
                for their_way, way, shared in one.rooms[pair] if one.rooms else ():
                    costs[g, their_way, h, way] = ROOM_COST * shared
        return costs

    return {
        player.name: tuple(table(one, leader, player) for one in facts)
        for player, leader in leaders_first(set_list)
        if leader is not None
    }


def _ties(set_list: SetList, names: list[str], tables: _RoomTables) -> tuple[Beside, ...]:
    """The tables of the players with these names, who are counted so."""
    return tuple(
        Beside(names.index(leader.name), names.index(player.name), tables[player.name])
        for player, leader in leaders_first(set_list)
        if leader is not None and player.name in names and leader.name in names
    )


Taken = tuple[Offer | None, ...]
"""The offer that a player takes for each song; None if it is sat out."""


@dataclass(frozen=True, slots=True)
class _OrderedNight:
    """The songs in playing order, what changes cost, every guitarist's offers, the rooms of
    those who keep clear of another, and what stays as it was rehearsed."""

    songs: tuple[PlannedSong, ...]
    costs: StageCosts
    guitarists: dict[str, Guitarist]
    rooms: _RoomTables
    rehearsed: RehearsedSongs

    def plan(self, player: Player, leader: PlayerPlan | None) -> PlayerPlan:
        """A player's plan, beside the leader's plan where there is one."""
        own = self._free(player.name)
        best = tuple(map(first_choice, self.guitarists[player.name].offers, repeat(own.start)))
        alone, unhurried = self._alone(own, self.songs), self._alone(own, _with_pauses(self.songs))
        together = (alone, (), ()) if leader is None else self._beside(player.name, leader)
        taken, shared, same = together
        steps = walked(own, taken, self.songs, self.costs)
        return PlayerPlan(
            player=player,
            steps=steps,
            changes=self._counted(steps, own),
            best=best,
            one_by_one=self._counted(walked(own, best, self.songs, self.costs), own),
            reasons=tuple(
                reason if kept is None else kept.reason
                for reason, kept in zip(
                    reasons(taken, best, alone, unhurried),
                    (song.get(player.name) for song in self.rehearsed),
                    strict=True,
                )
            ),
            shared=shared,
            same_place=same,
        )

    def _free(self, name: str) -> Guitarist:
        """The guitarist with the remaining choices: a rehearsed song has only its own."""
        own = self.guitarists[name]
        offers = (
            (song[name].offer,) if name in song and every else every
            for every, song in zip(own.offers, self.rehearsed, strict=True)
        )
        return replace(own, offers=tuple(offers))

    def _alone(self, own: Guitarist, songs: tuple[PlannedSong, ...]) -> Taken:
        """The best plan for a player who keeps clear of nobody."""
        return _taken(planned(own, songs, self.costs.weighed))

    def _beside(
        self, name: str, leader: PlayerPlan
    ) -> tuple[Taken, tuple[float | None, ...], tuple[int, ...]]:
        """The best plan for a player beside the leader's, which stays; how much of the register
        they share in each song; and where both play in the same place."""
        theirs = _taken(leader.steps)
        settled = tuple(() if offer is None else (offer,) for offer in theirs)
        leading = replace(self.guitarists[leader.player.name], offers=settled)
        players = (leading, self._free(name))
        two = Beside(0, 1, self.rooms[name])
        _, steps = planned_together(players, self.songs, self.costs.weighed, (two,))
        taken = _taken(steps)
        shared = list[float | None]()
        same = list[int]()
        for song, (their, own) in enumerate(zip(theirs, taken, strict=True)):
            both = their is not None and own is not None
            shared.append(two.cost(song, their, own) / ROOM_COST if both else None)
            if their is not None and own is not None and their.way == own.way:
                same.append(song)
        return taken, tuple(shared), tuple(same)

    def _counted(self, steps: tuple[Step | None, ...], own: Guitarist) -> Changes:
        """How often a night's steps change what, and what that takes."""
        standing = list(own.start)
        moves = retunes = swaps = 0
        hand: int | None = None
        for step in filter(None, steps):
            offer = step.offer
            before = standing[offer.guitar]
            moves += not before.has_capo_of(offer.before)
            tuned = (offer.option.tuned_down, offer.retuned)
            retunes += (before.tuned_down, before.retuned) != tuned
            swaps += hand is not None and hand != offer.guitar
            hand, standing[offer.guitar] = offer.guitar, offer.after
        return Changes(
            capo_moves=moves,
            retunes=retunes,
            swaps=swaps,
            seconds=sum(step.seconds for step in steps if step),
            lack=sum(step.offer.lack for step in steps if step),
            without_pause=sum(
                bool(step and step.seconds and is_straight(self.songs, song) and steps[song - 1])
                for song, step in enumerate(steps)
            ),
        )


def _taken(steps: tuple[Step | None, ...]) -> Taken:
    return tuple(step and step.offer for step in steps)


def _with_pauses(songs: tuple[PlannedSong, ...]) -> tuple[PlannedSong, ...]:
    """The songs, none of which runs straight into the next."""
    return tuple(replace(song, straight=False) for song in songs)


def _clash(facts: Sequence[SongFacts]) -> Callable[[int, int], bool]:
    """Tells whether two songs, by number, are too alike to be neighbours."""
    characters = [
        None if one.key is None else Character(one.key, one.tempo, one.beats) for one in facts
    ]

    def alike(one: int, other: int) -> bool:
        first, second = characters[one], characters[other]
        return first is not None and second is not None and too_alike(first, second)

    return alike


def rehearsed_songs(plan: NightPlan, moved: Collection[int]) -> RehearsedSongs:
    """The part of a plan that stays if songs, by number from 0, are moved: everything else."""
    songs: list[dict[str, Rehearsed]] = [{} for _ in plan.order]
    for one in plan.players:
        for number, step, reason in zip(plan.order, one.steps, one.reasons, strict=True):
            if step is not None and number not in moved:
                songs[number][one.player.name] = Rehearsed(step.offer, reason)
    return tuple(songs)


def planned_capos(plan: NightPlan) -> dict[int, dict[str, Capo]]:
    """Each guitarist's capo for each song, by the song's number in the file from 0; none where the
    chart moves it inside the song, since a capo in the file is one place for the whole song."""
    capos: dict[int, dict[str, Capo]] = {}
    for one in plan.players:
        for number, step in zip(plan.order, one.steps, strict=True):
            if step is not None and not step.offer.as_written:
                capos.setdefault(number, {})[one.player.name] = step.offer.option
    return capos
