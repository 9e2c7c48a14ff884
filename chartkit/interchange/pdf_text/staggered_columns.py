"""Two columns whose lines stand at heights of their own, so that no row of a page has both.

Common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.rows import Row
from chartkit.interchange.pdf_text.type_faces import text_of

_FEWEST_ROWS = 4
"""Rows of a column at least, and changes from one to the other; ours."""
_FEWEST_OF_WORDS = 2
_WORDS = re.compile(r"[^\W\d_]{2,} [^\W\d_]{2,}")
_LEAST_WIDTH = 100.0
"""How far the second column begins from the first at least, in points."""
_GUTTER = 6.0
"""How far the first column ends before the second, in points."""
_SAME_EDGE = 2.0


def staggered_columns(rows: list[Row], findings: Findings) -> list[list[Row]] | None:
    """The rows of a page above two columns, and those of each; None where there are none."""
    edge = _second_edge(rows)
    if edge is None:
        return None
    sides = [_side(row, edge) for row in rows]
    first = next((at + 1 for at in reversed(range(len(rows))) if not sides[at]), 0)
    left = [row for row, side in zip(rows[first:], sides[first:], strict=True) if side == "left"]
    right = [row for row, side in zip(rows[first:], sides[first:], strict=True) if side == "right"]
    changes = sum(one != two for one, two in pairwise(sides[first:]))
    if min(len(left), len(right), changes) < _FEWEST_ROWS:
        return None
    if min(_with_words(left), _with_words(right)) < _FEWEST_OF_WORDS:
        return None  # chords alone stand after the ends of lines
    place = f"page {left[0][0].page}, line {first + 1}"
    findings.guess(
        "columns",
        "text in two columns is read column by column, the left one first",
        place,
    )
    return [part for part in (rows[:first], left, right) if part]


def _with_words(rows: Sequence[Row]) -> int:
    """How many rows have words that follow each other."""
    return sum(_WORDS.search(text_of(row)) is not None for row in rows)


def _second_edge(rows: Sequence[Row]) -> float | None:
    """Where most of the rows begin that begin far right of the first column."""
    if not rows:
        return None
    start = min(row[0].x for row in rows)
    edges = Counter(
        round(row[0].x / _SAME_EDGE) for row in rows if row[0].x - start >= _LEAST_WIDTH
    )
    edge, count = edges.most_common(1)[0] if edges else (0, 0)
    return edge * _SAME_EDGE - _SAME_EDGE if count >= _FEWEST_ROWS else None


def _side(row: Row, edge: float) -> str:
    """In which column a row stands; neither where it reaches into both."""
    if row[0].x >= edge:
        return "right"
    return "left" if max(piece.end for piece in row) <= edge - _GUTTER else ""
