"""The program ``chartkit``.

Only the command that is called is loaded: building the arguments of all of them would take
longer than engraving a song.
"""

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Annotated

import typer

from chartkit import __version__

COMMANDS = (
    "engrave",
    "book",
    "plan",
    "capo",
    "singer",
    "strings",
    "check",
    "tidy",
    "transpose",
    "intake",
    "export",
    "schema",
)
"""Every command; each is a function in the module of its name beside this one."""

COLLECT_AFTER = (50_000, 20, 50)
"""When the program looks for garbage; see ``gc.set_threshold``."""


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"chartkit {__version__}")
        raise typer.Exit


def _program(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    del version


def program(arguments: Sequence[str]) -> typer.Typer:
    """The program with the command that the arguments call, or with all of them."""
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
    app.callback()(_program)
    called = [arguments[0]] if arguments and arguments[0] in COMMANDS else COMMANDS
    if list(arguments[:1]) == ["--version"]:
        called = []
    for name in called:
        module = import_module(f"chartkit.cli.{name.replace('-', '_')}")
        app.command(name)(getattr(module, name.replace("-", "_")))
    return app


def run() -> None:
    """Runs the program on the process's arguments."""
    # Little of what is made is ever thrown away, so looking for it often costs time for nothing.
    gc.set_threshold(*COLLECT_AFTER)
    completing = any(name.startswith("_CHARTKIT") for name in os.environ)
    app = program([] if completing else sys.argv[1:])
    try:
        app()
    except BrokenPipeError:
        # Whoever read our output has gone; the interpreter must not try to flush it again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None
