"""Chords that stand over slashes on a staff, on the beats that these count.

Bars whose slashes are as many as the meter has beats say on which each chord is struck (common
practice, no source).
"""

from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.pdf_text.over_bars import is_bar_line
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import Row

_BELOW = 8.0
"""How many ems below its chords the top of a staff stands at most (ours)."""
_LONGEST = 400
"""More pieces than a system has."""
_BESIDE = 0.6
"""How far a chord stands from its slash at most, in distances of two slashes."""


def with_beats(row: Row, slashes: Sequence[TextRun], beats: int) -> Row:
    """A row with bar lines; strokes for the beats between its chords where slashes on the staff
    below count all beats of a bar, and its chords are not one on the first of them."""
    level = row[0].y
    under = [one.x for one in slashes if 0 <= level - one.y <= _BELOW * row[0].size]
    if not under or len(row) > _LONGEST:
        return row
    lines = [piece.x for piece in row if is_bar_line(piece)]
    added = []
    for start, end in pairwise(lines):
        inside = sorted(x for x in under if start < x < end)
        chords = [one for one in row if not is_bar_line(one) and start <= one.x < end]
        if len(inside) == beats and beats > 1:
            added += [_stroke(x, row[0]) for x in _free_beats(inside, chords)]
    return sorted([*row, *added], key=lambda piece: piece.x)


def _free_beats(slashes: Sequence[float], chords: Sequence[TextRun]) -> list[float]:
    """The slashes over which no chord is struck; none where that is plain without them."""
    apart = (slashes[-1] - slashes[0]) / (len(slashes) - 1)
    taken: list[int] = []
    for chord in chords:
        if not chord.text[:1].isalpha() or chord.text[:1].islower():
            continue  # a mark, or the raised part of a chord
        nearest = min(range(len(slashes)), key=lambda at: abs(slashes[at] - chord.x))
        if abs(slashes[nearest] - chord.x) <= _BESIDE * apart:
            taken.append(nearest)
    plain = taken in ([], [0]) or taken != sorted(set(taken))
    return [] if plain else [x for at, x in enumerate(slashes) if at not in taken]


def _stroke(x: float, like: TextRun) -> TextRun:
    return TextRun(like.page, x, like.y, like.size, " / ", (0.0,) * 3)
