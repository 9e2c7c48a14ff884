"""Plain tables for a terminal."""

import shutil
import textwrap
from collections.abc import Sequence

from chartkit.cli.streams import show

_WIDEST, _USUAL, _NARROWEST = 120, 100, 20


def width() -> int:
    """How many columns the output may take."""
    return max(_NARROWEST, min(_WIDEST, shutil.get_terminal_size((_USUAL, 40)).columns))


def say_wrapped(text: str, indent: str = "") -> None:
    """Prints a paragraph wrapped to the width; further lines are indented."""
    show(textwrap.fill(text, width(), subsequent_indent=indent, break_long_words=False))


def in_columns(rows: Sequence[Sequence[str]], right: frozenset[int] = frozenset()) -> list[str]:
    """The rows as lines with their columns lined up; columns in ``right`` flush right.

    What does not fit the output's width is cut off at its end.
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = (
        "  ".join(
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    )
    most = width()
    return [line if len(line) <= most else line[: most - 2] + " …" for line in lines]
