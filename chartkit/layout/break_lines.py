"""Step two: rows to lines that fit the page, bar lines shared down a section.

The writer's rows are kept.  A row too long for the line breaks at a bar into equal parts; a
bar too long for the line breaks at a chord, and words too long for one chord at a space.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from chartkit.chart.model import BarLine
from chartkit.layout.boxes import BarBox, Line, RowBox, SectionBox, Slot, Word, tight_positions
from chartkit.layout.collect import Collector
from chartkit.layout.style import Style

_WIDEST_INDENT = 0.2
"""The largest part of a line that pick-ups may indent every system by."""
_WIDEST_PICKUP = 0.4
"""The largest part of a line that one pick-up may take; a longer one gets a row to itself."""


def typical_bars(sections: list[tuple[RowBox, ...]]) -> int:
    """How many bars most lines of the song have."""
    counts = [len(row.bars) for rows in sections for row in rows if not row.free]
    return Counter(counts).most_common(1)[0][0] if counts else 1


def common_indent(sections: tuple[SectionBox, ...], style: Style) -> float:
    """How far the first bar line of every system stands from the margin."""
    most = style.line_width * _WIDEST_INDENT
    rows = [row for section in sections for row in section.rows if not row.free]
    return max((w for row in rows if (w := indent_for(row, style)) <= most), default=0.0)


def indent_for(row: RowBox, style: Style) -> float:
    """The room a row's own pick-up needs before the first bar line."""
    return row.pickup_width + style.pt(5) if row.pickup_width else 0.0


def fitted_rows(
    section: SectionBox, collector: Collector, style: Style, indent: float
) -> tuple[RowBox, ...]:
    """The rows of a section, long ones cut into parts that fit the line."""
    rows = (_fitting_rows(row, collector, style, indent) for row in section.rows)
    return tuple(part for parts in rows for part in parts)


def section_lines(
    rows: tuple[RowBox, ...], style: Style, typical: int, indent: float
) -> list[Line]:
    """The lines of a section, in order.

    Bars share their columns down the section where they fit in columns.  A section with
    fewer bars a line than the song's other ones takes its part of the line, but a row that had
    to be cut fills it.
    """
    shared = {
        cut: _shared_widths([row for row in rows if row.cut == cut], style, cut or typical, indent)
        for cut in {row.cut for row in rows}
    }
    lines = []
    for row in rows:
        own_indent = max(indent, indent_for(row, style))
        room = style.line_width - own_indent
        least = [bar.width for bar in row.bars]
        if row.free or not row.bars:
            lines.append(
                Line(row, own_indent if row.pickup_width else 0.0, _free_widths(row, style))
            )
        elif (columns := shared[row.cut]) is not None and own_indent == indent:
            lines.append(Line(row, indent, tuple(columns[: len(row.bars)])))
        else:
            part = min(1.0, len(row.bars) / (row.cut or typical))
            lines.append(
                Line(row, own_indent, tuple(filled_widths(least, max(sum(least), room * part))))
            )
    return lines


def _free_widths(row: RowBox, style: Style) -> tuple[float, ...]:
    roomy = [max(bar.width, style.pt(64) * len(bar.slots)) for bar in row.bars]
    room = style.line_width - indent_for(row, style)
    return tuple(max(bar.width, min(room, wide)) for bar, wide in zip(row.bars, roomy, strict=True))


def _shared_widths(
    rows: list[RowBox], style: Style, typical: int, indent: float
) -> list[float] | None:
    """One width for each column of a section; None when the bars do not fit in columns."""
    barred = [row for row in rows if not row.free and row.bars]
    columns = max((len(row.bars) for row in barred), default=0)
    if not columns:
        return None
    least = [max(row.bars[i].width for row in barred if i < len(row.bars)) for i in range(columns)]
    room = style.line_width - indent
    if sum(least) > room:
        return None
    return filled_widths(least, max(sum(least), room * min(1.0, columns / typical)))


def filled_widths(least: list[float], room: float) -> list[float]:
    """Widths that add up to the room, as equal as the least widths allow."""
    widths = list(least)
    open_columns = set(range(len(least)))
    left = room
    while open_columns:
        share = left / len(open_columns)
        wide = [i for i in open_columns if least[i] > share]
        if not wide:
            for i in open_columns:
                widths[i] = share
            break
        for i in wide:
            open_columns.remove(i)
            left -= least[i]
    return widths


