"""Pages of two columns, for long words in short lines.

A section is kept in one column where a column can hold it.  On the last page the two columns
are made as equal in height as whole sections allow.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from chartkit.arrange.arrangement import Arrangement
from chartkit.layout.fit import Fitter
from chartkit.layout.frame_lines import foot_line
from chartkit.layout.frames import Bookmark, Item, Page, moved
from chartkit.layout.paginate import Block, Part, filled, height_of, parts_of
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style, page_room

_GUTTER = 28.0
"""Room between the columns, at scale 1."""

_Column = list[Part]


def column_style(style: Style) -> Style:
    """The style as text in one of two columns sees it: a narrower paper."""
    width = (style.line_width - style.pt(_GUTTER)) / 2
    return replace(style, paper=replace(style.paper, width=width + 2 * style.paper.side))


def columns_of(blocks: list[Block], top: PlacedSystem, style: Style) -> list[_Column]:
    """The blocks in columns, two a page; the first two are shorter by the top of the page."""
    room = page_room(style)
    columns: list[_Column] = [[]]
    for unit in _units(parts_of(blocks, style), room - top.height):
        here = room - top.height if len(columns) <= 2 else room
        if columns[-1] and height_of([*columns[-1], *unit]) > here:
            columns.append([])
        columns[-1] += unit
    return _balanced(columns)


def _units(parts: list[Part], room: float) -> Iterator[_Column]:
    """What is not torn: a whole section, or one stanza of a section higher than a column."""
    for _, members in groupby(parts, key=lambda part: part.entry.section):
        section = list(members)
        if height_of(section) <= room:
            yield section
        else:
            yield from ([part] for part in section)


def _balanced(columns: list[_Column]) -> list[_Column]:
    """The columns, those of the last page as equal as whole sections allow."""
    first = len(columns) - 2 + len(columns) % 2
    last = [part for column in columns[first:] for part in column]
    starts = [i for i, part in enumerate(last) if i and part.bookmark]
    if not starts:
        return columns
    cut = min(starts, key=lambda i: max(height_of(last[:i]), height_of(last[i:])))
    tallest = max(map(height_of, columns[first:]))
    if max(height_of(last[:cut]), height_of(last[cut:])) > tallest:
        return columns
    return [*columns[:first], last[:cut], last[cut:]]


def column_pages(
    arrangement: Arrangement,
    fitter: Fitter,
    top: PlacedSystem,
    columns: list[_Column],
    style: Style,
    with_foot: bool = True,
) -> tuple[Page, ...]:
    """The finished pages of two columns each."""
    paper = style.paper
    across = column_style(style).line_width + style.pt(_GUTTER)
    count = (len(columns) + 1) // 2
    made = []
    for number in range(count):
        items: list[Item] = []
        bookmarks: tuple[Bookmark, ...] = ()
        y = paper.top
        if not number:
            items += (moved(item, paper.side, paper.top) for item in top.items)
            y += top.height
        for side, column in enumerate(columns[2 * number : 2 * number + 2]):
            placed, marks = filled(column, y, not number, 0.0, fitter, style)
            items += (moved(item, side * across, 0) for item in placed)
            bookmarks += marks
        if with_foot:
            foot_y = paper.height - paper.bottom
            foot = foot_line(arrangement, number + 1, count, foot_y, fitter, style)
            items += (moved(item, paper.side, 0) for item in foot)
        made.append(Page(paper.width, paper.height, tuple(items), bookmarks))
    return tuple(made)
