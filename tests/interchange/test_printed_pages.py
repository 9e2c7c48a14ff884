"""Pages that word processors, browsers and mail programs print, and scans with words behind them.

How they print and what scans make of letters is common practice, no source.
"""

from collections.abc import Callable, Sequence

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from chartkit.interchange.pdf_text.names_beside import with_names_above
from chartkit.interchange.pdf_text.page_text import TextRun
from tests.interchange.pages import SONG, draw_song, pages
from tests.interchange.reading import body, codes, taken

_WORDS = (
    "Oh, the / low tide / pulls the lanterns / home",
    "and / nobody comes back to / tell",
)
PLAIN = f"Db Gb Ab7\n: {_WORDS[0]}\nBbm7 Db\n: {_WORDS[1]}"


def _drawn(draw: Callable[[Canvas], None]) -> str:
    return body(taken(pages(draw)).chart)


def test_small_capitals_are_small_letters() -> None:
    """Capitals in smaller type behind a larger one stand for small letters."""

    def draw(canvas: Canvas) -> None:
        x = 200.0
        for text, size in (("L", 20), ("OW ", 14), ("T", 20), ("IDE", 14)):
            canvas.setFont("Times-Roman", size)
            canvas.drawString(x, 800, text)
            x += stringWidth(text, "Times-Roman", size)
        draw_song(canvas, SONG)

    assert taken(pages(draw)).chart.text("title") == "Low Tide"


def test_chords_raised_among_the_words() -> None:
    """Small chords raised before their words are a row of chords, and words that they part close
    up."""
    lines = (
        (760, (("G", "Every "), ("C", "lan"), ("D", "tern is "), ("G", "out"))),
        (730, (("Em", "no "), ("C", "one a"), ("D", "bout "), ("G", "now"))),
    )

    def draw(canvas: Canvas) -> None:
        for y, pairs in lines:
            x = 60.0
            for chord, words in pairs:
                x = _raised(canvas, x, y, chord)
                canvas.setFont("Times-Roman", 13)
                canvas.drawString(x, y, words)
                x += stringWidth(words, "Times-Roman", 13)

    assert _drawn(draw) == (
        "G C D G\n: Every / lan- / tern is / out\nEm C D G\n: no / one / about / now"
    )


def _raised(canvas: Canvas, x: float, y: float, chord: str) -> float:
    canvas.setFont("Times-Bold", 9)
    canvas.drawString(x, y + 4.5, chord)
    return x + stringWidth(chord, "Times-Bold", 9)


def test_a_text_shown_twice_looks_bold() -> None:
    """Shown again a hair's breadth beside, it is there once."""

    def draw(canvas: Canvas) -> None:
        for by in (0.0, 0.3):
            canvas.setFont("Helvetica", 12)
            canvas.drawString(60 + by, 790, "Chorus")
        draw_song(canvas, SONG)

    assert _drawn(draw) == f"== Chorus\n{PLAIN}"


def test_pages_side_by_side_on_a_sheet() -> None:
    """A form stands where the page shows it, and as small (ISO 32000-1, 8.10)."""

    def draw(canvas: Canvas) -> None:
        for number, name in enumerate(("Verse", "Chorus")):
            canvas.beginForm(name)
            canvas.setFont("Helvetica-Bold", 12)
            canvas.drawString(60, 790, name)
            draw_song(canvas, SONG + SONG)
            canvas.endForm()
            canvas.saveState()
            canvas.translate(290 * number, 0)
            canvas.scale(0.6, 0.6)
            canvas.doForm(name)
            canvas.restoreState()

    assert _drawn(draw) == f"== Verse\n{PLAIN}\n{PLAIN}\n== Chorus\n{PLAIN}\n{PLAIN}"


@pytest.mark.parametrize("low", [7.0, 13.2 + 5.0])
def test_numbers_that_hang_in_the_margin(low: float) -> None:
    """Between the chords and the words, or a little below them, a number names the verse."""

    def draw(canvas: Canvas) -> None:
        draw_song(canvas, SONG, x=100)
        canvas.setFont("Helvetica", 11)
        canvas.drawString(60, 760 - low, "1.")

    assert _drawn(draw) == f"== 1.\n{PLAIN}"


