"""Ties of silence in a file become no holds of silence in a chart."""

from chartkit.chart.model import Bar, MusicRow
from chartkit.diagnostics import Source
from chartkit.interchange.held_rests import Silence, without_held_silence
from chartkit.syntax.reader import read_chart
from tests.each import each


def bars(text: str) -> list[Bar]:
    """The bars of a text, whatever is wrong with it."""
    rows = [row for section in read_chart(Source(text)).chart.sections for row in section.rows]
    return [bar for row in rows if isinstance(row, MusicRow) for bar in row.bars]


@each(
    ("tied", "written"),
    [
        ("C! _ / F", "C! / / F"),
        ("C! _,F / /", "C! /,F / /"),
        ("N.C. / _ C", "N.C. / / C"),
        ("C! _ _ _", "C! / / /"),
        ("C!,_,_,F / C _", "C!,_,_,F / C _"),
        ("C!~ _ / F", "C!~ _ / F"),
        ("C!,/ _ / F", "C!,/ _ / F"),
        ("N.C.,/ _ / F", "N.C.,/ / / F"),
        ("C r _ F", "C r / F"),
        ("C r / _", "C r / _"),
        ("C,x _,/ F,r _", "C,x /,/ F,r /"),
    ],
)
def test_a_beat_that_begins_with_a_hold_of_silence_has_a_slash(tied: str, written: str) -> None:
    """Whole beats lose the hold, split ones have a slash in its place, and all else stays."""
    assert without_held_silence(bars(f"| {tied} |")[0], "")[0] == bars(f"| {written} |")[0]


@each(
    ("before", "silence"),
    [("C! / / /", "stop"), ("rest 2", "rest"), ("N.C.", "none"), ("C / / x", "rest"), ("C", "")],
)
def test_silence_lasts_over_the_bar_line(before: str, silence: Silence) -> None:
    """What a bar ends in decides on a hold at the start of the next."""
    first, second = bars(f"| {before} | _ F / / |")
    assert without_held_silence(first, "") == (first, silence)
    assert without_held_silence(second, silence)[0].holds == (() if silence else (0,))
