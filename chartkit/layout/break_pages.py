"""Which system begins each page, by least badness over the whole song.

Every way of cutting the song into pages has a badness: each page costs something, blank
space costs by its square, and a page turn costs less the better the place for it.  The
cheapest way is found exactly, as paragraphs are broken into lines (D. E. Knuth, M. F. Plass,
"Breaking Paragraphs into Lines", *Software: Practice and Experience* 11, 1981).  The weights
are ours, set by looking at pages.

No library: the method is a dozen lines, and what is ours is the badness.
"""

from itertools import accumulate
from typing import NamedTuple

_PAGE = 1000.0
"""Each page; far above everything else, so the fewest pages win."""
_BLANK = 220.0
"""A page that is all blank; a partly blank one costs this times the square of the blank part."""
_TORN, _TORN_AT_REST = 60.0, 5.0
"""A turn inside a section, and one after a bar in which nobody plays."""
_AGAIN = 300.0
"""The same inside a section that comes again: the page is turned back each time."""
_LONELY = 45.0
"""A section that leaves one system alone on a side of the turn."""
_SHORT_END, _SHORT = 60.0, 0.25
"""A last page that is all but blank; one that is filled to this part, or more, costs nothing."""
_NO_TURN = 0.4
"""The cost of the next column of the same page, beside a page turn."""
_NEVER = float("inf")


class SystemEntry(NamedTuple):
    """A system as page breaking sees it.

    ``height`` has its heading in it, ``gap`` is the room above it unless it begins a page.
    ``section`` numbers its section; ``rests`` says that it ends in silence.  ``hangs`` is what
    reaches under its height, which counts at the end of a page.  ``again`` says that its section
    comes more than once.
    """

    height: float
    gap: float
    section: int
    rests: bool = False
    hangs: float = 0.0
    again: bool = False


def page_starts(
    entries: tuple[SystemEntry, ...], first_room: float, room: float, columns: int = 1
) -> tuple[int, ...]:
    """The number of the entry that begins each page, or each column of every page.

    The columns of the first page have ``first_room`` points below the title, all others ``room``.
    An entry higher than a page gets one to itself.  Where not even the first entry fits below the
    title, the title has a page to itself: the second page begins with entry 0 as well.  An empty
    column begins with the entry after it.  Work grows with the entries times those that fit on a
    page.
    """
    count = len(entries)
    if not count:
        return (0,)
    least = entries[0].gap + entries[0].height + entries[0].hangs
    if first_room < least and first_room < room:
        return (0,) * columns + page_starts(entries, room, room, columns)
    tops = [0.0, *accumulate(entry.gap + entry.height for entry in entries)]
    if columns == 1:
        fits_one = tops[-1] + entries[-1].hangs <= first_room
        return (0,) if fits_one else _starts_of_pages(entries, tops, first_room, room)
    rooms = _Rooms(first_room, room, columns)
    return _way_back(*_least_badness(entries, tops, rooms), columns)


def _starts_of_pages(
    entries: tuple[SystemEntry, ...], tops: list[float], first: float, later: float
) -> tuple[int, ...]:
    """The first entries of pages of one column, with the least badness of all."""
    best, came_from = [0.0] + [_NEVER] * len(entries), [0] * (len(entries) + 1)
    most = max(first, later)
    for end in range(1, len(entries) + 1):
        foot, turn, least = entries[end - 1].hangs, _Turn(entries, end), _NEVER
        for start in range(end - 1, -1, -1):
            whole, alone = tops[end] - tops[start], end - start == 1
            height = whole - entries[start].gap
            if height + foot > most and not alone:
                break
            here = later
            if not start:  # Under the title there is a gap; a later page begins without.
                here, height = first, whole
            if height + foot > here and (not alone or here < later):
                continue
            blank = 1 - height / here if height < here else 0.0
            cost = best[start] + _page_cost(turn, start, blank)
            if cost < least:
                least, came_from[end] = cost, start
        best[end] = least
    starts = [came_from[-1]]
    while starts[-1]:
        starts.append(came_from[starts[-1]])
    return tuple(reversed(starts))


class _Rooms(NamedTuple):
    """The heights of the columns: of the ``columns`` of the first page and of later ones, in
    points."""

    first: float
    later: float
    columns: int


_Badness = list[dict[int, float]]
_Origins = dict[tuple[int, int], tuple[int, int]]