def test_remarks_in_the_right_margin() -> None:
    """Slanted remarks at the right belong to what they stand beside."""

    def draw(canvas: Canvas) -> None:
        for number, (name, said) in enumerate((("Verse", "drums out"), ("Chorus", "all in"))):
            y = 780 - 130 * number
            canvas.setFont("Helvetica-Bold", 12)
            canvas.drawString(60, y, name)
            canvas.setFont("Helvetica-Oblique", 10)
            canvas.drawString(420, y - 5, said)
            draw_song(canvas, SONG, y=y - 20)

    assert _drawn(draw) == f'== Verse\n"drums out"\n{PLAIN}\n== Chorus\n"all in"\n{PLAIN}'


def test_a_printed_mail_that_quotes_a_song() -> None:
    """The signs of the quote are no words, and what is said around it is no song."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 11)
        song = "> Verse\n> G       C\n> Shut the gate\n> D       G\n> Light the stove"
        for number, line in enumerate(f"Here it is again.\n\n{song}".split("\n")):
            canvas.drawString(60, 780 - 14 * number, line)

    assert _drawn(draw) == "== Verse\nG C\n: Shut the / gate\nD G\n: Light / the stove"


def test_bars_drawn_by_their_left_sides() -> None:
    """Bars of one width, each with a chord right behind its line, need no line at the end."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Roman", 14)
        for row, chords in enumerate((("A", "F#m", "D", "E"), ("D", "E", "A", "A"))):
            for at, chord in enumerate(chords):
                x, y = 60 + 100 * at, 760 - 40 * row
                canvas.line(x, y - 6, x, y + 14)
                canvas.drawString(x + 4, y, chord)

    assert _drawn(draw) == "| A | F#m | D | E |\n| D | E | A | A |"


def _scanned(
    canvas: Canvas, words: Sequence[tuple[float, float, str, float]], matrix: bool
) -> None:
    """Words that nobody sees, each set as wide as it is on the picture."""
    text = canvas.beginText()
    text.setTextRenderMode(3)
    for x, y, word, wide in words:
        size = 1.0 if matrix else 12.0
        stretch = wide / stringWidth(word, "Helvetica", size)
        text.setFont("Helvetica", size)
        if matrix:
            text.setTextTransform(stretch, 0, 0, 12, x, y)
        else:
            text.setHorizScale(100 * stretch)
            text.setTextOrigin(x, y)
        text.textOut(word)
    canvas.drawText(text)


@pytest.mark.parametrize("matrix", [False, True])
def test_words_of_a_scan_keep_their_blanks(matrix: bool) -> None:
    """Letters are as wide as the file sets them (ISO 32000-1, 9.3.4)."""
    placed = []
    for number, (line, chords) in enumerate(SONG):
        y = 760 - 36 * number
        x = 60.0
        for word in line.split():
            wide = stringWidth(word, "Times-Roman", 12)
            placed.append((x, y - 14, word, wide))
            chord = dict(chords).get(word)
            if chord is not None:
                placed.append((x, y, chord, stringWidth(chord, "Times-Roman", 12)))
            x += wide + 3.0
    assert _drawn(lambda canvas: _scanned(canvas, placed, matrix)) == PLAIN


_LETTERS = ["I", "G", "l", "D", "I", "Em", "|", "C", "l"]
SLIPS = {
    "Bb Gm7 C": ((60, "B"), (70, "b"), (100, "Gm"), (121, "7"), (200, "C")),
    "F#m7 D E": ((60, "Ftt"), (77, "m7"), (140, "D"), (200, "E")),
    "C7sus4 F": ((60, "C7sus"), (98, "4"), (140, "F")),
    "| G | D | Em | C |": tuple((60 + 30 * at, one) for at, one in enumerate(_LETTERS)),
}
"""What is meant by pieces of text, each with its place."""


