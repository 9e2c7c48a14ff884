"""Plain tables for a terminal."""

import re
import shutil
import textwrap
from collections.abc import Sequence

from chartkit.cli.streams import show

_WIDEST, _USUAL, _NARROWEST = 120, 100, 20
_LEAST = 8
_ENTRY_ENDS = re.compile(r"(?<=,) |(?<=\S)  ")


def width() -> int:
    """How many columns the output may take."""
    return max(_NARROWEST, min(_WIDEST, shutil.get_terminal_size((_USUAL, 40)).columns))


def say_wrapped(text: str, indent: str = "") -> None:
    """Prints a paragraph wrapped to the width; further lines are indented."""
    show(textwrap.fill(text, width(), subsequent_indent=indent, break_long_words=False))


def fits(rows: Sequence[Sequence[str]], spare: int = 0) -> bool:
    """Whether the rows in columns fit the output's width, if a column gives so many letters up."""
    return _total([max(map(len, column)) for column in zip(*rows, strict=True)]) - spare <= width()


def _total(widths: Sequence[int]) -> int:
    return sum(widths) + 2 * (len(widths) - 1)


def in_columns(
    rows: Sequence[Sequence[str]],
    right: frozenset[int] = frozenset(),
    shortened: int | None = None,
) -> list[str]:
    """The rows as lines with their columns lined up; columns in ``right`` flush right.

    Cells of the column ``shortened`` lose their ends to make the lines fit the output's width, down
    to 8 letters.  What still does not fit is left out at the line's end, entry by entry: half a
    fingering would look like another one.
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    if shortened is not None:
        over = _total(widths) - width()
        most = max(min(widths[shortened], _LEAST), widths[shortened] - max(0, over))
        rows = [
            [_cut(cell, most) if i == shortened else cell for i, cell in enumerate(row)]
            for row in rows
        ]
        widths[shortened] = most
    lines = (
        "  ".join(
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    )
    most = width()
    return [line if len(line) <= most else _whole_entries(line, most - 2) + " …" for line in lines]


def _whole_entries(line: str, most: int) -> str:
    """As many entries of a line, between commas or columns, as fit into so many letters."""
    ends = [end.start() for end in _ENTRY_ENDS.finditer(line) if end.start() <= most]
    return line[: ends[-1] if ends else most].rstrip()


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
