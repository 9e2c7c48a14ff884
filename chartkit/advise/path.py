"""The one best way through a song: a voicing for each chord, by exact shortest path.

The path minimises exactly the score that is reported, with its sign turned: node costs are
the measures that time weighs, edge costs those that changes weigh.  A chord keeps one shape
through a song unless a second one gains more than it costs to think of (``steady_path``).
"""

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count, pairwise
from math import inf
from typing import TypeVar

Name = TypeVar("Name", bound=Hashable)
"""The name of a place in the sequence: a chord of a song."""


@dataclass(frozen=True, slots=True)
class ShortestPath:
    """The choice at each place of the sequence and the total cost."""

    choices: tuple[int, ...]
    cost: float


def shortest_path(
    sequence: Sequence[Name],
    node_costs: Callable[[int], Sequence[float]],
    edge_costs: Callable[[Name, Name], Sequence[Sequence[float]]],
) -> ShortestPath:
    """The cheapest choice of one candidate at each place.

    ``node_costs(place)`` prices the candidates there; ``edge_costs(a, b)`` holds a row for
    each candidate of ``a`` and in it the price of each of ``b``, asked once for each pair.
    Of equal paths the one with the earlier candidates wins, from the end backwards.
    """
    if not sequence:
        return ShortestPath((), 0.0)
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
    return ShortestPath(tuple(reversed(choices)), cost)


MOST_PATHS = 200
"""The most paths that ``steady_path`` examines before it takes the best so far; songs need a
few (ours)."""


def steady_path(
    sequence: Sequence[Name],
    node_costs: Callable[[int], Sequence[float]],
    edge_costs: Callable[[Name, Name], Sequence[Sequence[float]]],
    second_choice: float,
) -> ShortestPath:
    """The cheapest choice at each place if every name that varies costs extra.

    The cost is that of ``shortest_path`` plus ``second_choice`` for each name that does not have
    the same candidate at all its places.  The search is exact, by branch and bound: a name that
    varies in the cheapest path is either held to one candidate (each is tried) or pays.
    """
    edges = _remembered(edge_costs)
    order = count()

    def branch(held: Mapping[Name, int], paying: frozenset[Name]) -> _Branch[Name]:
        def nodes(place: int) -> Sequence[float]:
            costs = node_costs(place)
            only = held.get(sequence[place])
            return costs if only is None else [c if i == only else inf for i, c in enumerate(costs)]

        path = shortest_path(sequence, nodes, edges)
        return path.cost + second_choice * len(paying), next(order), path, held, paying

    branches = [branch({}, frozenset())]
    best = ShortestPath((), inf)
    while branches and next(order) < MOST_PATHS:
        bound, _, path, held, paying = heappop(branches)
        if bound >= best.cost:
            break
        varying = _varying(sequence, path)
        full_cost = path.cost + second_choice * len(varying)
        best = min(best, ShortestPath(path.choices, full_cost), key=_cost)
        name = next((name for name in varying if name not in paying), None)
        if name is None:
            break
        heappush(branches, branch(held, paying | {name}))
        for choice in range(len(node_costs(sequence.index(name)))):
            heappush(branches, branch({**held, name: choice}, paying))
    return best


_Branch = tuple[float, int, ShortestPath, Mapping[Name, int], frozenset[Name]]
"""A bound, a tie-break, the cheapest path, the names held to one choice, those that pay."""


def _cost(path: ShortestPath) -> float:
    return path.cost


def _varying(sequence: Sequence[Name], path: ShortestPath) -> list[Name]:
    """The names with more than one choice in a path, in order of appearance."""
    choices: dict[Name, set[int]] = {}
    for name, choice in zip(sequence, path.choices, strict=True):
        choices.setdefault(name, set()).add(choice)
    return [name for name, used in choices.items() if len(used) > 1]


def _remembered(
    edge_costs: Callable[[Name, Name], Sequence[Sequence[float]]],
) -> Callable[[Name, Name], Sequence[Sequence[float]]]:
    known: dict[tuple[Name, Name], Sequence[Sequence[float]]] = {}

    def edges(one: Name, other: Name) -> Sequence[Sequence[float]]:
        costs = known.get((one, other))
        if costs is None:
            costs = known[one, other] = edge_costs(one, other)
        return costs

    return edges
