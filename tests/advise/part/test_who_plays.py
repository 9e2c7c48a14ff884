"""Where others play alone, a part is silent (common practice, no source)."""

import pytest

from chartkit.advise.part.who_plays import SILENT, brings_in, others_alone, with_silences
from chartkit.chart.model import Chart, CueRow, MusicRow
from chartkit.chart.playing_order import playing_order
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
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
