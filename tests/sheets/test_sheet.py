"""The advice sheet and chord diagrams, by geometry."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from chartkit.advise.ranking import Advice, rank_options
from chartkit.advise.settings import AdviceSettings
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.compile import song_shapes
from chartkit.fretboard.instruments import GUITAR, UKULELE
from chartkit.layout.diagram import DiagramSetter
from chartkit.layout.engrave import laid_out
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Item, Stroke, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.style import style_for
from chartkit.pdf.fonts import Fonts
from chartkit.sheets.advice import Answer, advice_sheet, first_options
from chartkit.sheets.neck import ringing_shares
from chartkit.sheets.registers import register_rows
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import DENSE, arranged, chart_of, sized
from tests.layout.geometry import box_of, off_page, overlapping

SONG = "key: Db\nrange: Ab3-F5\n\n| Db | Ab7 | Bbm7 | Gb |\n"


def advice_for(text: str, **settings: int) -> Advice:
    """The adviser's answer for a chart."""
    return rank_options(chart_of(text), GUITAR, AdviceSettings(**settings))  # type: ignore[arg-type]


def answer_of(advice: Advice) -> Answer:
    """What the sheet says of a song's own options."""
    return Answer("Where the capo goes", advice.verdict, first_options(advice))


@pytest.mark.parametrize("text", [SONG, DENSE])
def test_sheet_keeps_its_parts_apart(text: str) -> None:
    """Nothing on the sheet overlaps or leaves the page, however long title and reasons are."""
    advice = advice_for(text)
    rows = register_rows(advice, None, None, (), ())
    document = advice_sheet("A Title " * 30, advice, answer_of(advice), rows, Fonts())
    assert off_page(document.pages[0]) == []
    assert overlapping(document.pages[0]) == []


def test_sheet_always_shows_no_capo() -> None:
    """The option without a capo is on the sheet even where it ranks low."""
    advice = advice_for(SONG)
    document = advice_sheet("Song", advice, answer_of(advice), (), Fonts())
    names = [i.plain for i in document.pages[0].items if isinstance(i, Text)]
    assert "No capo" in names
    assert names.count("Capo 1") == 1


def test_dots_stand_for_places_left_out() -> None:
    """If no capo comes last of all, dots stand before it, and nothing overlaps for that."""
    advice = advice_for(SONG)
    last = (*(one for one in advice.options if one != advice.no_capo), advice.no_capo)
    advice = replace(advice, options=tuple(filter(None, last)))
    document = advice_sheet("Song", advice, answer_of(advice), (), Fonts())
    texts = [item for item in document.pages[0].items if isinstance(item, Text)]
    (dots,) = [item for item in texts if item.role == "left out"]
    (without,) = [item for item in texts if item.plain == "No capo"]
    assert dots.y < without.y
    assert not any(dots.y < item.y < without.y and item.role == "reason" for item in texts)
    assert overlapping(document.pages[0]) == []


def test_ringing_is_a_share_of_time() -> None:
    """A string that is open in every chord rings all the time; a fretted one never."""
    advice = advice_for("key: E\n\n| Em | Em7 |\n", highest_capo=0, most_down=0)
    best = advice.options[0]
    beats = tuple(held.beats for held in advice.song.held_chords)
    shares = ringing_shares(best, beats)
    assert shares[5] == pytest.approx(1.0)
    assert all(0 <= share <= 1 for share in shares)


def test_diagram_has_a_dot_for_every_finger() -> None:
    """An open C has three fingers, two open strings ringed, one crossed out."""
    shapes = song_shapes(chart_of("key: C\n\n| C |\n"), View(capo=NO_CAPO))
    assert [str(shape.voicing) for shape in shapes] == ["x32010"]
    setter = DiagramSetter(Fitter(Typesetter(Fonts())), style_for("a4"))
    items = setter.diagram(shapes[0])
    fingers = [i.plain for i in items if isinstance(i, Text) and i.role == "finger"]
    assert sorted(fingers) == ["1", "2", "3"]
    # Two rings of two dots each besides the fingers' dots.
    assert sum(isinstance(i, Dot) for i in items) == 3 + 2 * 2
    crosses = [i for i in items if isinstance(i, Stroke) and i.x0 != i.x1 and i.y0 != i.y1]
    assert len(crosses) == 2


