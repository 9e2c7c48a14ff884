"""Page breaks are the cheapest there are."""

from itertools import combinations

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from chartkit.layout.break_pages import (
    SystemEntry,
    _column_cost,
    _ended_cost,
    _page_cost,
    _Turn,
    page_starts,
)

ENTRIES = st.lists(
    st.builds(
        SystemEntry,
        st.floats(20, 120),
        st.sampled_from([8.0, 16.0]),
        st.integers(0, 3),
        st.booleans(),
        st.just(0.0),
        st.just(False),
    ),
    min_size=1,
    max_size=9,
).map(lambda entries: tuple(sorted(entries, key=lambda entry: entry.section)))


def cost_of(entries: tuple[SystemEntry, ...], starts: tuple[int, ...], rooms: list[float]) -> float:
    """What one way of cutting costs; infinite when a page overflows."""
    total = 0.0
    for number, (start, end) in enumerate(zip(starts, (*starts[1:], len(entries)), strict=True)):
        room = rooms[0] if number == 0 else rooms[1]
        page = entries[start:end]
        height = sum(e.height for e in page) + sum(e.gap for e in page[1:])
        height += page[0].gap if start == 0 else 0.0
        if height > room and len(page) > 1:
            return float("inf")
        total += _page_cost(_Turn(entries, end), start, max(0.0, 1 - height / room))
    return total


@settings(max_examples=100, deadline=None)
@given(ENTRIES, st.floats(100, 300), st.floats(150, 400))
def test_equals_brute_force(entries: tuple[SystemEntry, ...], first: float, room: float) -> None:
    """No other way of cutting the song into pages is cheaper."""
    assume(first >= entries[0].gap + entries[0].height or first >= room)
    starts = page_starts(entries, first, room)
    inner = range(1, len(entries))
    ways = ((0, *cut) for count in range(len(entries)) for cut in combinations(inner, count))
    best = min(cost_of(entries, way, [first, room]) for way in ways)
    assert abs(cost_of(entries, starts, [first, room]) - best) < 1e-6


def two_column_cost(
    entries: tuple[SystemEntry, ...], starts: tuple[int, ...], first: float, room: float
) -> float:
    """What one way of cutting into columns costs, two a page; infinite when one overflows."""
    total = 0.0
    for number, (start, end) in enumerate(zip(starts, (*starts[1:], len(entries)), strict=True)):
        under_title = number < 2
        here = first if under_title else room
        height = sum(e.height + e.gap for e in entries[start:end])
        height -= 0.0 if under_title else entries[start].gap
        if height > here and (end - start > 1 or here < room):
            return float("inf")
        column = number if under_title else 2 + number % 2
        if start == end:
            total += 220.0 + 0.6 * _Turn(entries, end).of(0)
            continue
        total += _column_cost(_Turn(entries, end), start, max(0.0, 1 - height / here), column, 2)
    return _ended_cost({len(starts): total}, len(starts), 2)


@settings(max_examples=80, deadline=None)
@given(ENTRIES, st.floats(130, 300), st.floats(150, 400))
def test_columns_equal_brute_force(
    entries: tuple[SystemEntry, ...], first: float, room: float
) -> None:
    """No other way of cutting the song into two columns a page is cheaper."""
    assume(first >= entries[0].gap + entries[0].height or first >= room)
    found = page_starts(entries, first, room, 2)
    inner = range(1, len(entries))
    ways = ((0, *cut) for count in range(len(entries)) for cut in combinations(inner, count))
    best = min(two_column_cost(entries, way, first, room) for way in ways)
    assert two_column_cost(entries, found, first, room) <= best + 1e-6


def test_columns_of_the_last_page_are_of_one_height() -> None:
    """Six systems in three sections stand three and three beside each other, or as whole sections
    do, and not in one column."""
    entries = tuple(SystemEntry(50, 10, section) for section in (0, 0, 1, 1, 2, 2))
    assert page_starts(entries, 400, 400, 2) in ((0, 2), (0, 4))
    entries = tuple(SystemEntry(50, 10, section) for section in (0, 0, 0, 1, 1, 1))
    assert page_starts(entries, 400, 400, 2) == (0, 3)


def test_a_system_too_high_for_the_title_page_leaves_a_column_empty() -> None:
    """What does not fit under the title in the second column stands on the next page."""
    entries = (SystemEntry(50, 10, 0), SystemEntry(180, 10, 1), SystemEntry(50, 10, 1))
    starts = page_starts(entries, 100, 260, 2)
    assert starts[:3] == (0, 1, 1)


@given(ENTRIES, st.floats(10, 120), st.floats(150, 400))
def test_what_does_not_fit_below_the_title_goes_to_the_next_page(
    entries: tuple[SystemEntry, ...], first: float, room: float
) -> None:
    """A title that leaves no room for the first system has a page to itself; no page of more
    than one system overflows."""
    starts = page_starts(entries, first, room)
    alone = first < entries[0].gap + entries[0].height
    assert (starts[:2] == (0, 0)) == alone
    for number, (start, end) in enumerate(zip(starts, (*starts[1:], len(entries)), strict=True)):
        used = sum(e.height for e in entries[start:end]) + sum(
            e.gap for e in entries[start + 1 : end]
        )
        assert used <= (room if number else first) + 1e-6 or end - start == 1


def test_turn_falls_between_sections() -> None:
    """Two sections that do not share a page part between them, not in the middle."""
    entries = tuple(SystemEntry(50, 10, section) for section in (0, 0, 0, 1, 1, 1))
    assert page_starts(entries, 260, 260) == (0, 3)


def test_turn_prefers_silence() -> None:
    """Inside a section the page turns after a bar of silence."""
    entries = tuple(SystemEntry(50, 10, 0, rests=i == 2) for i in range(8))
    assert page_starts(entries, 330, 330) == (0, 3)
