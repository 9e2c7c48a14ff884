"""PDFs of text: lines rebuilt from places on the page."""

import re
from collections.abc import Sequence
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader, PdfWriter
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.pages import SONG, draw_song, pages
from tests.interchange.reading import all_words, body, codes, reads_back, taken
from tests.interchange.sheets import SHEETS

BODY = (
    "Db Gb Ab7\n: Oh, the / low tide / pulls the lanterns / home\nBbm7 Db\n"
    ": and / nobody comes back to / tell"
)


@each("font", ["Helvetica", "Times-Roman", "Courier", "Times-Bold"])
def test_proportional_type(font: str) -> None:
    """Chords are found above their words whatever the widths of the letters."""
    result = taken(pages(lambda canvas: draw_song(canvas, SONG, font)))
    assert result.format == "PDF"
    assert body(result.chart) == BODY
    reads_back(result.chart)


def test_columns_are_read_one_after_the_other() -> None:
    """Two columns side by side are two parts of the song."""
    left = [(f"the {word} tide is low", ((word, "C"),)) for word in ("one", "two", "three", "four")]
    right = [(f"and {word} is high", ((word, "G"),)) for word in ("five", "six", "seven", "eight")]

    def draw(canvas: Canvas) -> None:
        draw_song(canvas, left, x=50)
        draw_song(canvas, right, x=320)

    text = body(taken(pages(draw)).chart)
    assert text.index("four") < text.index("five")
    assert ": the / one tide is low" in text
    assert ": and / eight is high" in text


def test_a_title_over_two_columns() -> None:
    """A title that stands over both columns does not hide them."""
    numbers = (("one", "two", "three", "four"), ("five", "six", "seven", "eight"))
    left, right = ([(f"the {word} tide", ((word, "C"),)) for word in side] for side in numbers)

    def page(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 20)
        canvas.drawCentredString(297, 800, "Gate in the Wind and Water")
        draw_song(canvas, left, x=60)
        draw_song(canvas, right, x=320)

    chart = taken(pages(page)).chart
    assert chart.text("title") == "Gate in the Wind and Water"
    assert [
        word for text in all_words(chart) for word in text.split() if word in sum(numbers, ())
    ] == [*numbers[0], *numbers[1]]


def test_two_short_columns_under_headings() -> None:
    """Two headings side by side show columns, though few lines stand under them."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 11)
        canvas.drawString(60, 790, "Verse 1")
        canvas.drawString(320, 790, "Chorus")
        draw_song(canvas, SONG[:1], x=60)
        draw_song(canvas, SONG[1:], x=320)

    assert body(taken(pages(draw)).chart) == (
        "== Verse 1\nDb Gb Ab7\n: Oh, the / low tide / pulls the lanterns / home\n"
        "== Chorus\nBbm7 Db\n: and / nobody comes back to / tell"
    )


def test_columns_of_uneven_length() -> None:
    """What stands in a column of a page stays in it where it goes on below the other, or lies
    between its rows; that columns were read is reported."""
    left = [
        ("Heron one and all", (("Heron", "F"),)),
        ("reeds and water now", (("reeds", "C"),)),
        ("over stones and on", (("over", "G"),)),
    ]
    right = [("Hours to go by", (("Hours", "C"),)), ("slowly to the sea", (("slowly", "F"),))]

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica-Bold", 11)
        canvas.drawString(60, 780, "Verse 1")
        canvas.drawString(320, 780, "Chorus")
        draw_song(canvas, left, x=60)
        draw_song(canvas, right, x=320, y=755)

    result = taken(pages(draw))
    assert body(result.chart) == (
        "== Verse 1\nF\n: Heron one and all\nC\n: reeds and water now\nG\n: over stones and on\n"
        "== Chorus\nC\n: Hours to go by\nF\n: slowly to the sea"
    )
    assert "columns" in codes(result)


NEWSPAPER = (
    "The Slow Ferry              Verse 2\n"
    "(capo 2)                    C        G\n"
    "                            Nobody waits on the quay\n"
    "Verse 1                     Am       F\n"
    "C        G                  only the gulls and me\n"
    "Every gate is open\n"
    "Am       F                  Outro\n"
    "down along the lane         C   G   C\n"
    "\n"
    "Chorus\n"
    "F        C\n"
    "Row me over slowly\n"
    "G        C\n"
    "row me home again\n"
)
"""Two columns as a newspaper has them: what stands lower in the first goes before the second."""


@pytest.mark.parametrize("printed", [False, True])
def test_columns_as_in_a_newspaper(printed: bool) -> None:
    """Where no block of the second column begins beside one of the first, the first column is
    read to its foot before the second."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 10)
        for i, line in enumerate(NEWSPAPER.splitlines()):
            canvas.drawString(40, 780 - 12 * i, line)

    result = taken(pages(draw) if printed else NEWSPAPER)
    assert [one.name for one in result.chart.sections] == ["Verse 1", "Chorus", "Verse 2", "Outro"]
    assert result.chart.text("title") == "The Slow Ferry"
    assert "columns" in codes(result)


