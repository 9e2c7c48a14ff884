"""Arguments and options that several commands share."""

from typing import TYPE_CHECKING, Annotated, Any

from chartkit.cli.command import Maker, Reader, argument, option
from chartkit.cli.reporting import wrong_usage
from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, Capo, parse_capo
from chartkit.theory.key import parse_key
from chartkit.theory.note import NOTE_NAME
from chartkit.typed_values import Advised, file_path, whole_number

if TYPE_CHECKING:
    from chartkit.arrange.view import View
    from chartkit.chart.model import Chart, SettingName
    from chartkit.fretboard.instrument import Instrument

capo_fret, steps_down = whole_number(0, HIGHEST_CAPO), whole_number(0, MOST_TUNED_DOWN)
"""Readers of a capo's fret, and of the half steps that the whole guitar is tuned down."""

Files = Annotated[
    list[str],
    argument(metavar="FILES", help="Charts to read; - is standard input."),
]
OneFile = Annotated[
    str,
    argument(metavar="FILE", help="The chart; - is standard input."),
]


def sheet_option(help_text: str) -> Maker:
    """The option that also draws a command's answer on a page."""
    return option("--sheet", metavar="PDF", read=file_path, help=help_text)


Replace = Annotated[
    bool,
    option(
        "--replace",
        help="Overwrites existing files, even those that chartkit did not make.",
    ),
]


def key_text(text: str) -> str:
    """The text of a tonic or a key, unchanged.  Raises Advised for anything else."""
    plain = text.strip()
    if NOTE_NAME.fullmatch(plain) is None:
        as_setting("key", parse_key)(plain)
    return plain


def as_setting(name: "SettingName", read: Reader) -> Reader:
    """A reader whose mistakes come with the hint that a chart's setting of that name gets."""

    def advised(text: str) -> Any:
        try:
            return read(text)
        except ValueError as reason:
            from chartkit.syntax.setting_hints import value_hints  # loads the readers of charts

            hints = value_hints(name, text.strip(), reason)
            raise Advised(str(reason), hints[0] if hints else "") from None

    return advised


def capo_number(text: str) -> Capo:
    """A capo, or a lower tuning.  Raises Advised for anything else."""
    capo: Capo = as_setting("capo", parse_capo)(text)
    return capo


KeyOption = Annotated[
    str | None,
    option(
        "--key",
        metavar="KEY",
        read=key_text,
        help="The key to play in, such as B or Bb. A major song stays major, a minor one minor.",
    ),
]


def _instrument(text: str) -> "Instrument":
    from chartkit.fretboard.instruments import instrument_named

    return instrument_named(text)


InstrumentOption = Annotated[
    Any,
    option(
        "--instrument",
        metavar="NAME|NOTES",
        read=_instrument,
        help="Another instrument by name (baritone, drop D, open G, ukulele ...) or by its tuning, "
        "such as D2 A2 D3 G3 B3 E4.",
    ),
]


def asked_instrument(chart: "Chart", named: "Instrument | None") -> "Instrument":
    """The instrument that ``--instrument`` names, else the chart's."""
    from chartkit.advise.requests import instrument_of

    return named or instrument_of(chart)


def capo_or_best(text: str) -> Capo | str:
    """A capo, or the word that leaves the choice to the program.

    Raises Advised.
    """
    from chartkit.chart.model import BEST_CAPO

    return BEST_CAPO if text.lower() == BEST_CAPO else capo_number(text)


CapoOption = Annotated[
    str | None,
    option(
        "--capo",
        metavar="FRET|best",
        read=capo_or_best,
        help="Where the capo sits, instead of the chart's own; 0 is no capo, -1 the whole guitar "
        "tuned down a half step, best the place that chartkit capo ranks first.",
    ),
]


def view_for(chart: "Chart", capo: Capo | None, key: str | None, by: int | None = None) -> "View":
    """The view that the options ask for: a song that leaves its key takes the chart's capo along.

    Ends the run for a key that is not one.
    """
    from chartkit.arrange.kept_shapes import with_shapes_kept

    return with_shapes_kept(chart, _asked_view(chart, capo, key, by))


def _asked_view(chart: "Chart", capo: Capo | None, key: str | None, by: int | None) -> "View":
    from chartkit.arrange.key_areas import sounding_key
    from chartkit.arrange.view import View, target_key

    if key is None:
        return View(capo=capo, by=by)
    try:
        return View(capo=capo, key=target_key(key, sounding_key(chart)))
    except ValueError as reason:
        raise wrong_usage(f"--key: {reason}") from None
