"""Pages drawn on a ReportLab canvas: another way to the picture that our own commands make.

It stands here to compare them with; only what is drawn is alike, not the file around it.
"""

from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from chartkit.layout.frames import Document, Dot, Glyph, Item, Page, Piece, Shape, Stroke, Text
from chartkit.layout.outlines import outline
from chartkit.pdf.fonts import Fonts, embedded_font

_DARK_PAPER, _LIGHT_INK = 0.07, 0.94
"""The greys of a dark page: not quite black and white, which glare on a screen."""
THICKER = {"strong": 0.035, "title": 0.035, "plain": 0.015}


def canvas_pdf(document: Document, fonts: Fonts | None = None) -> bytes:
    """The document's pages as ReportLab writes them."""
    out, fonts = BytesIO(), fonts or Fonts()
    words: Any = embedded_font("words").fontName
    canvas = Canvas(
        out, invariant=1, pageCompression=1, lang=document.language, initialFontName=words
    )
    for page in document.pages:
        _draw_page(canvas, page, document.dark, fonts)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw_page(canvas: Canvas, page: Page, dark: bool, fonts: Fonts) -> None:
    canvas.setPageSize((page.width, page.height))
    if dark:
        canvas.setFillGray(_DARK_PAPER)
        canvas.rect(0, 0, page.width, page.height, stroke=0, fill=1)
    pen = _Pen(canvas, page.height, dark, fonts)
    for item in page.items:
        pen.draw(item)


class _Pen:
    """Draws items on one page, setting the ink only when it changes."""

    def __init__(self, canvas: Canvas, height: float, dark: bool, fonts: Fonts) -> None:
        self._fonts = fonts
        self._canvas = canvas
        self._height = height
        self._dark = dark
        self._fill = self._stroke = -1.0 if dark else 1.0

    def _gray(self, ink: float) -> float:
        """The grey of an ink: on a dark page from the paper's dark up to light."""
        if self._dark:
            return _DARK_PAPER + ink * (_LIGHT_INK - _DARK_PAPER)
        return 1 - ink

    def draw(self, item: Item) -> None:
        """Draws one item."""
        match item:
            case Text():
                self._text(item)
            case Stroke():
                self._line(item)
            case Shape():
                self._shape(item)
            case Dot():
                self._ink_fill(item.ink)
                self._canvas.circle(item.x, self._height - item.y, item.radius, stroke=0, fill=1)
            case Glyph():
                self._glyph(item)

    def _ink_fill(self, ink: float) -> None:
        if ink != self._fill:
            self._canvas.setFillGray(self._gray(ink))
            self._fill = ink

    def _ink_stroke(self, ink: float, thickness: float) -> None:
        self._canvas.setLineWidth(thickness)
        if ink != self._stroke:
            self._canvas.setStrokeGray(self._gray(ink))
            self._stroke = ink

    def _text(self, item: Text) -> None:
        """A text as one text object, so that whoever reads the file finds it in one piece."""
        self._ink_fill(item.ink)
        canvas = self._canvas
        writer: Any = canvas.beginText(item.x, self._height - item.y)
        rise = 0.0
        letters = [piece.font for piece in item.pieces if piece.font != "music"]
        beside = letters[0] if letters else ""
        for piece in item.pieces:
            beside = beside if piece.font == "music" else piece.font
            writer.setFont(self._fonts.font(piece.font).fontName, piece.size)
            if piece.rise != rise:
                writer.setRise(piece.rise)
                rise = piece.rise
            if piece.back:
                writer._code.append(f"[{piece.back / piece.size * 1000:.3f}] TJ")
            self._show(writer, piece, THICKER.get(beside, 0.0), item.ink)
        if rise:
            writer.setRise(0)
        canvas.drawText(writer)

    def _show(self, writer: Any, piece: Piece, thicker: float, ink: float) -> None:
        if piece.font != "music" or not thicker:
            self._kerned(writer, piece)
            return
        self._ink_stroke(ink, piece.size * thicker)
        writer.setTextRenderMode(2)
        writer.textOut(piece.text)
        writer.setTextRenderMode(0)

    def _kerned(self, writer: Any, piece: Piece) -> None:
        """Shows a piece with its kerning, where the font has any for it."""
        kerning = self._fonts.kerning(piece.font, piece.text)
        document, font = self._canvas._doc, self._fonts.font(piece.font)  # type: ignore[attr-defined]
        runs = font.splitString(piece.text, document) if kerning else []
        if len(runs) != 1 or len(runs[0][1]) != len(piece.text):
            writer.textOut(piece.text)
            return
        subset, letters = runs[0]
        if subset != writer._curSubset:
            name = font.getSubsetInternalName(subset, document)
            writer._code.append(f"{name} {piece.size:.4f} Tf")
            writer._curSubset = subset
        parts, start = [], 0
        for at, extra in kerning:
            parts.append(f"({self._canvas._escape(letters[start : at + 1])}) {-extra:.1f}")  # type: ignore[attr-defined]
            start = at + 1
        if start < len(letters):
            parts.append(f"({self._canvas._escape(letters[start:])})")  # type: ignore[attr-defined]
        writer._code.append(f"[{' '.join(parts)}] TJ")

    def _line(self, item: Stroke) -> None:
        self._ink_stroke(item.ink, item.thickness)
        self._canvas.line(item.x0, self._height - item.y0, item.x1, self._height - item.y1)

    def _shape(self, item: Shape) -> None:
        path = self._canvas.beginPath()
        for i, (x, y) in enumerate(item.points):
            (path.lineTo if i else path.moveTo)(x, self._height - y)
        path.close()
        if item.thickness:
            self._ink_stroke(item.ink, item.thickness)
            self._canvas.drawPath(path, stroke=1, fill=0)
        else:
            self._ink_fill(item.ink)
            self._canvas.drawPath(path, stroke=0, fill=1)

    def _glyph(self, item: Glyph) -> None:
        segments, left, low, height = outline(item.name)
        scale = item.height / height
        x0, y0 = item.x - left * scale, self._height - item.y - low * scale
        path = self._canvas.beginPath()
        draw: dict[str, Any] = {"m": path.moveTo, "l": path.lineTo, "c": path.curveTo}
        for command, values in segments:
            if command == "h":
                path.close()
            else:
                placed = (value * scale + (y0 if i % 2 else x0) for i, value in enumerate(values))
                draw[command](*placed)
        self._ink_fill(item.ink)
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=1)
