"""What stands over the staves of other people's pages: marks, names, rests, slashes.

Where engravers put things is common practice, no source.
"""

from collections.abc import Sequence

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.interchange.drawn_staves import (
    CODA,
    FERMATA,
    FLAT,
    SEGNO,
    SHARP,
    UNKNOWN,
    Bar,
    Over,
    draw_system,
    music_font,
)
from tests.interchange.pages import pages
from tests.interchange.reading import body, codes, reads_back, taken

_FIRST: float = 0.0


def _page(*systems: Sequence[Bar], title: str = "Cork and Ash") -> bytes:
    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Bold", 20)
        canvas.drawCentredString(300, 800, title)
        for number, bars in enumerate(systems):
            draw_system(canvas, 680 - 120 * number, bars)

    return pages(draw)


def _bar(chord: str, words: str = "", *over: Over) -> Bar:
    return Bar(((chord, _FIRST),), words, over=over)


def test_marks_stand_in_their_bars() -> None:
    """Signs of a music font and jumps in words become marks of the bars that they stand over."""
    result = taken(
        _page(
            (
                _bar("Am", "light the stove", Over(SEGNO, sign=True)),
                _bar("F", "and shut"),
                _bar("C", "the gate", Over("To Coda", into=0.5), Over(CODA, into=0.98, sign=True)),
                _bar("G", "now", Over("D.S. al Coda", into=0.3)),
            ),
            (
                _bar("Dm", "late it", Over(CODA, sign=True)),
                _bar("E7", "is"),
                _bar("Am", "late", Over(FERMATA, up=20, into=0.08, sign=True)),
            ),
        )
    )
    assert body(result.chart) == (
        "| @segno Am | F | C @to-coda | G @D.S. al Coda |\n"
        ": | light the stove | and shut | the gate | now |\n"
        "| @coda Dm | E7 | Am @fermata |\n: | late it | is | late |"
    )
    reads_back(result.chart)


@pytest.mark.parametrize("around", ["box", "ring"])
def test_a_section_begins_within_a_system(around: str) -> None:
    """A letter in a box or a ring over a bar line begins a section there, words and all."""
    bars = (
        _bar("G", "light the", Over("A", around=around)),
        _bar("D", "stove my"),
        _bar("Em", "dear and", Over("B", into=-0.02, around=around)),
        _bar("C", "wait"),
    )
    assert body(taken(_page(bars)).chart) == (
        "== A\n| G | D |\n: | light the | stove my |\n== B\n| Em | C |\n: | dear and | wait |"
    )


def test_a_rest_for_several_bars() -> None:
    """A thick bar under a number is a rest for so many bars, with nothing else on its staff."""
    result = taken(_page((Bar(rest=8), _bar("Am"), _bar("D7"), _bar("Am"))))
    assert body(result.chart) == "| rest 8 | Am | D7 | Am |"


def test_a_beam_under_a_number_is_no_rest() -> None:
    """The figure of a triplet stands over a beam, which joins stems."""

    def draw(canvas: Canvas) -> None:
        draw_system(canvas, 680, (_bar("Am"), _bar("D7"), _bar("G"), _bar("C")), beam=True)

    assert body(taken(pages(draw)).chart) == "| Am | D7 | G | C |"


def test_slashes_say_where_chords_are_struck() -> None:
    """As many slashes as the bar has beats: a chord over one is struck on that beat."""
    bars = (
        Bar((("C", 0.0), ("G", 0.75)), slashes=4),
        Bar((("F", 0.0),), slashes=4),
        Bar((("Dm", 0.0), ("G7", 0.5)), slashes=4),
        Bar((("C", 0.25),), slashes=4),
    )
    result = taken(_page(bars))
    assert body(result.chart) == "| C / / G | F | Dm / G7 / | / C / / |"


def test_a_bar_again_and_how_often() -> None:
    """The sign of a bar played again stands on the staff below the chords."""
    result = taken(_page((_bar("Am"), Bar(again=True), _bar("F"), _bar("G"))))
    assert body(result.chart) == "| Am | % | F | G |"


def test_accidentals_of_a_music_font() -> None:
    """A flat or a sharp beside a chord's letter belongs to the chord; others stand by notes."""

    def draw(canvas: Canvas) -> None:
        draw_system(canvas, 680, (_bar("G"), _bar("C"), _bar("D"), _bar("B")))
        canvas.setFont(music_font(), 11)
        canvas.drawString(90 + 3 * 112.5 + 6 + 8, 713, FLAT)
        canvas.drawString(90 + 112.5 + 6 + 8, 713, SHARP)
        canvas.drawString(90 + 70, 735, SHARP)

    assert body(taken(pages(draw)).chart) == "| G | C# | D | Bb |"


def test_unknown_signs_of_a_music_font_are_reported() -> None:
    """The letters of older music fonts mean nothing that is known; no sign of them is sung."""
    over = Over(UNKNOWN, up=10, into=0.6, sign=True)
    result = taken(_page((_bar("G", "", over), _bar("C"), _bar("D"), _bar("G"))))
    assert body(result.chart) == "| G | C | D | G |"
    assert "drawn-signs" in codes(result)


def test_numbers_of_verses_under_a_staff() -> None:
    """Printed once before the first system, they number the words of all systems."""

    def draw(canvas: Canvas) -> None:
        for number in range(2):
            y = 680 - 130 * number
            draw_system(canvas, y, (_bar("G", "light the"), _bar("C", "stove")))
            canvas.setFont("Times-Roman", 10)
            canvas.drawString(98, y - 33, "shut")
            canvas.drawString(122, y - 33, "the")
            canvas.drawString(323, y - 33, "gate")
        canvas.drawString(62, 660, "1.")
        canvas.drawString(62, 647, "2.")

    row = "| G | C |\n1: | light the | stove |\n2: | shut the | gate |"
    assert body(taken(pages(draw)).chart) == f"{row}\n{row}"


def test_a_title_that_the_feet_of_pages_repeat() -> None:
    """What is printed largest on the first page is no running head."""

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Bold", 20)
        canvas.drawCentredString(300, 800, "Cork and Ash")
        draw_system(canvas, 680, (_bar("G", "light the"), _bar("C", "stove")))
        canvas.setFont("Helvetica", 8)
        canvas.drawCentredString(300, 25, "Cork and Ash")

    def second(canvas: Canvas) -> None:
        draw_system(canvas, 680, (_bar("D", "shut the"), _bar("G", "gate")))
        canvas.setFont("Helvetica", 8)
        canvas.drawCentredString(300, 25, "Cork and Ash")

    assert taken(pages(draw, second)).chart.text("title") == "Cork and Ash"


def test_how_often_a_repeat_is_played() -> None:
    """At the right of the chords, "Play 4x" belongs to the row of bars."""

    def draw(canvas: Canvas) -> None:
        draw_system(canvas, 680, (_bar("G"), _bar("C"), _bar("D"), _bar("G")))
        canvas.setFont("Helvetica", 9)
        canvas.drawRightString(538, 714, "Play 4x")

    assert body(taken(pages(draw)).chart) == "|: G | C | D | G :| x4"
