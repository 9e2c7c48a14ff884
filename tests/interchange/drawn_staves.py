"""Staves for tests of PDF pages, drawn with ReportLab: bars, what stands over them, and syllables.

The music font has the outlines of another under the letters of SMuFL 1.4.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO

from fontTools.ttLib import TTFont as FontFile
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from chartkit.assets import font_path

GAP, LEFT, RIGHT, WIDE = 6.0, 60.0, 540.0, 480.0
SEGNO, CODA, FERMATA, AGAIN = "\ue047", "\ue048", "\ue4c0", "\ue500"
FLAT, SHARP, UNKNOWN = "\ue260", "\ue262", "\u0152"


@lru_cache(maxsize=1)
def music_font() -> str:
    """The name of a registered font whose letters are those of a music font."""
    file = FontFile(font_path("NotoMusic-Regular.ttf"))
    outlines = sorted(file.getBestCmap().values())
    letters = (SEGNO, CODA, FERMATA, AGAIN, FLAT, SHARP, UNKNOWN)
    named = {ord(one): outlines[at % len(outlines)] for at, one in enumerate(letters)}
    named[ord("&")] = outlines[0]
    file["cmap"].tables = [table for table in file["cmap"].tables if table.format in (4, 12)]
    for table in file["cmap"].tables:
        table.cmap = dict(named)
    for name in file["name"].names:
        name.string = "Signs"  # ReportLab knows faces by their names
    made = BytesIO()
    file.save(made)
    made.seek(0)
    pdfmetrics.registerFont(TTFont("Signs", made))
    return "Signs"


@dataclass(frozen=True)
class Over:
    """What stands over a bar: its text, how far above the staff, how far into the bar as a share of
    it, whether in the music font, and what is drawn around it."""

    text: str
    up: float = 26.0
    into: float = 0.0
    sign: bool = False
    around: str = ""


@dataclass(frozen=True)
class Bar:
    """A bar: chords with their places as shares of it, syllables, slashes, a rest for so many, a
    repeated bar, and what stands over it."""

    chords: Sequence[tuple[str, float]] = ()
    words: str = ""
    slashes: int = 0
    rest: int = 0
    again: bool = False
    over: Sequence[Over] = ()


def draw_system(canvas: Canvas, y: float, bars: Sequence[Bar], beam: bool = False) -> None:
    """Draws a staff from a height up; ``beam`` joins the stems of two notes under a number."""
    top = y + 4 * GAP
    for line in range(5):
        canvas.line(LEFT, y + line * GAP, RIGHT, y + line * GAP)
    start, wide = LEFT + 30, (RIGHT - LEFT - 30) / len(bars)
    canvas.setFont(music_font(), 20)
    canvas.drawString(LEFT + 4, y + GAP, "&")
    for number, bar in enumerate(bars):
        x = start + number * wide
        canvas.line(x + wide, y, x + wide, top)
        _draw_bar(canvas, x, y, wide, bar)
        for over in bar.over:
            _draw_over(canvas, x + over.into * wide, top, over)
    if beam:
        canvas.setFont("Helvetica", 10)
        canvas.rect(start + 20, y + 2 * GAP - 1.5, 40, 3, stroke=0, fill=1)
        canvas.line(start + 20, y - GAP, start + 20, y + 2 * GAP)
        canvas.line(start + 60, y - GAP, start + 60, y + 2 * GAP)
        canvas.drawCentredString(start + 40, y + 3 * GAP, "3")


def _draw_bar(canvas: Canvas, x: float, y: float, wide: float, bar: Bar) -> None:
    top, middle = y + 4 * GAP, y + 2 * GAP
    canvas.setFont("Helvetica-Bold", 11)
    for chord, into in bar.chords:
        canvas.drawString(x + 6 + into * (wide - 12), top + 9, chord)
    canvas.setFont("Times-Roman", 10)
    for at, word in enumerate(bar.words.split()):
        canvas.drawString(x + 8 + at * 24, y - 20, word)
    canvas.setLineWidth(2)
    for at in range(bar.slashes):
        left = x + 6 + at * (wide - 12) / bar.slashes
        canvas.line(left, y + GAP, left + 7, y + 3 * GAP)
    canvas.setLineWidth(1)
    if bar.rest:
        canvas.rect(x + 14, middle - 2, wide - 28, 4, stroke=0, fill=1)
        canvas.setFont("Times-Bold", 12)
        canvas.drawCentredString(x + wide / 2, top + 4, str(bar.rest))
    if bar.again:
        canvas.setFont(music_font(), 18)
        canvas.drawCentredString(x + wide / 2, middle - 4, AGAIN)


def _draw_over(canvas: Canvas, x: float, top: float, over: Over) -> None:
    font = music_font() if over.sign else "Helvetica-Bold"
    canvas.setFont(font, 12)
    canvas.drawString(x, top + over.up, over.text)
    wide = canvas.stringWidth(over.text, font, 12)
    if over.around == "box":
        canvas.rect(x - 3, top + over.up - 3, wide + 6, 15)
    elif over.around == "ring":
        canvas.circle(x + wide / 2, top + over.up + 4, 9)