def test_columns_of_chords_named_by_syllables() -> None:
    """Chords named by syllables are no words that would hide a column."""
    text = NEWSPAPER
    for letter, syllable in {"C": "Do", "G": "Sol", "Am": "Lam", "F": "Fa"}.items():
        text = re.sub(rf"\b{letter}\b *", lambda m, s=syllable: s.ljust(len(m[0])), text)  # type: ignore[misc]
    chart = taken(text).chart
    assert [one.name for one in chart.sections] == ["Verse 1", "Chorus", "Verse 2", "Outro"]


def test_bars_one_under_the_other_are_no_columns() -> None:
    """Where chords stand just where the words behind a gap begin, row after row, these are bars
    that were lined up."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 10)
        for i, number in enumerate(("one", "two", "three", "four", "five")):
            y = 760 - 40 * i
            for x, chord, words in (
                (60, "C", f"line {number} of"),
                (300, "G", "all that was said"),
            ):
                canvas.drawString(x, y, chord)
                canvas.drawString(x, y - 12, words)

    assert ": line one of / all that was said" in body(taken(pages(draw)).chart)


@each("name", ["two columns", "tabs before every line", "bar lines with words"])
def test_a_typed_text_that_was_printed(name: str) -> None:
    """A sheet printed line by line in type of one width is read as the sheet itself."""
    sheet, expected = SHEETS[name]

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 9)
        for i, line in enumerate(sheet.expandtabs().splitlines()):
            canvas.drawString(50, 780 - 11 * i, line)

    assert body(taken(pages(draw)).chart) == expected


def test_type_tells_remarks_and_sections() -> None:
    """A line that leans is a remark; what is bold as a known section's name is a section."""

    def draw(canvas: Canvas) -> None:
        y = 790
        for face, text in (
            ("Helvetica-Bold", "Verse 1"),
            ("Helvetica-Oblique", "very softly"),
            ("Helvetica", "C"),
            ("Helvetica", "the tide is low"),
            ("Helvetica-Bold", "Lantern part"),
            ("Helvetica", "G"),
            ("Helvetica", "and home we go"),
            ("Helvetica", "C"),
            ("Helvetica", "to the end"),
        ):
            canvas.setFont(face, 11)
            canvas.drawString(60, y, text)
            y -= 14

    assert body(taken(pages(draw)).chart) == (
        '== Verse 1\n"very softly"\nC\n: the tide is low\n== Lantern part\nG\n'
        ": and home we go\nC\n: to the end"
    )


def test_bold_chords_under_a_bold_heading_are_chords() -> None:
    """A row of chords is no section's name, though it is bold as one is, and no remark, though
    it leans."""
    rows = [
        ("Helvetica-Bold", "Verse 1"),
        ("Helvetica-Bold", "C"),
        ("Helvetica", "the tide is low"),
        ("Helvetica", "G"),
        ("Helvetica", "and home we go"),
        ("Helvetica-Bold", "Chorus"),
        ("Helvetica-BoldOblique", "Am  F"),
        ("Helvetica", "lanterns out"),
        ("Helvetica", "G"),
        ("Helvetica", "and in again"),
    ]

    def draw(canvas: Canvas) -> None:
        for i, (face, text) in enumerate(rows):
            canvas.setFont(face, 11)
            canvas.drawString(60, 790 - 14 * i, text)

    assert body(taken(pages(draw)).chart) == (
        "== Verse 1\nC\n: the tide is low\nG\n: and home we go\n"
        "== Chorus\nAm F\n: lan- / terns out\nG\n: and in again"
    )


