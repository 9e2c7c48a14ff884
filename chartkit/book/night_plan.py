"""The plan of a set: every guitarist's guitar, capo and tuning for each song."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

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
    steps_cost,
    walked,
)
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.stage import StageCosts, Standing
from chartkit.book.read_song import GuitarAsked, SongFacts
from chartkit.book.set_list import Player, SetList
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import instrument_named
from chartkit.theory.capo import Capo

SLACK_COST = 0.6
"""What a song costs for each half step that a guitar is tuned below how it was brought, in the
adviser's score: its player set it up for tighter strings (ours, unsourced).  With no such price one
retuning would make a whole night of slack strings free, while every capo has its own."""
ROOM_COST = 4.5
"""What it costs two guitarists to fill the very same room for a song, in the adviser's score
(ours, unsourced): so much that they share a place only where any other costs more than it
clears."""

_EQUAL = 1e-6
"""Costs closer than this are equal."""


@dataclass(frozen=True, slots=True)
class Changes:
    """What a night asks of a player between songs: how often each change, and the time.

    ``lack`` is what the options taken lack in the adviser's score, ``cost`` that and the
    worth of the seconds.  ``without_pause`` counts songs that run straight on from the one before
    and still ask for a change.
    """

    capo_moves: int
    retunes: int
    swaps: int
    seconds: float
    lack: float
    cost: float
    without_pause: int = 0


@dataclass(frozen=True, slots=True)
class PlayerPlan:
    """One player's night in playing order: a step a song, None where it is sat out.

    ``one_by_one`` is the night with the adviser's first choice for each song by itself.
    ``shared`` is for each song how much of the room of the guitarist beside it fills, 0 to 1,
    None where one of them rests or there is none; ``same_place`` has the places in the order
    where both play the same shapes at the same capo.  ``clear_of`` names the guitarist for whom
    the player does otherwise than alone, empty where there is none.
    """

    player: Player
    steps: tuple[Step | None, ...]
    changes: Changes
    one_by_one: Changes
    shared: tuple[float | None, ...] = ()
    same_place: tuple[int, ...] = ()
    clear_of: str = ""


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
    come_down = max((guitar.tuned_down for guitar in player.guitars), default=0)
    settings = AdviceSettings(
        highest_capo=max([player.highest_capo, *(capo.fret for capo in pinned)]),
        most_down=max([player.most_down, come_down, *(capo.tuned_down for capo in pinned)]),
        capo_when_down=come_down > 0,
        place=set_list.stage.place,
        short_capos=tuple(
            dict.fromkeys([*player.short_capos, *(capo for capo in pinned if capo.strings)])
        ),
    )
    return tuple(GuitarAsked(guitar.instrument, settings) for guitar in player.guitars)


def all_guitars_asked(set_list: SetList) -> tuple[GuitarAsked, ...]:
    """The same for the whole band, each question once."""
    asked = (one for player in set_list.players for one in guitars_asked(player, set_list))
    return tuple(dict.fromkeys(asked))


_MOST_TOGETHER = 6
"""Guitarists who are planned together exactly, which takes three times as long with each of them;
an order is sought for so many, the first of the set file (ours)."""


def beside_pairs(set_list: SetList) -> tuple[tuple[Player, Player], ...]:
    """The guitarists who keep clear of one another, the first of the two first; each pair
    once."""
    by_name = {player.name: player for player in set_list.players}
    pairs = dict[frozenset[str], tuple[Player, Player]]()
    for player in set_list.players:
        other = by_name.get(player.beside)
        if other is not None and player.guitars and other.guitars:
            pairs.setdefault(frozenset((player.name, other.name)), (other, player))
    return tuple(pairs.values())


def pairs_asked(set_list: SetList) -> tuple[tuple[int, int], ...]:
    """The guitars, by their place among ``all_guitars_asked``, that are played side by side."""
    asked = all_guitars_asked(set_list)
    pairs = (
        (asked.index(one), asked.index(other))
        for first, second in beside_pairs(set_list)
        for one in guitars_asked(first, set_list)
        for other in guitars_asked(second, set_list)
    )
    return tuple(dict.fromkeys(pairs))


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
    players = [player for player in set_list.players if player.guitars]
    away = {p.name: out for p, out in zip(set_list.players, sat_out, strict=True)}
    guitarists = tuple(_guitarist(set_list, p, facts, away[p.name]) for p in players)
    beside = _beside(set_list, players, facts)
    songs = tuple(
        PlannedSong(one.seconds, entry.straight_into_next)
        for one, entry in zip(facts, set_list.songs, strict=True)
    )
    costs = set_list.stage.costs
    clash = _clash(facts)
    order = tuple(range(len(songs)))
    if free_order:
        few = guitarists[:_MOST_TOGETHER]
        tied = tuple(one for one in beside if max(one.first, one.second) < len(few))
        order = best_order(few, songs, costs, clash, tied).order
    ordered = tuple(songs[i] for i in order)
    moved = tuple(replace(g, offers=tuple(g.offers[i] for i in order)) for g in guitarists)
    tables = tuple(one.ordered(order) for one in beside)
    steps = _all_steps(moved, ordered, costs, tables)
    plans = tuple(
        _player_plan(player, guitarist, own, ordered, costs)
        for player, guitarist, own in zip(players, moved, steps, strict=True)
    )
    alone = [
        steps_cost(planned(one, ordered, costs), ordered, costs) if tables else 0.0 for one in moved
    ]
    plans = tuple(
        _with_neighbour(number, plan, plans, tables, alone[number])
        for number, plan in enumerate(plans)
    )
    alike = tuple(i for i in range(1, len(order)) if clash(order[i - 1], order[i]))
    return NightPlan(order, plans, alike)


def _beside(
    set_list: SetList, players: Sequence[Player], facts: Sequence[SongFacts]
) -> tuple[Beside, ...]:
    """What the options of guitarists side by side cost together, song by song."""
    asked, pairs = all_guitars_asked(set_list), pairs_asked(set_list)
    tables = []
    for first, second in beside_pairs(set_list):
        costs = list[dict[Pairing, float]]()
        for one in facts:
            table = dict[Pairing, float]()
            for g, guitar in enumerate(guitars_asked(first, set_list)):
                for h, other in enumerate(guitars_asked(second, set_list)):
                    pair = pairs.index((asked.index(guitar), asked.index(other)))
                    for way, their_way, shared in one.rooms[pair] if one.rooms else ():
                        table[g, way, h, their_way] = ROOM_COST * shared
            costs.append(table)
        tables.append(Beside(players.index(first), players.index(second), tuple(costs)))
    return tuple(tables)


def _all_steps(
    guitarists: tuple[Guitarist, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
    beside: tuple[Beside, ...],
) -> tuple[tuple[Step | None, ...], ...]:
    """Everybody's steps: those side by side planned together, the others alone.

    Of a large group each comes after those before them, whose steps stay."""
    steps = dict[int, tuple[Step | None, ...]]()

    def together(
        group: list[int], players: tuple[Guitarist, ...]
    ) -> tuple[tuple[Step | None, ...], ...]:
        inside = tuple(
            replace(one, first=group.index(one.first), second=group.index(one.second))
            for one in beside
            if one.first in group and one.second in group
        )
        return planned_together(players, songs, costs, inside)

    for group in _groups(len(guitarists), beside):
        if len(group) <= _MOST_TOGETHER:
            players = tuple(guitarists[number] for number in group)
            steps |= dict(zip(group, together(group, players), strict=True))
            continue
        for number in group:
            near = [one for one in _neighbours(number, beside) if one in steps]
            settled = (_with_only(guitarists[one], steps[one]) for one in near)
            steps[number] = together([*near, number], (*settled, guitarists[number]))[-1]
    return tuple(steps[number] for number in range(len(guitarists)))


def _neighbours(number: int, beside: tuple[Beside, ...]) -> list[int]:
    pairs = [(one.first, one.second) for one in beside if number in (one.first, one.second)]
    return sorted({one for pair in pairs for one in pair} - {number})


def _with_only(guitarist: Guitarist, steps: tuple[Step | None, ...]) -> Guitarist:
    """The guitarist without any choice but these steps."""
    return replace(guitarist, offers=tuple(() if s is None else (s.offer,) for s in steps))


def _groups(players: int, beside: tuple[Beside, ...]) -> list[list[int]]:
    """The players by who is tied to whom, in order."""
    group = list(range(players))
    for two in beside:
        one, other = sorted((group[two.first], group[two.second]))
        group = [one if own == other else own for own in group]
    return [[p for p in range(players) if group[p] == own] for own in sorted(set(group))]


def _with_neighbour(
    number: int,
    plan: PlayerPlan,
    plans: Sequence[PlayerPlan],
    beside: tuple[Beside, ...],
    alone: float,
) -> PlayerPlan:
    """The plan with what it shares with the guitarist whom the player keeps clear of, given what
    the player's night would cost alone."""
    two = next((one for one in beside if number in (one.first, one.second)), None)
    if two is None:
        return plan
    other = plans[two.second if number == two.first else two.first].player.name
    plan = replace(plan, clear_of=other if plan.changes.cost > alone + _EQUAL else "")
    if not plan.player.beside:
        return plan
    firsts, seconds = plans[two.first].steps, plans[two.second].steps
    shared = list[float | None]()
    same = list[int]()
    for song, (one, theirs) in enumerate(zip(firsts, seconds, strict=True)):
        if one is None or theirs is None:
            shared.append(None)
            continue
        shared.append(two.cost(song, one.offer, theirs.offer) / ROOM_COST)
        if one.offer.way == theirs.offer.way:
            same.append(song)
    return replace(plan, shared=tuple(shared), same_place=tuple(same))


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
        else _offers(player, one, places, pinned=set_list.songs[number].capos.get(player.name))
        for number, one in enumerate(facts)
    )
    return Guitarist(
        tuple(len(guitar.instrument.strings) for guitar in player.guitars),
        tuple(Standing(guitar.tuned_down) for guitar in player.guitars),
        offers,
    )


