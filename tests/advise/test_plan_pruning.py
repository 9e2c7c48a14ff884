"""What the planner leaves out never matters: many small nights against trying everything.

Each group of nights draws on one of the planner's reasons to leave something out.
"""

import random
from dataclasses import replace

import pytest

from chartkit.advise.set_plan import cheapest_steps
from chartkit.advise.set_steps import Guitarist, Offer, PlannedSong
from chartkit.advise.stage import GuitarSetup, StageCosts
from chartkit.theory.capo import Capo
from tests.advise.test_set_plan import drawn_night, least_by_trying, told_cost

NIGHTS = 75
PRICES = {
    "usual": {},
    "dear capos": {"capo_move_seconds": 60.0, "swap_seconds": 1.0},
    "dear tunings": {"retune_seconds": 12.0, "check_seconds": 40.0, "swap_seconds": 2.0},
    "dear guitars": {"swap_seconds": 90.0, "retune_seconds": 0.2, "check_seconds": 0.5},
    "straight on": {"straight_cost": 2.0, "score_a_second": 0.01},
    "cheap seconds": {"score_a_second": 0.002},
    "a helper": {"helper": True, "swap_seconds": 3.0},
}


@pytest.mark.parametrize("kind", PRICES)
def test_many_small_nights_equal_brute_force(kind: str) -> None:
    """Whatever is dear, the plan costs what the cheapest of all choices costs."""
    for seed in range(NIGHTS):
        guitars = seed % 2 + 1
        guitarist, songs, costs = drawn_night(10_000 + seed, 5, guitars, 3)
        costs = replace(costs, **{"helper": False, **PRICES[kind]})  # type: ignore[arg-type]
        taken = tuple(step and step.offer for step in cheapest_steps(guitarist, songs, costs))
        least = least_by_trying(guitarist, songs, costs)
        assert told_cost(guitarist, taken, songs, costs) == pytest.approx(least), seed


@pytest.mark.parametrize("seed", range(20))
def test_nights_of_near_ties_equal_brute_force(seed: int) -> None:
    """Lacks that equal what a change costs, where leaving out one too many would show."""
    draw = random.Random(seed)
    costs = StageCosts(swap_seconds=draw.choice([6.0, 12.0]), score_a_second=0.05)
    lacks = [0.0, 0.3, 0.6, 0.9, 1.2]  # 6 seconds of a capo move are 0.3, and so on
    places = [Capo(c) for c in (0, 2, 4)] + [Capo(0, 1)]
    for _ in range(20):
        offers = tuple(
            tuple(
                Offer(guitar, option, draw.choice(lacks))
                for guitar, option in sorted(
                    draw.sample([(g, o) for g in range(2) for o in places], 3)
                )
            )
            for _ in range(5)
        )
        songs = tuple(PlannedSong(200.0, draw.random() < 0.4) for _ in offers)
        guitarist = Guitarist((6, 6), (GuitarSetup(), GuitarSetup(draw.choice([0, 1]))), offers)
        taken = tuple(step and step.offer for step in cheapest_steps(guitarist, songs, costs))
        least = least_by_trying(guitarist, songs, costs)
        assert told_cost(guitarist, taken, songs, costs) == pytest.approx(least)
