"""Bar lines, repeats, slashes and repeated bars that are drawn on our own pages.

A row is read in bars only where everything drawn between its bar lines is known: with a rest or a
rhythm among them its chords stay in free time.  The sizes are those of ``layout/bar_signs.py``.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.pdf_text.bar_lines import System, systems_of, with_lines
from chartkit.interchange.pdf_text.extract import Pages
from chartkit.interchange.pdf_text.over_bars import is_bar_line
from chartkit.interchange.pdf_text.page_text import DrawnShape
from chartkit.interchange.pdf_text.rows import Row, RowReader
from chartkit.interchange.pdf_text.type_faces import ENDING, text_of

_LINE = 4.0
"""How wide a bar line is at most, in points."""
_ABOVE = 0.5
"""How far above its bar lines signs of rhythm stand, in heights of these."""
_SLASH = (0.3, 0.75)
"""How wide a slash is for its height."""
_DOT, _ON_LINE = 4.5, 14.0
"""How wide a dot of a repeat is at most, and how far from its line, in points."""
_PARTS_OF_REPEAT, _WIDE_REPEAT = 3, (0.8, 1.6)
"""The sign of a repeated bar is of a stroke and two dots, and so wide for its height."""
_MOST_SHAPES, _MOST_SYSTEMS = 400, 100
"""The most shapes of one system, and systems of one page; none has more."""


def with_bars(
    pages: list[list[Row]], read_pages: Pages, read: RowReader, findings: Findings
) -> list[list[Row]]:
    """The rows of our pages with what is drawn among their chords, which is reported.  Where a
    repeat begins or ends at a row that is not read in bars, no row with a repeat is."""
    found = [_on_page(rows, read_pages, read) for rows in pages]
    whole = all(own or not repeats for page in found for _, own, repeats in page)
    made = [list(rows) for rows in pages]
    for rows, page in zip(made, found, strict=True):
        for at, own, repeats in page:
            if own is not None and (whole or not repeats):
                rows[at] = own
    if any(is_bar_line(piece) for rows in made for row in rows for piece in row):
        findings.guess(
            "bars-drawn",
            "bar lines, repeats, slashes and repeated bars that are drawn are read; rows with "
            "rests, rhythms or endings among them stand in free time",
        )
    return made


def _on_page(
    rows: list[Row], read_pages: Pages, read: RowReader
) -> list[tuple[int, Row | None, bool]]:
    """Of each row of chords its number, the row in bars (None where something drawn in it is not
    known), and whether a repeat is drawn in it."""
    if not rows:
        return []
    page = rows[0][0].page
    systems = systems_of(
        [one for one in read_pages.uprights if one.page == page],
        [one for one in read_pages.dots if one.page == page],
    )
    shapes = sorted((one for one in read_pages.shapes if one.page == page), key=lambda one: one.low)
    music = [at for at, row in enumerate(rows) if read.chords(row)]
    found: list[tuple[int, Row | None, bool]] = []
    for system in filter(_is_wide, systems[:_MOST_SYSTEMS]):
        inside = [at for at in music if system.low <= rows[at][0].y < system.high]
        repeats = any(sign != "|" for sign in system.signs.values())
        for at in inside:
            numbered = at > 0 and ENDING.fullmatch(text_of(rows[at - 1]).strip("()")) is not None
            plain = len(inside) == 1 and not numbered and read.is_music(rows[at])
            found.append((at, _in_bars(rows[at], system, shapes) if plain else None, repeats))
    return found


def _is_wide(system: System) -> bool:
    return system.places[-1] - system.places[0] > 5 * (system.high - system.low)


def _in_bars(row: Row, system: System, shapes: Sequence[DrawnShape]) -> Row | None:
    """The row with all that is drawn among its chords; None where something else is drawn there,
    or a bar has nothing."""
    high = system.high - system.low
    first = bisect_left(shapes, system.low - high, key=lambda one: one.low)
    last = bisect_right(shapes, system.high + _ABOVE * high, key=lambda one: one.low)
    there = [
        one
        for one in shapes[first:last]
        if system.places[0] - 1 <= (one.left + one.right) / 2 <= system.places[-1] + 1
        and one.high > system.low
    ]
    if len(there) > _MOST_SHAPES or row[0].x < system.places[0] or row[-1].end > system.places[-1]:
        return None
    signs: Row = []
    for shape in there:
        sign = _sign(shape, system)
        if sign is None:
            return None
        if sign:
            signs.append(
                replace(row[0], x=shape.left, text=sign, advances=(shape.right - shape.left,))
            )
    filled = sorted([*row, *signs], key=lambda piece: piece.x)
    starts = [piece.x for piece in filled]
    if any(
        bisect_left(starts, before) == bisect_left(starts, after)
        for before, after in pairwise(system.places)
    ):
        return None
    return with_lines(filled, system.places, system.signs)


def _sign(shape: DrawnShape, system: System) -> str | None:
    """What a shape among bars says: a slash, a repeated bar, nothing more than its bar line; None
    for any other."""
    wide, high = shape.right - shape.left, shape.high - shape.low
    place = min(system.places, key=lambda place: abs(place - shape.left))
    if wide <= _LINE and high >= 0.9 * (system.high - system.low):
        return ""
    near = abs(place - (shape.left + shape.right) / 2) <= _ON_LINE
    if near and max(wide, high) <= _DOT and system.signs.get(place, "|") != "|":
        return ""
    inside = system.low - 1 <= shape.low and shape.high <= system.high + 1
    if inside and not shape.parts and _SLASH[0] <= wide / max(high, 0.1) <= _SLASH[1]:
        return "/"
    repeat = _WIDE_REPEAT[0] <= wide / max(high, 0.1) <= _WIDE_REPEAT[1]
    return "%" if inside and repeat and shape.parts == _PARTS_OF_REPEAT else None
