"""The same music is cut into the same rows wherever it comes, unless that costs a page."""

from collections.abc import Sequence

from chartkit.arrange.page_look import PageLook, Sizes
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each

FONTS = Fonts()
FULL = PageLook(form="full", size=Sizes(1, 1))
LONG = "many long words to sing"
BARS = "| C | F | G | Am |\n"


def song(*verses: Sequence[str], name: str = "Verse {}") -> str:
    """A chart whose verses have the same bars: for each row what is sung in every bar."""
    text = "title: A\nkey: C\n"
    for number, rows in enumerate(verses, 1):
        text += f"\n== {name.format(number)}\n"
        text += "".join(f"{BARS}: {('| ' + row + ' ') * 4}|\n" for row in rows)
    return text


def rows_of(document: Document, bars: int = 16) -> list[tuple[int, ...]]:
    """For every so many bars of the song in order, the places of their rows' first bars."""
    items = (i for page in document.pages for i in page.items)
    firsts = [int(i.plain) for i in items if isinstance(i, Text) and i.role == "bar-number"]
    sections: dict[int, list[int]] = {}
    for first in firsts:
        sections.setdefault((first - 1) // bars, []).append((first - 1) % bars)
    return [tuple(first for first in places if first) for places in sections.values()]


@each("name", ["Verse {}", "{}. Strophe"])
def test_a_row_that_fits_is_cut_as_in_the_verse_where_it_does_not(name: str) -> None:
    """A long row of verse 2 is cut in verse 1 as well, and at the same bars."""
    first, second = (["la"] * 4, ["la", LONG, "la", "la"])
    together = rows_of(laid_out(arranged(song(first, second, name=name)), FULL, FONTS))
    alone = rows_of(laid_out(arranged(song(first, first, name=name)), FULL, FONTS))
    assert together == [(4, 6, 8, 12)] * 2
    assert alone == [(4, 8, 12)] * 2


def test_the_same_music_under_another_name_is_cut_alike() -> None:
    """A solo over the verse has no words, and its rows end where those of the verse do."""
    verse = song(["la", LONG, "la", "la"])
    text = f"{verse}\n== Solo as Verse 1\n\n== Bridge\n{BARS * 4}"
    document = laid_out(arranged(text), FULL, FONTS)
    assert rows_of(document) == [(4, 6, 8, 12), (4, 6, 8, 12), (4, 8, 12)]


def test_rows_stay_whole_where_cutting_them_costs_a_page() -> None:
    """A song whose only page would overflow keeps rows that fit in one piece."""
    pages = set()
    for more in range(2, 24):
        extra = f"\n== Vamp\n{'| C | F | G | Am |' + chr(10)}" * more
        text = song(["la"] * 4, ["la", LONG, "la", "la"]) + extra
        document = laid_out(arranged(text), FULL, FONTS)
        first, second = rows_of(document)[:2]
        assert second == (4, 6, 8, 12)
        pages.add((len(document.pages), document.choices.cut_alike, first == second))
        again = laid_out(arranged(text), FULL, FONTS, choices=document.choices)
        assert again.pages == document.pages
    assert (1, True, True) in pages
    assert (1, False, False) in pages
    assert (2, True, True) in pages


@each("rows", [6, 7])
def test_crowded_rows_are_cut_where_half_the_page_is_blank(rows: int) -> None:
    """A short song with dense bars gets type that is larger than usual in rows of two bars, rather
    than small type in full rows above an empty half page."""
    dense = "| Em7,/ r,G A,_ r,Bb | A,/ r,G Em,_ r,/ | Em7,/ r,G A,_ r,Bb | C r D r |\n"
    text = f"title: A\nkey: C\n\n== Riff\n{dense * rows}"
    document = laid_out(arranged(text), PageLook(), FONTS)
    (page,) = document.pages
    numbers = [i for i in page.items if isinstance(i, Text) and i.role == "bar-number"]
    assert [i.plain for i in numbers] == [str(first) for first in range(3, 4 * rows, 2)]
    assert document.choices.size > 1
    assert max(i.y for i in numbers) > page.height / 2
