"""Ties of silence in a file become no holds of silence in a chart."""

import pytest

from chartkit.chart.model import Bar, MusicRow
from chartkit.diagnostics import Source
from chartkit.interchange.silence import without_held_silence
from chartkit.syntax.reader import read_chart


def bars(text: str) -> list[Bar]:
    """The bars of a text, whatever is wrong with it."""
    rows = [row for section in read_chart(Source(text)).chart.sections for row in section.rows]
    return [bar for row in rows if isinstance(row, MusicRow) for bar in row.bars]


@pytest.mark.parametrize(
    ("tied", "written"),
    [
        ("C! _ / F", "C! / / F"),
        ("C! _,F / /", "C! /,F / /"),
        ("N.C. / _ C", "N.C. / / C"),
        ("C! _ _ _", "C! / / /"),
        ("C!,_,_,F / C _", "C!,_,_,F / C _"),
        ("C!~ _ / F", "C!~ _ / F"),
        ("C!,/ _ / F", "C!,/ _ / F"),
    ],
)
def test_a_beat_that_begins_with_a_hold_of_silence_has_a_slash(tied: str, written: str) -> None:
    """Whole beats lose the hold, split ones have a slash in its place, and all else stays."""
    assert without_held_silence(bars(f"| {tied} |")[0], False)[0] == bars(f"| {written} |")[0]


@pytest.mark.parametrize(
    ("before", "silent"), [("C! / / /", True), ("rest 2", True), ("N.C.", True), ("C", False)]
)
def test_silence_lasts_over_the_bar_line(before: str, silent: bool) -> None:
    """What a bar ends in decides on a hold at the start of the next."""
    first, second = bars(f"| {before} | _ F / / |")
    assert without_held_silence(first, False) == (first, silent)
    assert without_held_silence(second, silent)[0].holds == (() if silent else (0,))
