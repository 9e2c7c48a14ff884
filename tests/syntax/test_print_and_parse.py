"""Printing a chart and parsing the text gives the same chart."""

from hypothesis import given, settings

from chartkit.chart.model import Chart
from chartkit.diagnostics import Source, diagnostic_text, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.each import each
from tests.strategies import charts


@given(charts(rhythm=True, fine=True, alone=True, times=True, moves=True))
@settings(max_examples=40, deadline=None)
def test_print_then_parse_restores_the_chart(chart: Chart) -> None:
    """Every chart the strategies can draw is written as text that says the same, and that does not
    change by a letter when it is read and written again."""
    text = chart_text(chart)
    reading = read_chart(Source(text))
    messages = [
        diagnostic_text(d, Source(text)) for d in reading.diagnostics if d.severity == "error"
    ]
    assert not messages, "\n".join([text, *messages])
    assert reading.chart == chart
    assert chart_text(reading.chart) == text


def test_shared_music_in_free_time() -> None:
    """Words over another section's free time have no bar lines when written, with or without
    a pick-up."""
    text = "== A\n  C     G\n: one / two\n\n== B as A\n: tri / quad\n\n== D as A\n: and / x / y\n"
    reading = read_chart(Source(text))
    assert not has_errors(reading.diagnostics)
    assert chart_text(reading.chart) == text


def test_a_pick_up_of_one_verse_in_free_time() -> None:
    """A verse without a pick-up keeps its words under their chords beside one that has one."""
    text = "== A\nEm G Am\n1: Be- / fore\n2: be- / fore a / gull, / _\n"
    reading = read_chart(Source(text))
    tidy = chart_text(reading.chart)
    assert "1:       Be-    / fore\n" in tidy
    assert read_chart(Source(tidy)).chart == reading.chart
    assert chart_text(read_chart(Source(tidy)).chart) == tidy


@each("symbol", ["E𝄫5", "Ebbno3", "C𝄫5", "Cb5(no5)", "Ebb5", "C7(#9,b9)"])
def test_tidying_twice_is_tidying_once(symbol: str) -> None:
    """The canonical spelling of a power chord on a flat names the same chord when it is read."""
    first = read_chart(Source(f"| {symbol} |\n")).chart
    second = read_chart(Source(chart_text(first))).chart
    assert second == first
    assert chart_text(second) == chart_text(first)
