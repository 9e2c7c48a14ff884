"""Two guitarists side by side: the plan of both together against trying everything."""

import random
from itertools import product

import pytest

from chartkit.advise.set_order import best_order
from chartkit.advise.set_plan import cheapest_steps_together
from chartkit.advise.set_steps import Guitarist, Offer, OverlapCosts, PlannedSong
from chartkit.advise.stage import StageCosts
from tests.advise.test_set_plan import drawn_night, told_cost
from tests.each import each


def drawn_beside(
    draw: random.Random, players: tuple[Guitarist, Guitarist], songs: int
) -> OverlapCosts:
    """What every pair of options costs together in each song; some pairs cost nothing."""
    tables = []
    for song in range(songs):
        pairs = product(*(player.offers[song] for player in players))
        tables.append(
            {
                (one.guitar, one.setup, other.guitar, other.setup): round(draw.uniform(0, 3), 2)
                for one, other in pairs
                if draw.random() < 0.9
            }
        )
    return OverlapCosts(0, 1, tuple(tables))


def cost_of_both(
    players: tuple[Guitarist, Guitarist],
    taken: tuple[tuple[Offer | None, ...], ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
    beside: OverlapCosts,
) -> float:
    """What both players' offers cost by the rules, and what they cost together."""
    total = sum(
        told_cost(player, own, songs, costs) for player, own in zip(players, taken, strict=True)
    )
    for song, (one, other) in enumerate(zip(*taken, strict=True)):
        if one is not None and other is not None:
            pair = (one.guitar, one.setup, other.guitar, other.setup)
            total += beside.costs[song].get(pair, 0.0)
    return total


def every_night(
    players: tuple[Guitarist, Guitarist], songs: int
) -> list[tuple[tuple[Offer | None, ...], ...]]:
    """Every choice of offers for both players."""
    nights = [
        list(product(*(player.offers[song] or (None,) for song in range(songs))))
        for player in players
    ]
    return list(product(*nights))


@each("seed", range(25))
def test_the_plan_of_two_equals_brute_force(seed: int) -> None:
    """On small random nights no choice for both costs less than the plan, and the plan's steps
    cost what it says."""
    first, songs, costs = drawn_night(seed, 3, 1 + seed % 2, 3)
    second, _, _ = drawn_night(seed + 1000, 3, 1, 3)
    players = (first, second)
    beside = drawn_beside(random.Random(seed), players, len(songs))
    steps = cheapest_steps_together(players, songs, costs, (beside,))
    taken = tuple(tuple(step and step.offer for step in own) for own in steps)
    best = min(
        cost_of_both(players, night, songs, costs, beside)
        for night in every_night(players, len(songs))
    )
    assert cost_of_both(players, taken, songs, costs, beside) == pytest.approx(best)


@each("seed", range(4))
def test_a_free_order_counts_who_is_beside(seed: int) -> None:
    """A free order of three songs has no other order left: it costs what the plan costs."""
    first, songs, costs = drawn_night(seed, 3, 1, 3)
    second, _, _ = drawn_night(seed + 1000, 3, 1, 3)
    players = (first, second)
    beside = drawn_beside(random.Random(seed), players, len(songs))
    ordered = best_order(players, songs, costs, lambda one, other: False, (beside,))
    assert ordered.order == (0, 1, 2)
    taken = tuple(tuple(step and step.offer for step in own) for own in ordered.steps)
    steps = cheapest_steps_together(players, songs, costs, (beside,))
    alone = tuple(tuple(step and step.offer for step in own) for own in steps)
    assert cost_of_both(players, taken, songs, costs, beside) == pytest.approx(
        cost_of_both(players, alone, songs, costs, beside)
    )
