"""Reads a set file: TOML to a set, with every mistake at its place."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from chartkit.book.named_songs import named_songs
from chartkit.book.set_from_model import Places, set_from
from chartkit.book.set_list import SetList
from chartkit.book.set_mistakes import set_mistakes
from chartkit.book.set_model import PlayerModel, SetModel, SongModel
from chartkit.book.set_rules import BrokenRule, SetParts, mistakes_in
from chartkit.book.toml_places import TomlPath, TomlPlace, toml_places
from chartkit.book.toml_reading import read_toml
from chartkit.book.tonights_band import tonights_band
from chartkit.diagnostics import Diagnostic, Source

Model = TypeVar("Model", bound=BaseModel)
_MAY_FOLLOW = ("missing", "no-instrument")
"""Mistakes that may only follow from a line that could not be read, and are left out then."""


@dataclass(frozen=True, slots=True)
class SetReading:
    """A set file as read: the set (None if it has errors) and every mistake except one kind.

    Whether a song sat out is in the set is known when the charts are read; ``named`` is
    what is needed for that where there are errors, None where that is unknown.
    """

    set_list: SetList | None
    diagnostics: tuple[Diagnostic, ...]
    named: SetList | None = None
    said: tuple[str, ...] = ()


def read_set(source: Source, folder: Path, without: Sequence[str] = ()) -> SetReading:
    """The set of a text whose charts lie in a folder, with all its mistakes.

    The sound parts are checked by the rules of a set even if other parts are not.  ``without``
    names players who cannot come tonight; ``said`` says then what others play instead.
    Raises UnknownPlayer for a name that is not in a sound set.
    """
    toml = read_toml(source)
    places = toml_places(toml.text)
    model, mistakes = _model(toml.values, places)
    parts = _sound_parts(toml.values)
    if model is None or toml.diagnostics:
        parts = SetParts(parts.players, parts.songs, whole=False)
    mistakes += tuple(_diagnostics(mistakes_in(parts, folder), places))
    if toml.diagnostics:
        mistakes = tuple(mistake for mistake in mistakes if mistake.code not in _MAY_FOLLOW)
    every = (*toml.diagnostics, *mistakes)
    if model is None or every:
        mistakes = tuple(sorted(every, key=lambda mistake: mistake.span.start))
        named = named_songs(toml.values, folder, _spans(places))
        # Of a line that could not be read nobody knows whether it began a song.
        return SetReading(None, mistakes, None if toml.diagnostics else named)
    band = tonights_band(model, without)
    return SetReading(set_from(model, folder, _spans(places), band), (), said=band.said)


def _model(
    values: dict[str, Any], places: dict[TomlPath, TomlPlace]
) -> tuple[SetModel | None, tuple[Diagnostic, ...]]:
    try:
        return SetModel.model_validate(values), ()
    except ValidationError as reason:
        return None, set_mistakes(reason, places)


def _sound_parts(values: dict[str, Any]) -> SetParts:
    """The players and songs that are in order by themselves, by their number from 0."""
    return SetParts(
        _sound(PlayerModel, values.get("players")), _sound(SongModel, values.get("songs"))
    )


def _sound(kind: type[Model], entries: object) -> dict[int, Model]:
    models = dict[int, Model]()
    for number, entry in enumerate(entries if isinstance(entries, list) else ()):
        sound = _sound_part(kind, entry)
        if sound is not None:
            models[number] = sound
    return models


_INSTRUMENTS = {"instrument", "tuning", "guitars"}
"""The settings that say what a player plays."""


def _sound_part(kind: type[Model], entry: object) -> Model | None:
    """An entry without its wrong settings; None if one of them is required.

    A player with an unknown reading, or without an instrument because of a mistake, is treated as a
    reader of words, who needs none.
    """
    try:
        return kind.model_validate(entry)
    except ValidationError as reason:
        if not isinstance(entry, dict):
            return None
        wrong = {error["loc"][0] for error in reason.errors(include_url=False) if error["loc"]}
    kept = {name: value for name, value in entry.items() if name not in wrong}
    if kind is PlayerModel and ("reads" in wrong or not _INSTRUMENTS & kept.keys()):
        kept["reads"] = "words"
    try:
        return kind.model_validate(kept)
    except ValidationError:
        return None


def _spans(places: dict[TomlPath, TomlPlace]) -> Places:
    return Places({path: place.value for path, place in places.items()})


def _diagnostics(
    mistakes: Iterator[BrokenRule], places: dict[TomlPath, TomlPlace]
) -> Iterator[Diagnostic]:
    spans, keys = _spans(places), Places({path: place.key for path, place in places.items()})
    for mistake in mistakes:
        span = (keys if mistake.code == "unknown-player" else spans).at(*mistake.path)
        yield Diagnostic(
            mistake.code, "error", span, mistake.message, (mistake.hint,) if mistake.hint else ()
        )
