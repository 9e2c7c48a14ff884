"""The numbers of endings, drawn over the staves of other people's pages, as bar lines with numbers.

A first and a second ending have a repeat between them, though its dots are a drawing (common
practice, no source).
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import Row

_NUMBERS = re.compile(r"\s*\d(?:[\s.,-]{1,3}\d){0,8}[\s.,]{0,3}")
_RIGHT_OF_NUMBER = 3.0
"""By how many points a bar line may stand right of the number that belongs to it."""
_LINES = ("|", "|:", ":|", ":|:")


def numbers_of_endings(row: Row) -> bool:
    """Whether a row is made of the numbers of endings alone."""
    return all(_NUMBERS.fullmatch(piece.text) and "." in piece.text for piece in row)


def with_endings(rows: Sequence[Row], parted: Sequence[Row | None]) -> list[Row]:
    """The rows of a page; numbers of endings right above a row with bar lines stand after these,
    from the first ending on, and a later ending closes the repeat before it."""
    made: list[Row] = []
    above: Row = []
    last_parted = -1
    begun = False
    for row, own in zip(rows, parted, strict=True):
        if own is None:
            above = row if numbers_of_endings(row) else []
            made.append(row)
            continue
        lines = list(own)
        for number in above:
            first = int(number.text.strip()[0])
            at = _line_before(lines, number)
            begun = begun or first == 1
            if at is None or not begun:
                continue
            if made and made[-1] is above:
                made.pop()
            closes = first > 1
            if closes and not any(piece.text in _LINES for piece in lines[:at]):
                _close(made, last_parted)
                closes = False
            figures = "".join(f"{figure}." for figure in re.findall(r"\d", number.text))
            lines[at] = _said(lines[at], f":|{figures}" if closes else f"|{figures}")
        above, last_parted = [], len(made)
        made.append(lines)
    return made


def _line_before(row: Sequence[TextRun], number: TextRun) -> int | None:
    """The bar line that the number of an ending stands after."""
    lines = [
        i
        for i, piece in enumerate(row)
        if piece.text in _LINES and piece.x <= number.x + _RIGHT_OF_NUMBER
    ]
    return lines[-1] if lines else None


def _close(rows: list[Row], at: int) -> None:
    """Makes the last bar line of an earlier row the end of a repeat."""
    if at < 0:
        return
    row = list(rows[at])
    last = max((i for i, piece in enumerate(row) if piece.text in _LINES), default=None)
    if last is not None:
        row[last] = _said(row[last], ":|")
        rows[at] = row


def _said(piece: TextRun, text: str) -> TextRun:
    return replace(piece, text=text, advances=(0.0,) * len(text))
