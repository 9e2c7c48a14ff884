"""Bars in grids whose lines go through several rows, and dots of repeats beside single lines."""

from collections.abc import Callable

from reportlab.pdfgen.canvas import Canvas

from tests.each import each
from tests.interchange.pages import pages
from tests.interchange.reading import body, codes, reads_back, taken

_ROWS = (("G", "C", "D7", "Em"), ("Am", "D", "G", "C"), ("F", "C", "D", "G"))
_WORDS = "Leave it in rain"
_WIDE, _HIGH, _TOP = 110, 46, 730
_BODY = "| G | C | D7 | Em |\n| Am | D | G | C |\n| F | C | D | G |"


def _grid(level: bool, words: bool, wide: float = _WIDE) -> Callable[[Canvas], None]:
    """A grid of bars: column lines through all rows, level lines or none, words or none; its
    lines so far apart, its chords always as far as the usual lines."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 16)
        canvas.drawString(60, 780, "Slate Yard")
        for at, row in enumerate(_ROWS):
            for bar, chord in enumerate(row):
                canvas.setFont("Helvetica-Bold", 12)
                canvas.drawString(68 + bar * _WIDE, _TOP - 16 - at * _HIGH, chord)
                canvas.setFont("Helvetica", 10)
                said = "pulling the lanterns" if words and wide != _WIDE else _WORDS.split()[bar]
                if words:
                    canvas.drawString(68 + bar * _WIDE, _TOP - 32 - at * _HIGH, said)
        for bar in range(5):
            canvas.line(60 + bar * wide, _TOP, 60 + bar * wide, _TOP - len(_ROWS) * _HIGH)
        for at in range(len(_ROWS) + 1 if level else 0):
            canvas.line(60, _TOP - at * _HIGH, 60 + 4 * wide, _TOP - at * _HIGH)

    return draw


@each("level", [True, False])
@each("words", [True, False])
def test_columns_of_a_grid_are_bars(level: bool, words: bool) -> None:
    """Lines through several rows are the bar lines of each."""
    read = taken(pages(_grid(level, words)))
    rows = [row for row in body(read.chart).splitlines() if row.startswith("|")]
    assert "\n".join(rows) == _BODY
    assert {"bars-drawn"} == {"bars-drawn", "drawn"} & set(codes(read))
    reads_back(read.chart)


def test_a_column_of_names_is_no_bar() -> None:
    """Names of sections in the first column are headings, and make no bar of their own."""

    def draw(canvas: Canvas) -> None:
        for at, (name, row) in enumerate(zip(("Verse", "Chorus", "Bridge"), _ROWS, strict=True)):
            canvas.setFont("Helvetica", 10)
            canvas.drawString(64, 714 - 30 * at, name)
            canvas.setFont("Helvetica-Bold", 12)
            for bar, chord in enumerate(row):
                canvas.drawString(128 + bar * 90, 714 - 30 * at, chord)
        for x in (60, 120, 210, 300, 390, 480):
            canvas.line(x, 730, x, 640)
        for at in range(4):
            canvas.line(60, 730 - 30 * at, 480, 730 - 30 * at)

    text = body(taken(pages(draw)).chart)
    assert [row for row in text.splitlines() if row.startswith("|")] == _BODY.splitlines()
    assert "== Chorus" in text


def test_columns_of_something_else_are_no_bars() -> None:
    """Lines that go through words are no bar lines, and told."""
    read = taken(pages(_grid(level=True, words=True, wide=90)))
    assert "|" not in body(read.chart)
    assert "drawn" in codes(read)


def _dotted(place: float, draw_dots: Callable[[Canvas, float, float], None]) -> bytes:
    """Two rows of bars with dots so far inside the ends of the first."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 16)
        canvas.drawString(60, 780, "Slate Yard")
        for at, row in enumerate(_ROWS[:2]):
            y = 700 - 48 * at
            for bar in range(5):
                canvas.line(60 + bar * _WIDE, y - 4, 60 + bar * _WIDE, y + 14)
            canvas.setFont("Helvetica-Bold", 12)
            for bar, chord in enumerate(row):
                canvas.drawString(72 + bar * _WIDE, y, chord)
        draw_dots(canvas, 60 + place, 700)
        draw_dots(canvas, 60 + 4 * _WIDE - place, 700)

    return pages(draw)


def _circles(canvas: Canvas, x: float, y: float) -> None:
    for up in (2.5, 7.5):
        canvas.circle(x, y + up, 1.2, stroke=0, fill=1)


def _colon(canvas: Canvas, x: float, y: float) -> None:
    canvas.drawCentredString(x, y, ":")


def _stops(canvas: Canvas, x: float, y: float) -> None:
    for up in (2, 7):
        canvas.drawCentredString(x, y + up, ".")


def _bullets(canvas: Canvas, x: float, y: float) -> None:
    canvas.setFont("Helvetica", 7)
    for up in (1, 7):
        canvas.drawCentredString(x, y + up, "\u2022")


@each("dots", [_circles, _colon, _stops, _bullets])
def test_dots_beside_a_single_line(dots: Callable[[Canvas, float, float], None]) -> None:
    """Two dots beside a single line, drawn or typed, are a repeat as beside a double one."""
    read = taken(_dotted(4, dots))
    assert body(read.chart) == "|: G | C | D7 | Em :|\n| Am | D | G | C |"
    reads_back(read.chart)


def test_dots_far_from_a_single_line_are_those_of_notes() -> None:
    """Dots that do not stand close to a single line make no repeat."""
    read = taken(_dotted(11, _circles))
    assert body(read.chart) == "| G | C | D7 | Em |\n| Am | D | G | C |"
