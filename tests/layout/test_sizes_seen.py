"""How large the signs of a page look from a stand and from two metres.

Normal sight just tells letters apart that are 5 minutes of arc high (the letters of Snellen's
chart, from memory).  Heights are those of the outlines in the font files.
"""

import math

import pytest
from PIL import ImageFont

from chartkit.arrange.view import View
from chartkit.assets import font_path
from chartkit.layout.engrave import laid_out
from chartkit.layout.faces import FILES
from chartkit.layout.frames import Piece, Text
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import Capo
from tests.charts import arranged, bars, sized
from tests.each import each

ONLY_REPORTED = 5.0
MM = 25.4 / 72
ROW = "| Bb | F#m7b5 | C7(b9,#5) | Ebmaj7 | Ab13(#11) |"


def height_mm(piece: Piece) -> float:
    """How high the ink of a piece is, in millimetres (by FreeType)."""
    face = ImageFont.truetype(str(font_path(FILES[piece.font])), 1000)
    _, top, _, bottom = face.getbbox(piece.text, anchor="ls")
    return (bottom - top) / 1000 * piece.size * MM


def minutes(height: float, metres: float) -> float:
    """The angle of a height in millimetres, in minutes of arc."""
    return math.degrees(math.atan(height / 1000 / metres)) * 60


def pieces(role: str) -> list[Piece]:
    """The pieces of the chord names of a line, at the paper's own size."""
    view = View(capo=Capo(1))
    document = laid_out(arranged(bars(ROW, key="Eb"), view), sized(1.0), Fonts())
    return [
        piece
        for page in document.pages
        for item in page.items
        if isinstance(item, Text) and item.role == role
        for piece in item.pieces
    ]


@pytest.mark.parametrize("role", ["shape", "sounding"])
def test_roots_and_their_accidentals_can_be_read_at_two_metres(role: str) -> None:
    """A root can be read at two metres, and its accidental is as high, on the same baseline."""
    set_in = pieces(role)
    roots = [p for p in set_in if p.rise == 0 and p.text in "ABCDEFG"]
    signs = [p for p in set_in if p.rise == 0 and p.text in "♭♯"]
    assert roots and signs
    for root in roots:
        assert minutes(height_mm(root), 2) >= ONLY_REPORTED
    for sign in signs:
        assert 0.95 <= height_mm(sign) / height_mm(roots[0]) <= 1.05


@pytest.mark.parametrize("role", ["shape", "sounding"])
def test_figures_behind_a_root_are_large_enough(role: str) -> None:
    """Raised figures are 2.5 mm high in both lines, and can be read at a metre and a half."""
    raised = [p for p in pieces(role) if p.rise > 0 and p.text in ("7", "13")]
    assert raised
    assert min(map(height_mm, raised)) >= 2.5
    assert all(minutes(height_mm(p), 1.5) >= ONLY_REPORTED for p in raised)


@pytest.mark.parametrize("role", ["shape", "sounding"])
def test_a_flat_nine_differs_from_a_nine_at_a_metre(role: str) -> None:
    """Accidentals of alterations, stacked ones too, are as high as their figures and can be read at
    a metre."""
    signs = [p for p in pieces(role) if p.text in "♭♯" and p.font.endswith("signs")]
    small = min(signs, key=lambda piece: piece.size)
    assert minutes(height_mm(small), 1) >= ONLY_REPORTED


@each("altered", ["b9", "b9,#11", "b9,#11,b13", "b9,#9,#11,b13"])
def test_many_alterations_are_as_large_as_two(altered: str) -> None:
    """However many alterations stand in parentheses, their figures are at least 2.2 mm high, and
    the lowest is the first to be read."""
    (page,) = laid_out(arranged(bars(f"| C7({altered}) |", key="C")), sized(1.0), Fonts()).pages
    (name,) = [i for i in page.items if isinstance(i, Text) and i.role == "sounding"]
    figures = [p for p in name.pieces if p.text[:1] in "19"]
    assert min(map(height_mm, figures)) >= 2.2
    assert figures[0].text.startswith("9")


def test_what_is_added_behind_a_letter_stands_in_parentheses() -> None:
    """C minor with a major seventh is Cm(maj7), not Cmmaj7 (C. Brandt and C. Roemer,
    *Standardized Chord Symbol Notation*, 1976; from memory)."""
    row = "| Cm(maj7) | Cmaj7 | Cm7 | Cm(add9) | C(add9) | Cm6/9 |"
    (page,) = laid_out(arranged(bars(row, key="C")), sized(1.0), Fonts()).pages
    names = [i.plain for i in page.items if isinstance(i, Text) and i.role == "sounding"]
    assert names == ["Cm(maj7)", "Cmaj7", "Cm7", "Cm(add9)", "Cadd9", "Cm6/9"]


def test_names_of_sections_can_be_read_at_two_metres() -> None:
    """Boxed names and the numbers of bars at the paper's own size."""
    text = "key: C\n\n== Verse 1\n| C | F |\n| G | C |\n\n== Chorus\n| F | G |\n"
    (page,) = laid_out(arranged(text), sized(1.0), Fonts()).pages
    names = [i.pieces[0] for i in page.items if isinstance(i, Text) and i.role == "heading"]
    numbers = [i.pieces[0] for i in page.items if isinstance(i, Text) and i.role == "bar-number"]
    assert names and numbers
    assert all(minutes(p.size * 0.714 * MM, 2) >= 4.9 for p in names)
    assert all(minutes(p.size * 0.714 * MM, 1) >= ONLY_REPORTED for p in numbers)
