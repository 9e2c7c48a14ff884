"""Rows in two columns on landscape paper."""

from dataclasses import replace

import pytest

from chartkit.arrange.page_look import PageLook, PaperName
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, sized
from tests.layout.geometry import box_of, columns_in

ROWS = "| C | F | G7 | C |\n: | low light | on the | evening | tide |\n"
LONG = "title: Low Light\nkey: C\nmeter: 4/4\n" + "".join(
    f"\n== Part {name}\n{ROWS * 4}" for name in "ABCDEFG"
)
FONTS = Fonts()


def drawn(text: str, look: PageLook, with_foot: bool = True) -> Document:
    """The pages of a text."""
    return laid_out(arranged(text), look, FONTS, foot="own" if with_foot else "book")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_song_of_two_upright_pages_lies_down_on_one(paper: PaperName) -> None:
    """If two columns hold a song that portrait paper does not, it takes one page."""
    document = drawn(LONG, PageLook(paper=paper))
    upright = drawn(LONG, PageLook(paper=paper, columns="one"))
    assert len(upright.pages) == 2 and not upright.choices.landscape  # type: ignore[union-attr]
    assert len(document.pages) == 1
    page = document.pages[0]
    assert page.width > page.height
    assert document.choices is not None and document.choices.columns == 2


def test_columns_are_read_one_after_the_other() -> None:
    """The second column begins with the section after the first column's last one, and no row
    reaches over the middle of the page."""
    document = drawn(LONG, PageLook())
    left, right = columns_in(document)
    names = [
        [i.plain for i in half.items if isinstance(i, Text) and i.role == "heading"]
        for half in (left, right)
    ]
    assert [*names[0], *names[1]] == [f"Part {name}" for name in "ABCDEFG"]
    middle = left.width / 2
    rows = [i for i in left.items if isinstance(i, Text) and i.role in ("shape", "words")]
    assert rows and all(i.x + i.width < middle for i in rows)


def test_rows_stand_in_columns_nowhere_but_where_a_page_is_saved() -> None:
    """A song that fits a portrait page stays portrait; so does every song of a bound book, whose
    pages lie alike, and a song of many pages."""
    short = "title: A\nkey: C\n\n== A\n" + ROWS * 4
    for text, with_foot in (
        (short, True),
        (LONG, False),
        (LONG + LONG[LONG.index("\n==") :] * 6, True),
    ):
        choices = drawn(text, PageLook(form="full"), with_foot).choices
        assert choices is not None and (choices.columns, choices.landscape) == (1, False)


def test_columns_are_laid_out_again_as_they_were() -> None:
    """With the choices of another time the same pages come out."""
    first = drawn(LONG, PageLook())
    again = laid_out(arranged(LONG), PageLook(), FONTS, choices=first.choices)
    assert again == first
    other = replace(first.choices, columns=1, landscape=False)  # type: ignore[type-var]
    assert laid_out(arranged(LONG), PageLook(), FONTS, choices=other) != first


def test_a_name_wider_than_a_column_keeps_the_paper_upright() -> None:
    """A name cannot be cut and would run off its column."""
    look = sized(2.5, "tablet")
    rows = "key: C\nmeter: 4/4\n\n== Part\n" + "| C |\n" * 10
    short = drawn(rows + "| C! |\n", look)
    wide = drawn(rows + "| (Bbm7(b5,b9,#11)/Cb)! |\n", look)
    assert short.choices and short.choices.columns == 2
    assert wide.choices and wide.choices.columns == 1
    for page in wide.pages:
        assert all(box_of(item)[2] <= page.width for item in page.items)


def test_large_print_in_a_book_lies_alike() -> None:
    """In a book of large print every song has landscape pages, and every road map portrait ones,
    however long it is: nobody turns a screen between two songs."""
    for rows in (ROWS, ROWS * 4, ROWS * 12):
        text = "title: A\nkey: C\n\n== A\n" + rows
        for look, lying in (
            (PageLook(large=True, paper="tablet"), True),
            (PageLook(large=True, paper="tablet", show="road-map"), False),
        ):
            choices = drawn(text, look, False).choices
            assert choices is not None and choices.landscape is lying