@pytest.mark.parametrize(("size", "sure"), [(14, True), (11, False)])
def test_a_letter_in_the_type_of_headings(size: int, sure: bool) -> None:
    """Letters that go up from A in the type of headings name parts; where chords are in that type
    too, it is a guess."""
    rows = [
        (size, "Intro"),
        (11, "C  G"),
        (size, "A"),
        (11, "F  C"),
        (11, "G  C"),
        (size, "B"),
        (11, "C  G"),
        (11, "F  C"),
        (11, "Am  C"),
        (11, "G  C"),
    ]

    def draw(canvas: Canvas) -> None:
        for i, (points, text) in enumerate(rows):
            canvas.setFont("Helvetica-Bold", points)
            canvas.drawString(60, 790 - 16 * i, text)

    result = taken(pages(draw))
    assert [section.name for section in result.chart.sections] == ["Intro", "A", "B"]
    assert ("rehearsal-letters" in codes(result)) is not sure


def test_running_heads_are_dropped_and_reported() -> None:
    """A line at the edge of every page is no part of the song."""

    def page(number: int, lines: object) -> object:
        def draw(canvas: Canvas) -> None:
            canvas.setFont("Helvetica", 8)
            canvas.drawString(60, 810, "The Tidewater Five songbook")
            canvas.drawString(300, 20, f"page {number}")
            draw_song(canvas, lines)  # type: ignore[arg-type]

        return draw

    result = taken(pages(page(1, SONG[:1]), page(2, SONG[1:])))
    assert body(result.chart) == BODY
    (dropped,) = [f for f in result.findings if f.code == "running-heads"]
    assert dropped.message.endswith(": The Tidewater Five songbook; page 1")


def test_findings_name_the_page() -> None:
    """The place of a finding is its page and line."""
    lines = (*SONG, ("words alone on a line", ()), ("and more of them below", ()))
    result = taken(pages(lambda canvas: draw_song(canvas, lines)))
    places = [f.place for f in result.findings if f.code == "words-without-chords"]
    assert places == ["page 1, line 5", "page 1, line 6"]


def test_chords_behind_a_heading_keep_their_page() -> None:
    """What is found behind a heading on its line is placed by page and line too."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 11)
        for i, text in enumerate(("Small Song", "", "Verse: C  G  Am  F  hush")):
            canvas.drawString(60, 760 - 14 * i, text)

    result = taken(pages(draw))
    places = {f.place for f in result.findings if f.place}
    assert any(f.code == "no-chord-known" for f in result.findings)
    assert all(place.startswith("page 1, line ") for place in places), places


def with_file_inside(name: str, content: bytes) -> bytes:
    """A page of text with a file attached to it, written by pypdf."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pages(lambda canvas: draw_song(canvas, SONG)))))
    writer.add_attachment(name, content)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def test_a_chart_inside_is_taken_instead_of_the_page() -> None:
    """A chart attached under our name is the chart; one that does not read is reported, and, as
    for any other file inside, the page is read."""
    text = b"key: C\n\n== Verse\n| C | G |\n"
    result = taken(with_file_inside("song.chart", text))
    assert result.own_text.encode() == text
    assert [(f.certainty, f.code) for f in result.findings] == [("sure", "chart-inside")]
    torn = taken(with_file_inside("song.chart", text.replace(b"| G", b"| ?")))
    assert body(torn.chart) == BODY
    assert "chart-inside" in codes(torn)
    other = taken(with_file_inside("notes.txt", text))
    assert body(other.chart) == BODY
    assert "chart-inside" not in codes(other)


