"""``chartkit transpose``: a chart's text in another key, or as shapes."""

from typing import Annotated

from chartkit.arrange.rewrite import rewritten_chart
from chartkit.cli.command import option
from chartkit.cli.options import KeyOption, OneFile, capo_number, view_for
from chartkit.cli.reporting import Outcome, wrong_usage
from chartkit.cli.streams import write_out
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo
from chartkit.typed_values import whole_number

By = Annotated[
    int | None,
    option(
        "--by",
        metavar="STEPS",
        read=whole_number(-24, 24),
        help="How many half steps up or, with a minus, down.",
    ),
]
ShapesFor = Annotated[
    Capo | None,
    option(
        "--capo",
        metavar="FRET",
        read=capo_number,
        help="Writes the chords as shapes for this capo; -1 is the guitar tuned down a half step.",
    ),
]


def transpose(file: OneFile, key: KeyOption = None, by: By = None, capo: ShapesFor = None) -> None:
    """Prints a chart's text in another key, or as shapes for a capo.

    With --capo, the result says "chords: shapes" and the capo, so it is still clear what sounds.
    A chart written in shapes stays in shapes. In another key the chart's capo moves along, so its
    shapes stay, unless you give a capo or it would lie beyond fret 5.
    """
    if key is not None and by is not None:
        raise wrong_usage("give --key or --by, not both")
    if key is None and by is None and capo is None:
        raise wrong_usage("give a target: --key B, --by 2, or --capo 1 for shapes")
    outcome = Outcome()
    for _, chart in outcome.charts([file]):
        view = view_for(chart, capo, key, by)
        moved = rewritten_chart(chart, view, capo is not None or chart.written_as_shapes)
        write_out(chart_text(moved))
    outcome.finish()
