"""The pages of a set that are no songs: nothing leaves the paper, nothing overlaps."""

from dataclasses import replace
from io import BytesIO
from itertools import pairwise
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from chartkit.arrange.page_look import PHONES, PaperName
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Page, Shape, Stroke, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import Style, page_room, style_for
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.notice import blank_page, broken_page
from chartkit.sheets.running_lines import RunningLines, running_items
from chartkit.sheets.running_order import (
    Cover,
    OrderRow,
    front_count,
    order_pages,
    order_style,
)
from chartkit.sheets.set_sheet import set_sheet
from chartkit.sheets.set_sheet_look import GuitarCell, SheetRow
from chartkit.sheets.timeline import Lane, PlayerLanes, timeline_sheet
from tests.each import each
from tests.layout.geometry import box_of, off_page, overlapping

FITTER = Fitter(Typesetter(Fonts()))
PAPERS: tuple[PaperName, ...] = tuple(paper for paper in get_args(PaperName) if paper not in PHONES)
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
    cover = Cover(one, two, three, two)
    pages = list(order_pages(cover, rows, FITTER, style))
    assert len(pages) == front_count(songs, style)
    assert all(map(sound, pages))
    listed = [
        i.plain for page in pages for i in page.items if isinstance(i, Text) and i.role == "number"
    ]
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
    songs = min(songs, 30)
    rows = [sheet_row(number, name, guitars) for number in range(1, songs + 1)]
    sheet = set_sheet(name, name, [name] * guitars, rows, Fonts(), paper=paper)
    (page,) = sheet.pages()
    assert sheet.count == 1 and sound(page)


@pytest.mark.parametrize("paper", PAPERS)
def test_rows_of_every_height_hold(paper: PaperName) -> None:
    """From one song to 30, with long titles and notes, no row of the set sheet runs into itself
    or another, and a first chord of usual length is never cut."""
    for songs in range(1, 31):
        rows = [sheet_row(number, "Words and words " * 12, 2) for number in range(1, songs + 1)]
        (page,) = set_sheet("Night", "", ["Bo", "Di"], rows, Fonts(), paper=paper).pages()
        assert sound(page)
        first = {
            i.plain for i in page.items if isinstance(i, Text) and i.role in ("first", "chord")
        }
        assert first <= {"Em7(♭5)", "F♯m7(♭5)"}


def test_many_songs_are_divided_evenly() -> None:
    """More songs than one page holds in type that can be read from a stand stand on several, as
    many on each, and each says which page it is."""
    rows = [sheet_row(number, "Low Tide", 2) for number in range(1, 71)]
    pages = list(set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages())
    texts = [[i for i in page.items if isinstance(i, Text)] for page in pages]
    assert [sum(i.role == "number" for i in page) for page in texts] == [24, 24, 22]
    assert min(p.size for page in texts for i in page if i.role == "song" for p in i.pieces) > 10
    assert [i.plain for page in texts for i in page if i.role == "page"] == [
        f"page {number} of 3" for number in (1, 2, 3)
    ]


def test_a_long_note_stands_on_two_lines() -> None:
    """A note too long for the line beside its title stands there on two lines, whole."""
    note = "no lights until the second verse, and the choir comes in from the back of the hall"
    row = SheetRow(1, "Low Tide", "B♭", "B♭", "90", (GuitarCell("capo 3", "G"),), aside=note)
    (page,) = set_sheet("Night", "", ["Bo"], [row] * 5, Fonts()).pages()
    lines = [i for i in page.items if isinstance(i, Text) and i.role == "aside"][:2]
    assert " ".join(line.plain for line in lines) == note and lines[0].y < lines[1].y
    assert sound(page)


def test_long_settings_take_the_room_there_is() -> None:
    """A setting of two parts is as large as the others where the page has room for it."""
    cells = tuple(GuitarCell(one, "D", "", True) for one in ("down 2, capo 3", "no capo"))
    row = SheetRow(1, "All the Quiet Water", "B♭", "B♭", "90", cells)
    (page,) = set_sheet("Night", "", ["Bo", "Di"], [row] * 13, Fonts()).pages()
    sizes = {
        p.size for i in page.items if isinstance(i, Text) and i.role == "setting" for p in i.pieces
    }
    assert len(sizes) == 1 and sound(page)


