"""The pages of a set that are no songs: nothing leaves the paper, nothing overlaps."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Page, Shape, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import PaperName, style_for
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.notice import blank_page, broken_page
from chartkit.sheets.running_lines import RunningLines, running_items
from chartkit.sheets.running_order import Cover, OrderRow, front_count, order_pages
from chartkit.sheets.set_sheet import GuitarCell, SheetRow, set_sheet
from chartkit.sheets.timeline import Lane, PlayerLanes, timeline_sheet
from tests.layout.geometry import off_page, overlapping

FITTER = Fitter(Typesetter(Fonts()))
PAPERS: tuple[PaperName, ...] = ("a4", "letter", "tablet")
names = st.sampled_from(["Low", "A Name of Some Length", "x" * 90, "Words and words " * 12])
papers = st.sampled_from(PAPERS)


def sound(page: Page) -> bool:
    """Whether nothing leaves the page and no texts overlap."""
    assert off_page(page) == []
    assert overlapping(page) == []
    return True


@settings(deadline=None, max_examples=30)
@given(names, names, names, st.integers(0, 70), papers)
def test_running_order_holds(one: str, two: str, three: str, songs: int, paper: PaperName) -> None:
    """However long the names and however many songs, the running order keeps apart, takes the
    pages it said it would, and lists every song once."""
    rows = tuple(
        OrderRow(n, two, three, one, None if n % 7 == 0 else n) for n in range(1, songs + 1)
    )
    style = style_for(paper)
    pages = order_pages(Cover(one, two, three), rows, FITTER, style)
    assert len(pages) == front_count(songs, style)
    assert all(map(sound, pages))
    listed = [i.plain for page in pages for i in page.items
              if isinstance(i, Text) and i.role == "number"]  # fmt: skip
    assert listed == [str(n) for n in range(1, songs + 1)]
    assert sum(len(page.links) for page in pages) == sum(n % 7 != 0 for n in range(1, songs + 1))


def sheet_row(number: int, title: str, guitars: int) -> SheetRow:
    """A song on the set sheet with a cell for each guitar, every third one sat out."""
    cells = tuple(
        None if (number + g) % 3 == 0 else GuitarCell("down 1, capo 3", "Em7(♭5)", title, g == 0)
        for g in range(guitars)
    )
    return SheetRow(number, title, "F♯ mixolydian", "F♯m7(♭5)", "152", cells, number == 2, title)


@settings(deadline=None, max_examples=30)
@given(names, st.integers(1, 60), st.integers(0, 4), papers)
def test_set_sheet_is_one_page(name: str, songs: int, guitars: int, paper: PaperName) -> None:
    """A night's set sheet is one page on any paper, up to four guitars, and holds together."""
    songs = min(songs, 45)
    rows = [sheet_row(number, name, guitars) for number in range(1, songs + 1)]
    document = set_sheet(name, name, [name] * guitars, rows, Fonts(), paper)
    assert len(document.pages) == 1
    assert sound(document.pages[0])


def test_what_changes_is_seen_on_the_set_sheet() -> None:
    """A changed setting stands light in a dark box, an unchanged one dark on the page."""
    cells = (GuitarCell("capo 3", "G", "", True), GuitarCell("capo 2", "G"))
    row = SheetRow(1, "Low Tide", "B♭", "B♭", "90", cells)
    (page,) = set_sheet("Night", "", ["Bo", "Di"], [row], Fonts()).pages
    inks = {i.plain: i.ink for i in page.items if isinstance(i, Text) and i.role == "setting"}
    assert inks == {"capo 3": 0.0, "capo 2": 1.0}
    assert sum(isinstance(item, Shape) for item in page.items) == 1


@settings(deadline=None, max_examples=30)
@given(names, st.integers(1, 90), st.integers(1, 3), papers)
def test_timeline_holds(name: str, songs: int, guitars: int, paper: PaperName) -> None:
    """The timeline keeps apart and shows each song's setting once, over as many pages as needed."""
    lane = Lane(name, ("down 2",) * songs, (True, False) * songs)
    players = [PlayerLanes(name, name, (lane,) * guitars)] * 2
    pages = timeline_sheet(name, [name] * songs, players, Fonts(), paper).pages
    assert all(map(sound, pages))
    settings_shown = [i for page in pages for i in page.items
                      if isinstance(i, Text) and i.role == "setting"]  # fmt: skip
    assert len(settings_shown) == songs * guitars * 2


@pytest.mark.parametrize("paper", PAPERS)
def test_running_lines_and_notices_hold(paper: PaperName) -> None:
    """Heads, feet, blank pages and broken songs stay on the paper however long their texts."""
    style, long = style_for(paper), "a long text that goes on " * 12
    lines = RunningLines(long, "song 12", long, "page 1000 of 2000", long)
    items = running_items(lines, FITTER, style)
    assert sound(Page(style.paper.width, style.paper.height, items))
    assert sound(blank_page(long, FITTER, style))
    broken = broken_page(long, (f"{long}\n{long}\n  ^^^",) * 20, FITTER, style)
    assert sound(broken)
    words = [i.plain for i in broken.items if isinstance(i, Text)]
    assert "This song could not be engraved" in words
