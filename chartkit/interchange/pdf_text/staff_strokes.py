"""What strokes on a staff say: the bar of a rest for several bars, and slashes that count beats.

A rest for several bars is one thick level bar in the middle of a staff with their number over it;
a slash rises from left to right, and a bar that the band fills in has one for each beat (common
practice, no source).
"""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.pdf_text.music_signs import SIGN
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.staves import Staff

SLASH = "slash"
"""Marks the piece that stands for a slash on a staff; it is no text."""
Stroke = tuple[float, float, float, float, float]
"""A straight line: its ends and its thickness, in points."""
_THICK = 0.4
"""How thick the bar of a rest is at least, in distances of the lines of its staff."""
_OFF = 0.4
"""How far from the middle of its staff, and from the middle of its bar, in the same measure."""
_NUMBER_ABOVE = 4.0
_NUMBER_ASIDE = 2.0
_SHORTEST, _LONGEST = 12.0, 400.0
_MOST_BARS = 500
_STEEP, _FLAT = 4.0, 0.4
"""How steep a slash is at most and at least: its height by its width."""
_LOWEST, _HIGHEST = 0.9, 4.6
"""How high a slash is, in distances of the lines of its staff."""
_FONT_SLASHES = frozenset(chr(at) for at in range(0xE100, 0xE110))
"""Slashes as heads of notes.  Source: SMuFL 1.4, slash noteheads; from memory."""
_MOST, _MOST_RESTS = 2_000, 100
"""More pieces and strokes than a page of music has."""


def with_rests(
    pieces: Sequence[TextRun], staves: Sequence[Staff], strokes: Sequence[Stroke]
) -> list[TextRun]:
    """The pieces of a page, the numbers of rests for several bars as words that say so."""
    bars = [
        (staff, (left + right) / 2)
        for left, right, y, thick in _level(strokes[:_MOST])
        for staff in staves
        if abs(y - (staff.low + staff.high) / 2) <= _OFF * staff.gap
        and thick >= _THICK * staff.gap
        and not _has_stems(left, right, y, strokes, staff)
    ]
    if not bars:
        return list(pieces)
    bars = bars[:_MOST_RESTS]
    return [_said(piece, bars) for piece in pieces]


def _level(strokes: Sequence[Stroke]) -> list[tuple[float, float, float, float]]:
    return [
        (min(x0, x1), max(x0, x1), (y0 + y1) / 2, thick)
        for x0, y0, x1, y1, thick in strokes
        if abs(y1 - y0) <= 1 and _SHORTEST <= abs(x1 - x0) <= _LONGEST
    ]


def _has_stems(
    left: float, right: float, y: float, strokes: Sequence[Stroke], staff: Staff
) -> bool:
    """Whether a level bar joins stems, as beams do: upright lines at its ends go one way."""
    return any(
        abs(x1 - x0) <= 1
        and min(abs(x0 - left), abs(x0 - right)) <= 2
        and min(y0, y1) - 1 <= y <= max(y0, y1) + 1
        and abs((y0 + y1) / 2 - y) > _OFF * staff.gap
        and abs(y1 - y0) <= staff.high - staff.low - 1
        for x0, y0, x1, y1, _ in strokes[:_MOST]
    )


def _said(piece: TextRun, bars: Sequence[tuple[Staff, float]]) -> TextRun:
    text = piece.text.strip()
    if not (text.isdecimal() and len(text) <= 3 and 1 <= int(text) <= _MOST_BARS):
        return piece
    middle = (piece.x + piece.end) / 2
    for staff, at in bars:
        level = staff.low <= piece.y <= staff.high + _NUMBER_ABOVE * staff.gap
        if level and abs(middle - at) <= _NUMBER_ASIDE * staff.gap:
            said = f"rest {int(text)}"
            return replace(piece, text=said, advances=(0.5,) * len(said), mark=SIGN)
    return piece


def slashes_on(
    pieces: Sequence[TextRun], staves: Sequence[Staff], strokes: Sequence[Stroke], page: int
) -> list[TextRun]:
    """A piece for each slash on the staves of a page."""
    found: list[TextRun] = []
    for staff in staves:
        drawn = [
            (min(x0, x1) + max(x0, x1)) / 2
            for x0, y0, x1, y1, _ in strokes[:_MOST]
            if _is_slash(x0, y0, x1, y1, staff)
        ]
        typed = [
            piece.x
            for piece in pieces[:_MOST]
            if staff.carries(piece)
            and (piece.text.strip() == "/" or _FONT_SLASHES.issuperset(piece.text.strip()))
        ]
        last = float("-inf")
        for x in sorted([*drawn, *typed]):
            if x - last > staff.gap:
                found.append(TextRun(page, x, staff.high, staff.gap, "/", (0.0,), mark=SLASH))
                last = x
    return found


def _is_slash(x0: float, y0: float, x1: float, y1: float, staff: Staff) -> bool:
    wide, high = x1 - x0, y1 - y0
    rises = wide * high > 0 and _FLAT <= high / wide <= _STEEP
    tall = _LOWEST * staff.gap <= abs(high) <= _HIGHEST * staff.gap
    half = staff.gap / 2
    inside = staff.low - half <= min(y0, y1) and max(y0, y1) <= staff.high + half
    return rises and tall and inside and staff.left <= min(x0, x1) <= staff.right
