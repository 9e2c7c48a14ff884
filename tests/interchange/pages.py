"""PDF pages for tests, drawn with ReportLab: chords in proportional type above words."""

from collections.abc import Sequence
from io import BytesIO

from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

SONG = (
    ("Oh, the low tide pulls the lanterns home", (("low", "Db"), ("pulls", "Gb"), ("home", "Ab7"))),
    ("and nobody comes back to tell", (("nobody", "Bbm7"), ("tell", "Db"))),
)
"""Lines of words, each with the words that have a chord above them."""
Lines = Sequence[tuple[str, Sequence[tuple[str, str]]]]


def draw_song(
    canvas: Canvas,
    lines: Lines,
    font: str = "Helvetica",
    x: float = 60,
    y: float = 760,
    size: float = 11,
) -> None:
    """Draws chords above words, each where its word begins in that font."""
    canvas.setFont(font, size)
    for words, chords in lines:
        for word, chord in chords:
            left = stringWidth(words[: words.index(word)], font, size)
            canvas.drawString(x + left, y, chord)
        canvas.drawString(x, y - 1.2 * size, words)
        y -= 3 * size


def pages(*draws: object) -> bytes:
    """A PDF with a page for each function that draws on a canvas."""
    out = BytesIO()
    canvas = Canvas(out)
    for draw in draws:
        draw(canvas)  # type: ignore[operator]
        canvas.showPage()
    canvas.save()
    return out.getvalue()
