"""Whole chords that stand raised among the words of a line, put into a row above it.

How far they are raised: common practice, no source.
"""

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from chartkit.interchange.pdf_text.page_text import TextRun

_CHORD = re.compile(
    r"[A-H][b#♭♯]?(?:maj|min|mi|m|dim|aug|sus|add|\d|°|ø|△|\+|-|[()b#♭♯]){0,10}(?:/[A-H][b#♭♯]?)?"
)
_SMALLER = 0.88
_LOWEST, _HIGHEST = 0.12, 0.7
"""How far chords are raised, in ems of their words."""
_BESIDE = 0.35
"""How far the word under a raised chord begins from its end at most, in ems."""
_ABOVE = 1.0
"""How many ems above its words a row of chords is put."""
_FEWEST = 4
_MOSTLY = 0.7
_WIDE, _HIGH, _MOST_IN_BOX = 8.0, 10.0, 40
"""The width and height of the boxes, in points, in which words are looked up, and the most of one;
a hostile file takes no long time."""
_MOST = 8_000
"""More pieces than a page of a song has."""


def with_chords_above(pieces: Sequence[TextRun]) -> list[TextRun]:
    """The pieces of a page, raised chords among words in rows above these, whose letters close up.

    They stay where they are unless most of the raised type on the page is chords before words.
    """
    raised = {} if len(pieces) > _MOST else _raised(pieces)
    if len(raised) < _FEWEST:
        return list(pieces)
    by_line = defaultdict[float, list[TextRun]](list)
    for piece in pieces:
        at = raised[id(piece)].y if id(piece) in raised else piece.y
        by_line[round(at, 1)].append(piece)
    return [piece for line in by_line.values() for piece in _parted(line, raised)]


def _raised(pieces: Sequence[TextRun]) -> dict[int, TextRun]:
    """The raised chords, each with a piece of its words."""
    begins = defaultdict[tuple[int, int], list[TextRun]](list)
    for piece in pieces:
        there = begins[round(piece.x / _WIDE), round(piece.y / _HIGH)]
        if len(there) < _MOST_IN_BOX:
            there.append(piece)
    small = [piece for piece in pieces if _CHORD.fullmatch(piece.text.strip())]
    found = {}
    for piece in small:
        across, up = round(piece.end / _WIDE), round(piece.y / _HIGH)
        boxes = product((across - 1, across, across + 1), (up - 2, up - 1, up))
        near = (one for box in boxes for one in begins.get(box, ()))
        word = next((one for one in near if _is_under(one, piece)), None)
        if word is not None:
            found[id(piece)] = word
    return found if len(found) >= _MOSTLY * len(small) else {}


def _is_under(word: TextRun, chord: TextRun) -> bool:
    up = (chord.y - word.y) / word.size
    beside = abs(word.x - chord.end) <= _BESIDE * word.size
    raised = _LOWEST <= up <= _HIGHEST and chord.size <= _SMALLER * word.size
    return beside and raised and word.text[:1].isalpha() and not _CHORD.fullmatch(word.text)


def _parted(line: Sequence[TextRun], raised: dict[int, TextRun]) -> list[TextRun]:
    """The pieces of a line; what stands behind a raised chord moves to where that began."""
    made: list[TextRun] = []
    back = 0.0
    for piece in sorted(line, key=lambda one: one.x):
        word = raised.get(id(piece))
        if word is None:
            made.append(replace(piece, x=piece.x - back) if back else piece)
            continue
        made.append(replace(piece, x=piece.x - back, y=word.y + _ABOVE * word.size))
        back += max(0.0, word.x - piece.x)
    return made
