"""Flats and sharps among letters: as high, and as heavy, as what they stand beside."""

import re

import pytest
from PIL import ImageFont

from chartkit.assets import font_path
from chartkit.layout.faces import FILES
from chartkit.layout.frames import FontName, Text
from chartkit.layout.metrics import Typesetter
from chartkit.pdf.commands import page_commands
from chartkit.pdf.fonts import Fonts

FACES: tuple[FontName, ...] = ("strong", "plain", "words", "italic", "title")


def reach(font: FontName, letter: str) -> tuple[float, float]:
    """How far a letter's ink reaches below and above the baseline, in ems (by FreeType)."""
    face = ImageFont.truetype(str(font_path(FILES[font])), 1000)
    _, top, _, bottom = face.getbbox(letter, anchor="ls")
    return -bottom / 1000, -top / 1000


@pytest.mark.parametrize("font", FACES)
@pytest.mark.parametrize("sign", "♭♯♮")
def test_signs_are_as_high_as_capitals(font: FontName, sign: str) -> None:
    """From the baseline to a capital's height, within a twentieth of the size; nothing sinks."""
    (_, piece) = Typesetter(Fonts()).pieces(f"B{sign}", font, 10)
    low, high = (piece.rise + piece.size * ink for ink in reach("music", sign))
    assert piece.font == "music"
    assert abs(low) < 0.5
    assert abs(high - 10 * reach(font, "B")[1]) < 0.5


def weights(*fonts: FontName) -> list[float]:
    """How thick the outlines are that are drawn around the flats beside each face, in points."""
    set_in = Typesetter(Fonts())
    texts = tuple(Text(9, 9, 9, set_in.pieces("B♭", font, 100), "words") for font in fonts)
    commands = page_commands(texts, 99, 99, Fonts()).commands
    return [float(found) for found in re.findall(rb"([\d.]+) w\n", commands)]


def test_signs_are_bold_beside_bold_letters_alone() -> None:
    """Beside bold letters, sans or serif, a flat is thickened, beside serif text it is not."""
    bold, serif_bold, plain = weights("strong", "title", "plain")
    assert bold == serif_bold > plain
    assert weights("words", "italic") == []
