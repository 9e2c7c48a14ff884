"""The program ``chartkit``."""

import os
import sys
from typing import Annotated

import typer

from chartkit import __version__
from chartkit.cli.check import check
from chartkit.cli.engrave import engrave
from chartkit.cli.plan import plan
from chartkit.cli.schema import schema
from chartkit.cli.tidy import tidy
from chartkit.cli.transpose import transpose

app = typer.Typer(
    name="chartkit",
    help="Song charts for singers' guitarists: transposed, rewritten for capo, engraved.",
    epilog="Exit codes: 0 all went well, 1 a chart has mistakes or a file cannot be used, "
    "2 wrong usage.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"chartkit {__version__}")
        raise typer.Exit


@app.callback()
def _program(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    del version


for _command in (engrave, check, tidy, transpose, schema, plan):
    app.command()(_command)


def run() -> None:
    """Runs the program on the process's arguments."""
    try:
        app()
    except BrokenPipeError:
        # Whoever read our output has gone; the interpreter must not try to flush it again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None
