"""The edits of a chart's text that a control of the desk makes: giving a setting a value.

An edit is a stretch of the text and what is written in its place, so that the text pane can
type it and undo takes it back.
"""

import re

from chartkit.chart.model import REPEATABLE, Chart, GivenShape, SettingRow
from chartkit.desk.pages import Facts, SongText, song_of_text
from chartkit.desk.requests import SettingRequest
from chartkit.diagnostics import Span
from chartkit.syntax.settings import setting_value
from chartkit.theory.pitch import PitchRange

_VALUE = re.compile(r"(\s*[^:\s][^:]*:[ \t]*)(.*?)([ \t]+(?<!\\)#.*|[ \t]*)$", re.DOTALL)
"""A row's name, its value, and a comment after it."""


def with_setting(request: SettingRequest) -> Facts:
    """The edit of ``setting_edit`` as plain values: ``start``, ``end`` and the ``text`` typed."""
    (start, end), typed = setting_edit(request)
    return {"start": start, "end": end, "text": typed}


def setting_edit(request: SettingRequest) -> tuple[Span, str]:
    """The edit that gives a setting a value: the stretch to replace, and its replacement.

    It goes into its row if there is one, else into a row of its own after the others.  An empty
    value, and a shape's chord alone, takes the row out.

    Raises ValueError for a value that the setting cannot have.
    """
    song = song_of_text(request.text)
    text, chart = song.text, song.chart
    takes_out = not request.value or (request.name == "shape" and " " not in request.value)
    value = request.value if takes_out else _checked(request)
    span = _row(chart, request) or _unread_row(song, request)
    if span is not None:
        start, end = span
        if takes_out:
            return Span(start, min(len(text), end + 1)), ""
        match = _VALUE.fullmatch(text[start:end])
        if match is not None:
            return Span(start + match.start(2), start + match.end(2)), value
    if takes_out:
        return Span(0, 0), ""
    rows = [row for row in chart.top if isinstance(row, SettingRow)]
    place = min(len(text), rows[-1].span.end) if rows else 0
    line = f"{request.name}: {value}"
    return Span(place, place), f"\n{line}" if rows else f"{line}\n"


def with_capo(text: str, capo: int | str) -> str:
    """The chart's text with the capo at its top; one that leaves the choice open stays as it is."""
    if song_of_text(text).chart.wants_best_capo:
        return text
    (start, end), typed = setting_edit(SettingRequest(text=text, name="capo", value=str(capo)))
    return f"{text[:start]}{typed}{text[end:]}"


def _checked(request: SettingRequest) -> str:
    """The value as it is written; a range that was typed as it is said, as notes."""
    value = setting_value(request.name, request.value)
    return str(value) if isinstance(value, PitchRange) else request.value


def _row(chart: Chart, request: SettingRequest) -> Span | None:
    """Where the row stands that the value goes into: for a shape that of the same chord."""
    chord = request.value.partition(" ")[0]
    for row in chart.top:
        if not isinstance(row, SettingRow) or row.name != request.name:
            continue
        if not isinstance(row.value, GivenShape) or str(row.value.chord) == chord:
            return row.span
    return None


def _unread_row(song: SongText, request: SettingRequest) -> Span | None:
    """Where a row of that name stands whose value is refused, which the chart leaves out."""
    if request.name in REPEATABLE:
        return None
    named = re.compile(rf"[ \t]*{request.name}[ \t]*:[^\n]*", re.IGNORECASE | re.MULTILINE)
    for mistake in song.reading.diagnostics:
        start = song.text.rfind("\n", 0, mistake.span.start) + 1
        row = named.match(song.text, start)
        if row is not None and mistake.span.end <= row.end():
            return Span(start, row.end())
    return None