# ---- rows that are too long


def _fitting_rows(
    row: RowBox, collector: Collector, style: Style, indent: float
) -> Iterator[RowBox]:
    """The row in parts that each fit the line."""
    row = _with_short_pickup(row, collector, style)
    room = style.line_width - max(indent, indent_for(row, style))
    bars = [part for bar in row.bars for part in _fitting_bars(bar, collector, room)]
    parts = _equal_parts(bars, room)
    fullest = max(map(len, parts)) if len(parts) > 1 else 0
    for i, part in enumerate(parts):
        first = i == 0
        pickups = row.pickups if first else ()
        above = row.above if first else ()
        yield RowBox(tuple(part), pickups, row.verses, above, row.free, fullest)


def _with_short_pickup(row: RowBox, collector: Collector, style: Style) -> RowBox:
    """A pick-up too long to stand before the bar line becomes a bar of its own."""
    if not row.bars or row.pickup_width <= style.line_width * _WIDEST_PICKUP:
        return row
    first = row.bars[0]
    open_line = BarLine("none")
    like = replace(first, opening=open_line, closing=open_line, bar=replace(first.bar, simile=0))
    own = collector.bar_box(like, (Slot(0.0, words=row.pickups),), broken=True, continued=True)
    return replace(row, bars=(own, *row.bars), pickups=())


def _equal_parts(bars: list[BarBox], room: float) -> list[list[BarBox]]:
    """Bars cut into the fewest parts that fit, as equal in number as they can be."""
    if not bars:
        return [[]]
    for count in range(max(1, int(sum(bar.width for bar in bars) // room)), len(bars)):
        size = -(-len(bars) // count)
        parts = [bars[i : i + size] for i in range(0, len(bars), size)]
        if all(sum(bar.width for bar in part) <= room + 0.01 for part in parts):
            return _even_parts(bars, size) or parts
        if count * count > len(bars):
            break
    return _greedy_parts(bars, room)


def _even_parts(bars: list[BarBox], size: int) -> list[list[BarBox]] | None:
    """Parts of one size, where one not much smaller divides the row: 4 and 4, not 5 and 3."""
    for even in range(size, size // 2, -1):
        if len(bars) % even == 0:
            return [bars[i : i + even] for i in range(0, len(bars), even)]
    return None


def _greedy_parts(bars: list[BarBox], room: float) -> list[list[BarBox]]:
    parts: list[list[BarBox]] = [[]]
    used = 0.0
    for bar in bars:
        if parts[-1] and used + bar.width > room + 0.01:
            parts.append([])
            used = 0.0
        parts[-1].append(bar)
        used += bar.width
    return parts


def _fitting_bars(bar: BarBox, collector: Collector, room: float) -> list[BarBox]:
    """The bar whole, or in parts when it is wider than the line."""
    if bar.width <= room:
        return [bar]
    inner = room - bar.left_pad - bar.right_pad
    slots = [part for slot in bar.slots for part in _fitting_slots(slot, collector, inner)]
    groups: list[list[Slot]] = [[]]
    for slot in slots:
        candidate = (*groups[-1], slot)
        if groups[-1] and tight_positions(candidate, collector.needs(candidate))[1] > inner:
            groups.append([])
        groups[-1].append(slot)
    last = len(groups) - 1
    return [
        collector.bar_box(bar, _reshared(group), broken=i < last, continued=i > 0)
        for i, group in enumerate(groups)
    ]


def _reshared(slots: list[Slot]) -> tuple[Slot, ...]:
    """The slots with their shares spread over the part of the bar they now fill."""
    start, end = slots[0].share, 1.0
    span = max(end - start, 0.01)
    return tuple(replace(slot, share=(slot.share - start) / span) for slot in slots)


def _fitting_slots(slot: Slot, collector: Collector, room: float) -> Iterator[Slot]:
    """The slot, its words carried on in further slots where they are wider than the line."""
    wrapped = [collector.wrapped(word, room) if word else [] for word in slot.words]
    yield replace(slot, words=tuple(parts[0] if parts else None for parts in wrapped))
    for i in range(1, max(map(len, wrapped), default=1)):
        words: tuple[Word | None, ...] = tuple(p[i] if i < len(p) else None for p in wrapped)
        yield Slot(slot.share, words=words)
