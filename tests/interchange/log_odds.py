"""Learns weights of evidence from known cases, and writes tables of weights as
``chartkit/interchange/text/learnt_weights.py`` reads them.

The weights are those of a logistic regression with a penalty on their squares, found by steps that
grow smaller (Duchi, Hazan and Singer 2011, from memory) through all cases at once.
"""

from collections import Counter, defaultdict
from collections.abc import Sequence

import numpy as np

from chartkit.interchange.text.learnt_weights import ALWAYS

Case = tuple[Sequence[str], bool]
"""The evidence of a case, and whether it is of the kind that is looked for."""
_ROUNDS, _STEP = 1_000, 0.5
_FEWEST_SEEN = 2
_LEAST = 0.1


def weights_of(cases: Sequence[Case], penalty: float = 1.0) -> dict[str, float]:
    """The weights by evidence, that of every case under ""; a greater ``penalty`` makes them
    smaller."""
    seen = Counter(name for names, _ in cases for name in names)
    places = {"": 0}
    for name in sorted(name for name, times in seen.items() if times >= _FEWEST_SEEN):
        places[name] = len(places)
    held = [[0, *(places[name] for name in names if name in places)] for names, _ in cases]
    case_of = np.repeat(np.arange(len(held)), [len(one) for one in held])
    place_of = np.concatenate([np.array(one) for one in held])
    wanted = np.array([is_one for _, is_one in cases], dtype=float)
    weights, steps = np.zeros(len(places)), np.full(len(places), 1e-8)
    penalties = np.full(len(places), penalty)
    penalties[0] = 0.0
    for _ in range(_ROUNDS):
        odds = np.bincount(case_of, weights=weights[place_of], minlength=len(held))
        apart = 1 / (1 + np.exp(-odds)) - wanted
        slopes = penalties * weights
        slopes += np.bincount(place_of, weights=apart[case_of], minlength=len(places))
        steps += slopes * slopes
        weights -= _STEP * slopes / np.sqrt(steps)
    return {name: float(weights[place]) for name, place in places.items()}


def table(weights: dict[str, float], head: str, digits: int = 1) -> str:
    """The table as it is written: a line for each weight, rounded to so many digits.  Where many
    pieces of evidence are added up, one digit is too few."""
    rows: dict[float, list[str]] = defaultdict(list)
    for name, weight in weights.items():
        if abs(weight) >= _LEAST**digits:
            rows[round(weight, digits)].append(name or ALWAYS)
    return head + "".join(f"{weight} {' '.join(sorted(rows[weight]))}\n" for weight in sorted(rows))
