"""``chartkit intake``: lead sheets from other programs and from emails to charts."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import click

from chartkit.cli.command import argument, option
from chartkit.cli.options import Replace
from chartkit.cli.reporting import Outcome, say, wrong_usage
from chartkit.cli.streams import write_out
from chartkit.files import STANDARD_INPUT, read_bytes, write_result

if TYPE_CHECKING:
    from chartkit.interchange.intake_result import Finding

OneSheet = Annotated[
    str,
    argument(
        metavar="FILE",
        help="The lead sheet: MusicXML (also compressed), text with chords above the words, a "
        "saved email with such text, a PDF, or a chart as JSON; - is standard input.",
    ),
]
ChartOutput = Annotated[
    str | None,
    option(
        "--output",
        "-o",
        metavar="PATH",
        help="The chart to write; without it the chart is printed.",
    ),
]
PartName = Annotated[
    str | None,
    option(
        "--part",
        metavar="NAME",
        help="Which part of a score to read, by its name.",
    ),
]


Plain = Annotated[
    bool,
    option("--plain", help="Leaves out the comments that mark what was guessed."),
]
FindingsAsJson = Annotated[
    bool,
    option("--json", help="Prints the chart and the findings as JSON."),
]


def intake(
    file: OneSheet,
    output: ChartOutput = None,
    part: PartName = None,
    plain: Plain = False,
    as_json: FindingsAsJson = False,
    replace_file: Replace = False,
) -> None:
    """Makes a chart from MusicXML, typed text, an email, a PDF or JSON.

    The format is recognised by the content. Standard error lists what was sure, what was
    guessed and what was left out, each with its place in the source. In the chart itself a
    comment with the original line or the measure stands beside every guess.
    """
    from chartkit.incoming import LARGEST_FILE_BYTES, Refused, incoming_chart, incoming_json

    if output not in (None, STANDARD_INPUT) and file != STANDARD_INPUT and _same(output, file):
        message = f"{output} would overwrite the sheet it is made from"
        raise wrong_usage(message, "name another file with -o")
    outcome = Outcome()
    name = "standard input" if file == STANDARD_INPUT else file
    with outcome.guarded():
        data = read_bytes(file, LARGEST_FILE_BYTES)
        try:
            incoming = incoming_chart(data, part, comments=not plain)
        except Refused as reason:
            say(_refusal(name, str(reason)))
            raise click.exceptions.Exit(1) from None
        to_file = output is not None and output != STANDARD_INPUT
        if as_json:
            write_out(json.dumps(incoming_json(incoming), ensure_ascii=False, indent=2) + "\n")
        else:
            for line in finding_lines(incoming.findings, name):
                say(line)
        if not to_file and not as_json:
            write_out(incoming.text)
        if to_file:
            write_result(Path(str(output)), incoming.text.encode(), replace_file)
            say(f"{output}: a chart, from {incoming.format}")
    outcome.finish()


def _same(output: str | None, file: str) -> bool:
    try:
        return Path(str(output)).resolve() == Path(file).resolve()
    except (OSError, ValueError):
        return False


def _refusal(name: str, reason: str) -> str:
    place = ":" if reason[:1].isdigit() else ": "
    return f"chartkit: {name}{place}{reason}"


def finding_lines(findings: "tuple[Finding, ...]", name: str) -> list[str]:
    """The findings as lines, in the order of their places; one in many places is one line."""
    from chartkit.interchange.intake_result import in_order

    places: dict[tuple[str, str, str], list[str]] = {}
    for finding in in_order(findings):
        key = (finding.certainty, finding.code, finding.message)
        places.setdefault(key, []).append(finding.place)
    return [
        f"{name}{_where(at)}: {certainty.replace('-', ' ')}[{code}]: {message}"
        for (certainty, code, message), at in places.items()
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
