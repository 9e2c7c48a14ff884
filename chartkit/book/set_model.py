"""What a set file may say, checked by pydantic.  All types are strict: nothing is guessed."""

import datetime
import unicodedata
from math import isfinite
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, create_model
from pydantic_core import PydanticCustomError

from chartkit.advise.stage import StageCosts
from chartkit.arrange.page_look import PAGE_OPTIONS, PageOption
from chartkit.book.set_list import CapoChoice, Reads
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, Capo, parse_capo


def _printable(text: str) -> str:
    """The text itself. Raises for control characters and marks that turn the direction of a
    line."""
    if any(unicodedata.category(c) in ("Cc", "Cs") or c in _TURNING for c in text):
        raise PydanticCustomError("unprintable", "a character cannot be printed")
    return text


def _one_line(text: str) -> str:
    """The text in one line."""
    return _printable(" ".join(text.split()))


def _not_empty(text: str) -> str:
    if not text:
        raise PydanticCustomError("string_too_short", "this is empty")
    return text


_TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""The marks that turn the direction of what follows (Unicode Standard Annex 9)."""

Words = Annotated[str, Field(max_length=200), AfterValidator(_one_line)]
Name = Annotated[Words, AfterValidator(_not_empty)]
File = Annotated[
    str, Field(max_length=1000), AfterValidator(_printable), AfterValidator(_not_empty)
]


def _short_capo(given: Any) -> Any:
    """A short capo from its text; anything else as it is."""
    if not isinstance(given, str) or "string" not in given:
        return given
    try:
        return parse_capo(given)
    except ValueError as reason:
        raise PydanticCustomError("page_option", "{reason}", _said(reason)) from None


def _said(reason: ValueError) -> dict[str, str]:
    return {"reason": str(reason), "help": _SHORT_CAPO_HINT}


def _over_strings(given: Any) -> Any:
    """A short capo from its text, and nothing else."""
    capo = _short_capo(given)
    if not isinstance(capo, Capo):
        reason = ValueError("this is not a short capo")
        raise PydanticCustomError("page_option", "{reason}", _said(reason))
    return capo


_SHORT_CAPO_HINT = 'write its fret and strings, such as "2 over strings 5-3"'
Fret = Annotated[int, Field(ge=-MOST_TUNED_DOWN, le=HIGHEST_CAPO)]
OneCapo = Annotated[Fret | Capo, BeforeValidator(_short_capo)]
"""A fret, with a minus half steps down, or a short capo in quotes."""
ShortCapo = Annotated[Capo, BeforeValidator(_over_strings)]
Seconds = Annotated[float, Field(ge=0, le=3600, strict=False)]
HalfSteps = Annotated[int, Field(ge=0, le=MOST_TUNED_DOWN)]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


SAID_BY_READS = ("show", "reads")
"""The page options that a player's ``reads`` stands for."""
SET_PAGE_OPTIONS = tuple(option for option in PAGE_OPTIONS if option.name not in SAID_BY_READS)
"""The page options that a set file may give, for a player or in [pages] for everybody."""


def _page_value(option: PageOption) -> Any:
    """The type of a page option in a set file; None where the file does not give it."""
    if option.choices:
        return Literal[option.choices] | None
    if option.read is None:
        return bool | None
    read = option.read

    def value(given: Any) -> Any:
        if isinstance(given, bool) or not isinstance(given, str | int | float):
            raise PydanticCustomError("string_type", "text")
        if isinstance(given, float) and not isfinite(given):
            raise PydanticCustomError("float_type", "a number")
        text = _not_empty(_printable(str(given)))
        try:
            return read(text)
        except ValueError as reason:
            said = {"reason": str(reason), "help": option.help.partition(". ")[0]}
            raise PydanticCustomError("page_option", "{reason}", said) from None

    return Annotated[Any, BeforeValidator(value)]


if TYPE_CHECKING:

    class PagesModel(_Strict):
        """The look of pages; every option may be left out."""

else:
    PagesModel = create_model(
        "PagesModel",
        __base__=_Strict,
        **{option.name: (_page_value(option), None) for option in SET_PAGE_OPTIONS},
    )


class GuitarModel(_Strict):
    """A guitar on stage; without a tuning of its own it has the player's."""

    name: Name
    tuning: Words = ""
    tuned_down: HalfSteps = 0


class PlayerModel(PagesModel):
    """One of the band."""

    name: Name
    reads: Reads = "both"
    instrument: Words = ""
    tuning: Words = ""
    range: Words = ""
    sat_well: dict[Name, Name] = Field(default_factory=dict)
    beside: Words = ""
    part: bool = False
    guitars: list[GuitarModel] = Field(default_factory=list)
    highest_capo: Annotated[int, Field(ge=0, le=HIGHEST_CAPO)] | None = None
    short_capos: Annotated[list[ShortCapo], Field(max_length=6)] = Field(default_factory=list)
    tune_down: HalfSteps | None = None
    sits_out: list[Name | int] = Field(default_factory=list)


class SongModel(_Strict):
    """A song of the set."""

    chart: File
    key: Name | None = None
    shift: Annotated[int, Field(ge=-11, le=11)] = 0
    capo: OneCapo | dict[str, OneCapo] = {}
    note: Words = ""
    count_in: Words = ""
    straight_into_next: bool = False
    interval_after: bool = False


_USUAL = StageCosts()


class StageModel(_Strict):
    """Where the band plays, and how long changes take there."""

    place: Literal["live", "studio"] = "live"
    capos: CapoChoice = "plan"
    capo_move_seconds: Seconds = _USUAL.capo_move_seconds
    retune_seconds: Seconds = _USUAL.retune_seconds
    check_seconds: Seconds = _USUAL.check_seconds
    swap_seconds: Annotated[float, Field(gt=0, le=3600, strict=False)] = _USUAL.swap_seconds
    helper: bool = _USUAL.helper


class SetModel(_Strict):
    """A whole set file."""

    name: Name
    date: datetime.date | Words = ""
    place: Words = ""
    stage: StageModel = StageModel()
    pages: PagesModel = PagesModel()
    players: Annotated[list[PlayerModel], Field(min_length=1)]
    songs: Annotated[list[SongModel], Field(min_length=1)]
