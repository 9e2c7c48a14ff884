"""Gives widths to the bars of rows that fit the page; bar lines are shared down the whole song.

Rows with as many bars of the same lengths stand in one grid of columns as far as they fit into
one, the widest rows first; a second grid takes what does not (first fit decreasing, as bins are
packed; of several grids that have room, the one of most rows).  A section keeps to one grid where
it can.  Rows fill the line whatever their number of bars, but for a few rows of some bars less than
most, and for a few bars where most rows have many.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from chartkit.layout.boxes import RowBox, SpacedRow
from chartkit.layout.measure_bars import WORD_GAP
from chartkit.layout.style import Style

_LEAST_WEIGHT = 0.5
"""The room of the shortest bar beside that of the longest, where both could have it."""
_LEAST_FILLED = 0.5
"""A row with less than this part of the usual number of bars does not fill the line."""
_FEW = 0.25
"""The most rows that do not fill the line so as to keep another grid, beside the rows of that."""


_EASY = 1.25
"""The room that a bar of exact notes gets beside its least, where the line has it: more than a bar
that is empty needs (after Gould; the figure is ours)."""


_FREE, _FREE_MOST = 64.0, 92.0
"""The room of a chord in free time, in points at scale 1, and up to how much it gets to fill the
line: words further apart do not read as a line (ours)."""


class _Place(NamedTuple):
    """A row among those of all sections."""

    section: int
    row: int


def typical_bars(sections: Sequence[tuple[RowBox, ...]]) -> int:
    """How many bars most lines of the song have."""
    counts = [columns_of(row) for rows in sections for row in rows if row.bars and not row.free]
    return Counter(counts).most_common(1)[0][0] if counts else 1


def columns_of(row: RowBox) -> int:
    """How many columns a row takes: a bar each, two for a sign that stands for two."""
    return sum([bar.bar.simile or 1 for bar in row.bars])


def indent_for(row: RowBox, style: Style) -> float:
    """The room in points that a row's own pick-up needs before the first bar line."""
    width = row.pickup_width
    return width + style.pt(5) if width else 0.0


def line_indent(row: RowBox, style: Style, indent: float) -> float:
    """How far from the margin a row's first bar line stands, or its first chord in free time, where
    the usual one stands at ``indent``.

    In free time no bar line parts a pick-up from what follows: its words begin where those of other
    rows do, and its chord stands after them.
    """
    if not row.free or not row.widest_pickup:
        return max(indent, indent_for(row, style))
    begins = max(indent, row.widest_number + style.pt(5) if row.widest_number else 0.0)
    return begins + row.widest_pickup + row.hang + style.pt(WORD_GAP)


def song_lines(
    sections: Sequence[tuple[RowBox, ...]], style: Style, typical: int, indent: float
) -> list[list[SpacedRow]]:
    """The lines of every section, in order."""
    widths = _gridded(sections, style, typical, indent)
    apart = _free_distance(sections, style, indent)
    return [
        [
            _free_line(row, style, indent, apart)
            if row.free or not row.bars
            else _line(row, widths.get(_Place(s, r)), style, typical, indent)
            for r, row in enumerate(rows)
        ]
        for s, rows in enumerate(sections)
    ]


def grids_in(lines: Sequence[Sequence[SpacedRow]]) -> int:
    """How many grids of bar lines there are, at least one."""
    return len({line.widths for own in lines for line in own if not line.row.free} | {()}) - 1 or 1


def _line(
    row: RowBox, shared: tuple[float, ...] | None, style: Style, typical: int, indent: float
) -> SpacedRow:
    """A row in the columns it shares, or in its own."""
    own_indent = line_indent(row, style, indent)
    if shared is None:
        least = [bar.width for bar in row.bars]
        room = max(sum(least), (style.line_width - own_indent) * _part_filled(row, typical))
        shared = tuple(filled_widths(_easy([row], room) or least, room, _weights(row)))
    return SpacedRow(row, own_indent, shared)


def _free_line(row: RowBox, style: Style, indent: float, apart: float) -> SpacedRow:
    """A row in free time, its chords at the distance of the song where there is room; a pick-up
    that is too long for the gutter, or a part of a row without chords, as wide as its words."""
    own_indent = line_indent(row, style, indent)
    spare = max(0.0, style.line_width - own_indent - row.least_width)
    widths = []
    for bar in row.bars:
        chords = len(bar.slots) if any(any(slot.labels) for slot in bar.slots) else 0
        more = min(spare, max(0.0, apart * chords - bar.width))
        spare -= more
        widths.append(bar.width + more)
    return SpacedRow(row, own_indent, tuple(widths))


