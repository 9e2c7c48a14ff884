"""The plan of a whole night against trying everything."""

import random
import re
import time
from itertools import pairwise, permutations, product
from pathlib import Path
from typing import NamedTuple

import pytest

from chartkit.advise.set_order import ALIKE_COST, SongTraits, best_order, improved_order, too_alike
from chartkit.advise.set_plan import cheapest_steps
from chartkit.advise.set_steps import Guitarist, Offer, PlannedSong, steps_cost, steps_for_offers
from chartkit.advise.settings import ScoreWeights
from chartkit.advise.stage import GuitarSetup, StageCosts, change_cost
from chartkit.fretboard.retuning import SongTuning
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from tests.each import each

TUNINGS = (
    SongTuning("drop D", (-2, 0, 0, 0, 0, 0), ("D", "A", "D", "G", "B", "E")),
    SongTuning("DADGAD", (-2, 0, 0, 0, -2, -2), ("D", "A", "D", "G", "A", "D")),
)
PLACES = (Capo(), Capo(1), Capo(2), Capo(3), Capo(5), Capo(0, 1), Capo(0, 2))


GUIDE = Path(__file__).parents[2] / "examples" / "SETS.md"


def test_what_changes_take_is_what_the_guide_says() -> None:
    """The usual seconds are those that the guide to set files shows, and nobody helps."""
    shown = dict(re.findall(r"^ +(\w+_seconds) = (\d+) ", GUIDE.read_text(), re.MULTILINE))
    usual = StageCosts()
    assert {name: getattr(usual, name) for name in shown} == {k: float(v) for k, v in shown.items()}
    assert len(shown) == 4
    assert not usual.helper


def test_what_waiting_is_worth() -> None:
    """Half a minute weighs as much as open shapes for one and a half songs; a change between two
    songs that run straight on as fifty songs of them besides: no set gains so much by a change
    (ours, unsourced)."""
    song = ScoreWeights().open_share
    assert change_cost(30.0, False, StageCosts()) == pytest.approx(1.5 * song)
    assert change_cost(30.0, True, StageCosts()) == pytest.approx(51.5 * song)
    assert change_cost(0.0, True, StageCosts()) == 0


def drawn_offers(draw: random.Random, guitars: int, options: int) -> tuple[Offer, ...]:
    """Some options on some guitars; now and then the song is sat out."""
    if draw.random() < 0.15:
        return ()
    places = draw.sample([(g, o) for g in range(guitars) for o in PLACES], options)
    return tuple(
        Offer(
            guitar=g,
            option=o,
            score_gap=round(draw.uniform(0, 2.5), 2),
            moves=drawn_moves(draw, o),
            song_tuning=draw.choice([None, None, None, *TUNINGS]),
        )
        for g, o in sorted(places)
    )


def drawn_moves(draw: random.Random, capo: Capo) -> tuple[Capo, ...]:
    """Where the capo goes inside a song; mostly nowhere."""
    frets = draw.sample(range(6), draw.choice([0, 0, 0, 1, 2]))
    return tuple(Capo(fret, capo.tuned_down) for fret in frets)


def drawn_night(
    seed: int, songs: int, guitars: int, options: int
) -> tuple[Guitarist, tuple[PlannedSong, ...], StageCosts]:
    """A small random night for one player."""
    draw = random.Random(seed)
    night = tuple(
        PlannedSong(draw.choice([20.0, 200.0]), draw.random() < 0.2) for _ in range(songs)
    )
    start = tuple(GuitarSetup(draw.choice([0, 0, 1])) for _ in range(guitars))
    offers = tuple(drawn_offers(draw, guitars, options) for _ in range(songs))
    costs = StageCosts(
        swap_seconds=draw.choice([4.0, 15.0]),
        retune_seconds=draw.choice([0.5, 5.0]),
        straight_cost=draw.choice([0.0, 0.4, 3.0]),
        helper=draw.random() < 0.3,
    )
    return Guitarist((6,) * guitars, start, offers), night, costs


