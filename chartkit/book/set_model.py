"""What a set file may say, checked by pydantic.  Everything it says is strict: no guessing."""

import datetime
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from chartkit.book.set_list import CapoChoice, Reads
from chartkit.chart.model import HIGHEST_CAPO, LOWEST_CAPO
from chartkit.layout.style import PaperName

Name = Annotated[str, Field(min_length=1, max_length=200)]
Fret = Annotated[int, Field(ge=LOWEST_CAPO, le=HIGHEST_CAPO)]
Seconds = Annotated[float, Field(ge=0, le=3600, strict=False)]
HalfSteps = Annotated[int, Field(ge=0, le=-LOWEST_CAPO)]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class GuitarModel(_Strict):
    """A guitar on stage."""

    name: Name
    tuning: str = "guitar"
    tuned_down: HalfSteps = 0


class PlayerModel(_Strict):
    """One of the band."""

    name: Name
    reads: Reads = "both"
    instrument: str = ""
    tuning: str = ""
    guitars: list[GuitarModel] = []
    highest_capo: Annotated[int, Field(ge=0, le=HIGHEST_CAPO)] = 7
    tune_down: HalfSteps = 2
    paper: PaperName = "a4"
    size: Annotated[float, Field(ge=0.5, le=3.0, strict=False)] | None = None
    sits_out: list[str | int] = []


class SongModel(_Strict):
    """A song of the set."""

    chart: Name
    key: Name | None = None
    shift: Annotated[int, Field(ge=-11, le=11)] = 0
    capo: Fret | dict[str, Fret] = {}
    note: str = ""
    count_in: str = ""
    straight_into_next: bool = False


class StageModel(_Strict):
    """Where the band plays, and how long changes take there."""

    place: Literal["live", "studio"] = "live"
    capos: CapoChoice = "plan"
    capo_move_seconds: Seconds = 6.0
    retune_seconds: Seconds = 5.0
    check_seconds: Seconds = 8.0
    swap_seconds: Annotated[float, Field(gt=0, le=3600, strict=False)] = 15.0
    helper: bool = False


class SetModel(_Strict):
    """A whole set file."""

    name: Name
    date: datetime.date | str = ""
    place: str = ""
    stage: StageModel = StageModel()
    players: Annotated[list[PlayerModel], Field(min_length=1)]
    songs: Annotated[list[SongModel], Field(min_length=1)]
