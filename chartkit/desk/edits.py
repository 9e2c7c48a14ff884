"""The edits of a chart's text that a control of the desk makes: giving a setting a value.

An edit is a stretch of the text and what is written in its place, so that the text pane can
type it and undo takes it back.
"""

import re

from chartkit.chart.model import Chart, GivenShape, SettingRow
from chartkit.desk.pages import Facts, song_of_text
from chartkit.desk.wishes import SettingWish
from chartkit.diagnostics import Span
from chartkit.theory.shape_text import parse_shape

_VALUE = re.compile(r"(\s*[^:\s][^:]*:[ \t]*)(.*?)([ \t]+(?<!\\)#.*|[ \t]*)$", re.DOTALL)
"""A row's name, its value, and a comment behind it."""


def with_setting(wish: SettingWish) -> Facts:
    """The edit that gives a setting a value: in its row if it has one, else in a row of its own
    after the others.  An empty value, and a shape's chord alone, takes the row out.

    Raises ValueError for a text that is not a shape.
    """
    text = song_of_text(wish.text).text
    chart = song_of_text(wish.text).chart
    row, takes_out = _row(chart, wish), not wish.value
    if wish.name == "shape":
        takes_out = " " not in wish.value
    if row is not None:
        start, end = row.span
        if takes_out:
            return _edit(Span(start, min(len(text), end + 1)), "")
        match = _VALUE.fullmatch(text[start:end])
        if match is not None:
            return _edit(Span(start + match.start(2), start + match.end(2)), wish.value)
    if takes_out:
        return _edit(Span(0, 0), "")
    rows = [one for one in chart.top if isinstance(one, SettingRow)]
    place = min(len(text), rows[-1].span.end) if rows else 0
    line = f"{wish.name}: {wish.value}"
    return _edit(Span(place, place), f"\n{line}" if rows else f"{line}\n")


def _edit(span: Span, typed: str) -> Facts:
    return {"start": span.start, "end": span.end, "text": typed}


def _row(chart: Chart, wish: SettingWish) -> SettingRow | None:
    """The row that the value goes into: for a shape that of the same chord."""
    rows = [one for one in chart.top if isinstance(one, SettingRow) and one.name == wish.name]
    if wish.name == "shape":
        chord, _, frets = wish.value.partition(" ")
        if frets:
            parse_shape(frets)
        rows = [
            row
            for row in rows
            if isinstance(row.value, GivenShape) and str(row.value.chord) == chord
        ]
    return next(iter(rows), None)