def _free_distance(sections: Sequence[tuple[RowBox, ...]], style: Style, indent: float) -> float:
    """How far the chords of rows in free time stand apart: so that the row of most of them fills
    the line, within limits.  Rows whose chords would not fit at the least distance do not count."""
    room, least = style.line_width - indent, style.pt(_FREE)
    free = (bar for rows in sections for row in rows if row.free for bar in row.bars)
    counts = {len(bar.slots) for bar in free if bar.slots}
    most = max((count for count in counts if count * least <= room), default=0)
    return min(max(room / most, least), style.pt(_FREE_MOST)) if most else least


def _part_filled(row: RowBox, typical: int) -> float:
    """How much of the line a row fills: all of it, unless it is a fragment."""
    part = columns_of(row) / (row.cut or typical)
    return 1.0 if part >= _LEAST_FILLED else part


# ---- grids
@dataclass(slots=True)
class _Grid:
    """Columns of one number and lengths, as wide as their widest bars need."""

    least: list[float]
    weights: list[float]
    places: list[_Place] = field(default_factory=list)


def _gridded(
    sections: Sequence[tuple[RowBox, ...]], style: Style, typical: int, indent: float
) -> dict[_Place, tuple[float, ...]]:
    """The widths of the bars of all rows that stand in a grid."""
    units: dict[tuple[float, ...], list[list[_Place]]] = {}
    for s, rows in enumerate(sections):
        own: dict[tuple[float, ...], list[_Place]] = {}
        for r, row in enumerate(rows):
            if not row.free and row.bars and indent_for(row, style) <= indent:
                own.setdefault(row.lengths, []).append(_Place(s, r))
        for key, places in own.items():
            units.setdefault(key, []).append(places)
    widths: dict[_Place, tuple[float, ...]] = {}
    made: dict[tuple[float, ...], int] = {}
    room = style.line_width - indent
    # The columns of most rows come first: rows of fewer bars stand in them where they can.
    for group in sorted(units.values(), key=lambda group: -sum(map(len, group))):
        packed = _packed(group, sections, room)
        for grid in sorted(packed, key=lambda one: -len(one.places)):
            rows_in = [sections[p.section][p.row] for p in grid.places]
            filled = room * max(_part_filled(row, typical) for row in rows_in)
            shared = _within(grid, filled, made) or _at_the_left(grid, made)
            shared = shared or _beside(grid, filled, made, rows_in)
            made[shared] = made.get(shared, 0) + len(rows_in)
            widths |= dict.fromkeys(grid.places, shared)
    return widths


def _within(
    grid: _Grid, filled: float, made: Iterable[tuple[float, ...]]
) -> tuple[float, ...] | None:
    """The columns of a grid that is there, two and more taken together for each bar of another
    one with fewer bars of one length; None where none is wide enough."""
    bars = len(grid.least)
    if len(set(grid.weights)) > 1:
        return None
    for other in made:
        each, rest = divmod(len(other), bars)
        if rest or each < 2 or abs(sum(other) - filled) > 1:
            continue
        merged = tuple(sum(other[i : i + each]) for i in range(0, len(other), each))
        if all(least <= width for least, width in zip(grid.least, merged, strict=True)):
            return merged
    return None


def _at_the_left(grid: _Grid, made: dict[tuple[float, ...], int]) -> tuple[float, ...] | None:
    """The first columns of the grid of most rows, for a few rows of some bars less; None where it
    has none to spare or not the room.  An ending of three bars stands under bars of the song."""
    other, rows = max(made.items(), key=lambda one: one[1], default=((), 0))
    columns = other[: len(grid.least)]
    some_less = len(other) > len(grid.least) > _LEAST_FILLED * len(other)
    if not some_less or len(grid.places) > _FEW * rows or len(set(grid.weights)) > 1:
        return None
    fits = all(least <= width for least, width in zip(grid.least, columns, strict=True))
    return columns if fits else None


def _easy(rows: Sequence[RowBox], room: float) -> list[float] | None:
    """The least widths of columns in which bars of exact notes are easy to read, where half of a
    column's bars or more have such notes; None where the line has not the room."""
    columns = list(zip(*(row.bars for row in rows), strict=True))
    noted = [2 * sum([bool(bar.groups) for bar in bars]) >= len(bars) for bars in columns]
    if not any(noted):
        return None
    easy = [
        max(bar.width * (_EASY if many and bar.groups else 1.0) for bar in bars)
        for bars, many in zip(columns, noted, strict=True)
    ]
    return easy if sum(easy) <= room else None