@each("guitars", [1, 2, 3, 4, 5, 6])
def test_settings_are_never_cut(guitars: int) -> None:
    """However many guitarists share the page, what each sets up stands there whole: in words,
    or in signs that the sheet explains."""
    cells = tuple(GuitarCell(one, "D", "", True) for one in ("no capo", "capo 3", "down 1") * 2)
    row = SheetRow(1, "Low Tide", "B♭", "B♭", "90", cells[:guitars])
    (page,) = set_sheet("Night", "", ["Bo"] * guitars, [row] * 20, Fonts()).pages()
    shown = {i.plain for i in page.items if isinstance(i, Text) and i.role == "setting"}
    words, signs = ("no capo", "capo 3", "down 1"), ("–", "3", "d1")
    assert shown in (set(words[:guitars]), set(signs[:guitars]))
    legend = any(isinstance(i, Text) and "d1: tuned down" in i.plain for i in page.items)
    assert legend == (shown <= set(signs))


def test_a_song_without_a_chart_is_marked_on_the_set_sheet() -> None:
    """A song whose chart cannot be used says so on the floor, in the place of its note."""
    from tests.book.sets import files_of, made_of, simple_set

    texts, set_file = simple_set(2)
    texts["song2.chart"] = "key: Q\n"
    content = files_of(made_of(texts, set_file))["set-sheet.pdf"]
    assert "its chart cannot be used" in PdfReader(BytesIO(content)).pages[0].extract_text()


def test_what_changes_is_seen_on_the_set_sheet() -> None:
    """A changed setting stands light in a dark box, an unchanged one dark on the page."""
    cells = (GuitarCell("capo 3", "G", "", True), GuitarCell("capo 2", "G"))
    row = SheetRow(1, "Low Tide", "B♭", "B♭", "90", cells)
    (page,) = set_sheet("Night", "", ["Bo", "Di"], [row], Fonts()).pages()
    inks = {i.plain: i.ink for i in page.items if isinstance(i, Text) and i.role == "setting"}
    assert inks == {"capo 3": 0.0, "capo 2": 1.0}
    assert sum(isinstance(item, Shape) for item in page.items) == 1


@each("songs", [2, 5, 13, 30])
def test_what_runs_on_and_what_changes_keep_to_their_rows(songs: int) -> None:
    """The bar of a song that runs on crosses the line between it and the next song, and no dark
    box reaches over a line."""
    cell = GuitarCell("capo 3", "G", "the old blue one", True)
    rows = [
        SheetRow(n, "Low Tide", "B♭", "B♭", "90", (cell,), straight=n == 1)
        for n in range(1, songs + 1)
    ]
    (page,) = set_sheet("Night", "", ["Bo"], rows, Fonts()).pages()
    strokes = [item for item in page.items if isinstance(item, Stroke)]
    (bar,) = [one for one in strokes if one.x0 == one.x1]
    rules = sorted(one.y0 for one in strokes if one.y0 == one.y1)
    assert [y for y in rules if bar.y0 < y < bar.y1] == [rules[1]]
    boxes = [box_of(item) for item in page.items if isinstance(item, Shape)]
    assert len(boxes) == songs
    assert not any(top <= y <= low for _, top, _, low in boxes for y in rules)


@each("songs", [2, 13, 30])
def test_the_interval_has_the_heaviest_line_across_the_sheet(songs: int) -> None:
    """The line under the song before the interval is several times as heavy as those between songs,
    and the longest; the legend explains it."""
    rows = [
        SheetRow(n, "Low Tide", "C", "C", "90", (), interval=n == 1) for n in range(1, songs + 1)
    ]
    (page,) = set_sheet("Night", "", [], rows, Fonts()).pages()
    rules = [one for one in page.items if isinstance(one, Stroke) and one.y0 == one.y1][1:]
    heavy, *others = sorted(rules, key=lambda one: one.y0)
    assert all(heavy.thickness >= 3 * one.thickness for one in others)
    assert len(others) == songs - 1
    assert heavy.x1 - heavy.x0 >= max(one.x1 - one.x0 for one in others)
    legend = [item for item in page.items if isinstance(item, Text) and item.role == "legend"]
    assert "heavy line: interval" in "".join(piece.text for one in legend for piece in one.pieces)


