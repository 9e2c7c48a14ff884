"""Bar lines that stand under one another through a song."""

from itertools import pairwise

import pytest

from chartkit.arrange.page_look import PageLook, Sizes
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Page, Stroke, Text
from chartkit.layout.measure_bars import BarMeasurer
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, sized
from tests.layout.geometry import BoxMetrics

FONTS = Fonts()
WIDE = "word after word on"


def rows_of(page: Page) -> list[list[float]]:
    """The places of the upright lines of each row, from the top."""
    lines = [i for i in page.items if isinstance(i, Stroke) and i.x0 == i.x1]
    tops = sorted({round(line.y0, 1) for line in lines})
    return [sorted(line.x0 for line in lines if round(line.y0, 1) == top) for top in tops]


def test_an_intro_shares_the_bar_lines_of_most_rows() -> None:
    """Where rows need two grids and an intro fits both, it stands in that of the verse, which has
    more rows; not in that of a bridge."""
    verse = f"| C | F | G | C |\n: | {WIDE} | {WIDE} | {WIDE} | la |\n" * 4
    bridge = f"| F | G | C | F |\n: | la | {WIDE} | {WIDE} | {WIDE} go on |\n"
    text = f"key: C\n\n== Intro\n| C | F | G | C |\n\n== Verse\n{verse}\n== Bridge\n{bridge}"
    look = PageLook(size=Sizes(1, 1), form="full", bar_numbers=False)
    (page,) = laid_out(arranged(text), look, FONTS).pages
    intro, first, *_, last = rows_of(page)
    assert intro[1:4] == first[1:4] != last[1:4]


def test_a_second_grid_meets_the_first_where_it_can() -> None:
    """A row that has to leave the grid of the others keeps what bar lines it can from one end."""
    usual = f"| C | F | G | C |\n: | {WIDE} | {WIDE} | {WIDE} | la |\n" * 3
    other = f"| C | F | G | C |\n: | {WIDE} | la | {WIDE} | {WIDE} |\n"
    look = PageLook(size=Sizes(1, 1), form="full", bar_numbers=False)
    text = f"key: C\n\n== Verse\n{usual}{other}"
    (page,) = laid_out(arranged(text), look, FONTS).pages
    first, *_, last = rows_of(page)
    assert last != first
    assert last[1] == first[1]


def test_a_short_ending_stands_in_the_columns_of_the_song() -> None:
    """A row of three bars among rows of four ends with the third column of theirs; where a quarter
    of the rows or more have three bars, or one of the three is too wide, they fill the line."""
    usual = f"| C | F | G | C |\n: | {WIDE} | {WIDE} | la | la |\n"
    look = PageLook(size=Sizes(1, 1), form="full", bar_numbers=False)

    def edges(*rows: str) -> list[list[float]]:
        (page,) = laid_out(arranged("key: C\n\n== Verse\n" + "".join(rows)), look, FONTS).pages
        return [sorted(set(row)) for row in rows_of(page)]

    *_, verse, ending = edges(usual * 4, "| F | G | C~ ||\n")
    assert ending[:3] == verse[:3] and max(ending) <= verse[3] < verse[4]
    *_, verse, ending = edges(usual * 3, "| F | G | C~ ||\n")
    assert max(ending) > max(verse) - 3
    *_, verse, ending = edges(usual * 4, f"| F | G | C~ ||\n: | la | la | {WIDE} {WIDE} |\n")
    assert max(ending) > max(verse) - 3


def test_rows_in_free_time_fill_the_line() -> None:
    """Chords without bar lines stand at one distance, so that the longest row uses most of the
    line; few chords stay near enough to be one row, and one very long row changes nothing."""
    for rows, least, most in (
        ("C G Am F\nF G C\n", 0.7, 1.0),
        ("C G Am F G C\nF G C\n", 0.7, 1.0),
        ("C G\nF\n", 0.1, 0.4),
        ("C G Am F\nF G C\n" + "C G Am F " * 5 + "\n", 0.7, 1.0),
    ):
        look = sized(1.0)
        page = laid_out(arranged(f"key: C\n\n{rows}", look=look), look, FONTS).pages[0]
        chords = [i for i in page.items if isinstance(i, Text) and i.role == "sounding"]
        by_row = [sorted(i.x for i in chords if i.y == y) for y in sorted({i.y for i in chords})]
        first, second = by_row[:2]
        assert second == pytest.approx(first[: len(second)])
        step = first[1] - first[0]
        used = (first[-1] + step - first[0]) / (page.width - 2 * first[0])
        assert least <= used <= most + 0.01


def test_a_bar_of_many_notes_is_wider_than_it_has_to_be() -> None:
    """Where a line has the room, notes under beams stand as far apart as is easy to read, and the
    bars beside them take less (Gould; from memory).  The bar lines of a song whose other rows have
    no such notes stay as they are."""
    look = PageLook(size=Sizes(1, 1), form="full", bar_numbers=False)

    def widths(rows: str) -> list[float]:
        (page,) = laid_out(arranged(f"key: C\n\n== Verse\n{rows}"), look, FONTS).pages
        edges = min(rows_of(page), key=min)  # flags and stems begin further right
        return [after - before for before, after in pairwise(edges) if after - before > 10]

    noted = "| C,C,C,C C,C,C,C / / | F | rest 4 | C |\n"
    alone, *others = widths(noted)
    assert len(others) == 3
    among, *_ = widths(noted + "| C | F | G | C |\n" * 4)
    assert alone == pytest.approx(1.25 * among, rel=0.01)
    plain, *others = widths("| C,C / / / | F | G | C |\n" + "| C | F | G | C |\n" * 4)
    assert others == pytest.approx([plain] * 3, rel=0.06)


def test_words_may_stand_nearer_to_a_bar_line_than_chords() -> None:
    """A bar line ends above the words, so that they keep no more from it than from one another: 4
    points at scale 1, after 5 before them; a chord keeps 6 and 5.  Letters are half an em wide,
    words 11.5 points high."""
    measurer = BarMeasurer(Typesetter(BoxMetrics()), style_for("a4"), ("sounding",), "sounding")
    (section,) = arranged("key: C\n\n== A\n| C |\n: | low tide on |\n").sections
    (system,) = section.systems
    (bar,), (line,) = system.bars, system.words
    sung = measurer.bar(bar, system.bar_lines[0], system.bar_lines[1], line.bars[:1], free=False)
    assert sung.width == pytest.approx(5 + len("low tide on") * 11.5 / 2 + 4)
    silent = measurer.bar(bar, system.bar_lines[0], system.bar_lines[1], (), free=False)
    (slot,) = silent.slots
    assert slot.labels[0] is not None
    assert silent.width == pytest.approx(5 + max(slot.labels[0].width + 6, 14) + 5)