def scan(canvas: Canvas) -> None:
    """A page that holds a picture."""
    picture = BytesIO()
    Image.new("L", (40, 40), 128).save(picture, "PNG")
    picture.seek(0)
    canvas.drawImage(ImageReader(picture), 0, 0, 400, 600)


def locked(password: str, cipher: str) -> bytes:
    """A page of text with a password."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pages(lambda canvas: draw_song(canvas, SONG)))))
    writer.encrypt(password, "another for its owner", algorithm=cipher)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def locked_anew() -> bytes:
    """A PDF locked in the newer cipher (ISO 32000-2, 7.6.4), with no page and a key of zeros."""
    keys = "".join(
        f"/{name}<{'00' * size}>"
        for name, size in (("O", 48), ("U", 48), ("OE", 32), ("UE", 32), ("Perms", 16))
    )
    objects = (
        "<</Type/Catalog/Pages 2 0 R>>",
        "<</Type/Pages/Kids[]/Count 0>>",
        f"<</Filter/Standard/V 5/R 6/Length 256/P -4/StmF/StdCF/StrF/StdCF{keys}"
        "/CF<</StdCF<</AuthEvent/DocOpen/CFM/AESV3/Length 32>>>>>>",
    )
    text, places = "%PDF-1.7\n", list[int]()
    for number, content in enumerate(objects, 1):
        places.append(len(text))
        text += f"{number} 0 obj\n{content}\nendobj\n"
    table = "".join(f"{place:010} 00000 n \n" for place in places)
    text += (
        f"xref\n0 4\n0000000000 65535 f \n{table}"
        "trailer\n<</Size 4/Root 1 0 R/Encrypt 3 0 R/ID[<00><00>]>>\n"
        f"startxref\n{len(text)}\n%%EOF\n"
    )
    return text.encode()


def test_a_pdf_with_an_empty_password_is_read() -> None:
    """What every viewer opens without asking is read."""
    assert body(taken(locked("", "RC4-128")).chart) == BODY


def test_a_locked_pdf_is_called_locked() -> None:
    """A PDF that stays locked in the older or the newer cipher is called that, and the way out
    is named."""
    for data in (locked("secret", "RC4-128"), locked_anew()):
        with pytest.raises(Refused, match=r"locked: open it .* print it to a new PDF"):
            taken(data)


@each("turned", [0, 90, 180, 270])
@each("is_reported", [True, False], ids=["reported", "not reported"])
def test_turned_pages_are_read_as_they_are_shown(turned: int, is_reported: bool) -> None:
    """A page whose text runs up, down or upside down is read as it is meant to be turned,
    whether or not the page says how."""
    places = {0: (0, 0), 90: (595, 0), 180: (595, 842), 270: (0, 842)}

    def draw(canvas: Canvas) -> None:
        canvas.translate(*places[turned])
        canvas.rotate(turned)
        if is_reported:
            canvas.setPageRotation(turned)
        draw_song(canvas, SONG, y=500)

    result = taken(pages(draw))
    assert body(result.chart) == BODY
    assert "watermark" not in codes(result)


@pytest.mark.parametrize("angle", [0, 40])
def test_a_watermark_is_left_out_and_reported(angle: int) -> None:
    """Huge pale type, and type aslant, is no word of the song; it is named."""

    def draw(canvas: Canvas) -> None:
        canvas.saveState()
        canvas.translate(120, 400)
        canvas.rotate(angle)
        canvas.setFont("Helvetica", 60)
        canvas.setFillGray(0.85)
        canvas.drawString(0, 0, "DRAFT")
        canvas.restoreState()
        draw_song(canvas, SONG)

    result = taken(pages(draw))
    assert body(result.chart) == BODY
    (left,) = [f for f in result.findings if f.code == "watermark"]
    assert left.message.endswith(": DRAFT")
    assert left.place == "page 1"


@pytest.mark.parametrize("typed", [False, True])
def test_bar_lines_drawn_between_chords_are_bars(typed: bool) -> None:
    """Upright lines between chords are bar lines, as a guess; where some are typed they are not
    looked for."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 11)
        canvas.drawString(60, 760, "| C | G | Am | F |" if typed else "  C   G   Am   F  ")
        for i in range(5):
            canvas.line(60 + 28 * i, 755, 60 + 28 * i, 772)
        canvas.drawString(60, 745, "  and home we go again")

    result = taken(pages(draw))
    assert body(result.chart).startswith("| C | G | Am | F |")
    assert ("bars-drawn" in codes(result)) != typed


