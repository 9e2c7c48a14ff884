"""``chartkit intake``: lead sheets from other programs and from mail to charts."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from chartkit.cli.telling import Outcome, say, wrong_usage
from chartkit.diagnostics import Source, has_errors, shown
from chartkit.files import STANDARD_INPUT, read_bytes, write_whole

if TYPE_CHECKING:
    from chartkit.chart.model import Chart
    from chartkit.interchange.taken import Finding

OneSheet = Annotated[
    str,
    typer.Argument(
        metavar="FILE",
        show_default=False,
        help="The lead sheet: MusicXML, plain or compressed, text with chords above the words, "
        "a saved mail with such text, or a PDF of it or with its chart inside; - is standard "
        "input.",
    ),
]
ChartOutput = Annotated[
    str | None,
    typer.Option(
        "--output",
        "-o",
        metavar="PATH",
        show_default=False,
        help="The chart to write; without it the chart is printed.",
    ),
]
PartName = Annotated[
    str | None,
    typer.Option(
        "--part",
        metavar="NAME",
        show_default=False,
        help="Which part of a score to take, by its name.",
    ),
]


def intake(file: OneSheet, output: ChartOutput = None, part: PartName = None) -> None:
    """Makes a chart of a lead sheet that came from elsewhere.

    What it is, is told by its content. On standard error it says what was sure, what was
    guessed and what was left out, each with its place in the source.
    """
    from chartkit.interchange.spacing import with_blank_rows
    from chartkit.interchange.take import LARGEST_FILE_BYTES, taken_in
    from chartkit.interchange.taken import Refused
    from chartkit.syntax.symbol import chord_or_none
    from chartkit.syntax.write import chart_text

    if output not in (None, STANDARD_INPUT) and file != STANDARD_INPUT and _same(output, file):
        raise wrong_usage(
            f"{output} would overwrite the sheet it is made from", "name another file with -o"
        )
    outcome = Outcome()
    name = "standard input" if file == STANDARD_INPUT else file
    with outcome.guarded():
        data = read_bytes(file, LARGEST_FILE_BYTES)
        try:
            taken = taken_in(data, chord_or_none, part, _chart_or_none)
        except Refused as reason:
            say(_refusal(name, str(reason)))
            raise typer.Exit(1) from None
        for line in told(taken.findings, name):
            say(line)
        spaced = taken.chart if taken.format == "JSON" else with_blank_rows(taken.chart)
        text = taken.own_text or chart_text(spaced)
        if taken.format == "JSON":
            _check(text, name)
        if output is None or output == STANDARD_INPUT:
            typer.echo(text, nl=False)
        else:
            write_whole(Path(output), text.encode())
            say(f"{output}: a chart, from {taken.format}")
    outcome.finish()


def _chart_or_none(text: str) -> "Chart | None":
    from chartkit.syntax.reader import chart_or_none  # most files need no reader of charts

    return chart_or_none(text)


def _check(text: str, name: str) -> None:
    """Ends the run when a chart that came as data says what the language cannot."""
    from chartkit.syntax.reader import read_chart

    source = Source(text, name)
    diagnostics = read_chart(source).diagnostics
    if has_errors(diagnostics):
        for diagnostic in diagnostics:
            say(shown(diagnostic, source))
        raise typer.Exit(1)


def _same(output: str | None, file: str) -> bool:
    try:
        return Path(str(output)).resolve() == Path(file).resolve()
    except (OSError, ValueError):
        return False


def _refusal(name: str, reason: str) -> str:
    place = ":" if reason[:1].isdigit() else ": "
    return f"chartkit: {name}{place}{reason}"


def told(findings: "tuple[Finding, ...]", name: str) -> list[str]:
    """The findings as lines: sure ones, guesses, what was left out.

    One that holds in many places is said once.
    """
    places: dict[tuple[str, str, str], list[str]] = {}
    for finding in findings:
        key = (finding.certainty, finding.code, finding.message)
        places.setdefault(key, []).append(finding.place)
    order = ("sure", "guessed", "left-out")
    return [
        f"{name}{_where(at)}: {certainty.replace('-', ' ')}[{code}]: {message}"
        for (certainty, code, message), at in sorted(
            places.items(), key=lambda item: order.index(item[0][0])
        )
    ]


def _where(places: list[str]) -> str:
    """``:3:5`` for a place in a text, ``: measures 3, 7`` for places in a score."""
    known = list(dict.fromkeys(filter(None, places)))
    if not known:
        return ""
    if known[0][0].isdigit():
        return ":" + ", ".join(known)
    noun = known[0].rpartition(" ")[0]
    if len(known) > 1 and all(place.rpartition(" ")[0] == noun for place in known):
        return f": {noun}s " + ", ".join(place.rpartition(" ")[2] for place in known)
    return ": " + "; ".join(known)
