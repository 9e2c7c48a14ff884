"""Flats and sharps among letters: as high, and as heavy, as what they stand beside."""

from PIL import Image, ImageDraw, ImageFont

from chartkit.assets import font_path
from chartkit.layout.faces import FILES
from chartkit.layout.frames import FontName
from chartkit.layout.metrics import SIGNS_BESIDE, Typesetter
from chartkit.pdf.fonts import Fonts
from tests.each import each

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
