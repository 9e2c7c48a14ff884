"""What the page of the desk asks for, checked at the border."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from chartkit.arrange.page_look import PAGE_OPTIONS, PageLook, conflicts
from chartkit.chart.model import SettingName
from chartkit.layout.choices import Choices
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN

MOST_LETTERS = 8_000_000
"""The letters of the longest text that is taken."""

ChartText = Annotated[str, StringConstraints(max_length=MOST_LETTERS)]
FileName = Annotated[str, StringConstraints(min_length=1, max_length=200)]
WindowName = Annotated[str, StringConstraints(pattern=r"^[0-9a-z-]{1,40}$")]
CapoNumber = Annotated[int, Field(ge=-MOST_TUNED_DOWN, le=HIGHEST_CAPO)]
"""A fret, or with a minus the half steps that the whole guitar is tuned down."""
ShortCapo = Annotated[str, StringConstraints(max_length=40, pattern=r"^[0-9]+ over strings? [0-9]")]
"""A short capo as a chart writes it: ``2 over strings 5-3``."""


class DeskRequest(BaseModel):
    """Something asked for: no field but those named."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


ShortText = Annotated[str, StringConstraints(max_length=100, pattern=r"^[^\x00-\x1f]*$")]

_NOT_FROM_A_PAGE = frozenset({"font"})
"""Options whose values are places on the disk."""

LookRequest = Annotated[
    dict[str, Annotated[str, StringConstraints(max_length=40)] | bool], Field(max_length=20)
]
"""Options of a page by their names, as texts and switches."""


class PageRequest(DeskRequest):
    """A chart's text and how its pages are to look; None is the chart's own.

    ``second`` adds the shapes of a second guitar with its capo there.  ``choices`` are what layout
    chose the last time, to be kept while somebody types.
    """

    text: ChartText
    capo: CapoNumber | ShortCapo | None = None
    second: CapoNumber | None = None
    key: ShortText | None = None
    look: LookRequest = {}
    choices: Choices | None = None


class SetRequest(DeskRequest):
    """A set file's text, the file's name for its charts."""

    name: FileName
    text: ChartText


class BooksRequest(SetRequest):
    """Everybody's books to be made; ``screen`` asks for books for screens as well."""

    screen: bool = False


class SetEditRequest(SetRequest):
    """A change to a set: what is changed, where (counted from 0), and the new value.

    ``order`` has the songs' present numbers in their new order.
    """

    change: Literal[
        "order",
        "song",
        "player",
        "set",
        "add",
        "add-player",
        "remove",
        "remove-player",
        "sing-player",
    ]
    at: Annotated[int, Field(ge=0, le=10_000)] = 0
    setting: ShortText = ""
    value: ShortText | bool | None = None
    order: Annotated[list[int], Field(max_length=10_000)] = []


class ExportRequest(PageRequest):
    """A song to be handed out in a form, named after its file."""

    name: FileName
    form: Literal["pdf", "musicxml", "text", "midi"]


class NeckRequest(PageRequest):
    """Asks for the adviser's answer on every place; ``short_capos`` asks for those of a guitar,
    too."""

    short_capos: bool = False


class GripsRequest(PageRequest):
    """Other ways to play a shape of the song, named as ``shapes`` names it."""

    chord: ShortText


class KeysRequest(DeskRequest):
    """The keys of a song for a voice: a name such as alto, a range, or nothing."""

    text: ChartText
    voice: ShortText = ""


class SettingRequest(DeskRequest):
    """A setting of a chart to be given a value; an empty one takes it out."""

    text: ChartText
    name: SettingName
    value: ShortText


class TransposeRequest(DeskRequest):
    """A chart to be written in another key, with the capo there; None keeps the chart's own."""

    text: ChartText
    key: ShortText
    capo: CapoNumber | ShortCapo | None = None


def look_options() -> list[dict[str, object]]:
    """The options of a page that the desk offers, as its page reads them."""
    return [
        {
            "name": option.name,
            "help": option.help,
            "default": option.default if option.choices or isinstance(option.default, bool) else "",
            "choices": list(option.choices),
            "placeholder": option.placeholder,
        }
        for option in PAGE_OPTIONS
        if option.name not in _NOT_FROM_A_PAGE
    ]


def page_look(request: LookRequest) -> PageLook:
    """The look that the options name.  Raises ValueError in plain words."""
    options = {
        option.name: option for option in PAGE_OPTIONS if option.name not in _NOT_FROM_A_PAGE
    }
    values: dict[str, object] = {}
    for name, given in request.items():
        option = options.get(name)
        if option is None:
            raise ValueError(f"{name} is not a page option")
        if isinstance(given, bool) != (option.read is None):
            raise ValueError(f"{name}: this is not a value of the option")
        values[name] = (
            given if isinstance(given, bool) or option.read is None else option.read(given)
        )
    look = PageLook(**values)  # type: ignore[arg-type]
    for what, hint in conflicts(look):
        raise ValueError(f"{what}: {hint}" if hint else what)
    return look


class Inherited(DeskRequest):
    """The draft of another window that this one went on from: whose, and when it was kept."""

    window: WindowName
    time: float


class SaveRequest(DeskRequest):
    """A file to be written, if it still is of the version that the writer began from."""

    name: FileName
    text: ChartText
    version: Annotated[str, StringConstraints(max_length=64)]
    window: WindowName
    inherited: Inherited | None = None


class FileRequest(DeskRequest):
    """A file that something is done with, if it still is of the version that was seen."""

    name: FileName
    version: Annotated[str, StringConstraints(max_length=64)] = ""


class RenameRequest(FileRequest):
    """A file to be given another name."""

    to: FileName


class TextRequest(DeskRequest):
    """A chart's text alone."""

    text: ChartText