Bars = Sequence[tuple[Sequence[str], Sequence[str]]]
STAVES: Sequence[Bars] = (
    ((("C",), ("Low", "tide")), (("F", "G"), ("lan-", "terns")), (("Am",), ("home",))),
    ((("Dm7",), ("No", "one")), (("G7sus4",), ("comes",)), (("C",), ("home",))),
)


def draw_staves(
    canvas: Canvas,
    bar_lines: bool = True,
    stems: bool = True,
    double: bool = False,
    through: float = 0.0,
) -> None:
    """Staves with chords above and words below, as engravers set them, with notes that have
    stems; ``through`` moves the bar lines to the right, into the names of chords."""
    canvas.setFont("Helvetica-Bold", 18)
    canvas.drawCentredString(300, 790, "The Salt Road")
    for number, staff in enumerate(STAVES):
        y, wide = 740 - 90 * number, 480 / len(staff)
        for line in range(5):
            canvas.line(60, y - 10 - 5 * line, 540, y - 10 - 5 * line)
        for i in range(len(staff) + 1):
            if bar_lines:
                canvas.line(60 + i * wide + through, y - 30, 60 + i * wide + through, y - 10)
            if double and i == len(staff):
                canvas.rect(60 + i * wide - 5, y - 30, 2, 20, fill=1)
        for i, (chords, words) in enumerate(staff):
            for text, size, below in ((chords, 11, 0), (words, 10, 48)):
                canvas.setFont("Helvetica", size)
                for k, word in enumerate(text):
                    x = 60 + i * wide + 10 + k * (wide - 10) / len(text)
                    canvas.drawString(x, y - below, word)
            for k in range(4 if stems else 0):
                x, head = 72 + i * wide + k * (wide - 14) / 4, y - 28 + (i * 4 + k) % 5 * 4
                canvas.ellipse(x - 3, head - 2, x + 3, head + 2, fill=1)
                canvas.line(x + 3, head, x + 3, head + 17)


@each("double", [False, True])
@each("stems", [False, True])
def test_bars_of_staves(stems: bool, double: bool) -> None:
    """Over staves each chord is in its bar and over its words; stems are no bar lines, and a
    double one is one."""
    result = taken(pages(lambda canvas: draw_staves(canvas, stems=stems, double=double)))
    assert body(result.chart) == (
        "| C | F G | Am |\n: | Low tide | lan- / terns | home |\n"
        "| Dm7 | G7sus4 | C |\n: | No one | comes | home |"
    )
    assert "bars-drawn" in codes(result)
    assert "drawn" not in codes(result)
    reads_back(result.chart)


@pytest.mark.parametrize("how", [{"bar_lines": False}, {"through": 14.0}])
def test_what_is_not_plainly_a_bar_line_is_none(how: dict[str, float]) -> None:
    """Stems alone, or lines through the names of chords, make no bars: the chords stand in free
    time, and a finding says so."""
    result = taken(pages(lambda canvas: draw_staves(canvas, **how)))  # type: ignore[arg-type]
    assert body(result.chart).startswith("C F G Am")
    assert "bars-drawn" not in codes(result)
    assert "drawn" in codes(result)


def test_chords_and_names_at_the_edges_of_pages_stay() -> None:
    """A row of chords, the words under one and a section's name are no running heads, though
    they stand first or last on two pages."""

    def page(number: int) -> object:
        def draw(canvas: Canvas) -> None:
            canvas.setFont("Helvetica", 11)
            for i, text in enumerate((f"Verse {number}", "C", "low tide", "G", "and home we go")):
                canvas.drawString(60, 780 - 14 * i, text)

        return draw

    result = taken(pages(page(1), page(2)))
    assert body(result.chart).count("and home we go") == 2
    assert [section.name for section in result.chart.sections] == ["Verse 1", "Verse 2"]
    assert "running-heads" not in codes(result)


