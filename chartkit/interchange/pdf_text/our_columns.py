"""Two columns of rows on our own pages, put under one another.

The file has the left column before the right one.  Names of sections and numbers of bars stand
left of their rows; the first of them far to the right begins the right column.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from chartkit.interchange.pdf_text.page_text import TextRun

_GUTTER = frozenset({"H2", "LineNum"})
"""How the file marks what stands left of rows (``pdf/commands.py``)."""
_FAR = 200.0
"""How far to the right of the first name or number the right column is at least, in points: a
column of the smallest page is wider, the room left of rows is narrower."""


def columns_under_one_another(pieces: Sequence[TextRun]) -> list[TextRun]:
    """Puts the pieces of a right column under the left one, on all pages; returns all pieces."""
    pages = (list(page) for _, page in groupby(pieces, key=lambda piece: piece.page))
    return [piece for page in pages for piece in _one_column(page)]


def _one_column(page: list[TextRun]) -> list[TextRun]:
    beside = [i for i, piece in enumerate(page) if piece.mark in _GUTTER]
    if not beside:
        return page
    first = page[beside[0]].x
    begins = next((i for i in beside if page[i].x - first > _FAR), None)
    if begins is None:
        return page
    # A name that goes on from the left column is no heading again and stands before the number.
    while begins and page[begins - 1].x - first > _FAR and page[begins - 1].y > page[begins].y:
        begins -= 1
    left, right = page[:begins], page[begins:]
    down = max(piece.y for piece in page)
    aside = min(piece.x for piece in right if piece.mark in _GUTTER) - first
    return [
        *left,
        *(replace(piece, x=max(0.0, piece.x - aside), y=piece.y - down) for piece in right),
    ]
