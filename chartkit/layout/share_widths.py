"""Rows that fit the page get widths for their bars, bar lines shared down a section."""

from collections import Counter

from chartkit.layout.boxes import Line, RowBox, SectionBox
from chartkit.layout.style import Style

_LEAST_WEIGHT = 0.5
"""The room of the shortest bar beside that of the longest, where both could have it."""
_WIDEST_INDENT = 0.2
"""The largest part of a line that pick-ups may indent every system by."""


def typical_bars(sections: list[tuple[RowBox, ...]]) -> int:
    """How many bars most lines of the song have."""
    counts = [len(row.bars) for rows in sections for row in rows if row.bars and not row.free]
    return Counter(counts).most_common(1)[0][0] if counts else 1


def common_indent(sections: tuple[SectionBox, ...], style: Style) -> float:
    """How far the first bar line of every system stands from the margin."""
    most = style.line_width * _WIDEST_INDENT
    rows = [row for section in sections for row in section.rows if not row.free]
    return max((w for row in rows if (w := indent_for(row, style)) <= most), default=0.0)


def indent_for(row: RowBox, style: Style) -> float:
    """The room a row's own pick-up needs before the first bar line."""
    return row.pickup_width + style.pt(5) if row.pickup_width else 0.0


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
        for cut in dict.fromkeys(row.cut for row in rows)
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
            wanted = max(sum(least), room * min(1.0, len(row.bars) / (row.cut or typical)))
            widths = filled_widths(least, wanted, _weights([row]))
            lines.append(Line(row, own_indent, tuple(widths)))
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
    wanted = max(sum(least), room * min(1.0, columns / typical))
    return filled_widths(least, wanted, _weights(barred))


def _weights(rows: list[RowBox]) -> list[float]:
    """For each column how long its bars last, beside the longest of all: from a half to 1.

    A column with bars of several lengths has the weight of the longest.
    """
    longest = max(bar.duration for row in rows for bar in row.bars)
    columns = range(max(len(row.bars) for row in rows))
    if not longest:
        return [1.0 for _ in columns]
    lasts = (max(row.bars[i].duration for row in rows if i < len(row.bars)) for i in columns)
    return [max(_LEAST_WEIGHT, duration / longest) for duration in lasts]


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