@each("songs", [5, 10, 13, 16, 20])
def test_how_a_song_begins_is_said_whole(songs: int) -> None:
    """A count-in is beside the tempo if all of them fit there on one line, else beside the title;
    it touches nothing, and no word is left out."""
    cells = (GuitarCell("no capo", "G(♭5)", "the cedar guitar", True), GuitarCell("capo 2", "G"))
    title, begins = "One More Mile of Going My Way", "count-in: two bars, sticks alone"
    rows = [SheetRow(n, title, "G", "G", "90", cells, count_in=begins) for n in range(1, songs + 1)]
    (page,) = set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages()
    said = [i for i in page.items if isinstance(i, Text) and i.role in ("count-in", "aside")]
    assert " ".join(one.plain for one in said) == " ".join([begins] * songs)
    assert len({one.role for one in said}) == 1
    assert min(piece.size for one in said for piece in one.pieces) >= 8.5
    assert sound(page)


def test_low_rows_say_what_is_special_on_two_lines() -> None:
    """Among thirty songs a note too long for its line stands behind the title on two, whole."""
    cells = (GuitarCell("no capo", "G"), GuitarCell("capo 2", "G", changed=True))
    note, longer = "Ada begins, then everybody", "Ada begins, then everybody, then Bo, and so on"
    rows = [
        SheetRow(n, "Slack Water", "G", "G", "90", cells, aside=note if n % 3 else longer)
        for n in range(1, 31)
    ]
    (page,) = set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages()
    asides = [one.plain for one in page.items if isinstance(one, Text) and one.role == "aside"]
    assert len(asides) == 60
    assert " ".join(asides[:4]) == f"{note} {note}"
    assert asides[5].endswith("…")
    assert sound(page)


def test_a_long_title_on_a_low_row_leaves_room_for_its_note() -> None:
    """A title that fills its column gets smaller rather than that the note is lost."""
    cells = (GuitarCell("no capo", "G"), GuitarCell("capo 2", "G", changed=True))
    title, note = "The Longer Way to Ottermouth", "then the interval"
    rows = [
        SheetRow(n, title, "G", "G", "90", cells, aside=note if n == 3 else "") for n in range(30)
    ]
    (page,) = set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages()
    asides = [one.plain for one in page.items if isinstance(one, Text) and one.role == "aside"]
    songs = [one for one in page.items if isinstance(one, Text) and one.role == "song"]
    assert " ".join(asides) == note
    assert [one.plain for one in songs] == [title] * 30
    assert sound(page)


def test_low_rows_give_notes_the_room_that_settings_do_not_need() -> None:
    """Behind a longer title the note is whole, since the boxes of the capos are as wide as their
    words and no wider."""
    cells = (GuitarCell("no capo", "G"), GuitarCell("capo 2", "G", changed=True))
    note = "Wendel begins, then everybody"
    rows = [SheetRow(n, "Kettle on the Hob", "G", "G", "90", cells, aside=note) for n in range(30)]
    (page,) = set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages()
    asides = [one.plain for one in page.items if isinstance(one, Text) and one.role == "aside"]
    assert " ".join(asides) == " ".join([note] * 30)
    assert sound(page)


@pytest.mark.parametrize("tempo", ["", "90"])
def test_an_empty_column_of_the_set_sheet_has_no_name(tempo: str) -> None:
    """Where no song has a tempo, no column is named after it."""
    rows = [SheetRow(n, "Low Tide", "G", "G", tempo, ()) for n in (1, 2)]
    (page,) = set_sheet("Night", "", [], rows, Fonts()).pages()
    names = [i.plain for i in page.items if isinstance(i, Text) and i.role == "column"]
    assert names == ["key", "first chord", *(["tempo"] if tempo else [])]


def test_the_running_order_fills_its_page() -> None:
    """A short running order is set in larger type, and never takes a page more for it."""
    for paper in PAPERS:
        sheet = style_for(paper).paper
        sizes = [order_style(songs, sheet).scale for songs in range(1, 61)]
        assert max(sizes) == sizes[0] > style_for(paper).scale
        for songs, size in enumerate(sizes, 1):
            assert front_count(songs, Style(sheet, size)) == front_count(songs, style_for(paper))


def night_of(songs: int, titles: tuple[str, ...] = ("Low Tide",)) -> Page:
    """The set sheet of a night with two guitarists, the second of whom has two guitars."""
    capos = ("no capo", "capo 1", "capo 2")
    rows = [
        SheetRow(
            n,
            titles[n % len(titles)],
            "B♭",
            "Cmaj9",
            "132",
            (
                GuitarCell(capos[n % 3], "Cmaj9"),
                GuitarCell(capos[(n + 1) % 3], "G", "DADGAD", n % 2 == 0),
            ),
            aside="quiet please" * (n == 3),
        )
        for n in range(1, songs + 1)
    ]
    return next(set_sheet("Night", "", ["Bo", "Di"], rows, Fonts()).pages())


