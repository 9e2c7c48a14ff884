"""The floor of engraving: the same strings drawn with nothing but ReportLab."""

from io import BytesIO

from reportlab.pdfgen.canvas import Canvas

from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import embedded_font


def bare_strings(document: Document) -> list[list[tuple[str, float, float, float, str]]]:
    """Every string of every page: font, size, place, text."""
    pages = []
    for page in document.pages:
        strings = []
        for item in page.items:
            if isinstance(item, Text):
                for piece in item.pieces:
                    font = embedded_font(piece.font).fontName
                    strings.append((font, piece.size, item.x, page.height - item.y, piece.text))
        pages.append(strings)
    return pages


def drawn_bare(pages: list[list[tuple[str, float, float, float, str]]]) -> bytes:
    """The strings drawn with nothing but ReportLab."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1)
    for strings in pages:
        for font, size, x, y, text in strings:
            canvas.setFont(font, size)
            canvas.drawString(x, y, text)
        canvas.showPage()
    canvas.save()
    return out.getvalue()