def _offers(
    player: Player, facts: SongFacts, places: Sequence[int], pinned: Capo | None
) -> tuple[Offer, ...]:
    """Every way to play a song on every guitar, which stand at ``places`` among all guitars asked
    about; a capo pinned by hand leaves only itself.

    Where the chart names a tuning, moves the capo inside the song or has a short one, its player
    does so; a guitarist who keeps clear of another may do otherwise.
    """
    shorts = (facts.short, pinned, *player.short_capos)
    every = tuple(
        Offer(
            guitar=guitar,
            option=way.capos[0],
            lack=lack + _slack(player, guitar, way.capos[0]),
            moves=way.capos[1:],
            retuned=way.retuned,
            charted=way.capos[0] == facts.short,
        )
        for guitar, place in enumerate(places)
        for way, lack in facts.lacks[place]
        if not way.capos[0].strings or way.capos[0] in shorts
    )
    if facts.tuning and not player.beside:
        every = _in_tuning(player, every, instrument_named(facts.tuning)) or every
    if pinned is not None:
        kept = tuple(offer for offer in every if offer.way.capos == (pinned,))
        return kept or tuple(Offer(g, pinned, 0.0) for g in range(len(player.guitars)))
    welcome = tuple(offer for offer in every if _is_welcome(player, offer))
    moving = tuple(offer for offer in welcome if offer.as_written)
    if moving and not player.beside:
        return moving
    return welcome or tuple(
        Offer(number, Capo(0, guitar.tuned_down), 0.0)
        for number, guitar in enumerate(player.guitars)
    )


