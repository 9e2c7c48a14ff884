"""The mistakes pydantic reports in a set file, in the words of the trade."""

import re
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from chartkit.book.set_model import (
    GuitarModel,
    PagesModel,
    PlayerModel,
    SetModel,
    SongModel,
    StageModel,
)
from chartkit.book.toml_places import TomlPath, TomlPlace
from chartkit.diagnostics import Diagnostic, Span
from chartkit.phrases import nearest
from chartkit.typed_values import meant_choice

_MODELS: dict[str, type[BaseModel]] = {
    "": SetModel,
    "stage": StageModel,
    "pages": PagesModel,
    "players": PlayerModel,
    "songs": SongModel,
    "guitars": GuitarModel,
}
_HEADERS = {
    "stage": "[stage]",
    "pages": "[pages]",
    "players": "[[players]]",
    "songs": "[[songs]]",
}
_LONG = 60
"""The most letters of a wrong value that a message repeats."""
_LONGEST_REASON = 120
"""The most letters of a reason that a message repeats, since it quotes the value."""
_NUMBERS = {
    "shift": "in half steps, without quotes: 2 for a whole step up, -2 for one down",
    "capo": "its fret, without quotes, or one for each player: capo = { Tobias = 2 }",
}
"""Whole numbers that may be mistaken for words."""
_TEXTS = {
    "key": 'write a note in quotes: key = "B"; half steps are a shift: shift = 2',
    "paper": 'write its name in quotes: paper = "a4"',
}
"""Texts that may be mistaken for numbers."""
_ONE_OF = {"players": "player", "songs": "song", "guitars": "guitar"}
_LINES = {
    ("", "name"): 'name = "Friday"',
    ("", "players"): '[[players]], and under it name = "Tobias"',
    ("", "songs"): '[[songs]], and under it chart = "lantern-road.chart"',
    ("players", "name"): 'name = "Tobias"',
    ("guitars", "name"): 'name = "the cedar guitar"',
    ("songs", "chart"): 'chart = "lantern-road.chart"',
}
_TABLES = {
    "players": "each player stands under a line [[players]], with two brackets",
    "songs": 'each song stands under a line [[songs]], with two brackets: chart = "one.chart"',
    "guitars": 'write guitars = [{ name = "the cedar guitar" }, { name = "the old blue one" }]',
    "stage": "its settings stand under a line [stage]",
    "pages": "what holds for everybody's pages stands under a line [pages]",
    "sat_well": 'write sat_well = { "Lantern Road" = "B" }',
    "short_capos": 'write short_capos = ["2 over strings 5-3"]',
    "sits_out": 'write sits_out = ["Glass Piers", 4]',
}


def set_mistakes(
    reason: ValidationError, places: dict[TomlPath, TomlPlace]
) -> tuple[Diagnostic, ...]:
    """Every mistake, each once, in the order of the file."""
    errors = _foremost(reason, places)
    meant = {_meant(error) for error in errors if error["type"] == "extra_forbidden"}
    diagnostics = [
        _diagnostic(error, places)
        for error in errors
        if error["type"] != "missing" or error["loc"] not in meant
    ]
    return tuple(sorted(dict.fromkeys(diagnostics), key=lambda diagnostic: diagnostic.span.start))


def _foremost(reason: ValidationError, places: dict[TomlPath, TomlPlace]) -> list[ErrorDetails]:
    """The errors without those that only say that a value is not of another allowed kind.

    A value that may be of two kinds gets an error for each: the one deepest inside counts,
    or the first of several at one place.
    """
    errors = reason.errors(include_url=False)
    paths = [_path_in_file(error["loc"], places) for error in errors]
    foremost = []
    for number, (error, path) in enumerate(zip(errors, paths, strict=True)):
        deeper = any(other[: len(path)] == path != other for other in paths)
        if error["type"] == "missing" or not (deeper or path in paths[:number]):
            foremost.append(error)
    return foremost


