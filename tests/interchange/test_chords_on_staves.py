"""Chords that stand between five drawn lines are chords; the signs of engravers are not."""

from collections.abc import Callable, Sequence

from reportlab.pdfgen.canvas import Canvas

from tests.each import each
from tests.interchange.pages import pages
from tests.interchange.reading import body, codes, reads_back, taken

_BARS = (("G", "C", "D7", "Em"), ("Am", "F#", "Bb", "G"))
_WIDE = 110


def _page(
    gap: float, more: Callable[[Canvas, float], None], font: str = "Helvetica-Bold"
) -> Callable[[Canvas], None]:
    """Two rows of bars on five lines so far apart, with something more on each staff."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 16)
        canvas.drawString(60, 780, "Slate Yard")
        for at, row in enumerate(_BARS):
            y = 700 - 70 * at
            for line in range(5):
                canvas.line(60, y - 4 + gap * line, 60 + 4 * _WIDE, y - 4 + gap * line)
            for bar in range(5):
                canvas.line(60 + bar * _WIDE, y - 4, 60 + bar * _WIDE, y - 4 + 4 * gap)
            canvas.setFont(font, 12)
            for bar, chord in enumerate(row):
                canvas.drawString(72 + bar * _WIDE, y, chord)
            more(canvas, y)

    return draw


def _nothing(canvas: Canvas, y: float) -> None:
    """A staff with no more than its chords."""


def _letters(texts: Sequence[str], font: str) -> Callable[[Canvas, float], None]:
    def draw(canvas: Canvas, y: float) -> None:
        canvas.setFont(font, 7)
        for at, text in enumerate(texts):
            canvas.drawString(62, y + 12 - 6 * at, text)

    return draw


@each("font", ["Helvetica-Bold", "Times-Roman"])
@each("gap", [4.5, 5.0])
def test_chords_between_the_lines_of_a_staff(gap: float, font: str) -> None:
    """Short chords are read as long ones are, in a font of words or in one of their own."""
    read = taken(pages(_page(gap, _nothing, font)))
    assert body(read.chart) == "| G | C | D7 | Em |\n| Am | F# | Bb | G |"
    reads_back(read.chart)


@each("letters", [("T", "A", "B"), ("4", "4")])
def test_letters_of_tablature_and_figures_are_no_chords(letters: Sequence[str]) -> None:
    """TAB at the head of a staff, and the figures of a meter, are no chords."""
    read = taken(pages(_page(4.5, _letters(letters, "Helvetica"))))
    assert body(read.chart) == "| G | C | D7 | Em |\n| Am | F# | Bb | G |"


def test_letters_left_out_are_told() -> None:
    """Short words on a staff that are no chords are named in a finding."""

    def draw(canvas: Canvas, y: float) -> None:
        canvas.setFont("Times-Italic", 9)
        canvas.drawString(90, y + 6, "mf")
        canvas.drawString(60, 650 - y / 20, "slowly home")

    read = taken(pages(_page(5.0, draw)))
    assert "drawn-signs" in codes(read)
    assert any("mf" in one.message for one in read.findings if one.code == "drawn-signs")
