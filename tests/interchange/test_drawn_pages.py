"""Pages of other hands, drawn with ReportLab: raised type in chords, repeats of lines and dots,
bass notes apart, ligatures, diagrams.

Each was drawn with the chart that a musician would make of it; common practice, no source.
"""

from collections.abc import Callable, Sequence
from pathlib import Path

import reportlab
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from tests.each import each
from tests.interchange.pages import pages
from tests.interchange.reading import body, codes, reads_back, taken

_SERIF, _BOLD = "Times-Roman", "Times-Bold"
_EMBEDDED = "Embedded"
WIDE = 110
"""The width of a drawn bar, in points."""


def _symbol(canvas: Canvas, x: float, y: float, parts: Sequence[str], up: float) -> None:
    """A chord in pieces: its root, what is raised in smaller type, and its bass."""
    for at, part in enumerate(parts):
        size = 8 if at == 1 else 12
        canvas.setFont(_BOLD, size)
        canvas.drawString(x, y + (up if at == 1 else 0), part)
        x += stringWidth(part, _BOLD, size)


def _raised(up: float) -> Callable[[Canvas], None]:
    words = "The low tide pulls the lanterns home"
    chords = {"low": ("F", "maj7"), "pulls": ("Bb", "7"), "lan": ("G", "m7", "/D"), "home": ("C",)}

    def draw(canvas: Canvas) -> None:
        for word, parts in chords.items():
            left = stringWidth(words[: words.index(word)], _SERIF, 12)
            _symbol(canvas, 60 + left, 715, parts, up)
        canvas.setFont(_SERIF, 12)
        canvas.drawString(60, 701, words)

    return draw


@each("up", [4.0, 2.0, -2.0])
def test_raised_type_belongs_to_its_chord(up: float) -> None:
    """What is set in smaller type, above the line or below it, is part of the chord."""
    read = taken(pages(_raised(up)))
    assert body(read.chart) == ("Fmaj7 Bb7 Gm7/D C\n: The / low tide / pulls the / lanterns / home")
    reads_back(read.chart)


def _grid(canvas: Canvas, signs: Sequence[str], notes: bool = False) -> None:
    """Two rows of four bars; ``signs`` are those at the ends of both rows, from the left."""
    canvas.setFont("Helvetica-Bold", 18)
    canvas.drawString(60, 780, "Tin Roof")
    for row, chords in enumerate((("C", "Am", "F", "G"), ("Dm7", "G7", "F", "C"))):
        y = 700 - 46 * row
        for i in range(5):
            _line(canvas, 60 + i * WIDE, y - 8, "|")
        for at, sign in zip((0, 4), signs[2 * row : 2 * row + 2], strict=True):
            _line(canvas, 60 + at * WIDE, y - 8, sign)
        for i, chord in enumerate(chords):
            canvas.setFont("Helvetica-Bold", 14)
            canvas.drawString(72 + i * WIDE, y, chord)
            if notes:  # two heads that end a bar
                for up in (4, 14):
                    canvas.ellipse(48 + (i + 1) * WIDE, y - up, 55 + (i + 1) * WIDE, y - up + 5)


def _line(canvas: Canvas, x: float, y: float, sign: str) -> None:
    """A bar line of 28 points with the thick line and the dots that a sign has."""
    canvas.setLineWidth(0.8)
    canvas.line(x, y, x, y + 28)
    canvas.setLineWidth(3)
    for side, begins in ((1, sign.endswith(":")), (-1, sign.startswith(":"))):
        if begins:
            canvas.line(x - 4 * side, y, x - 4 * side, y + 28)
            for up in (10, 18):
                canvas.circle(x + 4 * side, y + up, 1.5, fill=1, stroke=0)


REPEATS = {
    "two repeats": (("|:", ":|", "|:", ":|"), "|: C | Am | F | G :|\n|: Dm7 | G7 | F | C :|"),
    "one over both rows": (("|:", "|", "|", ":|"), "|: C | Am | F | G |\n| Dm7 | G7 | F | C :|"),
    "none": (("|", "|", "|", "|"), "| C | Am | F | G |\n| Dm7 | G7 | F | C |"),
}


@each("notes", [False, True])
@each("name", sorted(REPEATS))
def test_repeats_of_lines_and_dots(name: str, notes: bool) -> None:
    """Two dots beside a thick line are a repeat; heads of notes are not."""
    signs, wanted = REPEATS[name]
    read = taken(pages(lambda canvas: _grid(canvas, signs, notes)))
    assert body(read.chart) == wanted
    assert "bars-drawn" in codes(read)
    reads_back(read.chart)


def _rows(canvas: Canvas, rows: Sequence[Sequence[str]], step: float = 90) -> None:
    """Rows of chords far apart, each over a line of words."""
    canvas.setFont("Helvetica", 11)
    for at, row in enumerate(rows):
        for i, chord in enumerate(row):
            canvas.drawString(60 + step * i, 715 - 34 * at, chord)
        canvas.drawString(60, 701 - 34 * at, "Low tide is coming over all the stones")


