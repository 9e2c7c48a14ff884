"""The dots of a repeat that are typed beside a drawn bar line: a colon, or two full stops or
bullets one above the other (common practice, no source)."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.pdf_text.page_text import RepeatDot, TextRun, Upright

_COLON, _DOTS = ":", (".", "•", "·", "∙", "●")
_BESIDE, _MOST_LINES = 12.0, 60
"""How far from its line, in points, such a sign stands at most (ours); how many lines beside one
sign are looked at."""
_ONE_ABOVE, _ASIDE = (2.0, 14.0), 1.0
"""How far one of two dots stands above the other, and beside it at most, in points (ours)."""
_OFF_MIDDLE = 3.0
"""How far from the middle of the line the two dots of a repeat are taken to stand, in points."""


def with_typed_dots(
    pieces: Sequence[TextRun], uprights: Sequence[Upright]
) -> tuple[list[TextRun], list[RepeatDot]]:
    """The pieces without typed dots of repeats, and these as dots that are drawn."""
    lines = defaultdict[int, list[Upright]](list)
    for line in sorted(uprights, key=lambda one: one.x):
        lines[line.page].append(line)
    dots: list[RepeatDot] = []
    gone: set[int] = set()
    for signs in _signs(pieces):
        middle = signs[0].x + (signs[0].end - signs[0].x) / 2
        beside = _line_beside(signs, middle, lines[signs[0].page])
        if beside is not None:
            half, page = (beside.low + beside.high) / 2, beside.page
            dots += [RepeatDot(page, middle, half + by) for by in (_OFF_MIDDLE, -_OFF_MIDDLE)]
            gone.update(map(id, signs))
    return [piece for piece in pieces if id(piece) not in gone], dots


def _signs(pieces: Sequence[TextRun]) -> list[tuple[TextRun, ...]]:
    """The colons that stand alone, and the dots one above the other."""
    signs: list[tuple[TextRun, ...]] = [(one,) for one in pieces if one.text.strip() == _COLON]
    dots = [one for one in pieces if one.text.strip() in _DOTS]
    dots.sort(key=lambda one: (one.page, round(one.x), -one.y))
    for above, below in pairwise(dots):
        aside = abs(above.x - below.x) <= _ASIDE and above.page == below.page
        if aside and _ONE_ABOVE[0] <= above.y - below.y <= _ONE_ABOVE[1]:
            signs.append((above, below))
    return signs


def _line_beside(
    signs: Sequence[TextRun], middle: float, lines: Sequence[Upright]
) -> Upright | None:
    """The nearest line beside signs, which reaches over them."""
    first = bisect_left(lines, middle - _BESIDE, key=lambda line: line.x)
    near = [
        line
        for line in lines[first : first + _MOST_LINES]
        if abs(line.x - middle) <= _BESIDE
        and all(line.low <= sign.y + sign.size / 4 <= line.high for sign in signs)
    ]
    return min(near, key=lambda line: abs(line.x - middle), default=None)