def _least_badness(
    entries: tuple[SystemEntry, ...], tops: list[float], rooms: _Rooms
) -> tuple[_Badness, _Origins]:
    """For every entry and column the least badness up to where the column begins, and the entry
    and column before it."""
    first, later, columns = rooms
    best: _Badness = [{0: 0.0}, *({} for _ in entries)]
    came_from: _Origins = {}
    most = max(first, later)
    rooms_of = [first] * columns + [later] * columns
    next_of = [_next_column(column, columns) for column in range(2 * columns)]
    for end in range(1, len(entries) + 1):
        foot, here_best, turn = entries[end - 1].hangs, best[end], _Turn(entries, end)
        for start in range(end - 1, -1, -1):
            whole, gap = tops[end] - tops[start], entries[start].gap
            alone = end - start == 1
            if whole - gap + foot > most and not alone:
                break
            for column, before in best[start].items():
                here = rooms_of[column]
                # Under the title there is a gap; a later page begins without.
                height = whole - gap if column >= columns else whole
                if height + foot > here and (not alone or here < later):
                    continue
                blank = 1 - height / here if height < here else 0.0
                cost = before + _column_cost(turn, start, blank, column, columns)
                after = next_of[column]
                if cost < here_best.get(after, _NEVER):
                    here_best[after], came_from[end, after] = cost, (start, column)
        if columns > 1 and end < len(entries):
            _leave_columns_empty(here_best, came_from, end, turn.of(0), columns)
    return best, came_from


class _Turn:
    """How bad it is to turn the page before an entry, 0 after the last one."""

    def __init__(self, entries: tuple[SystemEntry, ...], end: int) -> None:
        self.end, self.is_last = end, end == len(entries)
        self._least = self._alone = 0.0
        if self.is_last or entries[end - 1].section != entries[end].section:
            return
        before, section = entries[end - 1], entries[end].section
        alone_before = end < 2 or entries[end - 2].section != before.section
        alone_after = end + 1 == len(entries) or entries[end + 1].section != section
        torn = (_TORN_AT_REST if before.rests else _TORN) + _AGAIN * before.again
        self._least = torn + _LONELY * (alone_before + alone_after)
        self._alone = torn + _LONELY * (True + alone_after)

    def of(self, start: int) -> float:
        """The cost where the page began with the entry ``start``."""
        return self._alone if self.end - 1 == start else self._least


def _way_back(best: _Badness, came_from: _Origins, columns: int) -> tuple[int, ...]:
    """The first entries of all columns on the way to the least badness."""
    last = best[-1]
    at = len(best) - 1, min(last, key=lambda column: _ended_cost(last, column, columns))
    starts = []
    while at != (0, 0):
        at = came_from[at]
        starts.append(at[0])
    return tuple(reversed(starts))


def _next_column(column: int, columns: int) -> int:
    """The column after one: those of the first page, then those of any later page."""
    return columns if column == 2 * columns - 1 else column + 1


def _leave_columns_empty(
    best: dict[int, float],
    came_from: dict[tuple[int, int], tuple[int, int]],
    end: int,
    turn: float,
    columns: int,
) -> None:
    """Columns after the first of a page may be left empty; the page is turned then all the same."""
    own = _BLANK + turn * (1 - _NO_TURN)
    for column in range(2 * columns):
        if column in best and column % columns:
            after, cost = _next_column(column, columns), best[column] + own
            if cost < best.get(after, _NEVER):
                best[after], came_from[end, after] = cost, (end, column)


def _ended_cost(best: dict[int, float], column: int, columns: int) -> float:
    """The cost of a song that ends where another column would begin: the rest of its last page's
    columns are blank."""
    return best[column] + _BLANK * (-column % columns)


def _column_cost(turn: _Turn, start: int, blank: float, column: int, columns: int) -> float:
    """The cost of one of the columns of a page; columns of the last page have the same height if
    possible."""
    cost = _PAGE * (not column % columns) + _BLANK * blank * blank
    if turn.is_last:
        return cost
    turned = (column + 1) % columns == 0
    return cost + turn.of(start) * (1.0 if turned else _NO_TURN)


def _page_cost(turn: _Turn, start: int, blank: float) -> float:
    if turn.is_last:
        return _PAGE + (_SHORT_END * max(0.0, 1 - (1 - blank) / _SHORT) if start else 0.0)
    return _PAGE + _BLANK * blank * blank + turn.of(start)
