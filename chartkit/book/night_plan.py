"""The plan of a set: every guitarist's guitar, capo and tuning for each song."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from chartkit.advise.set_order import Character, best_order, too_alike
from chartkit.advise.set_plan import planned
from chartkit.advise.set_steps import Guitarist, Offer, PlannedSong, Step, steps_cost, walked
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.stage import StageCosts, Standing
from chartkit.book.read_song import GuitarAsked, SongFacts
from chartkit.book.set_list import Player, SetList
from chartkit.theory.capo import Capo


@dataclass(frozen=True, slots=True)
class Changes:
    """What a night asks of a player between songs: how often each change, and the time.

    ``lack`` is what the options taken lack in the adviser's score, ``cost`` that and the
    worth of the seconds.
    """

    capo_moves: int
    retunes: int
    swaps: int
    seconds: float
    lack: float
    cost: float


@dataclass(frozen=True, slots=True)
class PlayerPlan:
    """One player's night in playing order: a step a song, None where it is sat out.

    ``one_by_one`` is the night with the adviser's first choice for each song by itself.
    """

    player: Player
    steps: tuple[Step | None, ...]
    changes: Changes
    one_by_one: Changes


@dataclass(frozen=True, slots=True)
class NightPlan:
    """The order of the songs, by their number in the file from 0, and each player's night.

    ``alike`` has the places in the order whose song is too like the one before.
    """

    order: tuple[int, ...]
    players: tuple[PlayerPlan, ...]
    alike: tuple[int, ...] = ()


def guitars_asked(player: Player, set_list: SetList) -> tuple[GuitarAsked, ...]:
    """What the adviser is asked for each guitar of a player: all that is welcome or pinned."""
    pinned = [song.capos[player.name] for song in set_list.songs if player.name in song.capos]
    settings = AdviceSettings(
        highest_capo=max([player.highest_capo, *(capo.fret for capo in pinned)]),
        most_down=max([player.most_down, *(capo.tuned_down for capo in pinned)]),
        place=set_list.stage.place,
    )
    return tuple(GuitarAsked(guitar.instrument, settings) for guitar in player.guitars)


def all_guitars_asked(set_list: SetList) -> tuple[GuitarAsked, ...]:
    """The same for the whole band, each question once."""
    asked = (one for player in set_list.players for one in guitars_asked(player, set_list))
    return tuple(dict.fromkeys(asked))


def night_plan(
    set_list: SetList,
    facts: Sequence[SongFacts],
    sat_out: Sequence[frozenset[int]],
    free_order: bool = False,
) -> NightPlan:
    """The cheapest plan for everybody who reads shapes.

    ``facts`` must have been asked about ``all_guitars_asked``; ``sat_out`` numbers the songs
    each player sits out.  Broken songs keep their place and are sat out by everybody.
    Raises ValueError when a free order is asked for a set that is too long.
    """
    found = [
        (player, _guitarist(set_list, player, facts, away))
        for player, away in zip(set_list.players, sat_out, strict=True)
        if player.guitars
    ]
    songs = tuple(
        PlannedSong(one.seconds, entry.straight_into_next)
        for one, entry in zip(facts, set_list.songs, strict=True)
    )
    costs = set_list.stage.costs
    order = tuple(range(len(songs)))
    if free_order:
        order = best_order(tuple(one for _, one in found), songs, costs, _clash(facts)).order
    ordered = tuple(songs[i] for i in order)
    plans = tuple(
        _player_plan(player, guitarist, order, ordered, costs) for player, guitarist in found
    )
    clash = _clash(facts)
    alike = tuple(i for i in range(1, len(order)) if clash(order[i - 1], order[i]))
    return NightPlan(order, plans, alike)


def _clash(facts: Sequence[SongFacts]) -> Callable[[int, int], bool]:
    """Tells whether two songs, by number, are too alike to be neighbours."""
    characters = [
        None if one.key is None else Character(one.key, one.tempo, one.beats) for one in facts
    ]

    def alike(one: int, other: int) -> bool:
        first, second = characters[one], characters[other]
        return first is not None and second is not None and too_alike(first, second)

    return alike


def _guitarist(
    set_list: SetList, player: Player, facts: Sequence[SongFacts], away: frozenset[int]
) -> Guitarist:
    asked = all_guitars_asked(set_list)
    places = [asked.index(one) for one in guitars_asked(player, set_list)]
    offers = tuple(
        ()
        if number in away or one.broken
        else _offers(
            player,
            [one.lacks[place] for place in places],
            set_list.songs[number].capos.get(player.name),
        )
        for number, one in enumerate(facts)
    )
    return Guitarist(
        tuple(len(guitar.instrument.strings) for guitar in player.guitars),
        tuple(Standing(guitar.tuned_down) for guitar in player.guitars),
        offers,
    )


def _offers(
    player: Player, lacks: list[tuple[tuple[Capo, float], ...]], pinned: Capo | None
) -> tuple[Offer, ...]:
    """Every option on every guitar; a capo pinned by hand leaves only itself."""
    every = tuple(
        Offer(guitar, option, lack)
        for guitar, options in enumerate(lacks)
        for option, lack in options
    )
    if pinned is None:
        welcome = tuple(
            offer
            for offer in every
            if offer.option.fret <= player.highest_capo
            and offer.option.tuned_down <= player.most_down
        )
        return welcome or tuple(Offer(g, Capo(), 0.0) for g in range(len(player.guitars)))
    known = {offer.guitar: offer for offer in every if offer.option == pinned}
    return tuple(
        known.get(guitar, Offer(guitar, pinned, 0.0)) for guitar in range(len(player.guitars))
    )


def _player_plan(
    player: Player,
    guitarist: Guitarist,
    order: tuple[int, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> PlayerPlan:
    moved = Guitarist(guitarist.strings, guitarist.start, tuple(guitarist.offers[i] for i in order))
    steps = planned(moved, songs, costs)
    alone = walked(moved, tuple(map(_first_choice, moved.offers)), songs, costs)
    return PlayerPlan(
        player, steps, counted(steps, moved, songs, costs), counted(alone, moved, songs, costs)
    )


def _first_choice(offers: tuple[Offer, ...]) -> Offer | None:
    """What is best for a song by itself: of each guitar's first choice the one with the least
    lack, on the first guitar that has it.

    Tuning down costs as much as the adviser says for a single song, which is in the order
    of the offers: it lists the best of a guitar first.
    """
    firsts = {offer.guitar: offer for offer in reversed(offers)}
    return min(firsts.values(), key=lambda offer: (offer.lack, offer.guitar), default=None)


def counted(
    steps: tuple[Step | None, ...],
    guitarist: Guitarist,
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> Changes:
    """How often a night's steps change what, and what that takes."""
    standing = list(guitarist.start)
    moves = retunes = swaps = 0
    hand: int | None = None
    for step in filter(None, steps):
        guitar, option, _ = step.offer
        before = standing[guitar]
        moves += before.fret not in (None, option.fret)
        retunes += before.tuned_down != option.tuned_down
        swaps += hand is not None and hand != guitar
        hand, standing[guitar] = guitar, Standing.of(option)
    seconds = sum(step.seconds for step in steps if step)
    lack = sum(step.offer.lack for step in steps if step)
    return Changes(
        capo_moves=moves,
        retunes=retunes,
        swaps=swaps,
        seconds=seconds,
        lack=lack,
        cost=steps_cost(steps, songs, costs),
    )
