"""Step four: which system begins each page, by least badness over the whole song.

Every way of cutting the song into pages has a badness: each page costs something, blank
space costs by its square, and a page turn costs less the better the place for it.  The
cheapest way is found exactly, as paragraphs are broken into lines (D. E. Knuth, M. F. Plass,
"Breaking Paragraphs into Lines", *Software: Practice and Experience* 11, 1981).  The weights
are ours, set by looking at pages.
"""

from dataclasses import dataclass
from itertools import accumulate

_PAGE = 1000.0
"""One page more; far above everything else, so the fewest pages win."""
_BLANK = 220.0
"""A page that is all blank, less by the square of the part that is."""
_TORN, _TORN_AT_REST = 60.0, 5.0
"""A turn inside a section, and one after a bar in which nobody plays."""
_LONELY = 45.0
"""A section that leaves one system alone on a side of the turn."""
_SHORT_END = 30.0
"""A last page that holds a single system."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A system as page breaking sees it.

    ``height`` has its heading in it, ``gap`` is the room above it unless it begins a page.
    ``section`` numbers its section; ``rests`` says that it ends in silence.  ``hangs`` is what
    reaches under its height, which counts at the end of a page.
    """

    height: float
    gap: float
    section: int
    rests: bool = False
    hangs: float = 0.0


def page_starts(entries: tuple[Entry, ...], first_room: float, room: float) -> tuple[int, ...]:
    """The number of the entry that begins each page.

    The first page has ``first_room`` points below the title, every other one ``room``.  An
    entry higher than a page gets one to itself.  Where not even the first entry fits below the
    title, the title has a page to itself: the second page begins with entry 0 as well.  Work
    grows with the entries times those that fit on a page.
    """
    count = len(entries)
    if not count:
        return (0,)
    if first_room < entries[0].gap + entries[0].height and first_room < room:
        return (0, *page_starts(entries, room, room))
    tops = [0.0, *accumulate(entry.gap + entry.height for entry in entries)]
    if tops[-1] + entries[-1].hangs <= first_room:
        return (0,)
    best = [0.0] + [float("inf")] * count
    came_from = [0] * (count + 1)
    for end in range(1, count + 1):
        for start in range(end - 1, -1, -1):
            here = first_room if start == 0 else room
            height = tops[end] - tops[start] - (entries[start].gap if start else 0.0)
            needed = height + entries[end - 1].hangs
            if needed > here and end - start > 1:
                if needed > max(first_room, room):
                    break
                continue
            cost = best[start] + _page_cost(entries, start, end, max(0.0, 1 - height / here))
            if cost < best[end]:
                best[end], came_from[end] = cost, start
    starts = [count]
    while starts[-1]:
        starts.append(came_from[starts[-1]])
    return tuple(reversed(starts[1:]))


def _page_cost(entries: tuple[Entry, ...], start: int, end: int, blank: float) -> float:
    if end == len(entries):
        return _PAGE + (_SHORT_END if start and end - start == 1 else 0.0)
    return _PAGE + _BLANK * blank * blank + _turn_cost(entries, start, end)


def _turn_cost(entries: tuple[Entry, ...], start: int, end: int) -> float:
    """How bad it is to turn the page before the entry ``end``."""
    before, after = entries[end - 1], entries[end]
    if before.section != after.section:
        return 0.0
    alone_before = end - 1 == start or entries[end - 2].section != before.section
    alone_after = end + 1 == len(entries) or entries[end + 1].section != after.section
    lonely = _LONELY * (alone_before + alone_after)
    return (_TORN_AT_REST if before.rests else _TORN) + lonely
