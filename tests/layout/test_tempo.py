"""The note of a tempo: the beat of its meter, drawn by a font."""

from fractions import Fraction
from io import BytesIO

import pytest
from PIL import ImageFont

from chartkit.arrange.page_look import PageLook
from chartkit.assets import font_path
from chartkit.layout.engrave import laid_out
from chartkit.layout.faces import FILES
from chartkit.layout.frames import FontName, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.tempo import tempo_words
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.signs_font import FONTS, built, file_name


@each(
    ("meter", "note"),
    [
        ("4/4", "♩"),
        ("6/8", "♩."),
        ("2/2", "\U0001d157\U0001d165"),
        ("3/2", "\U0001d157\U0001d165"),
        ("4/1", "\U0001d15d"),
    ],
)
def test_tempo_names_the_beat_by_its_note(meter: str, note: str) -> None:
    """A quarter in 4/4, a dotted quarter in 6/8, a half note in 2/2 and 3/2
    (theory handbooks); a font of ours has every sign of it."""
    text = f"title: A\nkey: C\nmeter: {meter}\ntempo: 66\n\n== A\n| C | F |\n"
    document = laid_out(arranged(text), PageLook(), Fonts())
    (band,) = (i for i in document.pages[0].items if isinstance(i, Text) and i.role == "band")
    assert band.plain == f"{meter} · {note} = 66"
    assert not document.missing


@each(("meter", "note"), [("2/2", "\U0001d157\U0001d165"), ("4/1", "\U0001d15d"), ("6/8", "♩.")])
def test_tempo_that_changes_names_its_beat_too(meter: str, note: str) -> None:
    """Over a row the tempo is bold: its half note comes from another font than the letters."""
    text = f"title: A\nkey: C\n\n== A\n| C |\n\n== B\nmeter: {meter}\ntempo: 66\n| C | F |\n"
    document = laid_out(arranged(text), PageLook(), Fonts())
    said = [i.plain for i in document.pages[0].items if isinstance(i, Text) and i.role == "change"]
    assert said == [f"{note} = 66"]
    assert not document.missing


def ink(font: FontName, letter: str) -> tuple[float, float, float]:
    """Where a letter's ink begins and ends, and its advance, in ems (by FreeType)."""
    face = ImageFont.truetype(str(font_path(FILES[font])), 1000)
    mask, (left, _) = face.getmask2(letter, mode="L")
    first, _, last, _ = mask.getbbox() or (0, 0, 0, 0)
    return (left + first) / 1000, (left + last) / 1000, face.getlength(letter) / 1000


@each("font", ("strong", "plain", "italic"))
@each("beat", (Fraction(1, 4), Fraction(3, 8), Fraction(1, 8), Fraction(1, 2), Fraction(1)))
def test_both_sides_of_an_equals_sign_look_alike(font: FontName, beat: Fraction) -> None:
    """From the note to the sign there is as much white as from the sign to the figures, within a
    twelfth of the size (common practice, no source)."""
    x, inked = 0.0, list[tuple[str, float, float]]()
    for piece in Typesetter(Fonts()).pieces(tempo_words(92, beat), font, 1.0):
        for letter in piece.text:
            left, right, advance = (
                ink(piece.font, letter) if letter != " " else (0, 0, Fonts().width(piece.font, " "))
            )
            if letter != " ":
                inked.append((letter, x + left * piece.size, x + right * piece.size))
            x += advance * piece.size
    at = next(i for i, (letter, _, _) in enumerate(inked) if letter == "=")
    before = inked[at][1] - max(right for _, _, right in inked[:at])
    after = inked[at + 1][1] - inked[at][2]
    assert abs(before - after) < 1 / 12


@pytest.mark.parametrize("bold", [True, False])
def test_signs_fonts_are_as_drawn(bold: bool) -> None:
    """The font files hold what their drawing makes."""
    made = BytesIO()
    built(bold).save(made)
    assert (FONTS / file_name(bold)).read_bytes() == made.getvalue()


@each("body", ["| C | F |", "C F", ": low tide\n: high tide"])
def test_a_meter_that_the_chart_names_is_printed(body: str) -> None:
    """Over bars, over chords without bar lines, by which a player strums, and over words alone, to
    which a singer counts in."""
    text = f"title: A\nkey: C\nmeter: 3/4\ntempo: 66\n\n== A\n{body}\n"
    document = laid_out(arranged(text), PageLook(), Fonts())
    (band,) = (i for i in document.pages[0].items if isinstance(i, Text) and i.role == "band")
    assert band.plain == "3/4 · ♩ = 66"
