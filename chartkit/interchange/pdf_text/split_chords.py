"""Chords that a scan has taken for two words, the root and what belongs to it, closed up.

Source of the form: common practice of programs that read scanned pages, no source.
"""

import re
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import BLANK, Row

_ROOT = re.compile(
    r"[A-H](?:[b#♭♯]|tt)?(?:maj|min|mi|m|dim|aug)?(?:6|7|9|11|13)?(?P<open>sus|add)?"
)
_TAIL = re.compile(
    r"(?=.)(?:b|#|♭|♯|tt)?(?:maj|min|mi|m|dim|aug|sus|add)?(?:6|7|9|11|13)?(?:sus[24]?)?"
    r"(?:/[A-H][b#♭♯]?)?"
)
_FIGURES = ("2", "4", "9")
"""What stands behind "sus" and "add"."""
_FURTHEST = 0.5
"""How far the parts of one chord stand apart at most, in ems: chords are further apart (ours)."""


def with_chords_closed_up(row: Row, is_music: Callable[[Row], bool]) -> Row:
    """A row of chords without the blanks inside them; any other row as it is."""
    if not any(_goes_on(before, piece) for before, piece in pairwise(row)):
        return row
    made: Row = []
    for piece in row:
        before = made[-1] if made else None
        if before is not None and _goes_on(before, piece):
            made[-1] = _joined(before, piece)
        else:
            made.append(piece)
    return made if is_music(made) else row


def _goes_on(before: TextRun, piece: TextRun) -> bool:
    gap = (piece.x - before.end) / max(before.size, piece.size)
    root = _ROOT.fullmatch(before.text) if BLANK < gap <= _FURTHEST else None
    if root is None:
        return False
    if root["open"]:
        return piece.text in _FIGURES
    twice = before.text[-1].isdigit() and piece.text[0].isdigit()
    return _TAIL.fullmatch(piece.text) is not None and not twice


def _joined(before: TextRun, piece: TextRun) -> TextRun:
    text = before.text + piece.text
    wide = (*before.advances, *piece.advances)
    at = text.find("tt")
    if at == 1:  # a sharp, as scanners read it
        text, wide = f"{text[0]}#{text[3:]}", (wide[0], wide[1] + wide[2], *wide[3:])
    return replace(before, text=text, advances=wide)
