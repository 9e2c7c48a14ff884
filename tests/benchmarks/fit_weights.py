"""Fits the weights of the voicing cost to the shapes beginners' books print.

Run as ``python -m tests.benchmarks.fit_weights``.  Every playable voicing of each chord in
the table of common shapes competes; the loss is the logistic regret that the cheapest
accepted shape is not the cheapest of all, plus a pull toward where the fit began.  Prints
the fitted weights, how many shapes come first, and the same held out five-fold.
"""

from dataclasses import replace
from math import inf

import numpy as np

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.instruments import GUITAR
from chartkit.fretboard.weights import FEATURES, Weights, weight_tuple
from chartkit.syntax.symbol import chord_or_none
from tests.fretboard.common_shapes import common_shapes

FIXED = ("overfill_mm", "barre_strings", "part_barre_strings", "index_lean", "weak_barre")
"""Not fitted: shapes at the nut say nothing of them, or too little."""
UNKNOWN = ("known_grip", "unfamiliar", "thumb", "away_from_nut")
"""Kept at 0: the fit is that of shapes alone, with no grips known and no thumb."""
LOWEST = {
    "fingers": 0.12,
    "four_fingers": 0.2,
    "little_finger": 0.4,
    "open_between": 0.1,
    "doubled_third": 0.1,
    "crowded_barre": 0.4,
}
"""Bounds by reason: what is known to be harder is never priced as easier."""
HIGHEST = {"open_strings": -0.1, "movable_form": 0.0}
CORE = {"C", "A", "G", "E", "D", "F", "Am", "Em", "Dm", "Bm", "A7", "B7", "C7", "D7", "E7", "G7"}
"""The first shapes of every beginner: a miss here counts four times."""
START = Weights(
    known_grip=0.0,
    unfamiliar=0.0,
    thumb=0.0,
    away_from_nut=0.0,
    fingers=0.17,
    four_fingers=0.46,
    little_finger=0.94,
    strain=2.02,
    overfill_mm=0.06,
    index_barre=0.50,
    barre_strings=0.05,
    first_fret_barre=0.65,
    part_barre=0.60,
    part_barre_strings=0.10,
    crowded_barre=1.07,
    span=1.43,
    position=1.07,
    past_fourth=0.96,
    movable_form=-2.38,
    inner_mutes=2.23,
    untouched_mutes=0.60,
    low_mutes=0.23,
    high_mutes=1.29,
    idle_strings=2.31,
    open_strings=-0.21,
    open_between=0.41,
    unisons=1.25,
    doubled_third=0.24,
    doubled_colours=0.5,
    omitted=1.08,
    bass_octaves=0.40,
    wide_intervals=0.68,
    lone_bass=0.50,
)
"""Where the fit begins and what it is pulled toward: a rougher fit to fewer shapes."""
PULL = 0.5
ROUNDS = 7
STEPS = 400
SHARPNESS = 3.0

Problem = tuple[str, np.ndarray, np.ndarray]


def problems(weights: Weights) -> list[Problem]:
    """For each chord its name, the features of every voicing, and which are accepted."""
    board = Fretboard(GUITAR, weights=weights, most=100_000, cost_margin=inf)
    problems_read = []
    for name, shapes in common_shapes().items():
        chord = chord_or_none(name)
        voicings = board.voicings(chord)
        accepted = np.array([voicing.frets in shapes for voicing in voicings])
        if not accepted.any():
            print(f"{name}: no accepted shape is playable")
            continue
        problems_read.append((name, np.array([v.features for v in voicings]), accepted))
    return problems_read


def step_gradient(problem: Problem, w: np.ndarray) -> np.ndarray:
    """The gradient of one chord's loss, the soft regret over the shapes that beat the accepted."""
    _, features, accepted = problem
    costs = features @ w
    best = np.flatnonzero(accepted)[costs[accepted].argmin()]
    others = np.flatnonzero(~accepted)
    gaps = SHARPNESS * (costs[best] + 0.25 - costs[others])
    shares = np.exp(gaps - max(0.0, gaps.max()))
    shares /= shares.sum() + np.exp(-max(0.0, gaps.max()))
    return shares.sum() * features[best] - shares @ features[others]


def fitted(data: list[Problem], start: np.ndarray) -> np.ndarray:
    """The weights after gradient steps from ``start`` with adapted rates, within their bounds."""
    w, momentum, spread = start.copy(), np.zeros_like(start), np.zeros_like(start)
    free = np.array([name not in (*FIXED, *UNKNOWN) for name in FEATURES])
    floor = np.array([LOWEST.get(name, 0.02) for name in FEATURES])
    floor[[FEATURES.index("open_strings"), FEATURES.index("movable_form")]] = -9.0
    floor[[FEATURES.index(name) for name in UNKNOWN]] = 0.0
    ceiling = np.array([HIGHEST.get(name, 9.0) for name in FEATURES])
    scale = np.abs(start) + 0.3
    for step in range(1, STEPS + 1):
        gradient = sum((4 if p[0] in CORE else 1) * step_gradient(p, w) for p in data)
        gradient = (gradient + PULL * (w - start) / scale**2 * 2) * free
        momentum = 0.9 * momentum + 0.1 * gradient
        spread = 0.99 * spread + 0.01 * gradient**2
        rate = 0.03 * (1 - step / (STEPS + 1))
        moved = momentum / (1 - 0.9**step) / (np.sqrt(spread / (1 - 0.99**step)) + 1e-8)
        w = np.clip(w - rate * moved, floor, ceiling)
    return w


def ranks(data: list[Problem], w: np.ndarray) -> dict[str, int]:
    """For each chord the rank, from 0, of its cheapest accepted shape."""
    rank_by_name = {}
    for name, features, accepted in data:
        costs = features @ w
        rank_by_name[name] = int((costs < costs[accepted].min() - 1e-9).sum())
    return rank_by_name


def summary(rank_by_name: dict[str, int]) -> str:
    """Ranks in a few words."""
    first = sum(rank == 0 for rank in rank_by_name.values())
    third = sum(rank < 3 for rank in rank_by_name.values())
    return f"{first} first, {third} in the first three, of {len(rank_by_name)}"


def held_out(data: list[Problem], start: np.ndarray) -> dict[str, int]:
    """The rank of each chord with weights fitted to the four folds it is not in."""
    rank_by_name: dict[str, int] = {}
    for fold in range(5):
        w = fitted([p for i, p in enumerate(data) if i % 5 != fold], start)
        rank_by_name |= ranks([p for i, p in enumerate(data) if i % 5 == fold], w)
    return rank_by_name


def main() -> None:
    """Fits, refingers and fits again, then prints everything."""
    weights = START
    start = np.array(weight_tuple(weights))
    for _ in range(ROUNDS):
        data = problems(weights)
        print(summary(ranks(data, np.array(weight_tuple(weights)))), flush=True)
        w = fitted(data, start)
        rounded = (round(float(x), 2) for x in w)
        weights = replace(weights, **dict(zip(FEATURES, rounded, strict=True)))
    data = problems(weights)
    final = np.array(weight_tuple(weights))
    print("fitted:", summary(ranks(data, final)))
    for name, rank in ranks(data, final).items():
        if rank:
            print(f"  {name}: place {rank + 1}")
    for name, before, after in zip(FEATURES, start, final, strict=True):
        print(f"{name:20} {before:6.2f} {after:6.2f}")
    shipped = np.array(weight_tuple(Weights()))
    print("as they are:", summary(ranks(problems(Weights()), shipped)))
    print("held out:", summary(held_out(data, start)))


if __name__ == "__main__":
    main()
