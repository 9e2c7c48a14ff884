"""Pages of two columns, for long words in short lines.

A section is kept in one column where a column can hold it.  On the last page the two columns
are made as equal in height as whole sections allow.
"""

from collections.abc import Iterator
from itertools import groupby

from chartkit.layout.paginate import Block, PagePart, height_of, parts_of
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import Style, page_room

_Column = list[PagePart]


def sections_in_columns(blocks: list[Block], top: PlacedSystem, style: Style) -> list[_Column]:
    """The blocks in columns, two a page; the first two are shorter by the top of the page."""
    room = page_room(style)
    columns: list[_Column] = [[]]
    for unit in _units(parts_of(blocks, style), room - top.height):
        while _is_full(columns, unit, room, top.height):
            columns.append([])
        columns[-1] += unit
    return _balanced(columns)


def _is_full(columns: list[_Column], unit: _Column, room: float, top: float) -> bool:
    """Whether a unit goes into the next column; one too high for any stays where it is first."""
    under_top = len(columns) <= 2
    here = room - top if under_top else room
    return bool(columns[-1] or under_top) and height_of([*columns[-1], *unit]) > here


def _units(parts: list[PagePart], room: float) -> Iterator[_Column]:
    """The units that are never torn: a whole section, or one stanza of a section that is higher
    than a column."""
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
    starts = [i for i, part in enumerate(last) if i and part.first and part.name]
    if not starts:
        return columns
    cut = min(starts, key=lambda i: max(height_of(last[:i]), height_of(last[i:])))
    tallest = max(map(height_of, columns[first:]))
    if max(height_of(last[:cut]), height_of(last[cut:])) > tallest:
        return columns
    return [*columns[:first], last[:cut], last[cut:]]
