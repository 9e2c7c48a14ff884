"""What each reader promises of any input: a value or plain words, never another exception."""

import contextlib
import json
from collections.abc import Callable
from pathlib import Path

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.book.set_file import read_set
from chartkit.chart.moved_sections import typed_chart
from chartkit.diagnostics import Source, as_json, diagnostic_text, has_errors
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.player_shape import why_unusable
from chartkit.incoming import incoming_chart
from chartkit.interchange.chart_json import chart_json, first_difference
from chartkit.interchange.intake_result import IntakeResult, Refused
from chartkit.interchange.pdf_text.read import read_pdf
from chartkit.interchange.read_lead_sheet import read_lead_sheet
from chartkit.interchange.recognise import format_of
from chartkit.syntax.reader import chart_or_none, read_chart
from chartkit.syntax.symbol import NotAChord, chord_or_none, read_symbol
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import parse_key
from chartkit.theory.note import parse_note
from chartkit.theory.pitch import parse_range
from chartkit.theory.quality import BY_SPELLING
from chartkit.theory.shape_text import parse_shape, shape_text

C_MAJOR = Chord(parse_note("C"), BY_SPELLING[""])


def chart(text: str) -> bool:
    """A chart reads, its mistakes can be shown; what is right is written back the same."""
    source = Source(text)
    reading = read_chart(source)
    for diagnostic in reading.diagnostics:
        assert 0 <= diagnostic.span.start <= diagnostic.span.end <= len(text)
        assert len(diagnostic_text(diagnostic, source).splitlines()) == 3 + len(diagnostic.hints)
        as_json(diagnostic, source)
    if has_errors(reading.diagnostics):
        return False
    arrange(reading.chart, View(capo=Capo(2)))
    tidy = chart_text(reading.chart)
    again = read_chart(Source(tidy))
    assert not has_errors(again.diagnostics), (tidy, again.diagnostics)
    assert again.chart == reading.chart, tidy
    assert chart_text(again.chart) == tidy
    return True


def symbol(text: str) -> bool:
    """A chord symbol is a chord, or the stretch that is wrong lies in it."""
    parsed = read_symbol(text)
    if isinstance(parsed, NotAChord):
        assert 0 <= parsed.start <= parsed.end <= max(1, len(text)), parsed
        return False
    assert read_symbol(str(parsed)) == parsed
    return True


def shape(text: str) -> bool:
    """A shape reads and prints back, and the guitar tells whether it can be played."""
    try:
        frets = parse_shape(text)
    except ValueError:
        return False
    assert parse_shape(shape_text(frets)) == frets
    with contextlib.suppress(ValueError):
        why_unusable(GUITAR, C_MAJOR, frets)
    return True


def tuning(text: str) -> bool:
    """An instrument is known, or a tuning, or said to be none."""
    try:
        instrument = instrument_named(text)
    except ValueError:
        return False
    assert instrument.strings
    return True


def sung_range(text: str) -> bool:
    """A range prints back as it was meant."""
    try:
        parsed = parse_range(text)
    except ValueError:
        return False
    assert parse_range(str(parsed)) == parsed
    return True


def key(text: str) -> bool:
    """A key prints back as it was meant."""
    try:
        parsed = parse_key(text)
    except ValueError:
        return False
    assert parse_key(str(parsed)) == parsed
    return True


def set_file(text: str) -> bool:
    """A set file reads, and its mistakes can be shown."""
    source = Source(text)
    reading = read_set(source, Path("/nowhere"))
    for diagnostic in reading.diagnostics:
        diagnostic_text(diagnostic, source)
    return reading.set_list is not None


MISFITS = {"meter-does-not-fit", "other-mode", "too-much-moved"}
"""Mistakes of sections that come again in another key or meter."""


def _taken(data: bytes) -> IntakeResult:
    """What is taken from a file; a PDF is opened here, not in a process of its own."""
    if format_of(data) == "pdf":
        return read_pdf(data, chord_or_none, chart_or_none, apart=lambda work, one: work(one))
    return read_lead_sheet(data, chord_or_none, None, chart_or_none)


def incoming(data: bytes) -> bool:
    """Any file is a chart that reads back, without a mistake, or is refused in one clear line."""
    try:
        result = _taken(data)
    except Refused as reason:
        assert "\n" not in str(reason)
        return False
    text = chart_text(result.chart)
    reading = read_chart(Source(text))
    if any(one.code in MISFITS for one in reading.diagnostics):
        # A section that comes again in a meter or key that its bars cannot have: readers of other
        # formats do not know these rules, and the row becomes a comment before it is given out.
        text = incoming_chart(data).text
        assert not has_errors(read_chart(Source(text)).diagnostics), text
        return True
    assert not has_errors(reading.diagnostics), (text, reading.diagnostics)
    assert typed_chart(reading.chart) == typed_chart(result.chart), text
    return True


def data_chart(text: str) -> bool:
    """JSON is the chart that it says, or is refused in one line with a path."""
    try:
        made = incoming_chart(text.encode("utf-8", "replace"))
    except Refused:
        return False
    if made.format != "JSON":
        return False
    reading = read_chart(Source(made.text))
    assert not has_errors(reading.diagnostics)
    again = chart_json(reading.chart)
    assert first_difference(json.loads(text), again, frozenset({"span"})) is None
    return True


READERS: dict[str, Callable[[str], bool]] = {
    "chart": chart,
    "symbol": symbol,
    "shape": shape,
    "tuning": tuning,
    "range": sung_range,
    "key": key,
    "set": set_file,
    "json": data_chart,
}
"""Every reader of text, by the name the fuzzer calls it; each says whether it took the text."""
