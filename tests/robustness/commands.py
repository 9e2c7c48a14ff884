"""The program called as a process, with limits, or in this one."""

import gc
import os
import resource
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Any, TextIO

from chartkit.cli.start import run

MEMORY_BYTES = 1_500_000_000
SECONDS = 60
"""Far more than any call needs: what hangs or swells fails, the rest is not timed."""

START = [sys.executable, "-c", "from chartkit.cli.start import run; run()"]
CHART = "title: Ferry\nkey: C\nrange: C4-C5\n\n== Verse\n| C | F | G7 | C |\n"
READERS: tuple[tuple[str, ...], ...] = (
    ("check",),
    ("tidy",),
    ("engrave", "-o", "out.pdf"),
    ("transpose", "--by", "1"),
    ("capo",),
    ("singer", "--voice", "alto"),
    ("export", "--to", "text"),
    ("export", "--to", "musicxml"),
    ("export", "--to", "json"),
)
"""Every command that reads one chart, without the chart's name."""


def called(
    *arguments: str | bytes,
    folder: Path,
    given: bytes = b"",
    environment: dict[str, str] | None = None,
    before: Callable[[], None] | None = None,
    streams: dict[str, int] | None = None,
) -> subprocess.CompletedProcess[bytes]:
    """Runs the program in a folder; its messages come back in ``stderr``."""

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
        if before is not None:
            before()

    where: dict[str, Any] = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    return subprocess.run(
        [*START, *arguments],
        cwd=folder,
        input=given,
        timeout=SECONDS,
        check=False,
        env={**os.environ, **(environment or {})},
        preexec_fn=limited,
        **{**where, **(streams or {})},
    )


def answered(
    *arguments: str, folder: Path, given: bytes = b"", out: TextIO | None = None
) -> subprocess.CompletedProcess[bytes]:
    """What the program answers when it runs in this process, which takes a tenth of the time:
    enough where neither the process nor what surrounds it is the claim.  ``out`` is what its
    answer is written to instead."""
    old = sys.argv, sys.stdin, sys.stdout, sys.stderr
    heard, limits, there = signal.getsignal(signal.SIGINT), gc.get_threshold(), Path.cwd()
    kept, err = (TextIOWrapper(BytesIO(), encoding="utf-8", write_through=True) for _ in "ab")
    os.chdir(folder)
    sys.argv, sys.stdin = ["chartkit", *arguments], TextIOWrapper(BytesIO(given))
    sys.stdout, sys.stderr = out or kept, err
    try:
        run()
        code = 0
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 0
    finally:
        sys.argv, sys.stdin, sys.stdout, sys.stderr = old
        os.chdir(there)
        gc.set_threshold(*limits)
        signal.signal(signal.SIGINT, heard)
    said = [stream.buffer.getvalue() for stream in (kept, err)]  # type: ignore[attr-defined]
    return subprocess.CompletedProcess(list(arguments), code, *said)


def messages(done: subprocess.CompletedProcess[bytes]) -> list[str]:
    """The lines on standard error, none of them a traceback's."""
    text = (done.stderr or b"").decode("utf-8", "replace")
    assert "Traceback" not in text, text
    assert "Fatal Python error" not in text, text
    return text.splitlines()


def with_file(command: Sequence[str], name: str) -> list[str]:
    """The command's arguments with the file it reads."""
    return [command[0], name, *command[1:]]
