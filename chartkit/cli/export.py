"""``chartkit export``: charts for other programs, for emails, and as data."""

from pathlib import Path
from typing import Annotated, Literal

import click

from chartkit.chart.model import Chart
from chartkit.cli.command import option
from chartkit.cli.options import Files, KeyOption, Replace, capo_number, view_for
from chartkit.cli.reporting import Outcome, say, wrong_usage
from chartkit.cli.streams import write_out
from chartkit.cli.targets import targets
from chartkit.files import STANDARD_INPUT, make_folder, write_result
from chartkit.theory.capo import Capo

Target = Literal["musicxml", "text", "json", "midi"]
To = Annotated[
    Target,
    option(
        "--to",
        help="musicxml for notation programs, text for an email, json for other tools, midi to "
        "listen.",
    ),
]
ExportCapo = Annotated[
    Capo | None,
    option(
        "--capo",
        metavar="FRET",
        read=capo_number,
        help="Where the capo sits, instead of the chart's own; -1 is the whole guitar tuned "
        "down a half step.",
    ),
]
ExportOutput = Annotated[
    str | None,
    option(
        "--output",
        "-o",
        metavar="PATH",
        help="The file to write, or a folder for several; without it one chart is printed.",
    ),
]

Beside = Annotated[
    list[str] | None,
    option(
        "--beside",
        metavar="CHART",
        help="midi: the chart of another guitar that plays along; may be given more than once.",
    ),
]
CountIn = Annotated[
    bool, option("--count-in/--no-count-in", help="midi: counts in one bar before the song.")
]
Click = Annotated[bool, option("--click/--no-click", help="midi: a click on each beat.")]

_FORMS = {"musicxml": "MusicXML", "text": "text", "json": "JSON", "midi": "MIDI"}
_SUFFIXES = {"musicxml": ".musicxml", "text": ".txt", "json": ".json", "midi": ".mid"}
_ONE_BY_ONE = "export them one by one"
_ANOTHER = "name another file with -o"


def export(
    files: Files,
    to: To,
    output: ExportOutput = None,
    capo: ExportCapo = None,
    key: KeyOption = None,
    beside: Beside = None,
    count_in: CountIn = True,
    click: Click = True,
    replace_file: Replace = False,
) -> None:
    """Writes charts as MusicXML, text, JSON or MIDI.

    MusicXML has the sounding chords over slashes, the words and the form of the song. Text has
    chords above the words, shapes over sounding ones. JSON is the chart as chartkit schema
    describes it. MIDI plays the guitar as it is fingered, with jumps and repeats played out. --key
    and --capo work with every format except json. What a format cannot hold is reported on standard
    error.
    """
    if to != "midi" and (beside or not count_in or not click):
        raise wrong_usage("--beside, --no-count-in and --no-click go with --to midi")
    if to == "json" and (capo is not None or key is not None):
        raise wrong_usage(
            "--to json writes the chart as it is: --key and --capo do not go with it",
            "chartkit transpose moves a chart",
        )
    places = _places(files, output, to)
    outcome = Outcome()
    for source, chart in outcome.charts(files):
        for words in _losses(chart, to):
            say(f"{source.name}: {_FORMS[to]} cannot hold: {words}")
        with outcome.guarded():
            if to == "midi":
                from chartkit.cli.midi import midi_file

                content = midi_file(chart, capo, key, beside or [], count_in, click)
            else:
                content = _exported(chart, to, capo, key)
            _write(places[source.name], output, content, to, replace_file)
    outcome.finish()


def _places(files: list[str], output: str | None, to: Target) -> dict[str, Path | None]:
    """Where each chart goes; None is standard output."""
    if output is None and len(files) > 1:
        raise wrong_usage("several charts need a folder to go to", "-o out/")
    places = targets(files, output or STANDARD_INPUT, _SUFFIXES[to], "another file", _ONE_BY_ONE)
    for target in places.values():
        if target is not None and target.suffix == ".chart" and target.exists():
            raise wrong_usage(f"{target} is a chart itself, and would be overwritten", _ANOTHER)
    return places


def _write(
    target: Path | None, output: str | None, content: bytes, to: Target, replace_file: bool
) -> None:
    if target is None:
        if to == "midi":
            click.echo(content, nl=False)
        else:
            write_out(content.decode())
        return
    make_folder(target.parent, output)
    write_result(target, content, replace_file)
    say(f"{target}: {_FORMS[to]}")


def _losses(chart: Chart, to: Target) -> tuple[str, ...]:
    """What the format cannot hold of the chart."""
    if to == "text":
        from chartkit.interchange.text.written_head import settings_lost_in_text

        return settings_lost_in_text(chart)
    from chartkit.interchange.musicxml.losses import losses_of

    return losses_of(chart) if to == "musicxml" else ()


def _exported(chart: Chart, to: Target, capo: Capo | None, key: str | None) -> bytes:
    if to == "json":
        import json

        from chartkit.interchange.chart_json import chart_json

        return (
            json.dumps({"generator": "chartkit", **chart_json(chart)}, ensure_ascii=False, indent=2)
            + "\n"
        ).encode()
    view = view_for(chart, capo, key)
    if to == "text":
        from chartkit.interchange.text.write import sheet_text

        return sheet_text(chart, view).encode()
    from chartkit.arrange.rewrite import rewritten_chart
    from chartkit.interchange.musicxml.write import musicxml_bytes

    return musicxml_bytes(rewritten_chart(chart, view, as_shapes=False))
