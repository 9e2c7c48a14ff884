"""The fonts that are embedded, and their widths for the layout."""

from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from chartkit.assets import font_path
from chartkit.layout.frames import FontName

FILES: dict[FontName, str] = {
    "strong": "NotoSans-SemiCondensedBold.ttf",
    "plain": "NotoSans-SemiCondensed.ttf",
    "words": "NotoSerif-SemiCondensed.ttf",
    "italic": "NotoSerif-SemiCondensedItalic.ttf",
    "title": "NotoSerif-SemiCondensedBold.ttf",
    "music": "NotoMusic-Regular.ttf",
}


@cache
def embedded_font(name: FontName) -> TTFont:
    """The font of that use, read and registered with ReportLab once a process."""
    font = TTFont(f"chartkit-{name}", str(font_path(FILES[name])))
    pdfmetrics.registerFont(font)
    return font


class FontMetrics:
    """Widths of the embedded fonts, as layout asks for them."""

    def width(self, font: FontName, text: str) -> float:
        """The width of the text in ems."""
        face = embedded_font(font).face
        widths, default = face.charWidths, face.defaultWidth
        return float(sum(widths.get(ord(character), default) for character in text)) / 1000

    def has(self, font: FontName, character: str) -> bool:
        """Whether the font has a glyph for the character."""
        return ord(character) in embedded_font(font).face.charToGlyph
