"""The set file: TOML to a set, with every mistake told at its place."""

import re
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from chartkit.book.set_list import SetList
from chartkit.book.set_model import GuitarModel, PlayerModel, SetModel, SongModel, StageModel
from chartkit.book.set_rules import Places, mistakes_in, set_from
from chartkit.book.toml_places import Path as TomlPath
from chartkit.book.toml_places import Place, toml_places
from chartkit.diagnostics import Diagnostic, Source, Span, has_errors

_TOML_PLACE = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)
_MODELS: dict[str, type[BaseModel]] = {
    "": SetModel, "stage": StageModel, "players": PlayerModel, "songs": SongModel,
    "guitars": GuitarModel,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SetReading:
    """A set file as read: the set, None where it has errors, and every mistake."""

    set_list: SetList | None
    diagnostics: tuple[Diagnostic, ...]


def read_set(source: Source, folder: Path) -> SetReading:
    """The set of a text whose charts lie in a folder, with all its mistakes."""
    try:
        values = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as reason:
        return SetReading(None, (_not_toml(str(reason), source),))
    places = toml_places(source.text)
    try:
        model = SetModel.model_validate(values)
    except ValidationError as reason:
        found = [_told(error, places) for error in _foremost(reason, places)]
        return SetReading(None, tuple(dict.fromkeys(found)))
    spans = Places({path: place.value for path, place in places.items()})
    keys = Places({path: place.key for path, place in places.items()})
    diagnostics = tuple(
        Diagnostic(
            one.code, "error", (keys if one.code == "unknown-player" else spans).at(*one.path),
            one.message, (one.hint,) if one.hint else (),
        )
        for one in mistakes_in(model, folder)
    )  # fmt: skip
    if has_errors(diagnostics):
        return SetReading(None, diagnostics)
    return SetReading(set_from(model, folder, spans), diagnostics)


def _not_toml(reason: str, source: Source) -> Diagnostic:
    found = _TOML_PLACE.fullmatch(reason)
    at = len(source.text.rstrip())
    if found is not None and found[2]:
        at = source.line_span(int(found[2])).start + int(found[3]) - 1
    message = (found[1] if found is not None else reason).rstrip(".")
    hint = "text stands in quotes, and a list between [ and ]"
    return Diagnostic("not-toml", "error", Span(at, at + 1), message[:1].lower() + message[1:],
                      (hint,))  # fmt: skip


# ---- what pydantic found, in our words
def _foremost(reason: ValidationError, places: dict[TomlPath, Place]) -> list[ErrorDetails]:
    """The errors without those that only say that a value is not of another allowed kind.

    A value that may be of two kinds gets an error for each: the one deepest inside counts,
    or the first of several at one place.
    """
    errors = reason.errors(include_url=False)
    paths = [_path_in_file(error["loc"], places) for error in errors]
    found = []
    for number, (error, path) in enumerate(zip(errors, paths, strict=True)):
        deeper = any(other[: len(path)] == path != other for other in paths)
        if error["type"] == "missing" or not (deeper or path in paths[:number]):
            found.append(error)
    return found


def _told(error: ErrorDetails, places: dict[TomlPath, Place]) -> Diagnostic:
    path = _path_in_file(error["loc"], places)
    place = places.get(path, Place(Span(0, 0), Span(0, 0)))
    name = str(path[-1]) if path else "the set"
    missing, extra = error["type"] == "missing", error["type"] == "extra_forbidden"
    span = place.key if extra or not isinstance(error["input"], str | int | float) else place.value
    if missing:
        wanted = str(error["loc"][-1])
        return Diagnostic(
            "missing",
            "error",
            place.key,
            f'{_whose(path)} has no "{wanted}"',
            (f"add a line such as {_LINES.get(wanted, f'{wanted} = ...')}",),
        )
    if extra:
        return Diagnostic("unknown-setting", "error", span, f'"{name}" is not a setting here',
                          (_near(name, path),))  # fmt: skip
    message, hint = _in_words(error, name)
    return Diagnostic("bad-value", "error", span, message, (hint,) if hint else ())


_LINES = {
    "name": 'name = "Friday"', "players": "[[players]]", "songs": "[[songs]]",
    "chart": 'chart = "lantern-road.chart"',
}  # fmt: skip


def _path_in_file(location: tuple[int | str, ...], places: dict[TomlPath, Place]) -> TomlPath:
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
    names = {"players": "player", "songs": "song", "guitars": "guitar"}
    last = next((str(part) for part in reversed(path) if isinstance(part, str)), "")
    return f"{names.get(last, last)} {numbered[-1] + 1}" if numbered else last


def _near(name: str, path: TomlPath) -> str:
    tables = [str(part) for part in path[:-1] if isinstance(part, str) and part in _MODELS]
    known = list(_MODELS[tables[-1] if tables else ""].model_fields)
    near = get_close_matches(name.lower(), known, 1, 0.6)
    return f'did you mean "{near[0]}"?' if near else f"settings here are {', '.join(known)}"


def _in_words(error: ErrorDetails, name: str) -> tuple[str, str]:
    """What is wrong with a value, and a hint."""
    limits: dict[str, Any] = error.get("ctx", {})
    given = error["input"]
    match error["type"]:
        case "literal_error":
            return f'{name} cannot be "{given}"', f"write {limits['expected']}"
        case "greater_than_equal" | "less_than_equal" | "greater_than":
            side = {"ge": "at least", "le": "at most", "gt": "more than"}
            key = next(key for key in side if key in limits)
            return f"{name} is {given}, out of reach", f"it is {side[key]} {limits[key]}"
        case "too_short":
            return f"{name} is empty", "list at least one"
        case "string_too_short":
            return f"{name} is empty", "write something between the quotes"
        case "string_type":
            return f"{name} is text", "put it between quotes"
        case "int_type" | "int_parsing":
            return f"{name} is a whole number", "write it without quotes"
        case "bool_type":
            return f"{name} is true or false", "write it without quotes, in small letters"
    return f"{name}: {error['msg'][:1].lower()}{error['msg'][1:]}", ""
