"""Remarks in slanted type at the right of the song, put at its left edge in rows of their own.

They are no column: each says something of what it stands beside.  Common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import WIDE, Row
from chartkit.interchange.pdf_text.type_faces import text_of
from chartkit.interchange.text.names.headings import heading_of

_SAYS = re.compile(r"[^\W\d_]{3}")
_FEWEST, _MOST_WORDS, _MOST_SHARE = 2, 8, 0.3
_SAME_EDGE = 3.0
"""By how many points the left edges of remarks differ at most."""
_GUTTER = 6.0
"""How far the song ends before its remarks, in points."""


def with_remarks_beside(rows: list[Row]) -> list[Row]:
    """The rows of a page; slanted remarks that begin at one place, with nothing else so far to the
    right, are rows of their own at the left edge."""
    found = {at: group for at, row in enumerate(rows) if (group := _remark(row))}
    if len(found) < _FEWEST or len(found) > _MOST_SHARE * len(rows):
        return rows
    edge = min(group[0].x for group in found.values())
    if any(group[0].x - edge > _SAME_EDGE for group in found.values()):
        return rows
    taken = {id(piece) for group in found.values() for piece in group}
    song = [piece for row in rows[min(found) :] for piece in row if id(piece) not in taken]
    if not song or max(piece.end for piece in song) > edge - _GUTTER:
        return rows
    left = min(piece.x for piece in song)
    made: list[Row] = []
    taken_now: set[int] = set()
    for at, row in enumerate(rows):
        others = [piece for piece in row if id(piece) not in taken]
        if others:
            made.append(others)
        if at in found:
            made.append(_moved(found[at], left))
            taken_now |= set(map(id, made[-1]))
    return [row for pair in _names_first(made, taken_now) for row in pair]


def _names_first(rows: Sequence[Row], taken: set[int]) -> list[list[Row]]:
    """The rows in order, a remark right above a name below it."""
    made: list[list[Row]] = []
    for row in rows:
        above = made[-1][-1] if made else None
        named = heading_of(text_of(row)) is not None
        if above is not None and named and above[0].leans and id(above[0]) in taken:
            near = above[0].y - row[0].y <= row[0].size
            made[-1] = [row, above] if near else [above, row]
        else:
            made.append([row])
    return made


def _remark(row: Row) -> Row:
    """What stands last in a row, is slanted, and is apart from the rest; empty where nothing is."""
    at = len(row)
    while at and row[at - 1].leans:
        at -= 1
    group, before = row[at:], row[:at]
    if not group or (before and group[0].x - before[-1].end < WIDE * before[-1].size):
        return []
    said = text_of(group)
    return group if _SAYS.search(said) and len(said.split()) <= _MOST_WORDS else []


def _moved(group: Sequence[TextRun], left: float) -> Row:
    by = group[0].x - left
    return [replace(piece, x=piece.x - by) for piece in group]