def _meant(error: ErrorDetails) -> tuple[int | str, ...]:
    """The place of the setting that an unknown name was probably meant to be."""
    *above, name = error["loc"]
    return (*above, _nearest(str(name), _table((*above, name))))


def _diagnostic(error: ErrorDetails, places: dict[TomlPath, TomlPlace]) -> Diagnostic:
    path = _path_in_file(error["loc"], places)
    place = places.get(path, TomlPlace(Span(0, 0), Span(0, 0)))
    if error["type"] == "missing":
        wanted = str(error["loc"][-1])
        table = _table((*path, wanted))
        line = _LINES.get((table, wanted), f"{wanted} = ...")
        at_top = "" if table or line.startswith("[") else "at the top, "
        return Diagnostic(
            "missing",
            "error",
            place.key,
            f'{_whose(path)} has no "{wanted}"',
            (f"add a line {at_top}such as {line}",),
        )
    if error["type"] == "extra_forbidden":
        name = str(error["loc"][-1])
        return Diagnostic(
            "unknown-setting",
            "error",
            place.key,
            f'"{name}" is not a setting here',
            (_near(name, path),),
        )
    span = place.value if isinstance(error["input"], str | int | float) else place.key
    message, hint = _in_words(error, _named(path))
    return Diagnostic("bad-value", "error", span, message, (hint,) if hint else ())


def _path_in_file(location: tuple[int | str, ...], places: dict[TomlPath, TomlPlace]) -> TomlPath:
    """The longest part of an error's path that stands in the file; types are left out."""
    path: TomlPath = ()
    for part in location:
        if (*path, part) in places or not path:
            path = (*path, part)
    return path if path in places else ()


def _whose(path: TomlPath) -> str:
    if not path:
        return "the set"
    numbered = [part for part in path if isinstance(part, int)]
    last = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
    return f"{_ONE_OF.get(last, last)} {numbered[-1] + 1}" if numbered else last


def _named(path: TomlPath) -> str:
    """A setting as it is spoken of: its name, or which entry of a list it is."""
    if path and isinstance(path[-1], int) and len(path) > 1:
        above = str(path[-2])
        return f"{_ONE_OF.get(above, f'{above}, entry')} {path[-1] + 1}"
    return str(path[-1]) if path else "the set"


def _table(path: tuple[int | str, ...]) -> str:
    """The table that a setting stands in, by its name; empty for the set itself."""
    tables = [str(part) for part in path[:-1] if isinstance(part, str) and part in _MODELS]
    return tables[-1] if tables else ""


_OTHER_NAMES = {
    "transpose": "shift",
    "steps": "shift",
    "semitones": "shift",
    "song": "chart",
    "file": "chart",
    "title": "chart",
    "path": "chart",
    "venue": "place",
    "location": "place",
    "where": "place",
    "day": "date",
    "when": "date",
    "band": "players",
    "musicians": "players",
    "setlist": "songs",
    "shows": "reads",
    "prints": "reads",
    "comment": "note",
    "remark": "note",
    "segue": "straight_into_next",
    "interval": "interval_after",
    "break": "interval_after",
    "plays": "instrument",
    "gear": "instrument",
    "voice": "range",
    "sings": "range",
    "sheet": "reads",
    "max_capo": "highest_capo",
    "capo_max": "highest_capo",
    "absent": "sits_out",
    "rests": "sits_out",
    "with": "beside",
    "next_to": "beside",
}
"""Other names for the settings of a set file (common practice, no source)."""


def _nearest(name: str, table: str) -> str:
    names = list(_MODELS[table].model_fields)
    other = _OTHER_NAMES.get(name.lower(), "")
    if other in names:
        return other
    anagrams = (known for known in names if sorted(known) == sorted(name.lower()))
    return nearest(name, names, 0.7) or next(anagrams, "")


