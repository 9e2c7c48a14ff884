"""From systems to finished pages.

The blank rest of a page is spread between its systems, with three times as much between sections,
but only up to a limit.
"""

from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.break_pages import SystemEntry, page_starts
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import foot_line, goes_on_line
from chartkit.layout.frames import Bookmark, Item, Page, Text, moved_item
from chartkit.layout.gutter import SectionLabel, label_items
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style, column_step, column_style, page_room

_SYSTEM_GAP, _SECTION_GAP, _HEADING_GAP = 6.3, 9.6, 6.0
_SECTION_SHARES = 3
_FOOT_HEIGHT = 1.1
"""What the foot line takes over its baseline with some air, in sizes of its type."""
_MOST_SPREAD, _MOST_SPREAD_LAST = 10.0, 8.0
"""How many points a system's gap may grow to fill a page, or the last page, at scale 1."""
_LEFT_ALONE = 0.25
"""What a system left alone by a turn adds to the section torn there."""
_TORN_AGAIN = 4.0
"""How many torn sections one counts for that comes again: its page is turned back each time."""
_TORN_BY_COLUMN = 0.25
"""A section that goes on in the next column counts as this part of a section torn by a page
turn."""


@dataclass(frozen=True, slots=True)
class Block:
    """A section ready for the page: its name, its heading over the systems or its label beside
    them, its systems, and whether it comes again in the song."""

    name: str
    heading: PlacedSystem | None
    systems: tuple[PlacedSystem, ...]
    label: SectionLabel | None = None
    again: bool = False


class PagePart(NamedTuple):
    """A system for the pages: its section's name, the heading above the first system of a section,
    and the label beside it there or where it begins a page."""

    entry: SystemEntry
    system: PlacedSystem
    heading: PlacedSystem | None = None
    name: str = ""
    label: SectionLabel | None = None
    first: bool = False

    @property
    def shares(self) -> int:
        """How many shares of what is blank on a page stand over it: three over a section's first
        system but that of the song, which is under the head, so that sections are seen; none over
        lines that go on with those before them."""
        if self.system.gap is not None:
            return 0
        return _SECTION_SHARES if self.first and self.entry.section else 1


def parts_of(blocks: list[Block], style: Style) -> list[PagePart]:
    """The systems of all blocks, each first one with its section's heading."""
    parts = []
    # What hangs at the end of a page may use the room over the foot line, the higher one of a book.
    over_foot = max(0.0, style.paper.foot - _FOOT_HEIGHT * style.coming)
    over_foot *= not style.paper.footless
    for number, block in enumerate(blocks):
        for i, system in enumerate(block.systems or (PlacedSystem((), 0.0),)):
            head = 0.0
            if i == 0 and block.heading is not None:
                head = block.heading.height + style.pt(_HEADING_GAP)
            usual = style.pt(_SYSTEM_GAP if i else _SECTION_GAP)
            gap = usual if system.gap is None else system.gap
            entry = SystemEntry(
                height=head + system.height,
                gap=gap,
                section=number,
                rests=system.rests,
                hangs=max(0.0, system.hangs - over_foot),
                again=block.again,
            )
            parts.append(
                PagePart(
                    entry=entry,
                    system=system,
                    heading=None if i else block.heading,
                    name=block.name,
                    label=block.label,
                    first=i == 0,
                )
            )
    return parts


class PageTurns(NamedTuple):
    """How many pages a song takes, how many of its sections are torn by a turn, what part of its
    last page is blank, and how much the gaps of its fullest page can grow, in points at scale 1."""

    sides: int
    torn: float
    blank: float
    air: float


