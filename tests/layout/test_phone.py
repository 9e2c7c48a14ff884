"""Pages as narrow as a phone."""

from itertools import groupby

import pytest

from chartkit.arrange.page_look import PageLook, Show
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import Capo
from tests.charts import arranged
from tests.layout.geometry import off_page, overlapping, texts

METRICS = Fonts()
X_HEIGHT_MM = 0.536 * 25.4 / 72
"""How high the letter x of the words' face is at one point (measured)."""
HEAD = "title: Rope Walk\nkey: G major\n\n== Verse\n"
"""The head of every chart here."""


def phone_pages(rows: str, large: bool = False) -> Document:
    """The pages of a verse on a phone."""
    look = PageLook(paper="phone", large=large)
    return laid_out(arranged(HEAD + rows, View(), look), look, METRICS)


@pytest.mark.parametrize("large", [False, True])
def test_type_on_a_phone_shrinks_until_a_bar_fits_its_row(large: bool) -> None:
    """Where a bar or a word would be torn in the usual type, it is smaller, but no smaller than a
    book's: the letter x 1.9 mm high (our measure of our serif face)."""
    sung = ["Sailor and feather by the", "uncharacteristically"]
    rows = f"| Gmaj7 D/F# | Em |\n: | {sung[0]} | {sung[1]} |\n"
    document = phone_pages(rows, large)
    assert texts(document, "words") == sung
    for page in document.pages:
        assert off_page(page) == overlapping(page) == []
        words = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
        assert all(p.size * X_HEIGHT_MM >= 1.9 for text in words for p in text.pieces)


def test_six_verses_stand_under_their_bars_once() -> None:
    """A stack of six verses has room on a phone, so that no bar is printed twice."""
    verses = "".join(f"{n}: | here we go | and home | by sea | again |\n" for n in range(1, 7))
    document = phone_pages(f"| G | C | D | G |\n{verses}| C | G |\n: | all of us | sing |\n")
    numbers = [int(number) for number in texts(document, "bar-number")]
    assert numbers == sorted(set(numbers))
    assert texts(document, "words").count("here we go") == 6


def test_bars_printed_again_keep_their_numbers() -> None:
    """A stack of verses higher than a phone is parted, and the same bars have the same numbers."""
    verses = "".join(f"{n}: | here we go | and home |\n" for n in range(1, 25))
    document = phone_pages(f"| G | C |\n{verses}| C | G |\n: | all of us | sing |\n")
    numbers = texts(document, "bar-number")
    assert set(numbers) <= {"1", "2", "3", "4"}
    assert numbers[-1] in ("3", "4")


def test_a_bar_of_four_chords_breaks_in_the_middle() -> None:
    """A bar that no type makes short enough for a line has two chords on each."""
    chords = "Gmaj7(#11) F#m7b5 Cmaj9(#11) Bbmaj7(#11)/D"
    rows = f"| {chords} |\n: | won- / derfully / extraordinary / seas |\n"
    document = phone_pages(rows)
    names = [
        item
        for page in document.pages
        for item in page.items
        if isinstance(item, Text) and item.role == "sounding"
    ]
    assert [len(list(line)) for _, line in groupby(names, key=lambda i: i.y)] == [2, 2]


def test_what_follows_is_no_tiny_type() -> None:
    """Where a section leads stands in as many lines as it takes, not in one of tiny type."""
    text = "key: C\n\n" + "".join(
        f"== {name}\n| C | {'F' if name[0] == 'V' else 'G'} |\n\n"
        for name in ("Verse", "Chorus", "Verse", "Tag", "Verse", "Refrain", "Verse", "Ending")
    )
    look = PageLook(paper="phone", form="folded")
    document = laid_out(arranged(text, View(), look), look, METRICS)
    items = [i for page in document.pages for i in page.items if isinstance(i, Text)]
    follows = [i for i in items if i.role == "follows"]
    assert len({i.y for i in follows}) > 1
    usual = max(piece.size for i in follows for piece in i.pieces)
    assert all(piece.size >= 0.85 * usual for i in follows for piece in i.pieces)
    for page in document.pages:
        assert off_page(page) == overlapping(page) == []


@pytest.mark.parametrize("show", ["both", "road-map"])
@pytest.mark.parametrize("large", [False, True])
def test_no_row_is_higher_than_a_phone_on_its_side(show: Show, large: bool) -> None:
    """Large print is no larger than a row under its heading leaves room for, and the page is not
    turned upright to hold two columns."""
    rows = "| G | D/G | G | D7 |\n: | turn | back at the | sign by the | mill |\n" * 3
    look = PageLook(paper="phone-side", large=large, show=show)
    text = f"{HEAD}{rows}\n== The long way round the harbour at night\n{rows}"
    document = laid_out(arranged(text, View(capo=Capo(3)), look), look, METRICS)
    for page in document.pages:
        assert page.width > page.height
        assert off_page(page) == overlapping(page) == []


def test_three_verses_stand_together_on_a_phone_on_its_side() -> None:
    """A stack of three verses has room there; parted, each verse of a stack keeps its number."""
    look = PageLook(paper="phone-side", show="sounding")
    for count, stacked in ((3, 3), (9, 1)):
        verses = "".join(f"{n}: | here we go | and home |\n" for n in range(1, count + 1))
        text = f"{HEAD}| G | C |\n{verses}"
        document = laid_out(arranged(text, View(), look), look, METRICS)
        assert texts(document, "verse") == [f"{n}." for n in range(1, count + 1)]
        rows = texts(document, "sounding").count("G")
        assert (rows == 1) == (stacked == count)
        assert all(off_page(page) == overlapping(page) == [] for page in document.pages)


def test_a_long_name_in_the_form_line_leaves_room_for_what_goes_on() -> None:
    """It is shortened so that the sign before the next line stands within the margins too."""
    for letters in range(18, 40):
        name = "breakdown for bass and drums on their own"[:letters]
        text = f"key: G\n\n== {name}\n| G | C |\n\n== End\n| G |\n"
        look = PageLook(paper="phone")
        page = laid_out(arranged(text, View(), look), look, METRICS).pages[0]
        form = [i for i in page.items if isinstance(i, Text) and i.role == "form"]
        assert all(i.x + i.width <= page.width - form[0].x for i in form)


@pytest.mark.parametrize("pickup", ["Wind her up", "Wind her up again", "There's nothing in the"])
def test_chords_typed_behind_their_line_stand_on_the_page(pickup: str) -> None:
    """Also where the words before them take most of the line."""
    for paper in ("phone", "tablet", "a4"):
        look = PageLook(paper=paper)
        text = f"key: G\n\n== A\nG C\n: {pickup * (1 + 2 * (paper != 'phone'))} / /\n"
        for page in laid_out(arranged(text, View(), look), look, METRICS).pages:
            assert off_page(page) == overlapping(page) == []