def _near(name: str, path: TomlPath) -> str:
    table = _table(path)
    others = [header for other, header in _HEADERS.items() if name in _MODELS[other].model_fields]
    if table and name in SetModel.model_fields:
        return "settings of the whole set go above the first [ ] line"
    if others:
        return f'"{name}" stands under {" or ".join(others)}'
    if near := _nearest(name, table):
        return f'did you mean "{near}"?'
    model = _MODELS[table]
    # What only this table has comes before what concerns pages.
    names = sorted(model.model_fields, key=lambda known: known not in model.__annotations__)
    return f"settings here are {', '.join(names)}"


def _in_words(error: ErrorDetails, name: str) -> tuple[str, str]:
    """What is wrong with a value, and a hint."""
    limits: dict[str, Any] = error.get("ctx", {})
    wrong = error["input"]
    match error["type"]:
        case "literal_error":
            value = f'"{wrong}"' if isinstance(wrong, str) and len(wrong) < _LONG else "this"
            return f"{name} cannot be {value}", _choices(str(limits["expected"]), wrong)
        case "greater_than_equal" | "less_than_equal" | "greater_than":
            side = {"ge": "at least", "le": "at most", "gt": "more than"}
            key = next(key for key in side if key in limits)
            return f"{name} is {wrong}, out of reach", f"it is {side[key]} {limits[key]:g}"
        case "too_short":
            return f"{name} is empty", "list at least one"
        case "string_too_short":
            return f"{name} is empty", "write something between the quotes"
        case "string_too_long":
            return f"{name} is too long", f"it has at most {limits['max_length']} letters"
        case "string_type":
            return f"{name} takes text", _TEXTS.get(name, "put it between quotes")
        case "int_type" | "int_parsing" | "int_from_float":
            plain = _plain_capo(wrong) if name == "capo" else ""
            hint = plain or _NUMBERS.get(name, "write it without quotes")
            return f"{name} takes a whole number", hint
        case "float_type" | "float_parsing":
            return f"{name} takes a number", _number_hint(wrong)
        case "bool_type":
            return f"{name} takes true or false", "write true or false, without quotes"
        case "list_type" | "model_type" | "dict_type":
            return f"{name} cannot be written like this", _TABLES.get(_kind(name), "")
        case "page_option":
            message, _, hint = str(limits["reason"]).partition(": ")
            said = message if len(message) <= _LONGEST_REASON else "it cannot have this value"
            return f"{name}: {said}", hint or str(limits["help"])
        case "unprintable":
            return f"{name} holds a character that cannot be printed", "take it out"
        case kind if kind.startswith("date"):
            return f"{name} takes a date or text", 'write 2026-11-27, or "every Friday" in quotes'
    return f"{name} cannot have this value", "examples/SETS.md explains what goes into a set file"


def _plain_capo(wrong: object) -> str:
    """A hint at the capo that a text means; empty if it means none."""
    text = str(wrong).lower() if isinstance(wrong, str) else ""
    if text in ("best", "plan", "auto"):
        return "take the line out: the plan finds the capo"
    if text in ("none", "no", "no capo", "off"):
        return "without a capo: capo = 0"
    digits = re.fullmatch(r"\D*?(-?\d{1,2})\D*", text)
    return f"write it without quotes: capo = {digits[1]}" if digits else ""


def _number_hint(wrong: object) -> str:
    """How a number is written that was given in another way."""
    digits = re.match(r"\s*(-?\d+(?:\.\d+)?)", str(wrong)[:_LONG])
    return f"write it without quotes: {digits[1]}" if digits else "write it without quotes"


def _choices(expected: str, wrong: object) -> str:
    """A hint for a value that is not one of the choices."""
    choices = expected.replace("'", '"')
    if str(wrong).lower() in ("chord", "chords") and '"sounding"' in choices:
        return f'for chords write "both", "shapes" or "sounding"; the choices are {choices}'
    near = meant_choice(str(wrong), re.findall(r'"(.*?)"', choices))
    return f'did you mean "{near}"? the choices are {choices}' if near else f"write {choices}"


def _kind(name: str) -> str:
    """The table that an entry such as ``player 2`` belongs to; a setting's own name else."""
    return next((many for many, single in _ONE_OF.items() if name.startswith(f"{single} ")), name)