def page_turns(
    top: PlacedSystem, parts: list[PagePart], style: Style, columns: int = 1
) -> PageTurns:
    """How a song is divided into its pages."""
    filled_columns = columns_of(parts, top, style, columns)
    torn = sum(
        _torn(before, after) * (1 if not number % columns else _TORN_BY_COLUMN)
        for number, (before, after) in enumerate(pairwise(filled_columns), 1)
    )
    sides = -(-len(filled_columns) // columns)
    room = page_room(style, sides)
    here = room - top.height * (sides == 1)
    used = sum(map(height_of, filled_columns[(sides - 1) * columns :])) / columns
    air = min(
        _spread(
            column,
            room - top.height * (number < columns),
            number < columns,
            style.pt(_MOST_SPREAD),
        )
        for number, column in enumerate(filled_columns)
    )
    return PageTurns(sides, torn, max(0.0, 1 - used / max(here, 1.0)), air / style.pt(1))


def rows_too_high(parts: list[PagePart], style: Style) -> int:
    """How many rows, with what hangs under them, are higher than a page."""
    room = page_room(style)
    return sum([part.entry.height + part.entry.hangs > room for part in parts])


def turned_back(filled: list[list[PagePart]], columns: int, played: list[int]) -> Counter[int]:
    """How often pages are turned back to each section, where so many columns are seen at once and
    the sections are played in that order."""
    seen: dict[int, list[int]] = {}
    for number, column in enumerate(filled):
        for part in column:
            seen.setdefault(part.entry.section, []).append(number // columns)
    places = [seen.get(section, [0]) for section in played]
    steps = zip(places, places[1:], played[1:], strict=False)
    return Counter(section for before, at, section in steps if at[0] < before[-1])


def turned_inside(filled: list[list[PagePart]], columns: int) -> set[int]:
    """The numbers of the sections that go on over a page turn, where so many columns are seen at
    once."""
    return {
        after[0].entry.section
        for number, (before, after) in enumerate(pairwise(filled), 1)
        if number % columns == 0
        and before
        and after
        and before[-1].entry.section == after[0].entry.section
    }


def _torn(before: list[PagePart], after: list[PagePart]) -> float:
    """How bad it is where one column ends and the next begins: 1 for a section that is torn, more
    where a single system of it is left alone."""
    if not before or not after or before[-1].entry.section != after[0].entry.section:
        return 0.0
    section = after[0].entry.section
    counts = [sum(part.entry.section == section for part in side) for side in (before, after)]
    torn = _TORN_AGAIN if after[0].entry.again else 1.0
    return torn + _LEFT_ALONE * (min(counts) == 1)


def columns_of(
    parts: list[PagePart], top: PlacedSystem, style: Style, columns: int
) -> list[list[PagePart]]:
    """The parts of every column, page by page."""
    entries = tuple(part.entry for part in parts)
    alone = page_room(style, 1)
    if style.paper.footless and height_of(parts) <= columns * (alone - top.height):
        starts = page_starts(entries, alone - top.height, alone, columns)
        if len(starts) <= columns:
            return [parts[start:end] for start, end in pairwise((*starts, len(parts)))]
    room = page_room(style)
    starts = page_starts(entries, room - top.height, room, columns)
    return [parts[start:end] for start, end in pairwise((*starts, len(parts)))]


def pages(
    arrangement: Arrangement,
    fitter: Fitter,
    top: PlacedSystem,
    blocks: list[Block],
    style: Style,
    *,
    with_foot: bool = True,
    columns: int = 1,
) -> tuple[Page, ...]:
    """The pages of the song, each with its foot line unless it is to get another."""
    parts = columns_of(parts_of(blocks, style), top, style, columns)
    return set_pages(arrangement, fitter, top, parts, style, with_foot=with_foot, per_page=columns)


def set_pages(
    arrangement: Arrangement,
    fitter: Fitter,
    top: PlacedSystem,
    columns: list[list[PagePart]],
    style: Style,
    *,
    with_foot: bool,
    per_page: int,
) -> tuple[Page, ...]:
    """The pages of columns, so many on each; what is blank is spread between their systems."""
    paper, step = style.paper, column_step(style, per_page)
    narrow = column_style(style, per_page)
    count, made = -(-len(columns) // per_page), []
    for number in range(1, count + 1):
        first, last = number == 1, number == count
        y = top.height if first else 0.0
        items = [moved_item(item, paper.side, style.top) for item in top.items if first]
        bookmarks: tuple[Bookmark, ...] = ()
        most = style.pt(_MOST_SPREAD_LAST if last else _MOST_SPREAD)
        for side, column in enumerate(columns[(number - 1) * per_page : number * per_page]):
            spread = _spread(column, page_room(style, count) - y, first, most)
            placed, marks = placed_parts(column, style.top + y, first, spread, fitter, narrow)
            items += [moved_item(item, side * step, 0) for item in placed] if side else placed
            bookmarks += marks
        if with_foot and not (paper.footless and count == 1):
            foot = foot_line(arrangement, number, count, paper.height - paper.bottom, fitter, style)
            items += [moved_item(item, paper.side, 0) for item in foot]
        made.append(Page(paper.width, paper.height, tuple(items), bookmarks))
    return tuple(made)


def _spread(parts: list[PagePart], room: float, first: bool, most: float) -> float:
    """How much every system's gap grows; a section's grows three times that."""
    gapped = parts if first else parts[1:]
    used = sum([part.entry.height for part in parts]) + sum([part.entry.gap for part in gapped])
    used += parts[-1].entry.hangs if parts else 0.0
    shares = sum([part.shares for part in gapped])
    return min(most, max(0.0, room - used) / shares) if shares else 0.0


def height_of(parts: list[PagePart]) -> float:
    """The height in points of parts under one another, with the gap above the first."""
    return sum([part.entry.gap + part.entry.height for part in parts])


def placed_parts(
    parts: list[PagePart], y: float, first: bool, spread: float, fitter: Fitter, style: Style
) -> tuple[list[Item], tuple[Bookmark, ...]]:
    """The items of parts placed from a height on, and where their sections begin.

    On the ``first`` page there is a gap above the first part; every gap grows by ``spread``.
    """
    items: list[Item] = []
    bookmarks: list[Bookmark] = []
    for i, part in enumerate(parts):
        if i or first:
            y += part.entry.gap + spread * part.shares
        if part.first and part.name:
            bookmarks.append(Bookmark(part.name, y))
        if part.heading is not None:
            items += [moved_item(item, style.paper.side, y) for item in part.heading.items]
            y += part.heading.height + style.pt(_HEADING_GAP)
        if part.label is not None and part.system.baseline and (part.first or not i):
            system, begins = part.system, part.first
            numbers = [i.x for i in system.items if isinstance(i, Text) and i.role == "bar-number"]
            x = min(numbers, default=style.line_width)
            label = label_items(part.label, system.baseline, fitter, style, not begins, x)
            items += [moved_item(item, style.paper.side, y) for item in label]
        if part.name and part.label is None and not (i or first or part.first):
            goes_on = goes_on_line(part.name, part.system, fitter, style)
            items.append(moved_item(goes_on, style.paper.side, y))
        items += [moved_item(item, style.paper.side, y) for item in part.system.items]
        y += part.system.height
    return items, tuple(bookmarks)
