"""Dark pages, pictures, the chart inside the PDF, and other ways of writing chords."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from chartkit.arrange.page_look import PageLook, reader_named
from chartkit.arrange.view import View
from chartkit.assets import font_path
from chartkit.compile import EmbeddedChart, engraved_pdf
from chartkit.layout.frames import Text
from chartkit.layout.metrics import is_picture
from chartkit.pdf.fonts import Fonts, UnusableFont
from chartkit.pdf.picture import page_pictures
from chartkit.theory.capo import Capo
from chartkit.theory.naming import Naming
from tests.charts import SMALL, chart_of
from tests.each import each

AGAIN = (
    "key: C\n\n== Verse 1\n| C | F |\n: | one | two |\n\n== Verse 2 as Verse 1\n"
    ": | three | split- |\n\n== Verse 3 as Verse 1\n"
)


def text_of(text: str, view: View | None = None, look: PageLook | None = None) -> str:
    """The text of the first page."""
    pdf = engraved_pdf(chart_of(text), view or View(), look or PageLook())[1]
    return PdfReader(BytesIO(pdf)).pages[0].extract_text()


def rows_of(text: str, view: View | None = None, look: PageLook | None = None) -> list[str]:
    """The rows of the first page's text."""
    return [" ".join(row.split()) for row in text_of(text, view, look).splitlines()]


def test_chart_comes_back_out_of_the_pdf() -> None:
    """The chart's own text can be saved from the PDF, byte for byte."""
    pdf = engraved_pdf(chart_of(SMALL), View(), source=EmbeddedChart(SMALL))[1]
    attached = PdfReader(BytesIO(pdf)).attachments
    assert attached == {"song.chart": [SMALL.encode()]}
    plain = engraved_pdf(chart_of(SMALL), View(), PageLook())[1]
    assert PdfReader(BytesIO(plain)).attachments == {}


def test_pages_are_labelled_with_their_numbers() -> None:
    """Viewers show the page numbers that are printed."""
    text = "key: C\n\n" + "| C | F | G | C |\n" * 60
    reader = PdfReader(BytesIO(engraved_pdf(chart_of(text), View())[1]))
    assert reader.page_labels == [str(n) for n in range(1, len(reader.pages) + 1)]


def test_dark_page_is_light_on_dark() -> None:
    """On a dark page the paper is dark and the chords are light."""
    pdf = engraved_pdf(chart_of(SMALL), View(), PageLook(dark=True))[1]
    picture = Image.open(BytesIO(page_pictures(pdf)[0])).convert("L")
    assert picture.getpixel((5, 5)) < 40
    assert picture.getextrema()[1] > 200


def test_pictures_are_stable() -> None:
    """A page's picture has the same bytes each time, and one for every page."""
    text = "key: C\n\n" + "| C | F | G | C |\n" * 60
    pdf = engraved_pdf(chart_of(text), View())[1]
    pictures = page_pictures(pdf)
    assert len(pictures) == len(PdfReader(BytesIO(pdf)).pages)
    assert page_pictures(pdf) == pictures


@each(
    ("naming", "chords"),
    [
        (Naming(), "B♭m7 Bmaj7 Bdim B♭/D"),
        (Naming("german"), "Bm7 Hmaj7 Hdim B/D"),
        (Naming("syllables"), "Si♭m7 Simaj7 Sidim Si♭/Re"),
        (Naming(minor="mi", major="MA"), "B♭mi7 BMA7 Bdim B♭/D"),
        (Naming("german", "small"), "b7 Hmaj7 Hdim B/D"),
        (Naming(minor="-"), "B♭−7 Bmaj7 Bdim B♭/D"),
    ],
)
def test_chord_names_in_other_ways(naming: Naming, chords: str) -> None:
    """German players read H and B, Latin ones syllables; minor and major seventh vary."""
    row = "key: F\n\n| Bbm7 | Bmaj7 | Bdim | Bb/D |\n"
    rows = rows_of(row, look=PageLook(notes=naming.notes, minor=naming.minor, major=naming.major))
    assert any(row_read.endswith(chords) for row_read in rows)


def test_key_is_named_as_the_chords_are() -> None:
    """The German key of B natural is H-Dur."""
    assert "Key of H-Dur" in text_of("key: B\n\n| B |\n", look=PageLook(notes="german"))


@each(
    ("reads", "chords", "key"),
    [
        ("Bb", "C F G7", "written in C major for B♭ instruments"),
        ("E flat", "G C D7", "written in G major for E♭ instruments"),
        ("F", "F B♭ C7", "written in F major for F instruments"),
    ],
)
def test_transposing_players_read_their_own_key(reads: str, chords: str, key: str) -> None:
    """A B flat trumpet reads a whole tone higher, E flat a sixth, F a fifth."""
    look = PageLook(show="sounding", reads=reader_named(reads))
    rows = rows_of("key: Bb\n\n| Bb | Eb | F7 |\n", look=look)
    assert any(row.endswith(chords) for row in rows)
    assert any(key in row for row in rows)


