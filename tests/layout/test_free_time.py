"""Rows in free time: words from one left edge, chords where they are struck."""

import pytest

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.layout.geometry import lines_of

LONG = "When the whole of the long and winding evening has gone over the hill at last and the day"


def page_of(rows: str) -> Document:
    """The pages of a section of these rows, named so that it has a gutter."""
    return laid_out(arranged(f"key: C\n\n== Verse\n{rows}"), PageLook(), Fonts())


def test_words_before_the_first_chord_begin_where_all_words_begin() -> None:
    """No bar line parts them from what follows; chords typed behind a line of words come with a
    line that is nothing but a pick-up."""
    rows = ": low / tide\n", ": and all the / low / tide\n", ": and all the low tide / / \n"
    (page,) = page_of("\n".join(f"C G\n{row}" for row in rows)).pages
    begins = [line[0].x for line in lines_of(page, "words")]
    assert len(begins) == len(rows)
    assert max(begins) - min(begins) < 0.01
    chords = [line[0].x for line in lines_of(page, "shape", "sounding")]
    assert chords[0] == pytest.approx(begins[0])
    assert chords[0] < chords[1] < chords[2]


def test_the_numbers_of_verses_in_free_time_stand_in_one_column() -> None:
    """Whatever their pick-ups are."""
    rows = (
        "C G\n1: low / tide\n2: high / tide\n\nC G\n1: and the / low / tide\n2: the / high / one\n"
    )
    (page,) = page_of(rows).pages
    ends = [i.x + i.width for i in page.items if isinstance(i, Text) and i.role == "verse"]
    assert len(ends) == 4
    assert max(ends) - min(ends) < 1


def test_words_that_go_on_without_a_chord_are_lines_of_words() -> None:
    """They have no empty line of chords over them: 1.16 sizes of type from the line before."""
    (page,) = page_of(f"C G\n: {LONG} {LONG} / tide\n").pages
    first, second, *_ = lines_of(page, "words")
    size = first[0].pieces[0].size
    assert second[0].y - first[0].y == pytest.approx(1.16 * size)
    assert second[0].x == pytest.approx(first[0].x)


def test_a_cue_in_free_time_begins_over_its_chord() -> None:
    """No bar line stands there that it would have to keep off."""
    for row in ('"freely"\nC G\n', '"freely" C G\n'):
        (page,) = page_of(row).pages
        (cue,) = lines_of(page, "cue")
        (chords,) = lines_of(page, "shape", "sounding")
        assert cue[0].x == pytest.approx(chords[0].x)
