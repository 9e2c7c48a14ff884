"""Standard streams that are closed, full or narrow, and a home that is no folder."""

import codecs
import os
import sys
from contextlib import suppress
from io import TextIOWrapper
from pathlib import Path

from chartkit.theory.note import ascii_accidentals

PLAIN_LETTERS = "chartkit.plain"
"""The error handler that writes what an encoding lacks plainly: ♭ as b, ♯ as #, else "?"."""
MISUSED = 2
"""The exit code of a call that makes no sense."""
BROKEN_OFF = 130
"""The exit code after Ctrl-C: 128 and the signal's number, as shells have it."""

_ENDS = (("stdin", os.O_WRONLY, "r"), ("stdout", os.O_RDONLY, "w"), ("stderr", os.O_WRONLY, "w"))


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    letters = ascii_accidentals(error.object[error.start : error.end])
    return "".join(c if c.isascii() else "?" for c in letters), error.end


codecs.register_error(PLAIN_LETTERS, _plain)


def make_ready() -> None:
    """Replaces closed streams, and lets every letter be printed.

    A closed stream is replaced by one that cannot be read or written, so that using it is
    reported like any other failure and no file opened later takes its place.  A home that is no
    folder is forgotten, because a cache would create it and ReportLab raises on import.
    """
    if not Path(os.environ.get("HOME", "/")).is_dir():
        del os.environ["HOME"]
    for name, way, mode in _ENDS:
        stream = getattr(sys, name)
        if stream is None:
            # What is closed are the lowest numbers, so this opens just the missing one.
            setattr(sys, name, os.fdopen(os.open(os.devnull, way), mode, encoding="utf-8"))
        elif name != "stdin" and isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=PLAIN_LETTERS)


def say(text: str) -> None:
    """Prints lines on standard error, with nothing in them that moves a terminal's cursor.

    Does nothing where standard error cannot be written.
    """
    from chartkit.diagnostics import visible

    encoding = sys.stderr.encoding or "utf-8"
    text = "\n".join(map(visible, text.split("\n")))
    with suppress(OSError):
        print(text.encode(encoding, PLAIN_LETTERS).decode(encoding), file=sys.stderr, flush=True)


def show(text: str) -> None:
    """Prints lines of a table or a report, with nothing in them that moves a cursor or turns the
    direction of what follows."""
    from chartkit.diagnostics import visible

    sys.stdout.write("\n".join(map(visible, text.split("\n"))) + "\n")
    sys.stdout.flush()


def write_out(text: str) -> None:
    """Writes a chart or a sheet to standard output: letter by letter to files and pipes, on a
    terminal as ``show`` does."""
    if sys.stdout.isatty():
        show(text.removesuffix("\n"))
        return
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8", "replace"))
    sys.stdout.buffer.flush()


def say_misuse(message: str, hint: str = "") -> None:
    """Reports a mistake in a call, and a hint, on standard error."""
    say("chartkit: " + message.replace("\n", " "))
    if hint:
        say(f"  hint: {hint}")


def give_up_output() -> None:
    """Gives up standard output, so that the interpreter does not flush it once more."""
    with suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