def test_two_guitars_on_one_page() -> None:
    """A second guitar's shapes stand between the first's and what sounds, and are named."""
    rows = rows_of(SMALL, View(second_capo=Capo(6)))
    at = rows.index("Verse 44 C F G")
    assert rows[at : at + 3] == ["Verse 44 C F G", "G C D", "D♭ G♭ A♭"]
    assert any("Second guitar: capo 6, G major shapes" in row for row in rows)


def test_lines_can_be_swapped() -> None:
    """What sounds can stand on top, and either line can be the strong one."""
    rows = rows_of(SMALL, look=PageLook(upper="sounding", strong="sounding"))
    assert rows.index("Verse 44 D♭ G♭ A♭") < rows.index("C F G")
    assert "bold: what sounds light: shapes to finger" in rows


@pytest.mark.parametrize(
    ("again", "rows"),
    [
        ("full", ["Verse 2", "C F", "three split-", "Verse 3", "C F"]),
        (
            "words",
            ["Verse 2 music of Verse 1", "three", "split", "Verse 3 music of Verse 1", "one two"],
        ),
        ("line", ["Verse 2 music of Verse 1", "three", "split", "Verse 3: Verse 1 again"]),
    ],
)
def test_sections_played_again(again: str, rows: list[str]) -> None:
    """Music that comes again is printed whole, as words alone, or as one line; words of its own
    are never lost."""
    rows_read = rows_of(AGAIN, look=PageLook(form=again, bar_numbers=False))  # type: ignore[arg-type]
    start = next(i for i, row in enumerate(rows_read) if row.startswith("Verse 2"))
    text = " ".join(rows_read[start:-1])
    assert text.replace("split -", "split-") == " ".join(rows)


def test_own_font_serves_what_ours_lack() -> None:
    """A font of the user's is asked last, and one that cannot be embedded is refused."""
    fonts = Fonts(font_path("NotoMusic-Regular.ttf"))
    assert fonts.has("own", "♭")
    assert not fonts.has("own", "a")
    assert not Fonts().has("own", "♭")
    with pytest.raises(UnusableFont, match="TrueType outlines are needed"):
        Fonts(Path(__file__))


def test_missing_letters_are_reported_and_replaced() -> None:
    """A letter that no font has is reported, and never printed as an empty box."""
    document = engraved_pdf(chart_of("key: C\n\n| C |\n: | \u6b4c la |\n"), View())[0]
    assert document.missing == frozenset("\u6b4c")
    words = [i.plain for i in document.pages[0].items if isinstance(i, Text)]
    assert "\N{REPLACEMENT CHARACTER} la" in words


def test_pictures_among_words_are_left_out() -> None:
    """A picture that no font has leaves no sign of itself, and is reported; all else stays."""
    words = ": | so\U0001f3b6 long\u2764\ufe0f |\n"
    text = f"title: \U0001f319 Night Bus \u2728\nkey: C\n\n== A\n| C |\n{words}"
    document = engraved_pdf(chart_of(text), View())[0]
    texts = [item.plain for page in document.pages for item in page.items if isinstance(item, Text)]
    assert "Night Bus" in texts
    assert "so long" in texts
    assert not any("\ufffd" in one for one in texts)
    assert {"\U0001f319", "\u2728", "\U0001f3b6"} <= document.missing
    assert all(map(is_picture, document.missing))


def test_words_are_kerned() -> None:
    """Letters of a pair that the font moves together take less room, and the text is found."""
    fonts = Fonts()
    apart = fonts.width("words", "T") + fonts.width("words", "o")
    assert fonts.width("words", "To") < apart - 0.01
    assert fonts.width("strong", "To") == fonts.width("strong", "T") + fonts.width("strong", "o")
    sung = "To Tove, Wave AVA (Ya) \\\\o"
    assert "To Tove, Wave AVA (Ya) \\o" in text_of(f"key: C\n\n| C |\n: | {sung} |\n")


def test_words_again_come_verse_by_verse() -> None:
    """Stacked verses are printed one after the other, not row by row; each plays the section."""
    text = (
        "key: C\n\n== A\n| C |\n1: | a |\n2: | b |\n| F |\n1: | c |\n2: | d |\n\n"
        "== B as A\n1: | one |\n2: | two |\n\n1: | three |\n2: | four |\n"
    )
    rows = rows_of(text, look=PageLook(form="words"))
    start = rows.index("B music of A × 2")
    assert rows[start + 1 : start + 5] == ["1. one", "1. three", "2. two", "2. four"]
