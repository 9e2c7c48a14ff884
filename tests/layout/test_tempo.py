"""The note of a tempo: the beat of its meter, drawn by a font."""

from io import BytesIO

import pytest

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
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


@pytest.mark.parametrize("bold", [True, False])
def test_signs_fonts_are_as_drawn(bold: bool) -> None:
    """The font files hold what their drawing makes."""
    made = BytesIO()
    built(bold).save(made)
    assert (FONTS / file_name(bold)).read_bytes() == made.getvalue()