class Told(NamedTuple):
    """Where a night stands after some songs: how each guitar's strings are tuned and where its capo
    is, the guitar in hand, the rest since it was played, and the cost so far."""

    strings: tuple[tuple[int, ...], ...]
    capos: tuple[int | None, ...]
    hand: int | None = None
    rest: float = 0.0
    total: float = 0.0


def told_start(guitarist: Guitarist) -> Told:
    """Before the first song."""
    strings = tuple((-start.tuned_down,) * 6 for start in guitarist.start)
    return Told(strings, (None,) * len(strings))


def told_step(
    told: Told, number: int, offer: Offer | None, songs: tuple[PlannedSong, ...], costs: StageCosts
) -> Told:
    """After one more song, by the rules as they are documented."""
    if offer is None:
        return told._replace(rest=told.rest + songs[number].seconds)
    g, option, lack, moves, retuned, *_ = offer
    single = (0,) * 6 if retuned is None else retuned.half_steps
    wanted = tuple(step - option.tuned_down for step in single)
    seconds = 0.0
    if told.hand is not None and told.hand != g:
        seconds += costs.swap_seconds
    if told.hand == g or not costs.helper:
        if told.capos[g] not in (None, option.fret):
            seconds += costs.capo_move_seconds
        if told.strings[g] != wanted:
            pairs = zip(told.strings[g], wanted, strict=True)
            turns = sum(abs(now - then) for now, then in pairs)
            seconds += turns * costs.retune_seconds + costs.check_seconds
    straight = number > 0 and songs[number - 1].straight and told.rest == 0
    seconds = max(0.0, seconds - told.rest)
    total = told.total + lack + seconds * costs.score_a_second
    total += costs.straight_cost if straight and seconds else 0.0
    end = moves[-1] if moves else option
    return Told(
        strings=(*told.strings[:g], wanted, *told.strings[g + 1 :]),
        capos=(*told.capos[:g], end.fret, *told.capos[g + 1 :]),
        hand=g,
        total=total,
    )


