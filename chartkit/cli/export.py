"""``chartkit export``: charts for other programs, for mail, and as data."""

from pathlib import Path
from typing import Annotated, Literal

import typer

from chartkit.chart.model import Chart
from chartkit.cli.files import STANDARD_INPUT, same_file, write_whole
from chartkit.cli.options import KeyOption, OneFile, view_for
from chartkit.cli.telling import Outcome, say, wrong_usage
from chartkit.cli.values import any_of
from chartkit.syntax.settings import capo_number

Target = Literal["musicxml", "text", "json"]
To = Annotated[
    Target,
    typer.Option(
        "--to", metavar=any_of(Target), show_default=False,
        help="musicxml for notation programs, text for a mail, json for other tools.",
    ),
]  # fmt: skip
ExportCapo = Annotated[
    int | None,
    typer.Option(
        "--capo", metavar="FRET", show_default=False, parser=capo_number,
        help="Where the capo sits, instead of the chart's own; -1 is the guitar tuned down.",
    ),
]  # fmt: skip
ExportOutput = Annotated[
    str | None,
    typer.Option(
        "--output", "-o", metavar="PATH", show_default=False,
        help="The file to write; without it the result is printed.",
    ),
]  # fmt: skip

_FORMS = {"musicxml": "MusicXML", "text": "text", "json": "JSON"}
_ANOTHER = "name another file with -o"


def export(
    file: OneFile,
    to: To,
    output: ExportOutput = None,
    capo: ExportCapo = None,
    key: KeyOption = None,
) -> None:
    """Writes a chart in a form that others read.

    MusicXML holds the sounding chords, the words and the form of the song, over slashes;
    text has the chords above the words, shapes over sounding ones; JSON is the chart as
    "schema" describes it. --key and --capo go with musicxml and text. What MusicXML cannot
    carry of the chart is said on standard error.
    """
    if to == "json" and (capo is not None or key is not None):
        raise wrong_usage(
            "--to json writes the chart as it is: --key and --capo do not go with it",
            "chartkit transpose moves a chart",
        )
    if output not in (None, STANDARD_INPUT) and same_file(str(output), file):
        raise wrong_usage(f"{output} would overwrite the chart it is made from", _ANOTHER)
    if output is not None and output.endswith(".chart") and Path(output).exists():
        raise wrong_usage(f"{output} is a chart itself, and would be overwritten", _ANOTHER)
    outcome = Outcome()
    for source, chart in outcome.charts([file]):
        content = _exported(chart, to, capo, key)
        if to == "musicxml":
            _tell_losses(chart, source.name)
        with outcome.guarded():
            if output is None or output == STANDARD_INPUT:
                typer.echo(content, nl=False)
            else:
                write_whole(Path(output), content)
                say(f"{output}: {_FORMS[to]}")
    outcome.finish()


def _tell_losses(chart: Chart, name: str) -> None:
    """Says what of the chart MusicXML cannot carry."""
    from chartkit.interchange.musicxml.losses import losses_of

    for words in losses_of(chart):
        say(f"{name}: not carried by MusicXML: {words}")


def _exported(chart: Chart, to: Target, capo: int | None, key: str | None) -> bytes:
    if to == "json":
        import json

        from chartkit.interchange.schema import chart_json

        return (json.dumps(chart_json(chart), ensure_ascii=False, indent=2) + "\n").encode()
    view = view_for(chart, capo, key)
    if to == "text":
        from chartkit.interchange.sheet.write import sheet_text

        return sheet_text(chart, view).encode()
    from chartkit.arrange.rewrite import rewritten
    from chartkit.interchange.musicxml.write import musicxml_bytes

    return musicxml_bytes(rewritten(chart, view, False))
