"""The order of a set if the band leaves it free: exact over all orders within limits.

Held fixed: the first song, the last one, and songs that go straight into the next stay with
it.  Neighbours that are too alike are kept apart if possible. Then the least cost of the changes,
found by dynamic programming over the songs already played and the last of them (M. Held,
R. M. Karp, "A Dynamic Programming Approach to Sequencing Problems", *Journal of the SIAM*
10, 1962), the states being those of ``set_plan``.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, permutations

from chartkit.advise.set_plan import JointPlanner, PartialPlan, songs_in_order
from chartkit.advise.set_steps import Guitarist, OverlapCosts, PlannedSong, SetStep
from chartkit.advise.stage import StageCosts
from chartkit.theory.key import Key

MOST_SONGS = 14
"""The longest set that is ordered; twelve songs between the first and the last."""
ALIKE_COST = 1000.0
"""The cost of two neighbours that are too alike: far above all else, so that there are as few as
possible."""
CLOSE_TEMPO = 0.06
"""Tempi that differ by less than this fraction of the slower one are alike: about five beats in
ninety (ours, unsourced)."""

_BEAM = 60
"""The states that the first, quick search follows; its result bounds the exact search."""
_TINY = 1e-6
"""The difference of two costs that rounding may make."""


@dataclass(frozen=True, slots=True)
class SongTraits:
    """The traits in which two songs sound alike to a listener: key, tempo and beats of a bar."""

    key: Key
    tempo: int | None = None
    beats: int = 4


def too_alike(one: SongTraits, other: SongTraits) -> bool:
    """Whether two songs should not be neighbours: the same key, or nearly the same tempo."""
    if one.key == other.key:
        return True
    if one.tempo is None or other.tempo is None or one.beats != other.beats:
        return False
    return abs(one.tempo - other.tempo) <= CLOSE_TEMPO * min(one.tempo, other.tempo)


@dataclass(frozen=True, slots=True)
class OrderedPlan:
    """An order: the songs by their number in the set file, and every player's steps."""

    order: tuple[int, ...]
    steps: tuple[tuple[SetStep | None, ...], ...]


def best_order(
    players: tuple[Guitarist, ...],
    songs: tuple[PlannedSong, ...],
    costs: StageCosts,
    alike: Callable[[int, int], bool],
    beside: tuple[OverlapCosts, ...] = (),
) -> OrderedPlan:
    """The cheapest order of the songs with the steps of all players.

    Raises ValueError for more than ``MOST_SONGS``.
    """
    if len(songs) > MOST_SONGS:
        raise ValueError(f"a free order is looked for up to {MOST_SONGS} songs")
    return _Orders(
        JointPlanner(players=players, songs=songs, costs=costs, beside=beside), songs, alike
    ).best()


_EVERY_ORDER = 5
"""Up to this many pieces between the first and the last are tried in every order: at most 120."""
_ROUNDS = 4
"""How often a better neighbouring order is looked for (ours: a fifth round changed nothing)."""


def improved_order(
    order: tuple[int, ...],
    songs: tuple[PlannedSong, ...],
    cost: Callable[[tuple[int, ...]], float],
) -> tuple[int, ...]:
    """Improves an order by another measure of cost than ``best_order`` has: the best of all if few
    pieces may move, else the best that moving or exchanging single ones leads to.

    What is fixed stays: first and last piece, and songs that go straight into the next.
    """
    pieces = _pieces(order, songs)
    middle = pieces[1:-1]
    if len(middle) < 2:
        return order
    if len(middle) <= _EVERY_ORDER:
        orders = (_joined([pieces[0], *one, pieces[-1]]) for one in permutations(middle))
        return min((order, *orders), key=cost)
    least = cost(order)
    for _ in range(_ROUNDS):
        near = {_joined([pieces[0], *one, pieces[-1]]) for one in _near(middle)}
        best_near = min(sorted(near), key=cost)
        if cost(best_near) >= least - _TINY:
            break
        order, least = best_near, cost(best_near)
        middle = _pieces(order, songs)[1:-1]
    return order


def _pieces(order: tuple[int, ...], songs: tuple[PlannedSong, ...]) -> list[tuple[int, ...]]:
    """The order in pieces that stay together."""
    pieces = list[tuple[int, ...]]()
    for song in order:
        if pieces and songs[pieces[-1][-1]].straight:
            pieces[-1] += (song,)
        else:
            pieces.append((song,))
    return pieces


def _near(pieces: list[tuple[int, ...]]) -> Iterator[list[tuple[int, ...]]]:
    """The orders of pieces in which one is moved, or two are exchanged."""
    for one in range(len(pieces)):
        rest = pieces[:one] + pieces[one + 1 :]
        yield from ([*rest[:to], pieces[one], *rest[to:]] for to in range(len(pieces)) if to != one)
    for one, other in combinations(range(len(pieces)), 2):
        changed = list(pieces)
        changed[one], changed[other] = changed[other], changed[one]
        yield changed


def _joined(pieces: Sequence[tuple[int, ...]]) -> tuple[int, ...]:
    return tuple(song for piece in pieces for song in piece)


_Layer = dict[tuple[int, int], dict[int, PartialPlan]]
"""The plans so far, by the set of songs played (as bits) and the last of them."""


@dataclass(slots=True)
class _Orders:
    planner: JointPlanner
    songs: tuple[PlannedSong, ...]
    alike: Callable[[int, int], bool]

    def best(self) -> OrderedPlan:
        """Lengthens every way by one song until all are played."""
        if not self.songs:
            return OrderedPlan((), tuple(() for _ in self.planner.players))
        most = self._ends(float("inf"), _BEAM).cost
        best = songs_in_order(self._ends(most + _TINY, None))
        by_player = tuple(zip(*(plan.steps for plan in best), strict=True))
        return OrderedPlan(tuple(plan.song for plan in best), by_player)

    def _ends(self, most: float, beam: int | None) -> PartialPlan:
        """The cheapest way through all songs among those that never cost more than ``most``.

        With a beam only that many of the cheapest states are followed: quick, but not always the
        best.
        """
        first: dict[int, PartialPlan] = {}
        self.planner.extend(first, self.planner.start(), 0)
        layer: _Layer = {(1, 0): self.planner.pruned(first, 0)}
        for _ in self.songs[1:]:
            layer = self._longer(layer, most)
            if beam is not None and len(layer) > beam:
                cheapest = sorted(
                    layer, key=lambda place: min(t.cost for t in layer[place].values())
                )
                layer = {place: layer[place] for place in cheapest[:beam]}
        plans = [plan for states in layer.values() for plan in states.values()]
        return min(plans, key=lambda plan: plan.cost, default=PartialPlan(float("inf")))

    def _longer(self, layer: _Layer, most: float) -> _Layer:
        gathered: _Layer = {}
        for (played, last), states in layer.items():
            for song in self._next(played, last):
                extra = ALIKE_COST * self.alike(last, song)
                into = gathered.setdefault((played | 1 << song, song), {})
                self.planner.extend(into, states, song, extra, most)
        return {
            place: self.planner.pruned(states, place[1])
            for place, states in gathered.items()
            if states
        }

    def _next(self, played: int, last: int) -> Iterator[int]:
        """The songs that may follow."""
        end = len(self.songs) - 1
        for song in range(1, len(self.songs)):
            is_played = played >> song & 1
            too_early = song == end and len(self.songs) - played.bit_count() > 1
            tied = self.songs[song - 1].straight or self.songs[last].straight
            if not is_played and not too_early and (not tied or song == last + 1):
                yield song
