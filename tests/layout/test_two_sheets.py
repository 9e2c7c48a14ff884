"""Songs on two loose sheets, which lie side by side on a stand: nothing is turned."""

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.gallery import EXAMPLES
from tests.layout.geometry import texts

FONTS = Fonts()


def test_a_folded_section_may_go_on_from_sheet_to_sheet() -> None:
    """Three verses and three refrains over the same bars, in large print: on paper they are printed
    once, though the second sheet begins inside the verse; on a screen, whose pages are turned, a
    section that goes on over a turn is not."""
    song = arranged((EXAMPLES / "letters-to-brindle-cove.chart").read_text(encoding="utf-8"))
    sheets = laid_out(song, PageLook(large=True), FONTS)
    assert len(sheets.pages) == 2
    assert texts(sheets, "heading") == ["Intro", "Verse", "Refrain", "Ending"]
    assert texts(sheets, "continued") == ["Verse", "(continued)"]
    screens = laid_out(song, PageLook(large=True, paper="tablet"), FONTS)
    goes_on = texts(screens, "continued")[::2]
    headings = texts(screens, "heading")
    assert all(headings.count(name) > 1 for name in goes_on)
    assert len(headings) > len(texts(sheets, "heading"))


def test_the_examples_in_large_print_take_few_pages() -> None:
    """At most thirty for all of them, so that most are two pages seen at once."""
    pages = 0
    for path in EXAMPLES.glob("*.chart"):
        arrangement = arranged(path.read_text(encoding="utf-8"))
        pages += len(laid_out(arrangement, PageLook(large=True), FONTS).pages)
    assert pages <= 30
