"""The table of marks, and the fermata on its way through every door."""

import re
from dataclasses import replace
from typing import Any, get_args

import pytest

from chartkit.chart.marks import (
    MARKS,
    Mark,
    MarkKind,
    MarkPlace,
    MarkSign,
    kind_of_typed_mark,
    typed_mark,
    typed_names,
)
from chartkit.chart.model import Bar, MusicRow
from chartkit.diagnostics import Source
from chartkit.interchange.musicxml.mark_elements import MARK_ELEMENTS, NOTATION_KINDS, MarkElements
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from chartkit.layout.collect import Collector
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Glyph, Page, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.outlines import MARK_GLYPHS, glyph_aspect
from chartkit.layout.spoken import spoken_row
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.charts import arranged, chart_of, sized
from tests.each import each
from tests.interchange.reading import taken


def bars(text: str) -> list[Bar]:
    """The bars of a chart's music."""
    rows = (row for section in chart_of(text).sections for row in section.rows)
    return [bar for row in rows if isinstance(row, MusicRow) for bar in row.bars]


@each("name", typed_names())
def test_every_mark_is_read_as_it_is_written(name: str) -> None:
    """Each mark the table lists is read from a bar, and written again letter for letter."""
    (bar,) = bars(f"| @segno @coda C {name} |".replace(f" {name}", f" {name}"))[:1]
    assert name in [typed_mark(mark) for mark in bar.marks]


@each("kind", MARKS)
def test_other_names_mean_the_same(kind: MarkKind) -> None:
    """Every name of a mark, in small letters or capitals, means it, and no other has it."""
    for name in MARKS[kind].typed:
        assert kind_of_typed_mark(name) == kind_of_typed_mark(name.upper()) == kind
    assert kind_of_typed_mark("fermatta") is None


@each(
    ("row", "onsets"),
    [
        ("| C @fermata |", [0]),
        ("| C F @fermata |", [24]),
        ("| C / F @pause / |", [24]),
        ("| C,F @fermata / / / |", [0]),
        ("| @fermata C F |", [0]),
        ("| % @fermata |", [0]),
        ("| C @fermata F @hold |", [0, 24]),
        ("| C / / / | @fermata |", [36]),
        ("C F @fermata G", [1]),
    ],
)
def test_a_fermata_stands_over_the_beat_before_it(row: str, onsets: list[int]) -> None:
    """It belongs to the chord, slash or sign typed before it; alone between bar lines to the last
    beat of the bar before."""
    (bar,) = bars(f"| C |\n{row}\n")[-1:]
    assert [mark.onset for mark in bar.marks if mark.kind == "fermata"] == onsets


SONG = "== A\n| C @fermata | F / G @fermata / | % @fermata | C,/ r @fermata F @fermata @fine / |\n"


def test_a_fermata_through_musicxml() -> None:
    """It comes back over the beat it stood on.

    Source: ``fermata`` in ``notations``, W3C MusicXML 4.0.
    """
    chart = chart_of(SONG)
    document = musicxml_bytes(chart)
    assert document.count(b"<fermata") == 5
    back = taken(document).chart
    assert [bar.marks for bar in bars(chart_text(back))] == [bar.marks for bar in bars(SONG)]


def test_a_fermata_of_a_melody_is_taken() -> None:
    """One over a sung note stands over its beat, one over a bar line over the last chord of its
    bar."""
    plain = musicxml_bytes(chart_of("== A\n| C | F G ||\n"))
    over_bar_line = plain.replace(b"</barline>", b"<fermata/></barline>")
    notes = plain.split(b"</notehead>")
    notes[6] = b"<notations><fermata/></notations>" + notes[6]  # over the second beat of F
    for document, onset in ((over_bar_line, 24), (b"</notehead>".join(notes), 12)):
        first, second = bars(chart_text(taken(document).chart))
        assert [mark.onset for mark in second.marks] == [onset]
        assert first.marks == ()


