"""Section names in the gutter, and rows cut in even parts beside them."""

import pytest

from chartkit.arrange.page_look import PageLook, PaperName, Sizes
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Shape, Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.gallery import EXAMPLES


def texts(document: Document, role: str) -> list[Text]:
    """The texts of a role in the order in which they are placed."""
    return [
        i for page in document.pages for i in page.items if isinstance(i, Text) and i.role == role
    ]


def headings(names: list[str]) -> list[Text]:
    """The names of sections of four bars each."""
    song = "".join(f"\n== {name}\n| C | F | G | C |\n" for name in names)
    return texts(
        laid_out(arranged(f"title: A\nkey: C\ncapo: 2\n{song}"), PageLook(), Fonts()), "heading"
    )


def test_a_gutter_that_is_wide_for_one_name_is_so_for_all() -> None:
    """A name stands in one line where a longer one has made the room."""
    alone = [text.plain for text in headings(["Verse", "Crown of Tin"])]
    beside = [text.plain for text in headings(["Verse", "Crown of Tin", "Counterfeit Remembrance"])]
    assert alone == ["Verse", "Crown", "of Tin"]
    assert beside[:2] == ["Verse", "Crown of Tin"]


@each("name", ["Breakdown", "Pre-Chorus", "Interlude", "Last Refrain"])
def test_usual_names_are_of_one_size(name: str) -> None:
    """The gutter gets a little wider before a name is set smaller than the others."""
    sizes = {text.pieces[0].size for text in headings(["Verse 1", name])}
    assert len(sizes) == 1


@pytest.mark.parametrize("paper", ["a4", "letter", "tablet"])
def test_rows_are_not_cut_after_their_first_bar(paper: PaperName) -> None:
    """Where a row of four dense bars has to be cut, the size is one that cuts it in halves."""
    row = (
        "| Eb Bb/D Cm | Ab Eb/G Bb7 | Cm Fm/Ab Bb | Eb |\n"
        "1: Now | let the / lamps be / trimmed and | bright, the / harvest / gathered "
        "| in, the / long light / | gone; |\n"
        "2: And | should the / winter / try the | roof, and / should the / river "
        "| try the / stair at / | night, |\n"
    )
    text = f"title: Lamps\nkey: Eb\nmeter: 3/2\ncapo: 1\n\n== Hymn\n{row}{row}{row}"
    document = laid_out(arranged(text), PageLook(paper=paper), Fonts())
    assert [text.plain for text in texts(document, "bar-number")] == ["3", "5", "7", "9", "11"]


@each("name", ["all-the-quiet-water", "letters-to-brindle-cove", "one-more-mile-of-morning"])
def test_verse_numbers_of_a_song_stand_in_one_column_left_of_bar_numbers(name: str) -> None:
    """In every row a verse is found at the same place, and no list of numbers seems to go on in the
    number of a bar."""
    song = (EXAMPLES / f"{name}.chart").read_text(encoding="utf-8")
    document = laid_out(arranged(song), PageLook(form="folded"), Fonts())
    verses, bars = texts(document, "verse"), texts(document, "bar-number")
    ends = {round(text.x + text.width, 1) for text in verses}
    assert len({round(text.y, 1) for text in verses}) > 7
    assert len(ends) == 1
    assert ends.pop() < min(text.x for text in bars)


def test_verse_numbers_without_pick_ups_keep_off_bar_numbers() -> None:
    """Where no verse has a pick-up, its number leaves the bar's number its room all the same."""
    rows = "| C | F | G | C |\n1: | one | two | three | four |\n2: | and | so | they | go |\n\n"
    document = laid_out(arranged(f"title: A\nkey: C\n\n{rows * 5}"), PageLook(), Fonts())
    ends = {round(text.x + text.width, 1) for text in texts(document, "verse")}
    assert len(ends) == 1
    assert ends.pop() < min(text.x for text in texts(document, "bar-number"))


def test_nothing_touches_the_box_of_a_name() -> None:
    """On a page with one line of chords the pick-up under a box and the number over it keep 2.4
    points off it, and so does the note over it off the words above."""
    text = (
        "key: C\n\n== Verse\n| C | F |\n: Oh | gain | long |\n\n== Last Chorus\n"
        "| G | C |\n: So | la | la |\n\n== Verse\n"
    )
    page = laid_out(arranged(text), PageLook(form="folded", size=Sizes(1.0, 1.0)), Fonts()).pages[0]
    items = [i for i in page.items if isinstance(i, Text)]
    (name,) = (i for i in items if i.plain == "Last Chorus" and i.role == "heading")
    boxes = [[y for _, y in i.points] for i in page.items if isinstance(i, Shape)]
    (box,) = (ys for ys in boxes if min(ys) < name.y < max(ys))
    (pickup,) = (i for i in items if i.plain == "So")
    assert pickup.y - 0.72 * pickup.pieces[0].size - max(box) > 2.4
    (number,) = (i for i in items if i.role == "bar-number")
    assert min(box) - number.y > 2.6
    note = next(i for i in items if i.role == "follows")
    over = max(i.y for i in items if i.role == "words" and i.y < note.y)
    assert note.y - 0.72 * note.pieces[0].size - over > 2
