"""The picture of who plays where."""

import pytest

from chartkit.advise.part.propose import PartProposal, PartRequest, propose_parts
from chartkit.advise.register import Moment
from chartkit.fretboard.instruments import GUITAR
from chartkit.layout.frames import Document, Shape, Text
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.part_sheet import part_sheet
from tests.charts import chart_of
from tests.layout.geometry import box_of, off_page, overlapping

BARS = "| C | F | G | C |\n: | la | la | la | la |\n"


def sheet_of(text: str, bars: int) -> Document:
    """The picture of a chart, the first guitar holding a chord in every bar."""
    chart = chart_of(text)
    first = [Moment(4.0 * at, 4.0 * at + 4, (48, 52, 55, 60)) for at in range(bars)]
    proposal: PartProposal = propose_parts(chart, first, GUITAR, PartRequest("high"))[0]
    return part_sheet("A song", chart, first, proposal, Fonts())


def test_a_long_name_ends_where_the_next_section_begins() -> None:
    """Names of sections are cut so that none is printed through the next."""
    text = f"key: C\n\n== Bridge (half time feel, drums out)\n| C | F |\n\n== Chorus\n{BARS}"
    (page,) = sheet_of(text, 6).pages
    names = [i for i in page.items if isinstance(i, Text) and i.role == "section"]
    assert [name.plain[:6] for name in names] == ["Bridge", "Chorus"]
    assert names[0].x + names[0].width < names[1].x
    assert overlapping(page) == off_page(page) == []


@pytest.mark.parametrize(("verses", "least"), [(2, 0.2), (8, 0.6), (12, 0.6), (20, 0.6)])
def test_the_picture_fills_its_page(verses: int, least: float) -> None:
    """A song that one page can hold fills most of it, in higher rows of fewer bars; only a very
    short one leaves room."""
    text = "key: C\n" + "".join(f"\n== Verse {n}\n{BARS}" for n in range(1, verses + 1))
    document = sheet_of(text, 4 * verses)
    (page,) = document.pages
    assert off_page(page) == []
    drawn = [box_of(i)[3] for i in page.items if isinstance(i, Shape)]
    assert max(drawn) > least * page.height


def test_the_picture_agrees_with_the_part() -> None:
    """Where the part is silent, since a cue has others play alone, the picture has no bars of the
    part; nor of the first guitar where the cue names no guitar."""
    cue = '== Bridge\n"voice and piano only"\n'
    drawn = [
        sum(isinstance(i, Shape) for i in sheet_of(text, 8).pages[0].items)
        for text in (
            f"key: C\n\n== Verse\n{BARS}\n== Bridge\n{BARS}",
            f"key: C\n\n== Verse\n{BARS}\n{cue}{BARS}",
            f"key: C\n\n== Verse\n{BARS}",
        )
    ]
    assert drawn[1] == drawn[2] < drawn[0]
