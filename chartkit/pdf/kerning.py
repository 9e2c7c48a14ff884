"""Kerning: which pairs of letters move together, by the font's own table.

HarfBuzz shapes the text; only pair kerning is asked for, so that each letter stays one glyph
and text is found in the PDF as it was written.
"""

from functools import lru_cache
from pathlib import Path

import uharfbuzz

_FEATURES = {"kern": True, "liga": False, "clig": False, "calt": False, "ccmp": False}

_MOST_KEPT = 4096
"""Texts whose kerning is kept: a long song has some hundreds.  With 20,000 the desk grew by 20 MB
before it was full."""

Adjustments = tuple[tuple[int, float], ...]
"""After which letter (counted from 0) how many thousandths of an em are added."""


class Kerner:
    """The kerning of one font file."""

    def __init__(self, path: Path) -> None:
        face = uharfbuzz.Face(path.read_bytes())
        self._font = uharfbuzz.Font(face)
        self._thousandths = 1000 / face.upem
        self._advances: dict[int, int] = {}
        self.adjustments = lru_cache(maxsize=_MOST_KEPT)(self._adjustments)

    def _adjustments(self, text: str) -> Adjustments:
        """The adjustments in a text; none where letters do not stand for a glyph each."""
        buffer = uharfbuzz.Buffer()
        buffer.add_str(text)
        buffer.guess_segment_properties()
        uharfbuzz.shape(self._font, buffer, _FEATURES)
        glyphs, places = buffer.glyph_infos, buffer.glyph_positions
        if len(glyphs) != len(text) or buffer.direction != "ltr":
            return ()
        return tuple(
            (i, (place.x_advance - self._advance(glyph.codepoint)) * self._thousandths)
            for i, (glyph, place) in enumerate(zip(glyphs, places, strict=True))
            if place.x_advance != self._advance(glyph.codepoint)
        )

    def _advance(self, glyph: int) -> int:
        advance = self._advances.get(glyph)
        if advance is None:
            advance = self._advances[glyph] = self._font.get_glyph_h_advance(glyph)
        return advance
