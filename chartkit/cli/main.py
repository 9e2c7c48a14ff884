"""The program ``chartkit``.

Only the command that is called is loaded: building the arguments of all of them would take
longer than engraving a song.
"""

import errno
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Annotated

import typer

from chartkit import __version__
from chartkit.cli.command import Command, Program
from chartkit.cli.streams import BROKEN_OFF, give_up_output, make_ready, say

COMMANDS = (
    "engrave",
    "book",
    "plan",
    "capo",
    "part",
    "singer",
    "strings",
    "check",
    "tidy",
    "transpose",
    "intake",
    "export",
    "schema",
    "desk",
)
"""Every command; each is a function in the module of its name beside this one."""
COLLECTOR = (50_000, 20, 50)
"""How seldom the collector looks: little of what is made is ever thrown away."""


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"chartkit {__version__}")
        raise typer.Exit


def _program(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Prints the version."),
    ] = False,
) -> None:
    del version


def program(arguments: Sequence[str]) -> typer.Typer:
    """The program with the command that the arguments call, or with all of them."""
    called = [arguments[0]] if arguments and arguments[0] in COMMANDS else COMMANDS
    if list(arguments[:1]) == ["--version"]:
        called = []
    app = typer.Typer(
        name="chartkit",
        cls=Program,
        # Options that the call cannot hold are not built: their validators would be Typer's.
        add_completion=called is COMMANDS,
        add_help_option=called is COMMANDS,
        help="Song charts for singers' guitarists: transposed, rewritten for capo, engraved.",
        epilog="Exit codes: 0 success, 1 a chart has mistakes or a file cannot be used, "
        "2 wrong usage, 130 stopped with Ctrl-C.",
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    app.callback()(_program)
    for name in called:
        module = import_module(f"chartkit.cli.{name.replace('-', '_')}")
        app.command(name, cls=Command)(getattr(module, name.replace("-", "_")))
    return app


def run() -> None:
    """Runs the program on the process's arguments."""
    make_ready()
    gc.set_threshold(*COLLECTOR)
    completing = any(name.startswith("_CHARTKIT") for name in os.environ)
    out_of_memory = False
    try:
        program([] if completing else sys.argv[1:])()
    except MemoryError:
        # Only when this exception is gone, and with it all that its frames hold, can it be said.
        out_of_memory = True
    except KeyboardInterrupt:
        say("chartkit: stopped")
        raise SystemExit(BROKEN_OFF) from None
    except OSError as reason:
        if reason.errno in (errno.EMFILE, errno.ENFILE):
            say("chartkit: too many files are open: close other programs, or raise the limit")
            raise SystemExit(1) from None
        # Where a file is at fault a command says so itself; what comes this far is the output.
        give_up_output()
        if not isinstance(reason, BrokenPipeError):
            what = reason.filename or "the output cannot be written"
            say(f"chartkit: {what}: {(reason.strerror or 'unknown reason').lower()}")
        raise SystemExit(1) from None
    if out_of_memory:
        say("chartkit: there is not enough memory for this")
        raise SystemExit(1)
