"""Chooses one grip for each chord, so that the whole song costs least.

A player keeps one grip for a chord, so this is not a shortest path: every return of a chord ties
its place in the song to the others.  It is a choice of one value a node over the graph of
changes.  Where that graph is narrow it is solved exactly by elimination, else by descent from
several starts (the gap to the optimum is measured in ``tests/advise/part``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from operator import add

Node = int
Matrix = list[list[float]]

MOST_TABLE = 60_000
"""The most entries of a table of the elimination; past that, descent is used (ours)."""
STARTS = 12
"""How many descents are tried, each from another start (ours)."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The place chosen for each node and what it all costs; ``exact`` says by which way."""

    places: tuple[int, ...]
    cost: float
    exact: bool


@dataclass(frozen=True, slots=True)
class ChoiceProblem:
    """``nodes[i][p]`` is the cost of place p at node i; ``edges[i, j][p][q]`` (i < j) that of
    the changes between place p at i and place q at j."""

    nodes: Sequence[Sequence[float]]
    edges: dict[tuple[Node, Node], Matrix]

    def cost(self, places: Sequence[int]) -> float:
        """The cost of a whole choice."""
        total = sum(costs[place] for costs, place in zip(self.nodes, places, strict=True))
        return total + sum(matrix[places[i]][places[j]] for (i, j), matrix in self.edges.items())


def best_choice(problem: ChoiceProblem) -> Choice:
    """The cheapest choice: exact where elimination is affordable, else by descent."""
    order = _elimination_order(problem)
    if order is not None:
        places = _eliminated(problem, order)
        return Choice(places, problem.cost(places), exact=True)
    return descended(problem)


# ---- exact: eliminate the nodes one by one


def _neighbours(problem: ChoiceProblem) -> list[set[Node]]:
    near: list[set[Node]] = [set() for _ in problem.nodes]
    for i, j in problem.edges:
        near[i].add(j)
        near[j].add(i)
    return near


def _elimination_order(problem: ChoiceProblem) -> list[Node] | None:
    """The nodes by least growth of the tables; None where a table would be too large."""
    near = _neighbours(problem)
    sizes = [len(costs) for costs in problem.nodes]
    left, order = set(range(len(sizes))), []
    while left:

        def table(node: Node) -> tuple[int, Node]:
            entries = sizes[node]
            for other in near[node]:
                entries *= sizes[other]
            return entries, node

        entries, node = min(map(table, left))
        if entries > MOST_TABLE:
            return None
        order.append(node)
        left.remove(node)
        for other in near[node]:
            near[other] |= near[node] - {other}
            near[other].discard(node)
    return order


@dataclass(slots=True)
class _Table:
    """Costs over the places of some nodes."""

    scope: tuple[Node, ...]
    costs: dict[tuple[int, ...], float]


def _eliminated(problem: ChoiceProblem, order: Sequence[Node]) -> tuple[int, ...]:
    tables = [
        _Table((i, j), {(p, q): c for p, row in enumerate(matrix) for q, c in enumerate(row)})
        for (i, j), matrix in problem.edges.items()
    ]
    choices: list[tuple[Node, tuple[Node, ...], dict[tuple[int, ...], int]]] = []
    for node in order:
        mine = [table for table in tables if node in table.scope]
        tables = [table for table in tables if node not in table.scope]
        rest = tuple(sorted({n for table in mine for n in table.scope} - {node}))
        best, where = _without(node, rest, mine, problem)
        tables.append(_Table(rest, best))
        choices.append((node, rest, where))
    places: dict[Node, int] = {}
    for node, rest, where in reversed(choices):
        places[node] = where[tuple(places[other] for other in rest)]
    return tuple(places[node] for node in range(len(problem.nodes)))


def _without(
    node: Node, rest: tuple[Node, ...], mine: Sequence[_Table], problem: ChoiceProblem
) -> tuple[dict[tuple[int, ...], float], dict[tuple[int, ...], int]]:
    """The tables of a node minimised over its places, and which place that is."""
    best: dict[tuple[int, ...], float] = {}
    where: dict[tuple[int, ...], int] = {}
    nodes = problem.nodes[node]
    columns = [_columns(table, node, rest) for table in mine]
    for places in product(*(range(len(problem.nodes[n])) for n in rest)):
        there = [costs[tuple([places[p] for p in others])] for others, costs in columns]
        totals = list(map(add, nodes, map(sum, zip(*there, strict=True)))) if there else nodes
        least = min(totals)
        best[places], where[places] = least, totals.index(least)
    return best, where


def _columns(
    table: _Table, node: Node, rest: Sequence[Node]
) -> tuple[list[int], dict[tuple[int, ...], list[float]]]:
    """A table as a list of costs over a node's places for each choice at the other nodes of its
    scope, and where in ``rest`` those are."""
    own = table.scope.index(node)
    costs: dict[tuple[int, ...], list[float]] = {}
    for places, cost in table.costs.items():  # the node's own places come in order
        costs.setdefault(places[:own] + places[own + 1 :], []).append(cost)
    return [rest.index(neighbour) for neighbour in table.scope if neighbour != node], costs


# ---- by descent


def descended(problem: ChoiceProblem, starts: int = STARTS) -> Choice:
    """The best of several descents: each changes one node at a time until nothing gains."""
    links: list[list[tuple[Node, Matrix]]] = [[] for _ in problem.nodes]
    for (i, j), matrix in problem.edges.items():
        links[i].append((j, matrix))
        links[j].append((i, [list(row) for row in zip(*matrix, strict=True)]))
    best: tuple[int, ...] = ()
    least = float("inf")
    for start in range(starts):
        places = [_start(len(costs), node, start) for node, costs in enumerate(problem.nodes)]
        _descend(places, problem.nodes, links)
        cost = problem.cost(places)
        if cost < least - 1e-12:
            best, least = tuple(places), cost
    return Choice(best, least, exact=False)


def _start(places: int, node: Node, start: int) -> int:
    """A place to start from: the cheapest first, then others spread without chance."""
    return 0 if start == 0 else (start * 7 + node * start * 3) % places


def _descend(
    places: list[int],
    nodes: Sequence[Sequence[float]],
    links: Sequence[Sequence[tuple[Node, Matrix]]],
) -> None:
    changed = True
    while changed:
        changed = False
        for node, costs in enumerate(nodes):
            columns = [(places[other], matrix) for other, matrix in links[node]]
            totals = [
                cost + sum(matrix[place][other] for other, matrix in columns)
                for place, cost in enumerate(costs)
            ]
            least = min(range(len(totals)), key=totals.__getitem__)
            if totals[least] < totals[places[node]] - 1e-12:
                places[node], changed = least, True
