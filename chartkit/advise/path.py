"""The one best way through a song: a voicing for each chord, by exact shortest path.

The path minimises exactly the score that is reported, with its sign turned: node costs are
the measures that time weighs, edge costs those that changes weigh.  The same chord keeps
its usual shape unless another one gains more along the way than its oddness costs.
"""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

Name = TypeVar("Name", bound=Hashable)
"""What a place of the sequence goes by, a chord in a song."""


@dataclass(frozen=True, slots=True)
class Path:
    """The choice at each place of the sequence and the total cost."""

    choices: tuple[int, ...]
    cost: float


def shortest_path(
    sequence: Sequence[Name],
    node_costs: Callable[[int], Sequence[float]],
    edge_costs: Callable[[Name, Name], Sequence[Sequence[float]]],
) -> Path:
    """The cheapest choice of one candidate at each place.

    ``node_costs(place)`` prices the candidates there; ``edge_costs(a, b)`` holds a row for
    each candidate of ``a`` and in it the price of each of ``b``, asked once for each pair.
    Of equal paths the one with the earlier candidates wins, from the end backwards.
    """
    if not sequence:
        return Path((), 0.0)
    reached = list(node_costs(0))
    came_from: list[list[int]] = []
    edges: dict[tuple[Name, Name], list[tuple[float, ...]]] = {}
    for place, pair in enumerate(pairwise(sequence), start=1):
        columns = edges.get(pair)
        if columns is None:
            columns = edges[pair] = list(zip(*edge_costs(*pair), strict=True))
        nodes = node_costs(place)
        best: list[float] = []
        sources: list[int] = []
        for node, column in zip(nodes, columns, strict=True):
            totals = [before + edge for before, edge in zip(reached, column, strict=True)]
            least = min(totals)
            best.append(least + node)
            sources.append(totals.index(least))
        reached = best
        came_from.append(sources)
    cost = min(reached)
    choices = [reached.index(cost)]
    for sources in reversed(came_from):
        choices.append(sources[choices[-1]])
    return Path(tuple(reversed(choices)), cost)
