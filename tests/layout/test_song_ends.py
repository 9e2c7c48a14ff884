"""Where the final bar line stands: only where nothing follows on the page."""

from itertools import groupby

import pytest

from chartkit.arrange.page_look import Form, PageLook
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Stroke, Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged

FOLDED = PageLook(form="folded")


def thick_lines(document: Document) -> list[tuple[str, float]]:
    """The final bar lines: the name of the section, and where they stand in the line, of 1."""
    page = document.pages[0]
    names = [i for i in page.items if isinstance(i, Text) and i.role == "heading"]
    strokes = [i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1]
    right = max(stroke.x0 for stroke in strokes)
    return [
        (min(names, key=lambda name: abs(name.y - stroke.y1)).plain, round(stroke.x0 / right, 1))
        for stroke in strokes
        if stroke.thickness > 2
    ]


VERSE_AND_CHORUS = "key: C\n\n== Verse\n| C | F |\n\n== Chorus\n| G | G |\n\n"


@pytest.mark.parametrize(
    ("song", "form", "ends"),
    [
        (VERSE_AND_CHORUS, "full", [("Chorus", 1.0)]),
        (f"{VERSE_AND_CHORUS}== Bridge\n| F | F |\n\n== Chorus\n", "folded", []),
        (f"{VERSE_AND_CHORUS}== Verse\n", "words", []),
        (f"{VERSE_AND_CHORUS}== Verse\n\n== Close\nC F\n", "folded", []),
        (f"{VERSE_AND_CHORUS}== Close\n: goodbye\n", "full", []),
        (f"{VERSE_AND_CHORUS}== Bridge\n| F | F |\n\n== Verse\n", "folded", []),
        ("key: C\n\n== A\n| C @fine | F |\n\n== B\n| G | G @D.C. al fine |\n", "full", "fine"),
    ],
)
def test_the_final_bar_line_stands_where_the_music_ends(
    song: str, form: Form, ends: list[tuple[str, float]] | str
) -> None:
    """It is thin and thick (Gould, from memory); a page that is not read to its foot, and music
    with something printed after it, end with two thin lines (common practice, no source)."""
    found = thick_lines(laid_out(arranged(song), PageLook(form=form), Fonts()))
    if ends == "fine":
        ((name, place),) = found
        assert name == "A" and place < 0.8
    else:
        assert found == ends


def test_the_music_ends_with_a_double_line_above_what_follows_on_the_page() -> None:
    """A final bar line over a section that is printed after it would say that the page ends."""
    song = f"{VERSE_AND_CHORUS}== Bridge\n| F | F |\n\n== Verse\n"
    page = laid_out(arranged(song), FOLDED, Fonts()).pages[0]
    upright = (i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1)
    lines = sorted((i.y1, i.x0) for i in upright)
    rows = [[x for _, x in row] for _, row in groupby(lines, key=lambda line: line[0])]
    assert [len(row) for row in rows] == [4, 3, 4]


def test_a_close_without_bars_keeps_a_road_map_open() -> None:
    """The words of a close in free time stand under the last bars of a road map."""
    look = PageLook(show="road-map")
    song = f"{VERSE_AND_CHORUS}== Close\nC F\n: good / bye\n"
    assert thick_lines(laid_out(arranged(song, View(), look), look, Fonts())) == []
