"""``chartkit strings``: what a capo or another tuning does to each string."""

from dataclasses import replace
from functools import partial
from typing import Annotated

from chartkit.chart.model import Chart
from chartkit.cli.columns import in_columns, say_wrapped
from chartkit.cli.command import option
from chartkit.cli.options import InstrumentOption, as_setting, asked_instrument, steps_down
from chartkit.cli.streams import show
from chartkit.theory.capo import NO_CAPO, Capo, parse_capo
from chartkit.typed_values import decimal_number


def _capo(text: str) -> Capo:
    """A capo, tuned as it is.  Raises ValueError in plain words."""
    if text.startswith(("-", "−")):
        raise ValueError(f"{text} is not a fret: --down says how far the guitar is tuned down")
    capo: Capo = as_setting("capo", partial(parse_capo, least=0))(text)
    return capo


def _reference(text: str) -> float:
    """The pitch of A4 in Hz.  Raises ValueError for one that no ensemble tunes to."""
    pitch = decimal_number(text)
    if not 400 <= pitch <= 480:
        raise ValueError(f"{text} is out of reach: A4 lies between 400 and 480 Hz")
    return pitch


CapoPlace = Annotated[
    Capo,
    option(
        "--capo",
        metavar="FRET",
        read=_capo,
        help='The fret of the capo, 0 to 11; for a short capo also its strings, such as "2 over '
        'strings 5-3".',
    ),
]
Down = Annotated[
    int,
    option(
        "--down",
        metavar="STEPS",
        read=steps_down,
        help="Half steps the whole guitar is tuned down, 0 to 5.",
    ),
]
Reference = Annotated[
    float,
    option("--a4", metavar="HZ", read=_reference, help="The pitch of A4, 400 to 480 Hz."),
]


def strings(
    capo: CapoPlace = NO_CAPO,
    down: Down = 0,
    reference: Reference = 440,
    instrument: InstrumentOption = None,
) -> None:
    """Shows the pitch and tension of each string with a capo.

    The guitar may be tuned down as well. Each string has its note and frequency, the change of
    its tension, and roughly how much a capo pulls it sharp.
    """
    from chartkit.advise.strings import report_strings

    option = replace(capo, tuned_down=down)
    report = report_strings(asked_instrument(Chart(), instrument), option, reference)
    rows = [["string", "tuned to", "sounds", "Hz", "tension", "capo pulls sharp"]]
    for string in reversed(report.strings):
        cents = string.capo_cents
        rows.append(
            [
                str(string.number),
                string.tuned.printed(),
                string.sounding.printed(),
                f"{string.frequency_hz:.2f}",
                f"{string.tension_change:+.1%}",
                "" if cents is None else f"{cents[0]:.0f} to {cents[1]:.0f} cents",
            ]
        )
    for line in in_columns(rows, frozenset({0, 3, 4})):
        show(line)
    if report.assumptions:
        show("")
        say_wrapped(f"An upper estimate, assuming {'; '.join(report.assumptions)}.")
    if report.cautions:
        show("")
    for caution in report.cautions:
        say_wrapped(caution)
