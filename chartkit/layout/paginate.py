"""Step five: systems to finished pages.

What is left blank on a page is spread between its systems, sections taking twice as much,
but never so much that the page falls apart.
"""

from dataclasses import dataclass
from typing import NamedTuple

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.break_pages import Entry, page_starts
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import foot_line
from chartkit.layout.frames import Bookmark, Item, Page, moved
from chartkit.layout.gutter import Label, label_items
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style, page_room

_SYSTEM_GAP, _SECTION_GAP, _HEADING_GAP = 6.0, 9.0, 6.0
_FOOT_HEIGHT = 1.1
"""What the foot line takes over its baseline with some air, in sizes of its type."""
_MOST_SPREAD, _MOST_SPREAD_LAST = 10.0, 8.0
"""How many points a system's gap may grow to fill a page, or the last page, at scale 1."""


@dataclass(frozen=True, slots=True)
class Block:
    """A section ready for the page: its name, its heading over the systems or its label beside
    them, and its systems."""

    name: str
    heading: PlacedSystem | None
    systems: tuple[PlacedSystem, ...]
    label: Label | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A system with the heading above it, if it is the first of its section, and the label
    that stands beside it where it is, or where it begins a page."""

    entry: Entry
    system: PlacedSystem
    heading: PlacedSystem | None = None
    bookmark: str = ""
    label: Label | None = None
    first: bool = False


def parts_of(blocks: list[Block], style: Style) -> list[Part]:
    """The systems of all blocks, each first one with its section's heading."""
    parts = []
    # What hangs at the end of a page may use the room over the foot line.
    over_foot = max(0.0, style.paper.foot - _FOOT_HEIGHT * style.foot)
    for number, block in enumerate(blocks):
        for i, system in enumerate(block.systems or (PlacedSystem((), 0.0),)):
            head = 0.0
            if i == 0 and block.heading is not None:
                head = block.heading.height + style.pt(_HEADING_GAP)
            gap = style.pt(_SYSTEM_GAP if i else _SECTION_GAP)
            entry = Entry(
                head + system.height, gap, number, system.rests, max(0.0, system.hangs - over_foot)
            )
            above, name = (None, "") if i else (block.heading, block.name)
            parts.append(
                Part(
                    entry=entry,
                    system=system,
                    heading=above,
                    bookmark=name,
                    label=block.label,
                    first=i == 0,
                )
            )
    return parts


class Turns(NamedTuple):
    """How many pages a song takes, how many of its sections are torn by a turn, what part of its
    last page is blank, and how much the gaps of its fullest page can grow, in points at scale 1."""

    sides: int
    torn: int
    blank: float
    air: float


def turns(top: PlacedSystem, blocks: list[Block], style: Style) -> Turns:
    """How a song falls on its pages."""
    parts = parts_of(blocks, style)
    entries = tuple(part.entry for part in parts)
    room = page_room(style)
    starts = page_starts(entries, room - top.height, room)
    torn = sum(entries[at - 1].section == entries[at].section for at in starts[1:] if at)
    used = sum(entry.height + entry.gap for entry in entries[starts[-1] :])
    here = room - top.height * (len(starts) == 1)
    ends = (*starts[1:], len(parts))
    air = min(
        _spread(
            parts[start:end], room - top.height * (not start), not start, style.pt(_MOST_SPREAD)
        )
        for start, end in zip(starts, ends, strict=True)
    )
    return Turns(len(starts), torn, max(0.0, 1 - used / max(here, 1.0)), air / style.pt(1))


def pages(
    arrangement: Arrangement,
    fitter: Fitter,
    top: PlacedSystem,
    blocks: list[Block],
    style: Style,
    with_foot: bool = True,
) -> tuple[Page, ...]:
    """The pages of the song, each with its foot line unless it is to get another."""
    parts, room = parts_of(blocks, style), page_room(style)
    starts = page_starts(tuple(part.entry for part in parts), room - top.height, room)
    made = []
    for number, (start, end) in enumerate(zip(starts, (*starts[1:], len(parts)), strict=True), 1):
        first, last = number == 1, number == len(starts)
        here = room - top.height if first else room
        most = style.pt(_MOST_SPREAD_LAST if last else _MOST_SPREAD)
        spread = _spread(parts[start:end], here, first, most)
        y = style.paper.top + (top.height if first else 0.0)
        placed, bookmarks = filled(parts[start:end], y, first, spread, fitter, style)
        paper = style.paper
        foot_y = paper.height - paper.bottom
        foot = foot_line(arrangement, number, len(starts), foot_y, fitter, style)
        above = [moved(item, paper.side, paper.top) for item in top.items if first]
        below = [moved(item, paper.side, 0) for item in foot if with_foot]
        made.append(Page(paper.width, paper.height, (*above, *placed, *below), bookmarks))
    return tuple(made)


def _spread(parts: list[Part], room: float, first: bool, most: float) -> float:
    """How much every system's gap grows; a section's grows twice that."""
    gapped = parts if first else parts[1:]
    used = sum(part.entry.height for part in parts) + sum(part.entry.gap for part in gapped)
    used += parts[-1].entry.hangs if parts else 0.0
    shares = sum(2 if part.first else 1 for part in gapped)
    return min(most, max(0.0, room - used) / shares) if shares else 0.0


def height_of(parts: list[Part]) -> float:
    """The height of parts under one another, with the gap above the first."""
    return sum(part.entry.gap + part.entry.height for part in parts)


def filled(
    parts: list[Part], y: float, first: bool, spread: float, fitter: Fitter, style: Style
) -> tuple[list[Item], tuple[Bookmark, ...]]:
    """The items of parts placed from a height on, and where their sections begin.

    On the ``first`` page there is a gap above the first part; every gap grows by ``spread``.
    """
    items: list[Item] = []
    bookmarks: list[Bookmark] = []
    for i, part in enumerate(parts):
        if i or first:
            y += part.entry.gap + spread * (2 if part.first else 1)
        if part.bookmark:
            bookmarks.append(Bookmark(part.bookmark, y))
        if part.heading is not None:
            items += [moved(item, style.paper.side, y) for item in part.heading.items]
            y += part.heading.height + style.pt(_HEADING_GAP)
        if part.label is not None and part.system.baseline and (part.first or not i):
            label = label_items(part.label, part.system.baseline, fitter, style, not part.first)
            items += [moved(item, style.paper.side, y) for item in label]
        items += [moved(item, style.paper.side, y) for item in part.system.items]
        y += part.system.height
    return items, tuple(bookmarks)