def test_a_short_capo_is_drawn_over_its_strings() -> None:
    """Its bar lies over the strings it covers and no further; the nut is drawn over all."""
    chart = chart_of("key: E\ncapo: 2 over strings 5-3\n\n| E |\n")
    setter = DiagramSetter(Fitter(Typesetter(Fonts())), style_for("a4"))
    (shape,) = song_shapes(chart, View())
    assert shape.beside_capo == (0, 4, 5)
    short, whole = (
        max(strokes(setter.diagram(one)), key=lambda stroke: stroke.thickness)
        for one in (shape, shape._replace(beside_capo=()))
    )
    left, right = sorted((whole.x0, whole.x1))
    space = (right - left) / 5
    assert left + space / 2 < min(short.x0, short.x1) < left + space
    assert left + 3 * space < max(short.x0, short.x1) < left + 3.5 * space


def strokes(items: Sequence[Item]) -> list[Stroke]:
    """The level strokes among the items."""
    return [item for item in items if isinstance(item, Stroke) and item.y0 == item.y1]


def test_diagrams_of_a_dense_song_keep_apart() -> None:
    """Twenty diagrams stand in rows under the title, clear of one another and of the chart."""
    chart = chart_of(DENSE)
    view = View(capo=Capo(1))
    document = laid_out(
        arranged(DENSE, view), PageLook(paper="letter"), Fonts(), song_shapes(chart, view)
    )
    for page in document.pages:
        assert off_page(page) == []
        # Finger numbers stand on their dots, which overlap nothing else.
        assert overlapping(page) == []


def test_other_instruments_have_their_own_strings() -> None:
    """A ukulele's diagram has four strings."""
    chart = chart_of("key: C\ninstrument: ukulele\n\n| C | F | G7 |\n")
    shapes = song_shapes(chart, View(capo=NO_CAPO))
    assert UKULELE.name == "ukulele"
    assert {len(shape.voicing.frets) for shape in shapes} == {4}


def test_many_diagrams_come_after_the_song() -> None:
    """Where diagrams would crowd the song out of its first page they follow it, all of them,
    on the paper."""
    roots = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
    chords = [root + quality for root in roots for quality in ("", "m", "7", "maj7")]
    text = "key: C\n\n" + "".join(f"| {' | '.join(chords[i : i + 4])} |\n" for i in range(0, 48, 4))
    chart = chart_of(text)
    shapes = song_shapes(chart, View(capo=NO_CAPO))
    document = laid_out(arranged(text), sized(1.7, "tablet"), Fonts(), shapes)
    drawn = [
        i.plain
        for p in document.pages
        for i in p.items
        if isinstance(i, Text) and i.role == "diagram"
    ]
    assert len(drawn) == len(shapes) >= 48
    assert all(off_page(page) == [] for page in document.pages)
    assert not any(isinstance(i, Text) and i.role == "diagram" for i in document.pages[0].items)


def test_diagrams_are_named_as_on_the_page() -> None:
    """Shapes are spelled alike over their diagrams and in the chart."""
    text = "key: Eb\n\n| Ebmaj7 | Gbmaj7 | F#m7 B7 | Emaj7 |\n"
    view = View(capo=Capo(1))
    names = {shape.name.plain() for shape in song_shapes(chart_of(text), view)}
    document = laid_out(arranged(text, view), PageLook(), Fonts())
    page = {
        i.plain
        for p in document.pages
        for i in p.items
        if isinstance(i, Text) and i.role == "shape"
    }
    assert names == page == {"Dmaj7", "Fmaj7", "Fm7", "B♭7", "E♭maj7"}


def test_a_reason_has_air_above_it() -> None:
    """The sentence under an option stands half a line or more below its lowest bar."""
    advice = advice_for(SONG)
    page = advice_sheet("Small Song", advice, answer_of(advice), (), Fonts()).pages[0]
    texts = [i for i in page.items if isinstance(i, Text)]
    efforts = [i for i in texts if i.plain == "effort"]
    reasons = [i for i in texts if i.role == "reason"]
    assert len(reasons) > 1
    for reason in reasons:
        above = max(box_of(i)[3] for i in efforts if i.y < reason.y)
        assert box_of(reason)[1] - above >= reason.pieces[0].size / 2
