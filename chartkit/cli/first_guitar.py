"""The first guitar's part, for commands that place another beside it."""

from pathlib import Path
from typing import TYPE_CHECKING

from chartkit.chart.model import Chart
from chartkit.cli.reporting import wrong_usage
from chartkit.files import Unusable, read_source
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo, parse_capo

if TYPE_CHECKING:
    from chartkit.advise.register import Moment
    from chartkit.advise.settings import AdviceSettings
    from chartkit.advise.song import Song
    from chartkit.fretboard.instrument import Instrument


def first_chart(beside: str) -> Chart | None:
    """The chart of the first guitar's part that ``--beside`` names; None where it gives a capo.

    Raises Unusable for a chart with mistakes.
    """
    if Path(beside).suffix != ".chart" and not Path(beside).exists():
        return None
    reading = read_chart(read_source(beside))
    if any(d.severity == "error" for d in reading.diagnostics):
        raise Unusable(f"{beside}: this chart has mistakes; chartkit check lists them")
    return reading.chart


def first_capo(beside: str) -> Capo:
    """The capo that ``--beside`` gives.  Ends the run for anything else."""
    try:
        return parse_capo(beside)
    except ValueError as reason:
        raise wrong_usage(
            f"--beside: {reason}", "or name a chart of the first guitar's part"
        ) from None


def first_part(
    song: "Song",
    chart: Chart,
    capo: Capo,
    instrument: "Instrument",
    settings: "AdviceSettings",
) -> "tuple[Moment, ...]":
    """The notes of the first guitar: the song in its chart's own shapes, with that capo."""
    from chartkit.advise.ranking import played_option
    from chartkit.advise.register import part_of
    from chartkit.advise.requests import boards_on_disk, own_shapes

    own = own_shapes(chart, instrument)
    played = played_option(song, capo, instrument, settings, own, boards_on_disk())
    return part_of(song, played, instrument)
