"""The plan of a set: every guitarist's guitar, capo and tuning for each song.

A guitarist who keeps clear of nobody gets the best plan of all. One who keeps clear of another gets
the best plan beside that one's, which does not change: the first guitarist of a band gives nothing
up for the second (common practice, no source), and one song in another key does not change the
whole night of both.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import count, pairwise

from chartkit.advise.set_order import (
    ALIKE_COST,
    SongTraits,
    best_order,
    improved_order,
    too_alike,
)
from chartkit.advise.set_steps import (
    OverlapCosts,
    Pairing,
    PlannedSong,
)
from chartkit.book.guitar_requests import (
    all_guitars_asked,
    guitars_asked,
    leaders_first,
    pairs_asked,
)
from chartkit.book.offers import OVERLAP_COST, guitarist
from chartkit.book.player_plan import (
    KeepingClear,
    OrderedNight,
    OverlapTables,
    PlayerPlan,
    Rehearsed,
    RehearsedSongs,
)
from chartkit.book.read_song import SongFacts
from chartkit.book.set_list import Player, SetList
from chartkit.book.workshop import Progress, no_progress
from chartkit.theory.capo import NO_CAPO, Capo

_MOST_ORDERED = 6
"""The guitarists for whom an order is sought, the first of the set file: each takes three times as
long (ours)."""


_SEEKING = "looking for the best order"


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
    progress: Progress = no_progress,
) -> NightPlan:
    """The plan for everybody who reads shapes.

    ``facts`` must have been asked about ``all_guitars_asked``; ``sat_out`` numbers the songs
    each player sits out.  Broken songs keep their place and are sat out by everybody.  What is
    ``rehearsed`` stays.  ``progress`` is called while an order is sought.
    Raises ValueError when a free order is asked for a set that is too long.
    """
    players = [player for player in set_list.players if player.guitars]
    away = {p.name: out for p, out in zip(set_list.players, sat_out, strict=True)}
    guitarists = {p.name: guitarist(set_list, p, facts, away[p.name]) for p in players}
    songs = tuple(
        PlannedSong(song.seconds, entry.straight_into_next)
        for song, entry in zip(facts, set_list.songs, strict=True)
    )
    clash = _clash(facts)
    order = tuple(range(len(songs)))
    night = OrderedNight(
        songs=songs,
        costs=set_list.stage.costs,
        guitarists=guitarists,
        overlaps=_overlap_tables(set_list, facts),
        rehearsed=rehearsed or ({},) * len(order),
    )
    minded = leaders_first(set_list)
    if free_order:
        order = _free_order(night, minded, players[:_MOST_ORDERED], clash, progress)
    night = night.ordered(order)
    plans = dict[str, PlayerPlan]()
    for player, others in minded:
        plans[player.name] = night.plan(player, [plans[other.name] for other in others])
    alike = tuple(i for i in range(1, len(order)) if clash(order[i - 1], order[i]))
    return NightPlan(order, tuple(plans[player.name] for player in players), alike)


def _free_order(
    night: OrderedNight,
    minded: KeepingClear,
    counted: Sequence[Player],
    clash: Callable[[int, int], bool],
    progress: Progress,
) -> tuple[int, ...]:
    """The order of songs that costs the counted guitarists least, neighbours not too alike."""
    few = {player.name: night.guitarists[player.name] for player in counted}
    tied = _ties(minded, list(few), night.overlaps)
    progress(_SEEKING, 0, 0)
    order = best_order(tuple(few.values()), night.songs, night.costs.weighed, clash, tied).order
    if not tied:
        return order
    theirs = [(player, others) for player, others in minded if player.name in few]
    tried = count(1)

    def cost(one: tuple[int, ...]) -> float:
        progress(_SEEKING, next(tried), 0)
        return night.ordered(one).cost(theirs) + _clashes(one, clash)

    return improved_order(order, night.songs, cost)


def _overlap_tables(set_list: SetList, facts: Sequence[SongFacts]) -> OverlapTables:
    asked, pairs = all_guitars_asked(set_list), pairs_asked(set_list)
    guitars = {
        player.name: tuple(asked.index(request) for request in guitars_asked(player, set_list))
        for player in set_list.players
    }

    @cache
    def tables(theirs: tuple[int, ...], own: tuple[int, ...]) -> tuple[dict[Pairing, float], ...]:
        return tuple(table(song, theirs, own) for song in facts)

    def table(
        one: SongFacts, theirs: tuple[int, ...], own: tuple[int, ...]
    ) -> dict[Pairing, float]:
        costs = dict[Pairing, float]()
        for g, their_guitar in enumerate(theirs):
            for h, own_guitar in enumerate(own):
                pair = pairs.index((their_guitar, own_guitar))
                for their_way, way, shared in one.overlaps[pair] if one.overlaps else ():
                    costs[g, their_way, h, way] = OVERLAP_COST * shared
        return costs

    return {
        (player.name, other.name): tables(guitars[other.name], guitars[player.name])
        for player, others in leaders_first(set_list)
        for other in others
    }


def _ties(
    minded: KeepingClear, names: list[str], tables: OverlapTables
) -> tuple[OverlapCosts, ...]:
    """The overlap tables of these players, numbered in this order, each beside the guitarist that
    the player names. With everybody whom each keeps clear of, the search would take three times as
    long."""
    return tuple(
        OverlapCosts(
            names.index(other.name), names.index(player.name), tables[player.name, other.name]
        )
        for player, others in minded
        for other in others[:1]
        if player.name in names and other.name in names
    )


def _clashes(order: Sequence[int], clash: Callable[[int, int], bool]) -> float:
    """The cost of neighbours that are too alike."""
    return ALIKE_COST * sum(clash(one, other) for one, other in pairwise(order))


def _clash(facts: Sequence[SongFacts]) -> Callable[[int, int], bool]:
    """Tells whether two songs, by number, are too alike to be neighbours."""
    characters = [
        None if song.key is None else SongTraits(song.key, song.tempo, song.beats) for song in facts
    ]

    def alike(one: int, other: int) -> bool:
        first, second = characters[one], characters[other]
        return first is not None and second is not None and too_alike(first, second)

    return alike


def rehearsed_songs(plan: NightPlan, moved: Collection[int]) -> RehearsedSongs:
    """The part of a plan that stays if songs, by number from 0, are moved: everything else."""
    songs: list[dict[str, Rehearsed]] = [{} for _ in plan.order]
    for player_plan in plan.players:
        for number, step, reason in zip(
            plan.order, player_plan.steps, player_plan.reasons, strict=True
        ):
            if step is not None and number not in moved:
                songs[number][player_plan.player.name] = Rehearsed(step.offer, reason)
    return tuple(songs)


def planned_capos(plan: NightPlan) -> dict[int, dict[str, Capo]]:
    """Each guitarist's capo for each song, by the song's number in the file from 0; none where the
    chart moves it inside the song, since a capo in the file is one place for the whole song, and
    none for whoever has no capo, such as a ukulele player."""
    capos: dict[int, dict[str, Capo]] = {}
    for player_plan in plan.players:
        for number, step in zip(plan.order, player_plan.steps, strict=True):
            if step is None or step.offer.as_written:
                continue
            if player_plan.player.highest_capo or step.offer.option != NO_CAPO:
                capos.setdefault(number, {})[player_plan.player.name] = step.offer.option
    return capos
