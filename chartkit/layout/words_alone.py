"""Words without music: lines of their own from the margin on, in pieces that may be torn apart by
the end of a page."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Protocol

from chartkit.layout.boxes import LineAlone, RowBox
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Text
from chartkit.layout.metrics import runs_from_right
from chartkit.layout.style import Style, page_room

_HANGING = 1.6
"""The indent of a line that goes on, in type sizes."""
_LEADING = 1.3
"""The distance of lines, in type sizes."""
_TOGETHER = 8
"""About how many lines stay together where there are more (ours)."""
_HEADING = 21.0
"""The height of a section's heading and the gap under it, in points at scale 1."""


def lines_alone(lines: Sequence[LineAlone], fitter: Fitter, style: Style) -> list[LineAlone]:
    """The lines in as many printed ones as they take; one that goes on is indented."""
    size, indent = style.words, style.words * _HANGING
    return [
        LineAlone(part, indent if i else 0.0, line.source)
        for line in lines
        for i, part in enumerate(fitter.hung(line.text, "words", size, style.line_width, indent))
    ]


def stanza_rows(row: RowBox, fitter: Fitter, style: Style) -> Iterator[RowBox]:
    """A row of words alone in rows of printed lines, the later ones going on from the first."""
    lines = lines_alone(row.alone, fitter, style)
    for number, (start, end) in enumerate(pieces(lines, style)):
        part = lines[start:end]
        above = () if number else row.above
        yield replace(row, above=above, alone=tuple(part), goes_on=number > 0)


def alone_items(
    lines: Sequence[LineAlone], y: float, fitter: Fitter, style: Style
) -> tuple[Item, ...]:
    """Printed lines from a height on."""
    size = style.words
    texts = (
        fitter.text(
            line.text,
            line.indent,
            y + size * (1 + _LEADING * i),
            "words",
            size,
            role="words",
            source=line.source,
        )
        for i, line in enumerate(lines)
        if line.text
    )
    return tuple(at_its_end(text, style) for text in texts)


def at_its_end(text: Text, style: Style) -> Text:
    """A printed line, which stands as far from the left as it is indented; one that runs from right
    to left that far from the right end of the line."""
    if not runs_from_right(text.plain):
        return text
    return text._replace(x=style.line_width - text.width - text.x)


def alone_height(lines: int, style: Style) -> float:
    """The height in points of so many printed lines."""
    return lines * style.words * _LEADING


class PrintedLine(Protocol):
    """A printed line; one that goes on from the line before is indented, in points."""

    @property
    def indent(self) -> float:
        """How far it is indented."""


def pieces(
    lines: Sequence[PrintedLine], style: Style, leading: float = _LEADING
) -> list[tuple[int, int]]:
    """Where pieces of much the same number of lines begin and end, lines ``leading`` type sizes
    apart; none begins with a line that goes on.

    Each fits on a page under a section's heading, unless one line and what goes on from it does
    not.
    """
    most = (page_room(style) - style.pt(_HEADING)) / (style.words * leading)
    count, total = max(1, round(len(lines) / _TOGETHER)), len(lines)
    cut = _in_pieces(lines, count)
    while count < total and any(end - start > most for start, end in cut):
        count += 1
        cut = _in_pieces(lines, count)
    return cut


def _in_pieces(lines: Sequence[PrintedLine], count: int) -> list[tuple[int, int]]:
    total = len(lines)
    wanted = [round(total * i / count) for i in range(count)]
    starts = [next((i for i in range(at, total) if not lines[i].indent), total) for at in wanted]
    ends = [*starts[1:], total]
    return [(start, end) for start, end in zip(starts, ends, strict=True) if start < end]


def broken_part(rows: Sequence[RowBox]) -> float:
    """The share, from 0 to 1, of the typed lines of words alone that had to be broken."""
    lines = [line for row in rows for line in row.alone]
    broken = sum(bool(line.indent) for line in lines)
    return broken / max(1, len(lines) - broken)
