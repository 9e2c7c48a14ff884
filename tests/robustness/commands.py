"""The program called as a process, with limits."""

import os
import resource
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

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


def messages(done: subprocess.CompletedProcess[bytes]) -> list[str]:
    """The lines on standard error, none of them a traceback's."""
    text = (done.stderr or b"").decode("utf-8", "replace")
    assert "Traceback" not in text, text
    assert "Fatal Python error" not in text, text
    return text.splitlines()


def with_file(command: Sequence[str], name: str) -> list[str]:
    """The command's arguments with the file it reads."""
    return [command[0], name, *command[1:]]