def test_a_fermata_through_text() -> None:
    """In a text for a mail it follows its chord in parentheses, and is read again."""
    text = sheet_text(chart_of(SONG))
    assert text.count("(Fermata)") == 5
    back = taken(text.encode()).chart
    assert [bar.marks for bar in bars(chart_text(back))] == [bar.marks for bar in bars(SONG)]


def test_where_a_fermata_is_drawn() -> None:
    """It is drawn in the middle over its chord, above it."""
    (page,) = laid_out(arranged("== A\n| C | Fmaj7 @fermata |\n"), sized(1.0), Fonts()).pages
    (sign,) = [item for item in page.items if isinstance(item, Glyph)]
    (chord,) = [i for i in page.items if isinstance(i, Text) and i.plain.startswith("Fmaj")]
    width = sign.height * glyph_aspect("fermata")
    assert abs(sign.x + width / 2 - (chord.x + chord.width / 2)) < 0.01
    assert sign.y < chord.y


def test_where_marks_have_no_bar() -> None:
    """A fermata before any bar of its row is reported, and what is typed for none too."""
    for row in ("| @fermata | C |", "@fermata"):
        assert {d.code for d in read_chart(Source(row)).diagnostics} == {"mark-without-bar"}
    assert read_chart(Source("| C @fermatta |")).diagnostics[0].code == "unknown-mark"


def test_marks_compare_by_where_they_stand() -> None:
    """A fermata over another beat is another mark; its place in the text does not matter."""
    assert Mark("fermata", onset=12) != Mark("fermata")


def test_a_fermata_is_read_aloud() -> None:
    """What a screen reader says of the row names it after its chord."""
    arrangement = arranged("== A\n| C F @fermata | @segno G |\n")
    collector = Collector(
        Typesetter(Fonts()), style_for("a4", 1.0), arrangement.chord_lines, arrangement.strong
    )
    (row,) = collector.sections(arrangement.sections)[0].rows
    assert spoken_row(row, 0) == "C, F, fermata; segno, G"