def _beside(
    grid: _Grid, filled: float, made: Iterable[tuple[float, ...]], rows: Sequence[RowBox]
) -> tuple[float, ...]:
    """The widths of a grid's columns, in which its rows are easy to read.  If an earlier grid has
    as many columns, those of its widths that fit are used again, counted from one end: bar lines
    that nearly meet look like a slip."""
    room = max(sum(grid.least), filled)
    ways = [
        _kept(grid.least, grid.weights, room, usual, back)
        for usual in made
        if len(usual) == len(grid.least) and abs(sum(usual) - room) <= 1
        for back in (False, True)
    ]
    most = max(ways, key=lambda way: way[0], default=(0, ()))
    if most[0]:
        return most[1]
    return tuple(filled_widths(_easy(rows, room) or grid.least, room, grid.weights))


def _kept(
    least: list[float], weights: list[float], room: float, usual: tuple[float, ...], back: bool
) -> tuple[int, tuple[float, ...]]:
    """How many columns from the left, or going ``back`` from the right, can be those of another
    grid, and all widths then."""
    step = -1 if back else 1
    least, weights, columns = least[::step], weights[::step], usual[::step]
    kept: list[float] = []
    for i, width in enumerate(columns):
        if width < least[i] or sum(kept) + width + sum(least[i + 1 :]) > room:
            break
        kept.append(width)
    count = len(kept)
    widths = [*kept, *filled_widths(least[count:], room - sum(kept), weights[count:])]
    return count, tuple(widths[::step])


def _packed(
    units: list[list[_Place]], sections: Sequence[tuple[RowBox, ...]], room: float
) -> list[_Grid]:
    """The fewest grids, as far as first fit finds them, that hold all rows.

    Whole sections are tried first, then single rows; the widest first, then the narrowest, which
    leaves wide rows alone but keeps all others together.
    """
    whole = [(_least_of(unit, sections), unit) for unit in units]
    parts = [one for one in whole if sum(one[0]) <= room]
    parts += [
        (_least_of([p], sections), [p]) for least, unit in whole if sum(least) > room for p in unit
    ]
    best: list[_Grid] = []
    for way in range(4):
        if way == 2:
            parts = [(_least_of([p], sections), [p]) for unit in units for p in unit]
        ordered = sorted(parts, key=lambda one: sum(one[0]), reverse=not way % 2)
        grids = _first_fit(ordered, sections, room)
        if not best or len(grids) < len(best):
            best = grids
        if len(best) == 1:
            break
    return best


def _least_of(places: Sequence[_Place], sections: Sequence[tuple[RowBox, ...]]) -> list[float]:
    """The least widths of columns that hold rows."""
    rows = [[bar.width for bar in sections[p.section][p.row].bars] for p in places]
    return list(map(max, zip(*rows, strict=True))) if len(rows) > 1 else rows[0]


def _first_fit(
    parts: Sequence[tuple[list[float], list[_Place]]],
    sections: Sequence[tuple[RowBox, ...]],
    room: float,
) -> list[_Grid]:
    grids: list[_Grid] = []
    for least, places in parts:
        fitting = [grid for grid in grids if sum(map(max, grid.least, least)) <= room]
        if fitting:
            # Of several grids the one of most rows: an intro stands as the verse under it does.
            grid = max(fitting, key=lambda one: len(one.places))
            grid.least = list(map(max, grid.least, least))
            grid.places += places
        else:
            first = sections[places[0].section][places[0].row]
            grids.append(_Grid(list(least), _weights(first), list(places)))
    return grids


def _weights(row: RowBox) -> list[float]:
    """For each column how long its bar lasts, beside the longest of all: from a half to 1."""
    longest = max(row.lengths)
    if not longest:
        return [1.0 for _ in row.bars]
    return [max(_LEAST_WEIGHT, lasts / longest) for lasts in row.lengths]


def filled_widths(least: list[float], room: float, weights: list[float]) -> list[float]:
    """Widths that add up to the room, in proportion to their weights as far as the least
    widths allow."""
    widths = list(least)
    open_columns = set(range(len(least)))
    left = room
    while open_columns:
        share = left / sum(weights[i] for i in open_columns)
        wide = [i for i in open_columns if least[i] > share * weights[i]]
        if not wide:
            for i in open_columns:
                widths[i] = share * weights[i]
            break
        for i in wide:
            open_columns.remove(i)
            left -= least[i]
    return widths