def told_cost(
    guitarist: Guitarist,
    taken: tuple[Offer | None, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
) -> float:
    """The cost of offers by the rules as they are documented, worked out afresh."""
    told = told_start(guitarist)
    for number, offer in enumerate(taken):
        told = told_step(told, number, offer, songs, costs)
    return told.total


def least_by_trying(
    guitarist: Guitarist, songs: tuple[PlannedSong, ...], costs: StageCosts
) -> float:
    """The least cost over every choice there is."""
    nights = [told_start(guitarist)]
    for number, offers in enumerate(guitarist.offers):
        choices = offers or (None,)
        nights = [
            told_step(told, number, offer, songs, costs) for told in nights for offer in choices
        ]
    return min(told.total for told in nights)


@each("seed", range(120))
def test_plan_equals_brute_force(seed: int) -> None:
    """The plan costs what the cheapest of all choices costs, and says so."""
    guitars = seed % 3 + 1
    guitarist, songs, costs = drawn_night(seed, 5 - guitars // 3, guitars, 5)
    steps = cheapest_steps(guitarist, songs, costs)
    taken = tuple(step and step.offer for step in steps)
    least = least_by_trying(guitarist, songs, costs)
    assert told_cost(guitarist, taken, songs, costs) == pytest.approx(least)
    assert steps_cost(steps, songs, costs) == pytest.approx(least)
    assert steps_for_offers(guitarist, taken, songs, costs) == steps


def test_what_is_sat_out_or_pinned_is_kept() -> None:
    """A song with one offer gets it, however dear; a song without offers gets none."""
    dear = (Offer(0, Capo(7), 9.0),)
    cheap = (Offer(0, Capo(), 0.0), Offer(0, Capo(7), 9.0))
    guitarist = Guitarist((6,), (GuitarSetup(),), (cheap, dear, (), cheap))
    steps = cheapest_steps(guitarist, (PlannedSong(200.0),) * 4, StageCosts())
    assert [step and step.offer.option.fret for step in steps] == [0, 7, None, 0]


def test_a_capo_is_not_moved_for_next_to_nothing() -> None:
    """Where the second best option saves a move worth more than it lacks, it is taken."""
    offers = (Offer(0, Capo(2), 0.0), Offer(0, Capo(4), 0.1))
    other = (Offer(0, Capo(4), 0.0), Offer(0, Capo(2), 0.1))
    guitarist = Guitarist((6,), (GuitarSetup(),), (offers, other, offers, other))
    steps = cheapest_steps(guitarist, (PlannedSong(),) * 4, StageCosts())
    assert sum(step.seconds for step in steps if step) == 0.0


@each(("before", "after"), [(False, False), (True, False), (False, True), (True, True)])
def test_a_capo_stays_for_just_what_two_moves_cost(before: bool, after: bool) -> None:
    """A song is played on its neighbours' capo while it lacks less there than moving twice costs,
    which is more where songs run straight on."""
    costs = StageCosts()
    moves = [change_cost(costs.capo_move_seconds, straight, costs) for straight in (before, after)]
    songs = (PlannedSong(200.0, before), PlannedSong(200.0, after), PlannedSong(200.0))
    home = (Offer(0, Capo(), 0.0),)
    for lack, capo in ((sum(moves) - 0.01, 0), (sum(moves) + 0.01, 2)):
        between = (Offer(0, Capo(), lack), Offer(0, Capo(2), 0.0))
        steps = cheapest_steps(
            Guitarist((6,), (GuitarSetup(),), (home, between, home)), songs, costs
        )
        assert [step and step.offer.option.fret for step in steps] == [0, capo, 0]


def test_a_guitar_is_left_as_it_was_brought_where_retuning_it_twice_costs_more() -> None:
    """A song is played badly on one guitar so that another, needed later as it came, stays so."""
    first = (Offer(0, Capo(), 2.3), Offer(1, Capo(), 0.0))
    here, there = (Offer(0, Capo(), 0.0),), (Offer(1, Capo(0, 1), 0.0),)
    guitarist = Guitarist((6, 6), (GuitarSetup(), GuitarSetup(1)), (first, here, there))
    steps = cheapest_steps(guitarist, (PlannedSong(200.0),) * 3, StageCosts())
    assert [step and step.offer.guitar for step in steps] == [0, 0, 1]


def clash(seed: int, count: int) -> set[frozenset[int]]:
    """Some pairs of songs that are too alike."""
    draw = random.Random(seed)
    pairs = [frozenset(pair) for pair in product(range(count), repeat=2)]
    return {pair for pair in pairs if len(pair) == 2 and draw.random() < 0.3}


def allowed(order: tuple[int, ...], songs: tuple[PlannedSong, ...]) -> bool:
    """Whether an order keeps its ends and the songs that belong together."""
    last = len(songs) - 1
    ends = order[0] == 0 and order[-1] == last
    return ends and all(
        order[order.index(one) + 1] == one + 1
        for one, song in enumerate(songs)
        if song.straight and one != last
    )


def least_of_all_orders(
    players: tuple[Guitarist, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
    too_near: set[frozenset[int]],
) -> dict[tuple[int, ...], float]:
    """What every allowed order costs at the least, by trying everything."""

    def cost_of(order: tuple[int, ...]) -> float:
        there = tuple(songs[i] for i in order)
        alike = sum(frozenset(pair) in too_near for pair in pairwise(order))
        moved = (Guitarist(p.strings, p.start, tuple(p.offers[i] for i in order)) for p in players)
        return ALIKE_COST * alike + sum(least_by_trying(p, there, costs) for p in moved)

    orders = permutations(range(len(songs)))
    return {order: cost_of(order) for order in orders if allowed(order, songs)}


@each("seed", range(25))
def test_free_order_equals_brute_force(seed: int) -> None:
    """The order found costs what the cheapest of all allowed orders costs, for two players."""
    count = 5
    one, songs, costs = drawn_night(seed, count, 1, 3)
    two, *_ = drawn_night(seed + 1000, count, 2, 3)
    too_near = clash(seed, count)
    plan = best_order((one, two), songs, costs, lambda a, b: frozenset((a, b)) in too_near)
    every = least_of_all_orders((one, two), songs, costs, too_near)
    assert every[plan.order] == pytest.approx(min(every.values()))


@each("seed", range(40))
def test_free_order_makes_use_of_rests(seed: int) -> None:
    """Where a player sits many short songs out, the order that gives time for changes is found."""
    draw = random.Random(seed)
    songs = tuple(PlannedSong(draw.choice([5.0, 20.0, 60.0])) for _ in range(6))
    offers = tuple(
        (Offer(0, draw.choice(PLACES), 0.0),) if draw.random() < 0.5 else () for _ in songs
    )
    player = Guitarist((6,), (GuitarSetup(),), offers)
    plan = best_order((player,), songs, StageCosts(), lambda a, b: False)
    every = least_of_all_orders((player,), songs, StageCosts(), set())
    assert every[plan.order] == pytest.approx(min(every.values()))


@pytest.mark.parametrize("count", [14, 15])
def test_the_longest_night_whose_order_is_free(count: int) -> None:
    """Fourteen songs are put in order, a fifteenth is refused in words (ours, unsourced)."""
    songs = tuple(PlannedSong(200.0, straight=i not in (0, 5)) for i in range(count))
    player = Guitarist((6,), (GuitarSetup(),), ((Offer(0, Capo(), 0.0),),) * count)
    if count > 14:
        with pytest.raises(ValueError, match="up to 14 songs"):
            best_order((player,), songs, StageCosts(), lambda a, b: False)
    else:
        assert len(best_order((player,), songs, StageCosts(), lambda a, b: False).order) == count


def test_what_is_too_alike() -> None:
    """The same key is too alike, and nearly the same tempo in the same beat."""
    c, d = parse_key("C"), parse_key("D")
    assert too_alike(SongTraits(c, 60), SongTraits(c, 160))
    assert too_alike(SongTraits(c, 100), SongTraits(d, 104))
    assert not too_alike(SongTraits(c, 100), SongTraits(d, 110))
    assert not too_alike(SongTraits(c, 100, 4), SongTraits(d, 100, 3))
    assert not too_alike(SongTraits(c, None), SongTraits(d, None))


def test_a_long_night_is_planned_at_once() -> None:
    """Forty songs on three guitars, every option open, take well under the two seconds asked."""
    draw = random.Random(7)
    every = [Capo(c) for c in range(10)] + [Capo(0, d) for d in (1, 2, 3)]
    offers = tuple(
        tuple(Offer(g, o, draw.uniform(0, 3)) for g in range(3) for o in every) for _ in range(40)
    )
    guitarist = Guitarist((6,) * 3, (GuitarSetup(),) * 3, offers)
    start = time.process_time()
    assert len(cheapest_steps(guitarist, (PlannedSong(200.0),) * 40, StageCosts())) == 40
    assert time.process_time() - start < 2.0


def test_an_order_is_improved_by_another_measure() -> None:
    """Of up to seven pieces the best order by any measure is taken; of more an order that no move
    of a piece betters.  First and last stay, and songs that run straight on stay together."""
    draw = random.Random(5)
    for count in (2, 3, 5, 7, 9):
        songs = tuple(PlannedSong(100.0, straight=number == 1) for number in range(count))
        worth = {(a, b): draw.random() for a in range(count) for b in range(count)}

        def cost(order: tuple[int, ...], worth: dict[tuple[int, int], float] = worth) -> float:
            return sum(worth[pair] for pair in pairwise(order))

        start = tuple(range(count))
        better = improved_order(start, songs, cost)
        assert cost(better) <= cost(start)
        assert (better[0], better[-1]) == (0, count - 1) and sorted(better) == list(start)
        assert count < 3 or (1, 2) in set(pairwise(better))
        if count <= 7:
            middles = permutations(range(1, count - 1))
            orders = [(0, *middle, count - 1) for middle in middles] if count > 2 else [start]
            whole = [one for one in orders if count < 3 or (1, 2) in set(pairwise(one))]
            assert cost(better) == min(map(cost, whole))