def test_bass_notes_with_blanks() -> None:
    """A stroke between blanks is that of a bass note where all rows have such chords alone."""
    rows = (("C / E", "F / A", "G7"), ("Am", "G / B", "C"))
    text = body(taken(pages(lambda canvas: _rows(canvas, rows))).chart).splitlines()
    assert (text[0], text[2]) == ("C/E F/A G7", "Am G/B C")
    beats = (("C / E", "F / A"), ("Am / /", "G"))
    assert "C/E" not in body(taken(pages(lambda canvas: _rows(canvas, beats))).chart)


def test_ligatures_are_letters() -> None:
    """Two letters cast as one are read as two, and chords stay over their words."""
    registerFont(TTFont(_EMBEDDED, str(Path(reportlab.__file__).parent / "fonts" / "Vera.ttf")))
    words = "the ﬁre burns the ﬂoating lanterns"

    def draw(canvas: Canvas) -> None:
        canvas.setFont(_EMBEDDED, 12)
        for word, chord in (("ﬁre", "C"), ("burns", "F"), ("lan", "G")):
            left = stringWidth(words[: words.index(word)], _EMBEDDED, 12)
            canvas.drawString(60 + left, 715, chord)
        canvas.drawString(60, 701, words)

    assert body(taken(pages(draw)).chart) == ("C F G\n: the / fire / burns the floating / lanterns")


def test_chord_diagrams_are_no_music() -> None:
    """Names over small grids of lines are reported, and make no row."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 10)
        canvas.setLineWidth(0.5)
        for i, chord in enumerate(("C", "F", "G7")):
            x = 60 + 70 * i
            canvas.drawString(x + 10, 775, chord)
            for k in range(6):
                canvas.line(x + 6 * k, 735, x + 6 * k, 770)
            for k in range(5):
                canvas.line(x, 735 + 8.75 * k, x + 30, 735 + 8.75 * k)
        _rows(canvas, [("C", "F", "G7", "C")], 50)

    read = taken(pages(draw))
    assert body(read.chart).splitlines()[0] == "C F G7 C"
    assert "diagrams" in codes(read)


def _cells(canvas: Canvas, left: str, boxed: bool) -> None:
    """Two rows of bars with a letter left of each, boxed or not."""
    canvas.setFont("Helvetica-Bold", 13)
    for row, (letter, chords) in enumerate(zip(left, (("C", "Am"), ("F", "G7")), strict=True)):
        y = 700 - 46 * row
        canvas.drawString(54, y, letter)
        if boxed:
            canvas.rect(50, y - 4, 16, 16)
        for i in range(3):
            canvas.line(80 + WIDE * i, y - 6, 80 + WIDE * i, y + 16)
        for i, chord in enumerate(chords):
            canvas.drawString(92 + WIDE * i, y, chord)


@each(("letters", "boxed"), [("AB", False), ("AC", True)])
def test_letters_left_of_bars_are_names(letters: str, boxed: bool) -> None:
    """Letters in boxes, and those from A on before the first bar line, name parts of the song."""
    read = taken(pages(lambda canvas: _cells(canvas, letters, boxed)))
    wanted = f"== {letters[0]}\n| C | Am |\n== {letters[1]}\n| F | G7 |"
    assert body(read.chart).replace("\n\n", "\n") == wanted


def test_names_left_of_words() -> None:
    """A section's name in the margin beside its first line of words is not sung."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 11)
        for at, name in enumerate(("Verse 1", "", "Chorus")):
            y = 700 - 36 * at
            canvas.drawString(50, y, name)
            canvas.drawString(150, y + 13, "C")
            before = stringWidth("Low tide is coming ", "Helvetica", 11)
            canvas.drawString(150 + before, y + 13, "G7")
            canvas.drawString(150, y, "Low tide is coming over the stones")

    row = "C G7\n: Low tide is coming / over the stones\n"
    wanted = f"== Verse 1\n{row}{row}== Chorus\n{row}"
    assert body(taken(pages(draw)).chart).replace("\n\n", "\n") == wanted.strip()


def test_bars_in_boxes() -> None:
    """Cells side by side are bars."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 14)
        for row, chords in enumerate((("C", "Am", "F"), ("Dm7", "G7", "C"))):
            for i, chord in enumerate(chords):
                canvas.rect(60 + WIDE * i, 688 - 40 * row, WIDE, 40)
                canvas.drawString(75 + WIDE * i, 700 - 40 * row, chord)

    assert body(taken(pages(draw)).chart) == "| C | Am | F |\n| Dm7 | G7 | C |"


def _staggered(canvas: Canvas, words: bool) -> None:
    """Two columns, the second half a line higher; or lines of words with chords behind them."""
    canvas.setFont("Helvetica", 11)
    for column, verse in enumerate(("low tide runs out", "high moon shines on")):
        x, top = 50 + 260 * column, 700 + 8 * column
        for at in range(5):
            canvas.drawString(x, top - 40 * at, "C")
            if words or not column:
                canvas.drawString(x, top - 14 - 40 * at, verse)


def test_columns_at_heights_of_their_own() -> None:
    """Two columns are read one after the other though no row has both; chords behind lines of
    words are no column."""
    row = "C\n: {}\n"
    wanted = row.format("low tide runs out") * 5 + row.format("high moon shines on") * 5
    read = taken(pages(lambda canvas: _staggered(canvas, words=True)))
    assert body(read.chart).replace("\n\n", "\n") == wanted.strip()
    assert "columns" in codes(read)
    assert "columns" not in codes(taken(pages(lambda canvas: _staggered(canvas, words=False))))