def sheet_of(rows: list[SheetRow]) -> Page:
    """The first page of a night with one guitarist."""
    return next(set_sheet("Night", "", ["Bo"], rows, Fonts()).pages())


def sizes_of(page: Page, *roles: str) -> list[float]:
    """The sizes of type that some roles have on a page, in points."""
    texts = [i for i in page.items if isinstance(i, Text) and i.role in roles]
    return [max(p.size for p in i.pieces if p.font != "music") for i in texts]


@each("songs", range(1, 36, 2))
def test_titles_are_the_largest_on_the_set_sheet(songs: int) -> None:
    """However many songs, nothing in the rows is larger than their titles; numbers are dark."""
    page = night_of(songs)
    roles = ("key", "chord", "tempo", "setting", "first", "guitar", "aside", "number")
    assert max(sizes_of(page, *roles)) <= min(sizes_of(page, "song")) + 0.01
    assert all(i.ink == 1 for i in page.items if isinstance(i, Text) and i.role == "number")


def test_one_long_title_makes_the_others_no_smaller() -> None:
    """The longest title of a night gets smaller alone."""
    long = "The Ferryman's Daughter Left the Porch Light Burning in the Rain"
    sizes = sizes_of(night_of(8, ("Low Tide",) * 7 + (long,)), "song")
    (usual,) = set(sizes_of(night_of(8), "song"))
    assert sizes.count(usual) == 7 and min(sizes) < usual


def test_the_set_sheet_fills_its_page() -> None:
    """Six songs or more reach the foot of the page, in titles that are read at a glance from two
    metres up to ten songs (23 points, as the sheet assumes)."""
    for songs in range(6, 11):
        page = night_of(songs)
        lowest = max(i.y for i in page.items if isinstance(i, Text) and i.role == "setting")
        assert lowest > page.height * 0.85
        assert min(sizes_of(page, "song")) >= 23


@each("songs", [5, 8, 13, 30])
def test_settings_stand_alike(songs: int) -> None:
    """All settings of the night are of one size; all players' of a song stand on one baseline,
    with its key where rows are low, whatever name of a guitar stands under one of them."""
    page = night_of(songs)
    assert len(set(sizes_of(page, "setting"))) == 1
    texts = [i for i in page.items if isinstance(i, Text)]
    lines = [("setting", "first"), ("key", "tempo", "chord")]
    for roles in lines if songs < 10 else [*lines, lines[0] + lines[1]]:
        assert len({round(i.y, 3) for i in texts if i.role in roles}) == songs


def test_fewer_songs_make_settings_larger() -> None:
    """With fewer songs no setting gets smaller, save for the room that larger song numbers take and
    where titles get a line of their own; in the highest rows the guitarists have one too."""
    sizes = {songs: min(sizes_of(night_of(songs), "setting")) for songs in range(4, 31)}
    for songs in (*range(4, 10), *range(11, 30)):
        assert sizes[songs] >= 0.97 * sizes[songs + 1], songs
    assert sizes[4] > 1.25 * sizes[10]


def test_settings_take_the_room_that_titles_leave() -> None:
    """Where all of a song is on one line, short titles leave the settings room to be as large as
    the keys; a long title leaves them what its column had."""
    row = SheetRow(1, "Low Tide", "C", "C", "90", (GuitarCell("drop D, no capo", "C"),))
    page = sheet_of([row] * 14)
    (setting,), (key,) = set(sizes_of(page, "setting")), set(sizes_of(page, "key"))
    assert setting == pytest.approx(key, rel=0.02)
    assert min(sizes_of(page, "song")) >= 23
    long = replace(row, title="The Ferryman's Daughter Left the Porch Light On")
    assert max(sizes_of(sheet_of([long] * 14), "setting")) < setting


def test_how_a_song_begins_is_read_standing() -> None:
    """Under titles in rows of one line, a count-in is larger than small print: 10 points for a
    dozen songs; in low rows it is as small as that, whole, and none meets its title."""
    row = SheetRow(
        1, "Low Tide", "C", "C", "90", (GuitarCell("capo 2", "C"),), count_in="sticks, two"
    )
    for songs, least in ((12, 10.0), (14, 10.0), (18, 8.5)):
        page = sheet_of([row] * songs)
        asides = [i for i in page.items if isinstance(i, Text) and i.role == "aside"]
        assert {i.plain for i in asides} == {"sticks, two"} and len(asides) == songs
        assert min(sizes_of(page, "aside")) >= least
        assert overlapping(page) == []


