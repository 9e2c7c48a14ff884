"""The fonts that are embedded, and their widths for the layout."""

from functools import cache, lru_cache
from pathlib import Path

import uharfbuzz

from chartkit.assets import font_path
from chartkit.layout.faces import FILES, KERNED
from chartkit.layout.frames import FontName
from chartkit.pdf.reportlab_names import TTFError, TTFont, pdfmetrics

# ---- kerning: HarfBuzz shapes the text, but only pairs of letters are kerned, so that each letter
# stays one glyph and text is found in the PDF as it was written
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


@cache
def _kerner(name: FontName) -> Kerner:
    return Kerner(font_path(FILES[name]))


class UnusableFont(Exception):
    """A font file of the user's that cannot be embedded, said in one line."""


@cache
def _registered(name: str, path: Path) -> TTFont:
    """The font of a file, read and registered with ReportLab once a process."""
    font = TTFont(name, str(path))
    pdfmetrics.registerFont(font)
    return font


@cache
def embedded_font(name: FontName) -> TTFont:
    """One of our own fonts."""
    return _registered(f"chartkit-{name}", font_path(FILES[name]))


def _adjustments(font: FontName, text: str) -> Adjustments:
    return _kerner(font).adjustments(text) if font in KERNED and len(text) > 1 else ()


def _width(embedded: TTFont, font: FontName, text: str) -> float:
    face = embedded.face
    widths, default = face.charWidths, face.defaultWidth
    total = sum(widths.get(ord(character), default) for character in text)
    return float(total + sum(extra for _, extra in _adjustments(font, text))) / 1000


_LONGEST_KEPT = 40
"""Letters of the longest text whose width is kept: from song to song, and from key to key at the
desk, words and chords come again."""


@lru_cache(maxsize=4096)
def _kept_width(font: FontName, text: str) -> float:
    return _width(embedded_font(font), font, text)


class Fonts:
    """The fonts of one document: ours, and perhaps one of the user's for what ours lack.

    It is also the ``Metrics`` that layout asks.
    """

    def __init__(self, own: Path | None = None) -> None:
        """``own`` is a TrueType file.  Raises UnusableFont."""
        self._own: TTFont | None = None
        if own is not None:
            try:
                self._own = _registered(f"own-{own.resolve()}", own)
            except (TTFError, OSError, ValueError) as reason:
                raise UnusableFont(
                    f"{own}: this font cannot be used; TrueType outlines are needed ({reason})"
                ) from None

    def font(self, name: FontName) -> TTFont:
        """The font of that use."""
        if name == "own" and self._own is not None:
            return self._own
        return embedded_font(name)

    def width(self, font: FontName, text: str) -> float:
        """The width of the text in ems."""
        if font != "own" and len(text) <= _LONGEST_KEPT:
            return _kept_width(font, text)
        return _width(self.font(font), font, text)

    def kerning(self, font: FontName, text: str) -> Adjustments:
        """Where letters of the text move together or apart."""
        return _adjustments(font, text)

    def has(self, font: FontName, character: str) -> bool:
        """Whether the font has a glyph for the character."""
        if font == "own" and self._own is None:
            return False
        return ord(character) in self.font(font).face.charToGlyph
