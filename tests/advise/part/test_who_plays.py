"""Where others play alone, a part is silent (common practice, no source)."""

import pytest

from chartkit.advise.part.who_plays import (
    FIRST_GUITAR,
    SILENT,
    brings_in,
    heard,
    others_alone,
    with_silences,
)
from chartkit.advise.register import Moment
from chartkit.chart.model import Chart, CueRow, MusicRow
from chartkit.chart.playing_order import playing_order
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.advise.part.songs import sounding
from tests.advise.songs import chart_of


@pytest.mark.parametrize(
    "cue",
    [
        "just guitar",
        "quiet, just guitar",
        "just me and one guitar",
        "only the piano",
        "guitar only",
        "piano and voice alone",
        "voice alone",
        "a cappella",
        "drums and bass only, build",
        "softly (just acoustic guitar)",
        "half time, just Dan and piano",
        "Dan & piano only",
    ],
)
def test_cues_that_leave_a_second_guitar_out(cue: str) -> None:
    """The cue names who plays, and that nobody else does."""
    assert others_alone(cue)
    assert not brings_in(cue)


@pytest.mark.parametrize(
    "cue",
    [
        "guitar solo",
        "solo",
        "sax solo",
        "both guitars only",
        "just before the drums come in",
        "just a touch slower",
        "Just Before The Piano",
        "Only Once And Then Piano",
        "just Dan",
        "only once",
        "piano leads",
        "quiet",
        "no drums",
        "not just guitar, everybody",
        "",
        "just guitar " * 40,
    ],
)
def test_cues_that_do_not(cue: str) -> None:
    """A solo over the band, a count, a speed, or a text is no such cue."""
    assert not others_alone(cue)


ROWS = "| C | Am | F | G C |\n: | One | two | three | four / five |\n"


def silent_bars(chart: Chart) -> list[bool]:
    """Of each bar in playing order whether it is silent."""
    return [
        not any(strike.chord is not None for strike in bar.strikes)
        for bar in playing_order(chart).bars
    ]


def made(text: str) -> Chart:
    """The chart with its silences; it is read again as it is written."""
    chart = with_silences(chart_of(f"title: T\nkey: C\n\n{text}")).chart
    again = read_chart(Source(chart_text(chart)))
    assert not has_errors(again.diagnostics), again.diagnostics
    assert silent_bars(again.chart) == silent_bars(chart)
    return chart


def test_without_such_cues_a_chart_stays() -> None:
    """Nothing is written anew where nobody is left out."""
    chart = chart_of(f'key: C\n\n== Verse\n"softly"\n{ROWS}')
    assert with_silences(chart).chart is chart


def test_the_section_of_the_cue_is_silent_and_no_other() -> None:
    """The words stay, and the player is told."""
    chart = made(f'== Verse\n{ROWS}\n== Bridge\n"just guitar"\n{ROWS}\n== Tag\n{ROWS}')
    assert silent_bars(chart) == [False] * 4 + [True] * 4 + [False] * 4
    cues = [row.text for row in chart.sections[1].rows if isinstance(row, CueRow)]
    assert cues == ["just guitar", SILENT]


def test_a_cue_brings_the_band_in() -> None:
    """From there the part plays again."""
    chart = made(f'== Verse\n"voice alone"\n{ROWS}"band back in"\n{ROWS}')
    assert silent_bars(chart) == [True] * 4 + [False] * 4


def test_a_section_with_the_same_music_is_silent_by_its_own_cue() -> None:
    """Verse 3 has the music of verse 1 and a cue of its own: it alone is silent, its words as they
    were; and a verse after it plays."""
    words = ": | Six | seven | eight | nine / ten |\n"
    text = (
        f"== Verse 1\n{ROWS}\n== Verse 2 as Verse 1\n{words}\n"
        f'== Verse 3 as Verse 1\n"just me and one guitar"\n{words}\n== Verse 4 as Verse 1\n{words}'
    )
    chart = made(text)
    assert silent_bars(chart) == [False] * 8 + [True] * 4 + [False] * 4
    assert any(isinstance(row, MusicRow) for row in chart.sections[2].rows)
    assert with_silences(chart_of(f"key: C\n\n{text}")).sections == {2: "just me and one guitar"}


def test_a_repeated_chorus_with_the_band_after_a_quiet_one() -> None:
    """A chorus with a voice alone comes again with everybody, and once more, by its cue."""
    text = f'== Chorus\n"voice alone"\n{ROWS}\n== Chorus\n"everybody"\n\n== Chorus\n"everybody"\n'
    assert silent_bars(made(text)) == [True] * 4 + [False] * 8


def test_whoever_a_cue_names_plays() -> None:
    """Where the player's name is known, a cue with that name does not leave the player out."""
    chart = chart_of(f'== Bridge\n"just Dan and piano"\n{ROWS}')
    assert with_silences(chart).sections == {0: "just Dan and piano"}
    assert with_silences(chart, "Ruben").sections == {0: "just Dan and piano"}
    assert with_silences(chart, "Dan").chart == chart


def test_what_is_heard_of_both_guitars() -> None:
    """Of bars in which others play alone nothing is heard: of the second guitar where a cue names
    the first, of neither where it names none; until the band comes in."""
    chart = chart_of(
        f'== A\n"just guitar"\n{ROWS}\n== B\n"voice and piano only"\n{ROWS}\n"band in"\n{ROWS}'
    )
    moments = [Moment(0.0, 20.0, (60, 64)), Moment(20.0, 48.0, (62, 65))]
    second = heard(moments, chart)
    assert [(one.start, one.end) for one in second] == [(32.0, 48.0)]
    first = heard(moments, chart, FIRST_GUITAR)
    assert [(one.start, one.end) for one in first] == [(0.0, 16.0), (32.0, 48.0)]
    assert heard(moments, chart_of(f"== A\n{ROWS}")) == tuple(moments)


def test_what_the_part_plays_stands_over_its_first_row() -> None:
    """The cue with the figure stands under the writer's, over the first row that is not silent."""
    text = f'key: C\n\n== A\n"just guitar"\n{ROWS}\n"band in"\n{ROWS}'
    part = sounding("small", chart_of(text)).parts()[0].chart
    rows = part.sections[0].rows
    cues = [row.text for row in rows if isinstance(row, CueRow)]
    assert cues[:3] == ["just guitar", SILENT, "band in"]
    assert len(cues) == 4