@pytest.mark.parametrize("meant", SLIPS)
def test_slips_of_scans(meant: str) -> None:
    """Chords that a scan parts close up, and letters between chords are bar lines."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 12)
        for x, text in SLIPS[meant]:
            canvas.drawString(x, 760, text)
        canvas.drawString(60, 730, "C   G   Am")
        canvas.drawString(60, 715, "Shut the gate")

    assert _drawn(draw).startswith(f"{meant}\n")


@pytest.mark.parametrize(
    ("typed", "name"), [("Ch0rus", "Chorus"), ("VERSE l", "VERSE 1"), ("CH0RUS", "CHORUS")]
)
def test_names_with_figures_for_letters(typed: str, name: str) -> None:
    """The names of sections are read though a scan took figures for letters, or letters for
    figures."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 12)
        canvas.drawString(60, 790, typed)
        draw_song(canvas, SONG)

    result = taken(pages(draw))
    assert body(result.chart) == f"== {name}\n{PLAIN}"
    assert "scanned-name" in codes(result)


def test_a_title_whose_letters_are_set_apart() -> None:
    """Gaps between words are wider than those between letters."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 16)
        x = 150.0
        for letter in "LOW TIDE ROAD":
            canvas.drawString(x, 800, letter)
            x += stringWidth(letter, "Helvetica", 16) + 6
        draw_song(canvas, SONG)

    assert taken(pages(draw)).chart.text("title").upper() == "LOW TIDE ROAD"


def test_words_of_one_text_have_their_own_places() -> None:
    """Justified words that one text places one by one stand where they are placed (ISO 32000-1,
    9.4.2)."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Roman", 12)
        text = canvas.beginText()
        text.setFont("Times-Roman", 12)
        for number, (line, chords) in enumerate(SONG):
            y, x = 760 - 36 * number, 60.0
            for word in line.split():
                text.setTextOrigin(x, y - 14)
                text.textOut(word)
                if (chord := dict(chords).get(word)) is not None:
                    canvas.drawString(x, y, chord)
                x += stringWidth(word, "Times-Roman", 12) + 11
        canvas.drawText(text)

    assert _drawn(draw) == PLAIN


def test_letters_placed_one_by_one_make_words() -> None:
    """A text may place every letter; those that touch are one piece."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Roman", 12)
        canvas.drawString(60, 760, "C")
        canvas.drawString(100, 760, "G")
        text = canvas.beginText()
        text.setFont("Times-Roman", 12)
        x = 60.0
        for letter in "Every gate is open":
            text.setTextOrigin(x, 746)
            text.textOut(letter)
            x += stringWidth(letter, "Times-Roman", 12)
        canvas.drawText(text)

    assert _drawn(draw) == "C G\n: Every / gate is open"


@pytest.mark.parametrize("above", ["12.04.2021   3", "Home | Songs | About"])
def test_dates_and_menus_over_the_title(above: str) -> None:
    """What stands over the largest type of the page and says nothing of the song is left out."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 8)
        canvas.drawString(60, 825, above)
        canvas.setFont("Helvetica", 18)
        canvas.drawString(60, 800, "Low Tide Road")
        draw_song(canvas, SONG)

    result = taken(pages(draw))
    assert result.chart.text("title") == "Low Tide Road"
    assert "running-heads" in codes(result)


def test_numbers_of_a_list_name_verses() -> None:
    """The label of a list's entry before the words of a verse names it (ISO 32000-1, 14.8.4)."""
    chords = [TextRun(1, 100, 760, 11, "C", (7.0,))]
    label = TextRun(1, 80, 746, 11, "1.", (6.0, 3.0), mark="Lbl")
    words = TextRun(1, 95, 746, 11, "Shut", (6.0,) * 4)
    rows = with_names_above([chords, [label, words]], [], lambda row: row is chords)
    assert [[piece.text for piece in row] for row in rows] == [["1."], ["C"], ["Shut"]]
