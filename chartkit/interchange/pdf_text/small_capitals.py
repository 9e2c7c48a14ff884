"""Small capitals, which are capitals in smaller type to a PDF, as the small letters they stand for.

How large they are beside real capitals: common practice, no source.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.pdf_text.page_text import TextRun

_SMALLEST, _LARGEST = 0.6, 0.88
"""How large small capitals are beside the capitals of their line."""
_MOST_SIZES = 4
_BESIDE = 0.3
"""How far a small capital stands from the capital that begins its word at most, in ems."""


def with_small_letters(pieces: Sequence[TextRun]) -> list[TextRun]:
    """The pieces of a page, small capitals on a line as small letters of its size."""
    lines = defaultdict[float, list[TextRun]](list)
    for piece in pieces:
        if any(map(str.isupper, piece.text)):
            lines[round(piece.y, 1)].append(piece)
    made: dict[int, TextRun] = {}
    for line in lines.values():
        line.sort(key=lambda piece: piece.x)
        for small, large in list(_small_sizes(line).items())[:_MOST_SIZES]:
            made |= {id(one): _lowered(one, large) for one in line if _is_small(one, small)}
    return [made.get(id(piece), piece) for piece in pieces]


def _small_sizes(line: Sequence[TextRun]) -> dict[float, float]:
    """The sizes of small capitals on a line, each with that of the capitals it goes with."""
    found = {}
    for before, piece in pairwise(line):
        beside = abs(piece.x - before.end) <= _BESIDE * before.size
        small = _SMALLEST <= piece.size / before.size <= _LARGEST
        begins = len(before.text.strip()) == 1 and before.text.strip().isupper()
        if beside and small and begins and _is_small(piece, piece.size):
            found[piece.size] = before.size
    return found


def _is_small(piece: TextRun, size: float) -> bool:
    letters = "".join(letter for letter in piece.text if letter.isalpha())
    return abs(piece.size - size) <= size / 50 and len(letters) > 1 and letters.isupper()


def _lowered(piece: TextRun, size: float) -> TextRun:
    lower = piece.text.lower()
    return replace(piece, text=lower, size=size) if len(lower) == len(piece.text) else piece
