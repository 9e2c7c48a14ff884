"""A chart as JSON, out and in.

pydantic checks the form.  What it lets pass, and what a form cannot say, is checked here:
values that it would convert, names it does not know, and values by themselves (a quality that
does not have the degrees given, a key with nine sharps).  What only the language can tell, such
as whether a strike stands on a beat, the caller tells by writing the chart and reading it again
(``chartkit/incoming.py``); ``first_difference`` finds the place.
"""

import json
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from chartkit.chart.model import (
    LONGEST_REST,
    TICKS_PER_BEAT,
    Bar,
    Chart,
    CommentRow,
    CueRow,
    GivenShape,
    Meter,
    MusicRow,
    SettingRow,
    WordsRow,
)
from chartkit.chart.walk import iter_rows
from chartkit.interchange.intake_result import Findings, IntakeResult, Refused
from chartkit.theory.chord import Chord
from chartkit.theory.key import MODES, Key
from chartkit.theory.pitch import PitchRange
from chartkit.theory.quality import BY_SPELLING, quality_with

# What JSON may hold: a song of two hundred bars has 100 kB and 3,000 objects; ours.
_MOST_BYTES = 8_000_000
_MOST_OBJECTS = 100_000
_MOST_VALUES = 500_000
_NO_CHART = "this is JSON, but not a chart: "
_NOTES = range(-15, 20)
"""F double flat to B double sharp, on the line of fifths."""
_MOST_SIGNS = 7
_MOST_BEATS = 100
"""More than any meter has; a bar is written beat by beat."""
_LONGEST_QUALITY = 40
"""As many letters as a symbol may have that is read."""
_ROWS = {
    "bars": MusicRow,
    "cells": WordsRow,
    "name": SettingRow,
    "text": CueRow,
    "comment": CommentRow,
}
"""What a row is, by the first of these names that it has."""
JsonPath = tuple[str | int, ...]


@cache
def _adapter(of: Any = Chart) -> TypeAdapter[Any]:
    return TypeAdapter(of)


def chart_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a chart."""
    schema = _adapter().json_schema(mode="serialization")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A chart",
        **schema,
        "properties": {"generator": _GENERATOR, **schema["properties"]},
    }


_GENERATOR = {"type": "string", "title": "Generator", "description": "The program that wrote it"}


def chart_json(chart: Chart) -> Any:
    """The chart as plain values, in the form of ``chart_schema``."""
    return _adapter().dump_python(chart, mode="json")


def read_json(data: bytes) -> IntakeResult:
    """The chart of a JSON document.  Raises Refused, with the path, for JSON that is no chart."""
    if len(data) > _MOST_BYTES:
        raise Refused(f"this JSON is too large for a chart: more than {_MOST_BYTES:,} bytes")
    if data.count(b"{") > _MOST_OBJECTS or data.count(b",") > _MOST_VALUES:
        raise Refused("this JSON holds more values than a chart can")
    try:
        chart = chart_from_json(data)
    except ValueError as reason:
        raise Refused(f"{_NO_CHART}{reason}") from None
    if not any(isinstance(row, MusicRow | WordsRow) for row in iter_rows(chart.sections)):
        raise Refused("this is a chart as JSON, but there is no music in it")
    findings = Findings()
    findings.sure("read", "a chart as data")
    return IntakeResult(chart, tuple(findings.collected), "JSON")


def chart_from_json(data: bytes) -> Chart:
    """The chart that JSON in the form of ``chart_schema`` holds.

    Raises ValueError, in one line that begins with the path, for JSON that does not have that
    form or holds a value that no chart has.
    """
    try:
        given = json.loads(data, object_pairs_hook=_each_name_once, parse_constant=_no_number)
        if not isinstance(given, dict) or not given.get("sections"):
            raise ValueError('it has no "sections"')
        if not isinstance(given.pop("generator", ""), str):
            raise ValueError("generator: this should be a string")
        chart: Chart = _adapter().validate_json(data)
    except ValidationError as reason:
        raise ValueError(_first_error(reason)) from None
    except RecursionError:
        raise ValueError("it is nested too deep") from None
    changed = first_difference(given, chart_json(chart))
    if changed is not None:
        raise ValueError(_misread(given, changed))
    for path, message in _senseless(chart, ()):
        raise ValueError(f"{path_text(path)}: {message}")
    return chart


def path_text(path: JsonPath) -> str:
    """A path as it is printed: ``sections.0.rows.2.bars.1``."""
    return ".".join(_name(part) for part in path) or "the whole"


def _name(part: str | int) -> str:
    return str(part) if str(part).isidentifier() or isinstance(part, int) else _quoted(part)


def _quoted(value: object) -> str:
    """The beginning of a value as JSON has it, all in ASCII."""
    return json.dumps(value, ensure_ascii=True)[:40]


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    fields = dict(pairs)
    if len(fields) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise ValueError(f"a name stands twice in one object: {_quoted(twice)}")
    return fields


def _no_number(name: str) -> Any:
    raise ValueError(f"{name} is not a JSON number")


_WORDS = {
    "missing": "this is missing",
    "tuple_type": "this should be an array",
    "dataclass_type": "this should be an object",
    "string_type": "this should be a string",
    "int_type": "this should be a whole number",
    "int_parsing": "this should be a whole number",
    "int_from_float": "this should be a whole number",
    "int_parsing_size": "this number is too large",
    "bool_type": "this should be true or false",
    "bool_parsing": "this should be true or false",
    "none_required": "this should be null",
}
"""pydantic's types of errors in the terms of JSON."""