@each("songs", [12, 20, 30])
def test_a_meter_is_whole_under_its_tempo(songs: int) -> None:
    """A meter other than 4/4 stands with the tempo in every row, in letters of 4 points or more."""
    row = SheetRow(1, "Low Tide", "C", "C", "140", (GuitarCell("no capo", "C"),), meter="12/8")
    page = sheet_of([row] * songs)
    texts = [i.plain for i in page.items if isinstance(i, Text) and i.role in ("tempo", "meter")]
    assert sum("12/8" in text for text in texts) == songs
    assert min(sizes_of(page, "tempo", "meter")) >= 4


def test_what_is_special_stands_beside_the_title() -> None:
    """A note is on its title's baseline, whole, and right of it."""
    texts = [i for i in night_of(8).items if isinstance(i, Text)]
    note = next(i for i in texts if i.role == "aside")
    title = next(i for i in texts if i.role == "song" and i.y == note.y)
    assert note.plain == "quiet please" and note.x > title.x + title.width


def test_neighbours_on_the_set_sheet_keep_apart() -> None:
    """Between the texts of a line there is at least a third of their size."""
    for songs in (8, 20):
        texts = [i for i in night_of(songs).items if isinstance(i, Text)]
        roles = ("key", "chord", "tempo", "setting", "first")
        line = sorted((i.y, i.x, i.x + i.width, i.pieces[0].size) for i in texts if i.role in roles)
        for (y, _, end, size), (other, x, _, _) in pairwise(line):
            assert other > y or x - end >= size / 3


