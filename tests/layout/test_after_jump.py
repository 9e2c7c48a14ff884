"""What a page says under D.C. and D.S."""

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.layout.geometry import texts

VERSES = "== Verse 1\n| @segno C | F @to-coda |\n: one | two |\n"
SECOND = "== Verse 2 as Verse 1\n: three | four |\n"
REPEATED = "== Verse\n|: @segno C |1. F :|2. G @to-coda |\n"
END = "== Bridge\n| Am | G @D.S. al coda |\n== Coda\n| @coda C |\n"


@each(
    ("song", "form", "said"),
    [
        (VERSES + SECOND + END, "folded", "after D.S.: Verse 1"),
        (VERSES + SECOND + END, "full", ""),
        (REPEATED + END, "full", "after D.S.: no repeat, 2nd ending"),
        ("== Verse\n|: C @segno :| F @to-coda |\n" + END, "full", "after D.S.: no repeat"),
        (VERSES + END, "full", ""),
        # The coda is left for before the repeat.
        ("== A\n| @segno C @to-coda |: F :|\n" + END, "full", ""),
        ("== A\n|: C :| F @fine |\n== B\n| G @D.C. al fine |\n", "full", "after D.C.: no repeat"),
    ],
)
def test_a_jump_says_what_is_played_after_it(song: str, form: str, said: str) -> None:
    """Which verse, that no repeat is taken and which ending is played (common practice, no
    source), where the page alone leaves it open."""
    look = PageLook(form="folded" if form == "folded" else "full")
    notes = texts(laid_out(arranged(f"key: C\n\n{song}"), look, Fonts()), "follows")
    assert [note for note in notes if note.startswith("after")] == [said] * bool(said)
