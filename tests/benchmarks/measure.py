"""How figures are taken: seconds of the processor, which other processes disturb little, and
the kernel's own peak of a process."""

import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import cache

Row = tuple[str, float, str]
"""What was measured, the figure, and what is wanted of it."""

_PROGRAM = """
import re, sys
from chartkit.cli.main import run
try: run()
except SystemExit: pass
print("peak:", re.search(r'VmHWM:\\s+(\\d+)', open('/proc/self/status').read())[1])
"""


def least_cpu_seconds(work: Callable[[], object], runs: int = 3) -> float:
    """The least processor time of several runs."""
    best = float("inf")
    for _ in range(runs):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return best


@cache
def _compiled() -> tempfile.TemporaryDirectory[str]:
    """Where the processes measured keep their compiled modules."""
    return tempfile.TemporaryDirectory()


def as_installed() -> dict[str, str]:
    """The environment of a process of an installed program: its modules are compiled once, however
    this process is set; else compiling them again would be the most of what is measured."""
    settings = {**os.environ, "PYTHONPYCACHEPREFIX": _compiled().name}
    settings.pop("PYTHONDONTWRITEBYTECODE", None)
    return settings


def process_cpu_seconds(call: list[str], runs: int = 11) -> float:
    """The median processor time, user's and system's, of a process that is run several times, once
    before to compile its modules."""
    settings = as_installed()
    subprocess.run(call, check=True, capture_output=True, env=settings)
    seconds_used = []
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(call, check=True, capture_output=True, env=settings)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        seconds_used.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return statistics.median(seconds_used)


def peak_megabytes(*arguments: str) -> float:
    """The largest resident size of one run of the program."""
    done = subprocess.run(
        [sys.executable, "-c", _PROGRAM, *arguments], check=True, capture_output=True, text=True
    )
    return int(done.stdout.rsplit("peak:", 1)[1]) / 1024


def as_table(head: list[str], rows: list[list[str]]) -> str:
    """Rows as a Markdown table; every column but the first is flush right."""
    lines = [head, ["---", *["---:"] * (len(head) - 1)], *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)