@settings(deadline=None, max_examples=30)
@given(names, st.integers(1, 90), st.integers(1, 3), papers)
def test_timeline_holds(name: str, songs: int, guitars: int, paper: PaperName) -> None:
    """The timeline keeps apart and shows each song's setting once, over as many pages as needed."""
    lane = Lane(name, ("down 2",) * songs, (True, False) * songs)
    players = [PlayerLanes(name, name, (lane,) * guitars, name, (name, "") * songs)] * 2
    players = [replace(one, changes=one.changes[:songs]) for one in players]
    pages = timeline_sheet(name, [name] * songs, players, Fonts(), paper).pages
    assert all(map(sound, pages))
    settings_shown = [
        i for page in pages for i in page.items if isinstance(i, Text) and i.role == "setting"
    ]
    assert len(settings_shown) == songs * guitars * 2
    changes = [
        i for page in pages for i in page.items if isinstance(i, Text) and i.role == "change"
    ]
    assert len(changes) == -(-songs // 2) * 2


def test_a_timeline_of_many_players_goes_on() -> None:
    """Lanes that no page holds go on on the next one, every player once."""
    lane = Lane("cedar", ("3",) * 40, (False,) * 40)
    players = [PlayerLanes(f"P{n}", "told", (lane,) * 3, "saved") for n in range(9)]
    pages = timeline_sheet("N", ["A"] * 40, players, Fonts()).pages
    assert all(map(sound, pages))
    named = [
        i.plain for page in pages for i in page.items if isinstance(i, Text) and i.role == "player"
    ]
    assert named == [f"P{n}" for n in range(9)]


def test_nothing_that_the_plan_says_is_cut_off() -> None:
    """What a plan saves takes as many lines as it needs, and a player of a part has a line of
    words and no lanes."""
    saving = "The best capo for each song would take a while. " * 5 + "Song 5: no pause."
    lane = Lane("cedar", ("3",) * 4, (False,) * 4)
    players = [PlayerLanes("Bo", "told", (lane,), saving), PlayerLanes("Di", "Plays a part.", ())]
    (page,) = timeline_sheet("N", ["A"] * 4, players, Fonts()).pages
    assert sound(page)
    texts = [i for i in page.items if isinstance(i, Text)]
    assert " ".join(i.plain for i in texts if i.role == "saving").split() == saving.split()
    assert "Plays a part." in [i.plain for i in texts if i.role == "summary"]
    assert sum(i.role == "column" for i in texts) == 4


def test_a_player_of_a_part_stands_under_the_set_sheet() -> None:
    """What is the same all night has a line of its own under the rows, clear of the legend."""
    cells = (GuitarCell("capo 3", "G", "", True),)
    rows = [SheetRow(n, "Low Tide", "B♭", "B♭", "90", cells) for n in range(1, 20)]
    words = "Di: a part beside Bo, no capo all night"
    (page,) = set_sheet("Night", "", ["Bo"], rows, Fonts(), below=words).pages()
    assert sound(page)
    assert [i.plain for i in page.items if isinstance(i, Text) and i.role == "below"] == [words]


def test_timeline_numbers_its_columns() -> None:
    """Above each player's lanes stand the songs' numbers, each over its own box."""
    lane = Lane("cedar", ("3", None, "d1"), (False, False, True))
    (page,) = timeline_sheet("N", ["A", "B", "C"], [PlayerLanes("Bo", "", (lane,))], Fonts()).pages
    columns = {
        i.plain: i.x + i.width / 2 for i in page.items if isinstance(i, Text) and i.role == "column"
    }
    boxes = {
        i.plain: i.x + i.width / 2
        for i in page.items
        if isinstance(i, Text) and i.role == "setting"
    }
    assert list(columns) == ["1", "2", "3"]
    assert boxes == pytest.approx({"3": columns["1"], "d1": columns["3"]})


@each("paper", PAPERS)
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


def test_a_broken_song_shows_where_its_mistakes_stand() -> None:
    """A message's line of the chart stands on the page with a stroke under just what its caret
    marked; a page too short for all messages says how many it leaves out."""
    style = style_for("a4")
    message = (
        'a.chart:6:4: error[x]: "maj77" is none\n  6 | | Gmaj77 |\n    |    ^^^^^\n  hint: maj7'
    )
    page = broken_page("Low", (message,), FITTER, style)
    words = {i.plain: i for i in page.items if isinstance(i, Text)}
    assert not any("^" in one for one in words)
    line = words["| Gmaj77 |"]
    (stroke,) = [item for item in page.items if isinstance(item, Stroke)]
    start, end = (FITTER.width(line.plain[:at], "plain", style.cue) for at in (3, 8))
    assert (stroke.x0, stroke.x1) == pytest.approx((line.x + start, line.x + end))
    full = broken_page("Low", (message,) * 50, FITTER, style)
    (last,) = [i.plain for i in full.items if isinstance(i, Text) and i.plain.startswith("…")]
    whole = sum(isinstance(i, Text) and i.plain == "hint: maj7" for i in full.items)
    assert last == "… and 47 more: chartkit check lists them all"
    assert whole == 3
    long = broken_page("Low", ("word\n" * 200,), FITTER, style)
    (last,) = [i.plain for i in long.items if isinstance(i, Text) and i.plain.startswith("…")]
    assert last == "… and more: 1 of 1 are left out"
    assert sound(full)


@given(names, names, papers)
@settings(deadline=None, max_examples=30)
def test_the_change_is_kept_whole_before_a_long_title(
    title: str, head: str, paper: PaperName
) -> None:
    """What to change for the next song is never cut short: its title gives way."""
    style = style_for(paper)
    change = "Put down the cedar guitar, take the old blue one. Move the capo from 2 to 5."
    lines = RunningLines(head, "song 12", head, "page 9 of 99", f"next: 13. {title}", change)
    items = running_items(lines, FITTER, style)
    assert sound(Page(style.paper.width, style.paper.height, items))
    (text,) = [i.plain for i in items if isinstance(i, Text) and i.role == "coming"]
    assert text.startswith("next: 13. ")
    assert text.endswith(f" — {change}")


@each("paper", PAPERS)
def test_the_next_song_has_room_above_it(paper: PaperName) -> None:
    """What comes next stands a line of its own type or more below all that a page may hold; half
    of one on a tablet, where the room saves some songs a turn of the page."""
    style = style_for(paper)
    lines = RunningLines("Night", "song 12", "Low Tide", "page 9 of 99", "next: 13. Ash", "Capo 2.")
    items = running_items(lines, FITTER, style)
    coming = next(i for i in items if isinstance(i, Text) and i.role == "coming")
    room = style.band * (0.5 if paper == "tablet" else 1.0)
    assert box_of(coming)[1] - (style.paper.top + page_room(style)) >= room
    assert [i.plain for i in items if isinstance(i, Text) and i.y == coming.y] == [
        "page 9 of 99",
        "next: 13. Ash — Capo 2.",
    ]
