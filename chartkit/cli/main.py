"""The program ``chartkit``.

Only the command that is called is loaded: loading all of them would take longer than engraving a
song.
"""

import errno
import gc

import click

from chartkit import __version__
from chartkit.cli.command import Program
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
"""The garbage collector runs rarely, since few of the objects are ever thrown away."""


def _print_version(ctx: click.Context, parameter: click.Parameter, wanted: bool) -> None:
    if wanted and not ctx.resilient_parsing:
        click.echo(f"chartkit {__version__}")
        raise click.exceptions.Exit


PROGRAM = Program(
    COMMANDS,
    name="chartkit",
    params=[
        click.Option(
            ("--version",),
            is_flag=True,
            is_eager=True,
            expose_value=False,
            callback=_print_version,
            help="Prints the version.",
        )
    ],
    help="Song charts for guitarists who play behind singers.",
    epilog="Exit codes: 0 success, 1 a chart has mistakes or a file cannot be used, "
    "2 wrong usage, 130 stopped with Ctrl-C.",
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def run() -> None:
    """Runs the program on the process's arguments."""
    make_ready()
    gc.set_threshold(*COLLECTOR)
    out_of_memory = False
    try:
        code = PROGRAM.main(prog_name="chartkit", standalone_mode=False)
        raise SystemExit(code if isinstance(code, int) else 0)
    except click.ClickException as reason:
        reason.show()
        raise SystemExit(reason.exit_code) from None
    except MemoryError:
        # The message needs memory, which is free only when this exception and its frames are gone.
        out_of_memory = True
    except (KeyboardInterrupt, click.Abort):
        say("chartkit: stopped")
        raise SystemExit(BROKEN_OFF) from None
    except OSError as reason:
        if reason.errno in (errno.EMFILE, errno.ENFILE):
            say("chartkit: too many files are open: close other programs, or raise the limit")
            raise SystemExit(1) from None
        # Commands report faulty files themselves; an error that comes this far is the output's.
        give_up_output()
        if not isinstance(reason, BrokenPipeError):
            what = reason.filename or "the output cannot be written"
            say(f"chartkit: {what}: {(reason.strerror or 'unknown reason').lower()}")
        raise SystemExit(1) from None
    if out_of_memory:
        say("chartkit: there is not enough memory for this")
        raise SystemExit(1)
