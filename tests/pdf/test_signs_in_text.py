"""Flats and sharps among letters: as high, and as heavy, as what they stand beside."""

from io import BytesIO

from PIL import Image, ImageDraw, ImageFont
from pypdf import PdfReader

from chartkit.arrange.view import View
from chartkit.assets import font_path
from chartkit.compile import engraved_pdf
from chartkit.layout.faces import FILES
from chartkit.layout.frames import FontName
from chartkit.layout.labels import signs_of
from chartkit.layout.metrics import SIGNS_BESIDE, Typesetter
from chartkit.pdf.fonts import Fonts
from chartkit.syntax.write import chart_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import taken

FACES: tuple[FontName, ...] = ("strong", "plain", "words", "italic", "title")


def reach(font: FontName, letter: str) -> tuple[float, float]:
    """How far a letter's ink reaches below and above the baseline, in ems (by FreeType)."""
    face = ImageFont.truetype(str(font_path(FILES[font])), 1000)
    _, top, _, bottom = face.getbbox(letter, anchor="ls")
    return -bottom / 1000, -top / 1000


@each("font", FACES)
@each("sign", "♭♯♮")
def test_signs_are_as_high_as_capitals(font: FontName, sign: str) -> None:
    """From the baseline to a capital's height, within a twentieth of the size; nothing sinks."""
    (_, piece) = Typesetter(Fonts()).pieces(f"B{sign}", font, 10)
    low, high = (piece.rise + piece.size * ink for ink in reach(piece.font, sign))
    assert piece.font == SIGNS_BESIDE.get(font, "music")
    assert abs(low) < 0.5
    assert abs(high - 10 * reach(font, "B")[1]) < 0.5


@each("font", ("strong", "plain"))
@each(("alteration", "sign"), [(2, "𝄪"), (-2, "𝄫"), (3, "♯𝄪"), (-3, "♭𝄫"), (1, "♯"), (-1, "♭")])
def test_double_accidentals_have_signs_of_their_own(
    font: FontName, alteration: int, sign: str
) -> None:
    """Gould, *Behind Bars* (from memory): a double sharp is a cross, of three the single one stands
    first.  All are as high as capitals, in the weight of the letters."""
    assert signs_of(alteration) == sign
    for piece in Typesetter(Fonts()).pieces(sign, font, 10):
        low, high = (10 * ink for ink in reach(piece.font, sign))
        assert piece.font == SIGNS_BESIDE[font]
        assert abs(low) < 0.5
        assert abs(high - 10 * reach(font, "B")[1]) < 0.5


def test_double_accidentals_are_copied_whole() -> None:
    """A character beyond U+FFFF is two in UTF-16, which PDF asks for (ISO 32000-1, 9.10.3; from
    memory); pypdf and the intake of pages read them."""
    text = "key: G# minor\nmeter: 2/2\ntempo: 60\n\n== A\n| F##dim7 | D#7/F## | C/Bbb | Ebb |\n"
    _, pdf = engraved_pdf(chart_of(text), View())
    page = PdfReader(BytesIO(pdf)).pages[0].extract_text()
    for name in ("F𝄪dim", "/F𝄪", "/B𝄫", "E𝄫", "\U0001d157\U0001d165 = 60"):
        assert name in page, page
    read = chart_text(taken(pdf).chart)
    assert "\n| F##dim7 | D#7/F## | C/Bbb | Ebb |\n" in read, read


def stem(font: FontName, letter: str) -> float:
    """How thick an upright stroke is at three quarters of a capital's height, in ems."""
    face = ImageFont.truetype(str(font_path(FILES[font])), 1000)
    picture = Image.new("L", (1000, 1000), 0)
    ImageDraw.Draw(picture).text((100, 900), letter, 255, face, anchor="ls")
    row = [picture.getpixel((x, 900 - 535)) > 127 for x in range(1000)]
    start = row.index(True)
    return row[start:].index(False) / 1000


def test_signs_are_as_heavy_as_the_letters() -> None:
    """The stem of a flat is three fifths of a letter's or more, beside bold letters and plain."""
    for font, sign in (("strong", "strong-signs"), ("plain", "plain-signs")):
        assert 0.6 <= stem(sign, "♭") / stem(font, "L") <= 1.1  # type: ignore[arg-type]
