"""What must hold of the pages of every example, on every paper, found out by geometry."""

import os
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import get_args

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PHONES, Form, PageLook, PaperName
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Page, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import PAPERS as SIZES
from chartkit.pdf.fonts import Fonts
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import chart_of
from tests.layout.geometry import (
    astray,
    columns_in,
    in_bar_lines,
    lines_of,
    off_page,
    out_of_order,
    overlapping,
    run_together,
    stretched,
    uneven_baselines,
    unmatched_sounding,
)

SONGS = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
FORMS: tuple[Form, ...] = ("full", "folded", "words")
PAPERS: tuple[PaperName, ...] = tuple(paper for paper in get_args(PaperName) if paper not in PHONES)
METRICS = Fonts()
CAPITAL = 0.714
"""The height of capitals, as part of the type's size (the faces' OS/2 tables)."""
X_HEIGHT, MM = 0.536, 25.4 / 72
"""The height of the serif's x as part of its size (its OS/2 table); millimetres in a point."""
VIEWS = (View(capo=Capo(3)), View(capo=NO_CAPO), View(capo=Capo(2), second_capo=Capo(7)))


def views_of(song: Path, paper: PaperName, form: Form) -> tuple[View, ...]:
    """The views that an example is looked at in on one paper in one form: one of them, so that
    each view meets each paper and each form with a third of the songs.  ``CHARTKIT_EVERY_WAY=1``
    takes them all."""
    if os.environ.get("CHARTKIT_EVERY_WAY"):
        return VIEWS
    turn = SONGS.index(song) + PAPERS.index(paper) + FORMS.index(form)
    return VIEWS[turn % len(VIEWS) :][:1]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("song", SONGS, ids=lambda path: path.stem)
@pytest.mark.parametrize("form", FORMS)
def test_pages_of_an_example_hold(song: Path, paper: PaperName, form: Form) -> None:
    """Nothing is off the page or overlaps; no bar line runs through a chord; each sounding
    chord starts under its shape, each word under its chord; lines that belong together stand
    equally far apart; no text is stretched."""
    chart = chart_of(song.read_text(encoding="utf-8"))
    for view in views_of(song, paper, form):
        arrangement = arrange(chart, view)
        document = laid_out(arrangement, PageLook(paper=paper, form=form), METRICS)
        assert list(out_of_order(document)) == []
        for page in document.pages:
            assert off_page(page) == overlapping(page) == in_bar_lines(page) == []
        for page in columns_in(document):
            assert stretched(page, Typesetter(METRICS)) == []
            assert run_together(page, space) == []
            assert form == "words" or astray(page, arrangement.strong) == []
            if "shape" in arrangement.chord_lines and "second" not in arrangement.chord_lines:
                assert unmatched_sounding(page) == []
                assert uneven_baselines(page, "shape", "sounding") == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("song", SONGS, ids=lambda path: path.stem)
def test_lines_of_a_row_are_plainly_closer_than_rows(song: Path, paper: PaperName) -> None:
    """What is white between chords and words, and between verses, is at most 0.6 of what is white
    between a row's words and the chords of the next row."""
    arrangement = arrange(chart_of(song.read_text(encoding="utf-8")), View())
    document = laid_out(arrangement, PageLook(paper=paper), METRICS)
    seen = 0
    for page in columns_in(document):
        inside, between = whites(page, arrangement.chord_lines)
        if inside and between:
            seen += 1
            assert max(inside) <= 0.6 * min(between)
    items = (item for page in document.pages for item in page.items)
    assert seen or not any(isinstance(item, Text) and item.role == "words" for item in items)


@pytest.mark.parametrize("paper", PHONES)
@pytest.mark.parametrize(
    "stem", ["lantern-road", "winter-mooring", "letters-to-brindle-cove", "breakwater"]
)
def test_pages_of_a_phone_hold(stem: str, paper: PaperName) -> None:
    """On a page as narrow as a phone, or as low as one on its side, nothing is off it, overlaps or
    is stretched, and the letter x of sung words is 1.9 mm high or more, a book's (our own measure),
    and without chords 2.5 mm."""
    song = next(one for one in SONGS if one.stem == stem)
    for show in ("both", "words"):
        look = PageLook(paper=paper, show=show)
        shown = arrange(chart_of(song.read_text(encoding="utf-8")), View(capo=Capo(3)), look)
        document = laid_out(shown, look, METRICS)
        assert len(document.pages) > 1
        assert list(out_of_order(document)) == []
        for page in document.pages:
            assert off_page(page) == overlapping(page) == in_bar_lines(page) == []
            assert stretched(page, Typesetter(METRICS)) == []
            sung = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
            sizes = [piece.size for text in sung for piece in text.pieces]
            assert all(size * X_HEIGHT * MM >= (2.5 if show == "words" else 1.9) for size in sizes)


def whites(page: Page, chords: tuple[str, ...]) -> tuple[list[float], list[float]]:
    """What is white from a baseline to the capitals under it: inside rows that have words, and
    from their words to the next row."""
    lines: dict[float, tuple[str, float]] = {}
    for item in page.items:
        if isinstance(item, Text) and item.role in (*chords, "words") and item.pieces:
            size = max(piece.size for piece in item.pieces)
            lines[round(item.y, 1)] = item.role, size
    inside, between = [], []
    for (y, (role, _)), (under, (next_role, size)) in pairwise(sorted(lines.items())):
        white = under - y - CAPITAL * size
        if next_role == "words":
            inside.append(white)
        elif role == "words":
            between.append(white)
    return inside, between


def space(size: float) -> float:
    """The width of a space between words."""
    return METRICS.width("words", " ") * size


def test_every_paper_has_a_size() -> None:
    """A paper that is only named is noticed here; what is no phone is tried on every example."""
    assert set(SIZES) == set(get_args(PaperName))
    assert {*PAPERS, *PHONES} == set(SIZES)


def test_the_checks_see_what_they_are_for() -> None:
    """A word pushed aside, one set wider, one that touches the next and a lowered chord are all
    noticed."""
    chart = chart_of(SONGS[0].read_text(encoding="utf-8"))
    page = laid_out(arrange(chart, View(capo=Capo(3))), PageLook(), METRICS).pages[0]
    words = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
    word = next(i for i in reversed(words) if i.x > 150)
    chord = next(i for i in page.items if isinstance(i, Text) and i.role == "sounding")

    def changed(old: Text, new: Text) -> Page:
        return replace(page, items=tuple(new if i is old else i for i in page.items))

    assert astray(changed(word, word._replace(x=word.x - 13)), "shape")
    assert stretched(changed(word, word._replace(width=word.width * 1.1)), Typesetter(METRICS))
    line = next(line for line in lines_of(page, "words") if len(line) > 1)
    touching = line[0]._replace(width=line[1].x - line[0].x - 0.5)
    assert run_together(changed(line[0], touching), space)
    assert uneven_baselines(changed(chord, chord._replace(y=chord.y + 1)), "shape", "sounding")


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("song", SONGS, ids=lambda song: song.stem)
def test_small_type_leaves_no_blank_page(song: Path, paper: PaperName) -> None:
    """A song's only page is in small type because it needs the room, and not to keep rows whole
    that would fill the page in type that can be read."""
    arrangement = arrange(chart_of(song.read_text(encoding="utf-8")), View())
    document = laid_out(arrangement, PageLook(paper=paper), METRICS)
    page, *others = document.pages
    if others or document.choices is None or document.choices.size > 0.9:
        return
    lowest = max(i.y for i in page.items if isinstance(i, Text) and i.role != "foot")
    assert lowest > 0.8 * page.height
