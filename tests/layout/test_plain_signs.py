"""Signs that telephones type and no font has are printed in plain letters."""

from fontTools.ttLib import TTFont

from chartkit.assets import font_path
from chartkit.chart import plain_signs
from chartkit.chart.plain_signs import is_drawn, plain_spelling
from chartkit.diagnostics import Source
from chartkit.layout.engrave import laid_out
from chartkit.pdf.fonts import Fonts
from chartkit.syntax.reader import read_chart
from tests.charts import arranged, sized
from tests.layout.geometry import texts


def test_the_table_is_that_of_the_fonts() -> None:
    """What is said to be drawn are the characters of the font files, no more and no fewer."""
    drawn = set[int]()
    for name in ("NotoSerif-SemiCondensed", "NotoMusic-Regular", "ChartkitSigns-Regular"):
        drawn |= {*TTFont(font_path(f"{name}.ttf")).getBestCmap()}
    said = {at for first, last in plain_signs._STRETCHES for at in range(first, last + 1)}
    assert said == drawn


def test_every_sign_with_a_plain_spelling_is_printed_so_and_reported() -> None:
    """Each sign of the table, and a figure in a circle by Unicode's own rule, is missed by the
    fonts, stands on the page in its plain spelling, and has a warning."""
    for sign in (*plain_signs._PLAIN, "①", "Ａ"):
        plain = plain_spelling(sign)
        assert plain and not is_drawn(sign), sign
        text = f'key: C\n\n== A\n"go {sign} on"\n| C |\n'
        document = laid_out(arranged(text), sized(None), Fonts())
        assert texts(document, "cue") == [f"go {plain} on"] and not document.missing, sign
        (warning,) = read_chart(Source(text)).diagnostics
        assert warning.code == "sign-not-in-fonts" and f'"{plain}"' in warning.message


def test_letters_are_not_spelled_otherwise() -> None:
    """A letter that no font has stays missing: nobody could guess its spelling."""
    assert plain_spelling("\u0e01") == "" and plain_spelling("é") == ""