def test_a_mark_that_musicxml_has_no_name_for_is_written_in_words(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Any mark in words goes through MusicXML without a line of code there."""
    monkeypatch.delitem(MARK_ELEMENTS, "fine")
    content = musicxml_bytes(chart_of("key: C\n\n== A\n| C | F @fine |\n"))
    assert b'<words font-weight="bold">Fine</words>' in content
    assert b"fine=" not in content
    assert [mark.kind for bar in bars(chart_text(taken(content).chart)) for mark in bar.marks] == [
        "fine"
    ]


def test_a_mark_at_the_start_of_two_repeated_bars_stands_over_the_first() -> None:
    """In a score a sign for two bars is two measures: what opens them belongs to the first, what
    closes them to the second."""
    text = "== A\n| C | D | @segno %% @fine | F |\n"
    content = musicxml_bytes(chart_of(text))
    third, fourth = content.split(b"<measure number")[3:5]
    assert b"<segno" in third and b"<segno" not in fourth
    assert b"Fine" in fourth and b"Fine" not in third
    assert [bar.marks for bar in bars(chart_text(taken(content).chart))] == [
        bar.marks for bar in bars(text)
    ]


BREATH: Any = "breath"
"""A kind of mark that the table does not have."""
PLACES: tuple[MarkPlace, ...] = ("start", "beat", "end")
BREATHS = "== A\n| C | @breath F G @breath | % @breath |\n\n== B\nC F @breath G\n"


def page_text(page: Page) -> str:
    """All texts of a page."""
    return " ".join(item.plain for item in page.items if isinstance(item, Text))


@pytest.fixture(params=PLACES)
def place(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> MarkPlace:
    """A place at which the table has one mark more, in words."""
    place: MarkPlace = request.param
    row = MarkSign(BREATH, ("breath",), place, "Take Breath", "breathe")
    monkeypatch.setitem(MARKS, BREATH, row)
    return place


def test_a_new_mark_in_words_comes_back_from_elsewhere(place: MarkPlace) -> None:
    """With its row in the table alone, it goes through MusicXML and text, wherever it stands."""
    chart = chart_of(BREATHS)
    there = [bar.marks for bar in bars(BREATHS)]
    assert sum(map(len, there)) == (4 if place == "beat" else 3)
    for content in (musicxml_bytes(chart), sheet_text(chart).encode()):
        assert [bar.marks for bar in bars(chart_text(taken(content).chart))] == there


def test_a_new_mark_in_words_is_printed(place: MarkPlace) -> None:
    """Its words stand on the page once for each time it is typed, and nothing is drawn."""
    (page,) = laid_out(arranged(BREATHS), sized(1.0), Fonts()).pages
    words = [i for i in page.items if isinstance(i, Text) and i.plain == "Take Breath"]
    assert len(words) == sum(len(bar.marks) for bar in bars(BREATHS))
    assert not [i for i in page.items if isinstance(i, Glyph) and i.name != "simile"]


def test_a_new_mark_that_is_drawn_is_drawn_at_its_place(
    place: MarkPlace, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whether it is drawn does not depend on where it stands: at the start of its bar, over its
    beat, or flush with the end."""
    monkeypatch.setitem(MARKS, BREATH, replace(MARKS[BREATH], drawn=True))
    monkeypatch.setitem(MARK_GLYPHS, BREATH, ("coda", 1.0))
    (page,) = laid_out(arranged("== A\n| C | F @breath G |\n"), sized(1.0), Fonts()).pages
    (sign,) = (item for item in page.items if isinstance(item, Glyph))
    chords = {i.plain: i for i in page.items if isinstance(i, Text) and i.plain in "CFG"}
    right = sign.x + sign.height * glyph_aspect("coda")
    chord = chords["F"]
    middle = chord.x + chord.width / 2
    where = {
        "start": chords["C"].x < sign.x < chord.x,
        "beat": abs((sign.x + right) / 2 - middle) < 0.01,
        "end": right > chords["G"].x + chords["G"].width,
    }
    assert where[place] and "Take Breath" not in page_text(page)


def test_every_kind_of_mark_has_its_row_and_every_drawn_one_its_outline() -> None:
    """A mark that is only half added is noticed here, and not on the page of whoever types it."""
    assert set(MARKS) == set(get_args(MarkKind))
    assert {kind for kind, sign in MARKS.items() if sign.drawn} == set(MARK_GLYPHS)


@each(
    ("path", "kind_written", "written"),
    [
        ("fermata", "upright", '<notations><fermata type="upright"/></notations>'),
        ("articulations/caesura", "", "<notations><articulations><caesura/></articulations></no"),
        ("ornaments/turn", "", "<notations><ornaments><turn/></ornaments></notations>"),
    ],
)
def test_a_new_mark_over_a_note_has_its_element(path: str, kind_written: str, written: str) -> None:
    """Its row in the table of elements is all that MusicXML needs, at whatever depth among the
    notations its element stands (MusicXML 4.0, ``notations``)."""
    row = MarkElements(notation=path, notation_type=kind_written)
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(
            MARKS, BREATH, MarkSign(BREATH, ("breath",), "beat", "Take Breath", "breathe")
        )
        patch.setitem(MARK_ELEMENTS, BREATH, row)
        patch.delitem(NOTATION_KINDS, "fermata")
        patch.setitem(NOTATION_KINDS, path, BREATH)
        content = musicxml_bytes(chart_of("== A\n| C | F @breath G |\n"))
        assert re.sub(r"\s+(?=[</])", "", content.decode()).count(written) == 1
        assert b"Take Breath" not in content
        back = bars(chart_text(taken(content).chart))
        assert [[mark.kind for mark in bar.marks] for bar in back] == [[], [BREATH]]
