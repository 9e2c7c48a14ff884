"""The arguments that several commands share, and how their values are read."""

from typing import TYPE_CHECKING, Annotated

import typer

from chartkit.arrange.key_areas import song_areas, written_key
from chartkit.arrange.view import Show, View, target_key
from chartkit.chart.model import BEST, Chart
from chartkit.cli.telling import wrong_usage
from chartkit.syntax.settings import capo_number

if TYPE_CHECKING:
    from chartkit.fretboard.instrument import Instrument

Files = Annotated[
    list[str],
    typer.Argument(
        metavar="FILES", help="Charts to read; - is standard input.", show_default=False
    ),
]
OneFile = Annotated[
    str,
    typer.Argument(metavar="FILE", help="The chart; - is standard input.", show_default=False),
]
KeyOption = Annotated[
    str | None,
    typer.Option(
        "--key", metavar="KEY", show_default=False,
        help="The key it shall sound in, such as B or Bb. The song stays major, minor or modal.",
    ),
]  # fmt: skip


InstrumentOption = Annotated[
    str | None,
    typer.Option(
        "--instrument", metavar="NAME|NOTES", show_default=False,
        help="Another instrument by name (baritone, drop D, open G, ukulele ...) or by its tuning, "
        "such as D2 A2 D3 G3 B3 E4.",
    ),
]  # fmt: skip


def asked_instrument(chart: Chart | None, asked: str | None) -> "Instrument":
    """The instrument asked for, else the chart's.  Ends the run when it is none."""
    from chartkit.advise.requests import instrument_of

    try:
        return instrument_of(chart or Chart(), asked)
    except ValueError as reason:
        raise wrong_usage(f"--instrument: {reason}") from None


def fret_or_best(text: str) -> int | str:
    """A capo option's number, or the word that leaves the choice to the program."""
    return BEST if text.lower() == BEST else fret(text)


def fret(text: str) -> int:
    """A capo option's number; what is none ends the run with its reason."""
    try:
        return capo_number(text)
    except ValueError as reason:
        raise typer.BadParameter(str(reason)) from None


CapoOption = Annotated[
    str | None,
    typer.Option(
        "--capo", metavar="FRET|best", show_default=False, parser=fret_or_best,
        help="Where the capo sits, instead of the chart's own; 0 is none, "
        "-1 the whole guitar tuned down a half step, best the place chartkit capo puts first.",
    ),
]  # fmt: skip


def view_for(
    chart: Chart, capo: int | None, key: str | None, by: int | None = None, show: Show = "both"
) -> View:
    """The view that the options ask for.  Ends the run when the key is no key."""
    if key is None:
        return View(capo, None, by, show)
    sounding = song_areas(chart, View())[written_key(chart)].sounding
    try:
        return View(capo, target_key(key, sounding), None, show)
    except ValueError as reason:
        raise wrong_usage(f"--key: {reason}") from None
