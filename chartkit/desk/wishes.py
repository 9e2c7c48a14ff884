"""What the page of the desk asks for, checked at the border."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from chartkit.arrange.view import Show
from chartkit.layout.style import Again, PaperName
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN

MOST_LETTERS = 8_000_000
"""The letters of the longest text that is taken."""

ChartText = Annotated[str, StringConstraints(max_length=MOST_LETTERS)]
FileName = Annotated[str, StringConstraints(min_length=1, max_length=200)]
WindowName = Annotated[str, StringConstraints(pattern=r"^[0-9a-z-]{1,40}$")]
CapoNumber = Annotated[int, Field(ge=-MOST_TUNED_DOWN, le=HIGHEST_CAPO)]
"""A fret, or with a minus the half steps that the whole guitar is tuned down."""


class Wish(BaseModel):
    """Something asked for: no field but those named."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class PageWish(Wish):
    """A chart's text and how its pages are to look; None is the chart's own."""

    text: ChartText
    capo: CapoNumber | None = None
    key: Annotated[str, StringConstraints(max_length=40)] | None = None
    show: Show = "both"
    paper: PaperName = "a4"
    again: Again = "full"
    diagrams: bool = False
    size: Annotated[float, Field(ge=0.4, le=3)] | None = None


class SaveWish(Wish):
    """A file to be written, if it still is of the version that the writer began from."""

    name: FileName
    text: ChartText
    version: Annotated[str, StringConstraints(max_length=64)]
    window: WindowName


class TextWish(Wish):
    """A chart's text alone."""

    text: ChartText