def test_a_long_row_of_numbers_is_no_ending() -> None:
    """A row of many numbers with points, and a letter behind, is read like any other line."""

    def draw(canvas: Canvas) -> None:
        draw_song(canvas, SONG, y=700)
        canvas.drawString(60, 600, "1." * 60 + "x")
        canvas.drawString(60, 586, "and more words to sing")

    assert any("1.1.1." in text for text in all_words(taken(pages(draw)).chart))


def test_a_large_dark_title_is_no_watermark() -> None:
    """Neither dark type, however large, nor pale type on a dark page is left out."""

    def page(grey: float) -> object:
        def draw(canvas: Canvas) -> None:
            canvas.setFillGray(grey)
            canvas.setFont("Helvetica", 60)
            canvas.drawString(60, 790, "Lanterns")
            draw_song(canvas, SONG, y=700)

        return draw

    for grey in (0.0, 1.0):
        result = taken(pages(page(grey)))
        assert result.chart.text("title") == "Lanterns"
        assert "watermark" not in codes(result)


def test_chords_that_overlap_are_two() -> None:
    """A chord that reaches into the next is not joined to it."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 11)
        for x, chord in ((60, "C"), (100, "Dsus4"), (120, "D")):
            canvas.drawString(x, 760, chord)
        canvas.drawString(60, 746, "and let the morning in")

    read = taken(pages(draw)).chart
    assert body(read).splitlines()[0] == "C Dsus4 D"


def test_a_scan_is_called_one() -> None:
    """A PDF of pictures is refused, and plainly."""
    with pytest.raises(Refused, match="pictures of its 1 pages but no text"):
        taken(pages(scan))


def test_other_pdfs_get_a_line() -> None:
    """Locked, empty, torn and overlong PDFs are refused in a line each."""
    for data, reason in (
        (locked("secret", "RC4-128"), "this PDF is locked: open it in a viewer"),
        (pages(lambda canvas: None), "holds no text"),
        (b"%PDF-1.4\nnothing", "damaged|no text"),
        (pages(lambda canvas: draw_song(canvas, SONG))[:-600], "damaged|no text|neither"),
        (pages(*[lambda canvas: draw_song(canvas, SONG)] * 50), "has 50 pages"),
    ):
        with pytest.raises(Refused, match=reason) as refused:
            taken(data)
        assert "\n" not in str(refused.value)


def test_every_finding_names_a_line_of_its_page() -> None:
    """What only the whole sheet shows is placed as the rest is; columns go on counting."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Courier", 11)
        lines = ("Small Song", "", "Verse", "C      G", "low tide home", "", "Chorus", "F   C")
        for i, text in enumerate((*lines, "and so on", "", "Ch x 2", "Verse")):
            canvas.drawString(60, 760 - 14 * i, text)

    result = taken(pages(draw))
    again = [f.place for f in result.findings if f.code == "section-again"]
    assert again and all(place.startswith("page 1, line ") for place in again)
    assert len({f.line for f in result.findings if f.place == again[0]}) == 1
    assert not any(re.match(r"\d", f.place) for f in result.findings)


def test_columns_share_the_lines_of_their_page() -> None:
    """Two lines of two columns have no place in common."""
    left = [(f"the {word} tide is low", ((word, "C"),)) for word in ("one", "two", "three", "four")]
    right = [(f"and {word} is high", ((word, "G"),)) for word in ("five", "six", "seven", "eight")]

    def draw(canvas: Canvas) -> None:
        draw_song(canvas, [*left, ("play it slow", ())], x=50)
        draw_song(canvas, [*right, ("repeat and fade", ())], x=320)

    result = taken(pages(draw))
    places = [f.place for f in result.findings if f.code == "remark"]
    assert places == ["page 1, line 9", "page 1, line 18"]
