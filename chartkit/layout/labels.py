"""Chord names set in type: root, raised extensions, bass.

Conventions after Brandt & Roemer, *Standardized Chord Symbol Notation* (1976; from memory):
the root's accidental stands on the baseline, alterations are in parentheses, extensions are
raised and smaller.
"""

import re
from typing import NamedTuple

from chartkit.layout.frames import FontName, Piece
from chartkit.layout.metrics import Typesetter
from chartkit.theory.printed import NamePart, PrintedChord

_LEAD = re.compile(r"(maj|dim|aug|m)?(.*)", re.DOTALL)
_SIGN = {"b": "♭", "#": "♯"}

_LEAD_SIZE = 0.86
_RAISED_SIZE = 0.68
_RISE = 0.33
_BASS_SIZE = 0.88
_FLAT_SIZE, _SHARP_SIZE = 1.1, 0.88
_SHARP_RISE = 0.14
LABEL_TOP = 0.9
"""How far a chord name reaches above its baseline at most, as part of its size: a raised flat."""


class Label(NamedTuple):
    """A chord name ready to place: its pieces and how wide they are together."""

    pieces: tuple[Piece, ...]
    width: float


class Labeller:
    """Sets chord names in one font and size, each distinct name once."""

    def __init__(self, typesetter: Typesetter, font: FontName, size: float, widest: float) -> None:
        self._typesetter = typesetter
        self._font = font
        self._size = size
        self._widest = widest
        self._known: dict[tuple[PrintedChord | None, bool], Label] = {}

    def label(self, name: PrintedChord | None, optional: bool = False) -> Label:
        """The name as a label, in parentheses when optional; None is N.C.

        A name wider than the line is set smaller until it fits.
        """
        found = self._known.get((name, optional))
        if found is None:
            found = self._known[name, optional] = self._fitted(name, optional)
        return found

    def _fitted(self, name: PrintedChord | None, optional: bool) -> Label:
        pieces = self._set(name, self._size, optional)
        width = self._typesetter.width(pieces)
        if width > self._widest:
            pieces = self._set(name, self._size * self._widest / width * 0.99, optional)
            width = self._typesetter.width(pieces)
        return Label(pieces, width)

    def _set(self, name: PrintedChord | None, size: float, optional: bool) -> tuple[Piece, ...]:
        text = self._typesetter.pieces
        if name is None:
            body = text("N.C.", self._font, size * _LEAD_SIZE)
        else:
            body = self._name(name, size)
        if optional:
            return (*text("(", self._font, size), *body, *text(")", self._font, size))
        return body

    def _name(self, name: PrintedChord, size: float) -> tuple[Piece, ...]:
        bass: tuple[Piece, ...] = ()
        if name.bass is not None:
            slash = self._typesetter.pieces("/", self._font, size * _BASS_SIZE)
            bass = (*slash, *self._part(name.bass, size * _BASS_SIZE, name.number))
        if name.bass_only:
            return bass
        quality = self._quality(name.quality, size)
        return (*self._part(name.root, size, name.number), *quality, *bass)

    def _part(self, part: NamePart, size: float, sign_first: bool) -> tuple[Piece, ...]:
        symbol = self._typesetter.pieces(part.symbol, self._font, size)
        sign = self._signs(part.alteration, size, 0)
        return (*sign, *symbol) if sign_first else (*symbol, *sign)

    def _signs(self, alteration: int, size: float, rise: float) -> tuple[Piece, ...]:
        if alteration == 0:
            return ()
        if alteration > 0:
            lifted = rise + size * _SHARP_RISE
            return (Piece("♯" * alteration, "music", size * _SHARP_SIZE, lifted),)
        return (Piece("♭" * -alteration, "music", size * _FLAT_SIZE, rise),)

    def _quality(self, quality: str, size: float) -> tuple[Piece, ...]:
        lead, rest = _LEAD.fullmatch(quality).groups()  # type: ignore[union-attr]
        pieces: list[Piece] = []
        if lead:
            pieces += self._typesetter.pieces(lead, self._font, size * _LEAD_SIZE)
        small = size * _RAISED_SIZE
        for part in re.findall(r"[b#](?=\d)|(?:[^b#]|[b#](?!\d))+", rest):
            if part in _SIGN:
                pieces += self._signs(1 if part == "#" else -1, small, size * _RISE)
            else:
                pieces += self._typesetter.pieces(part, self._font, small, size * _RISE)
        return tuple(pieces)
