"""Rows are cut where it is cheapest, bars get room by how long they last."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.layout.break_rows import BarEnd, LongRow, best_row_breaks, line_cost, row_breaks
from chartkit.layout.grids import filled_widths
from tests.charts import bars
from tests.each import each
from tests.layout.geometry import lines_of
from tests.layout.test_pages import pages_of

BARS = st.lists(
    st.tuples(st.floats(20, 90), st.booleans(), st.booleans(), st.booleans()),
    min_size=1,
    max_size=9,
)
ROWS = BARS.map(
    lambda rows_read: LongRow(
        tuple(BarEnd(bar[0], i, *bar[1:]) for i, bar in enumerate(rows_read, 1)), 200
    )
)


def cost_of(row: LongRow, starts: tuple[int, ...], target: int) -> float:
    """What one way of cutting costs; infinite when a line overflows."""
    total = 0.0
    for start, end in zip(starts, (*starts[1:], len(row.bars)), strict=True):
        used = sum(bar.width for bar in row.bars[start:end])
        if used > row.room + 0.01 and end - start > 1:
            return float("inf")
        total += line_cost(row, start, end, used, target)
    return total


def every_cut(row: LongRow) -> list[tuple[int, ...]]:
    """Every way to cut a row into lines."""
    inner = range(1, len(row.bars))
    return [(0, *cut) for n in range(len(row.bars)) for cut in combinations(inner, n)]


@given(ROWS, st.integers(1, 6))
@settings(max_examples=80, deadline=None)
def test_no_other_cut_of_a_row_is_cheaper(row: LongRow, target: int) -> None:
    """The badness found equals the least over all ways of cutting, tried one by one."""
    cost, starts = row_breaks(row, target)
    assert cost == pytest.approx(min(cost_of(row, cut, target) for cut in every_cut(row)))
    assert cost == pytest.approx(cost_of(row, starts, target))


@given(st.lists(ROWS, min_size=1, max_size=3))
@settings(max_examples=60, deadline=None)
def test_no_other_number_of_bars_a_line_is_cheaper_for_the_song(rows: list[LongRow]) -> None:
    """All rows are measured against one number, and it is the best one."""
    chosen = best_row_breaks(rows)

    def of_target(target: int) -> float:
        return sum(cost_of(row, cut, target) for row, cut in zip(rows, chosen, strict=True))

    best = min(
        sum(min(cost_of(row, cut, target) for cut in every_cut(row)) for row in rows)
        for target in range(1, 10)
    )
    assert min(map(of_target, range(1, 10))) == pytest.approx(best)


def cut_of(count: int, fit: int) -> list[int]:
    """How many bars each line gets of a row of equal bars of which so many fit."""
    row = LongRow(tuple(BarEnd(1.0, i) for i in range(1, count + 1)), fit * 1.0)
    (starts,) = best_row_breaks([row])
    return [b - a for a, b in zip(starts, (*starts[1:], count), strict=True)]


@each(
    ("count", "fit", "parts"),
    [
        (8, 5, [4, 4]),
        (16, 7, [4, 4, 4, 4]),
        (12, 5, [4, 4, 4]),
        (9, 4, [3, 3, 3]),
        (10, 4, [4, 4, 2]),
        (10, 6, [4, 4, 2]),
        (14, 7, [4, 4, 4, 2]),
        (4, 3, [2, 2]),
        (9, 8, [4, 5]),
        (32, 9, [8, 8, 8, 8]),
    ],
)
def test_phrases_stay_together(count: int, fit: int, parts: list[int]) -> None:
    """Cuts fall after four bars, or two, where they can (common practice, no source)."""
    assert cut_of(count, fit) == parts


def test_a_cut_falls_where_an_ending_starts() -> None:
    """Before a numbered ending rather than inside it."""
    wide = "Ebmaj9 C7(b9,#11)"
    row = f"|: {wide} | {wide} | {wide} | {wide} |1. {wide} | {wide} :|2. {wide} | {wide} ||"
    page = pages_of(bars(row, key="Eb"), paper="tablet").pages[0]
    assert [len(line) for line in lines_of(page, "ending")] == [2] or all(
        line[0].x < 40 for line in lines_of(page, "ending")
    )


def test_a_shorter_bar_gets_less_room() -> None:
    """Two beats beside bars of four take half of their width where nothing needs more."""
    page = pages_of("key: C\n\n| C |\n| C | F | 2/4 G | 4/4 C |\n").pages[0]
    chords = lines_of(page, "sounding")[1]
    first, second = chords[1].x - chords[0].x, chords[2].x - chords[1].x
    assert first == pytest.approx(second, abs=12)
    assert (chords[3].x - chords[2].x) < 0.65 * first


@given(
    st.lists(st.tuples(st.floats(1, 80), st.floats(0.5, 1)), min_size=1, max_size=8),
    st.floats(0, 400),
)
def test_widths_fill_the_room_and_are_never_too_small(
    columns: list[tuple[float, float]], more: float
) -> None:
    """They add up to the room, and none is below what its bar needs."""
    least, weights = [c[0] for c in columns], [c[1] for c in columns]
    widths = filled_widths(least, sum(least) + more, weights)
    assert sum(widths) == pytest.approx(sum(least) + more)
    assert all(width >= need - 1e-6 for width, need in zip(widths, least, strict=True))