def _in_tuning(player: Player, offers: tuple[Offer, ...], wanted: Instrument) -> tuple[Offer, ...]:
    """The offers in a tuning: on guitars that have it, else on those that are retuned."""
    have = tuple(
        offer
        for offer in offers
        if player.guitars[offer.guitar].instrument.open_pitches == wanted.open_pitches
    )
    return have or tuple(offer for offer in offers if offer.retuned is not None)


def _is_welcome(player: Player, offer: Offer) -> bool:
    """Whether the player puts up with the capo and the tuning: a guitar may stay tuned down as it
    comes, however little tuning on stage is welcome."""
    down = max(player.most_down, player.guitars[offer.guitar].tuned_down)
    frets = (capo.fret for capo in offer.way.capos)
    return max(frets) <= player.highest_capo and offer.option.tuned_down <= down


def _slack(player: Player, guitar: int, capo: Capo) -> float:
    """What a song costs on strings slacker than those the guitar was brought with."""
    return SLACK_COST * max(0, capo.tuned_down - player.guitars[guitar].tuned_down)


def _player_plan(
    player: Player,
    guitarist: Guitarist,
    steps: tuple[Step | None, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> PlayerPlan:
    alone = walked(guitarist, tuple(map(_first_choice, guitarist.offers)), songs, costs)
    return PlayerPlan(
        player=player,
        steps=steps,
        changes=counted(steps, guitarist, songs, costs),
        one_by_one=counted(alone, guitarist, songs, costs),
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
        offer = step.offer
        before = standing[offer.guitar]
        moves += not before.has_capo_of(offer.before)
        retunes += (before.tuned_down, before.retuned) != (offer.option.tuned_down, offer.retuned)
        swaps += hand is not None and hand != offer.guitar
        hand, standing[offer.guitar] = offer.guitar, offer.after
    seconds = sum(step.seconds for step in steps if step)
    lack = sum(step.offer.lack for step in steps if step)
    return Changes(
        capo_moves=moves,
        retunes=retunes,
        swaps=swaps,
        seconds=seconds,
        lack=lack,
        cost=steps_cost(steps, songs, costs),
        without_pause=sum(
            bool(step and step.seconds and is_straight(songs, song) and steps[song - 1])
            for song, step in enumerate(steps)
        ),
    )


def planned_capos(plan: NightPlan) -> dict[int, dict[str, Capo]]:
    """Each guitarist's capo for each song, by the song's number in the file from 0; none where the
    chart moves it inside the song, since a capo in the file is one place for the whole song."""
    capos: dict[int, dict[str, Capo]] = {}
    for one in plan.players:
        for number, step in zip(plan.order, one.steps, strict=True):
            if step is not None and not step.offer.as_written:
                capos.setdefault(number, {})[one.player.name] = step.offer.option
    return capos
