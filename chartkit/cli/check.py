"""``chartkit check``: every mistake in a chart, at once."""

import json
from typing import Annotated

import click

from chartkit.cli.command import option
from chartkit.cli.options import Files
from chartkit.cli.reporting import Outcome, say
from chartkit.diagnostics import as_json, diagnostic_text, has_errors
from chartkit.phrases import counted

Json = Annotated[bool, option("--json", help="Prints the mistakes as JSON, for editors.")]


def check(files: Files, as_json_list: Json = False) -> None:
    """Reports every mistake in charts at once.

    Each mistake has its place, plain words and a hint. A warning is a likely slip in a row that
    can still be read; only errors make the exit code 1.
    """
    outcome = Outcome()
    mistakes: list[dict[str, object]] = []
    errors = warnings = charts = 0
    for source, reading in outcome.readings(files, mistakes if as_json_list else None):
        charts += 1
        outcome.failed |= has_errors(reading.diagnostics)
        for diagnostic in reading.diagnostics:
            errors += diagnostic.severity == "error"
            warnings += diagnostic.severity == "warning"
            if as_json_list:
                mistakes.append(as_json(diagnostic, source))
            else:
                say(diagnostic_text(diagnostic, source))
    if as_json_list:
        click.echo(json.dumps(mistakes, ensure_ascii=True, indent=2))
    elif charts:
        numbers = (charts, "chart"), (errors, "error"), (warnings, "warning")
        say(", ".join(counted(*one) for one in numbers))
    outcome.finish()