def _first_error(reason: ValidationError, before: JsonPath = ()) -> str:
    """The error that lies deepest, since a value that may be one of several kinds has an error
    for each."""
    first = max(reason.errors(include_url=False), key=lambda error: len(error["loc"]))
    kinds = {"MusicRow", "WordsRow", "SettingRow", "CueRow", "CommentRow", "BlankRow"}
    path = (*before, *(part for part in first["loc"] if part not in kinds))
    words = _WORDS.get(first["type"]) or first["msg"][:80].lower()
    return f"{path_text(path[:10])}: {words}"


def _misread(given: Any, path: JsonPath) -> str:
    """Why something given is not in the chart as it was given."""
    at, row = given, None
    for number, part in enumerate(path[:-1], 1):
        at = at[part]
        if number > 1 and path[number - 2] in ("rows", "top") and isinstance(at, dict):
            row = number
    if row is not None:
        value = given
        for part in path[:row]:
            value = value[part]
        kind = next((_ROWS[name] for name in _ROWS if name in value), None)
        if kind is not None:
            try:
                _adapter(kind).validate_python(value)
            except ValidationError as reason:
                return _first_error(reason, path[:row])
    return f"{path_text(path)}: {_quoted(at[path[-1]])} does not belong there"


def first_difference(
    given: Any, made: Any, ignored: frozenset[str] = frozenset()
) -> JsonPath | None:
    """The path to the first value that is given and is another, or none, in what was made;
    None where all is the same.  What is made and not given does not count."""
    stack: list[tuple[JsonPath, Any, Any]] = [((), given, made)]
    while stack:
        path, one, other = stack.pop()
        if type(one) is not type(other):
            return path
        if isinstance(one, dict):
            missing = next((name for name in one if name not in other), None)
            if missing is not None:
                return (*path, missing)
            names = [name for name in one if name not in ignored]
            stack += [((*path, name), one[name], other[name]) for name in reversed(names)]
        elif isinstance(one, list):
            if len(one) != len(other):
                return path
            pairs = list(zip(one, other, strict=True))
            stack += [((*path, i), *pair) for i, pair in reversed(list(enumerate(pairs)))]
        elif one != other:
            return path
    return None


def _senseless(value: object, path: JsonPath) -> Iterator[tuple[JsonPath, str]]:
    """Values that have the right form and that no chart can have, with their paths."""
    yield from ((path, message) for message in _complaints(value))
    if isinstance(value, tuple):
        for number, one in enumerate(value):
            yield from _senseless(one, (*path, number))
    elif is_dataclass(value):
        for field in fields(value):
            yield from _senseless(getattr(value, field.name), (*path, field.name))


def _complaints(value: object) -> Iterator[str]:
    if isinstance(value, Chord):
        yield from _chord_complaints(value)
    elif isinstance(value, Key):
        if value.mode not in MODES:
            yield f"{_quoted(value.mode)} is not a mode"
        elif abs(value.signature) > _MOST_SIGNS:
            yield f"a key has at most {_MOST_SIGNS} signs"
    elif isinstance(value, PitchRange):
        if value.lowest.note not in _NOTES or value.highest.note not in _NOTES:
            yield "a note has at most two sharps or flats"
    elif isinstance(value, MusicRow):
        if value.lines and len(value.lines) != len(value.bars) + 1:
            yield f"{len(value.bars)} bars stand between {len(value.bars) + 1} bar lines"
        elif not value.lines and len(value.bars) != 1:
            yield "a row without bar lines is one bar in free time"
    elif isinstance(value, Bar):
        if not 0 <= value.rest <= LONGEST_REST:
            yield f"a rest lasts at most {LONGEST_REST} bars"
        elif value.simile not in (0, 1, 2):
            yield "a bar repeats one bar or two"
        elif not 0 <= value.length <= _MOST_BEATS * TICKS_PER_BEAT * value.lasts:
            yield f"a bar has at most {_MOST_BEATS} beats"
    elif isinstance(value, Meter):
        if value.count < 1 or value.unit < 1:
            yield "both numbers of a meter are above zero"
    elif isinstance(value, GivenShape) and not value.frets:
        yield "a shape has a fret for each string"


def _chord_complaints(chord: Chord) -> Iterator[str]:
    notes = (chord.root,) if chord.bass is None else (chord.root, chord.bass)
    if any(note not in _NOTES for note in notes):
        yield "a note has at most two sharps or flats"
    given, degrees = chord.quality, frozenset(chord.quality.degrees)
    known = BY_SPELLING.get(given.text), quality_with(degrees, _LONGEST_QUALITY)
    same = next((one for one in known if one is not None and one.text == given.text), None)
    if same is None or same.degrees != given.degrees:
        yield f"{_quoted(given.text)} is not the chord quality of {_quoted(given.degrees)}"
    elif same.omissible != given.omissible:
        yield f"{_quoted(given.text)} may not leave out {_quoted(given.omissible)}"
