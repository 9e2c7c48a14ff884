"""Work on data from elsewhere, done in a separate process with limits of time and memory.

For libraries that cannot be limited from inside: the system ends a parser that grows or runs too
long, and the caller gets an exception. Input and output are bytes. The process has no environment
and no path to programs, so that a library cannot run any. On systems without limits of memory
(Windows), the limit of time still holds.

No library: Python's own limits and subprocesses do all of it.
"""

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

_OUT_OF_MEMORY = 77
"""The exit code of a process that asked for more memory than it may have (ours)."""
_ENDED_BY_SIGNAL = (-9, -24, -25, 137, 152)
"""Killed, or out of processor time or file size, as ``subprocess`` and shells number it."""
_START = "import sys, json; sys.path[:] = json.loads(sys.argv[1]); "
_CALL = "from chartkit.bounded import answer_in_process as answer; answer(*sys.argv[2:])"


@dataclass(frozen=True, slots=True)
class Limits:
    """The limits of a piece of work: seconds of the processor, seconds on the clock (which pass
    faster on a busy machine), and bytes of memory."""

    processor_seconds: int = 8
    clock_seconds: float = 40.0
    memory_bytes: int = 400_000_000


class LimitReached(Exception):
    """The work needs more time or memory than its limits."""


class ProcessCrashed(Exception):
    """The process ended without an answer."""


def run_in_process(
    work: Callable[[bytes], bytes], data: bytes, limits: Limits | None = None
) -> bytes:
    """The result of a module's function for the data, computed in a separate process.

    Raises LimitReached if the limits are reached, and ProcessCrashed if it ends without an answer
    for another reason.
    """
    limits = limits or Limits()
    numbers = [str(limits.processor_seconds), str(limits.memory_bytes)]
    paths = json.dumps([str(Path(folder).absolute()) for folder in sys.path])
    name = f"{work.__module__}:{work.__qualname__}"
    command = [sys.executable, "-I", "-S", "-c", _START + _CALL, paths, name, *numbers]
    try:
        done = subprocess.run(
            command,
            input=data,
            capture_output=True,
            check=False,
            env={"PATH": ""},
            timeout=limits.clock_seconds,
        )
    except subprocess.TimeoutExpired:
        raise LimitReached from None
    if done.returncode == _OUT_OF_MEMORY or done.returncode in _ENDED_BY_SIGNAL:
        raise LimitReached
    if done.returncode:
        raise ProcessCrashed(done.stderr.decode("utf-8", "replace").strip().rpartition("\n")[2])
    return done.stdout


def answer_in_process(name: str, processor_seconds: str, memory_bytes: str) -> None:
    """Calls ``module:function`` with what is on standard input, under limits, and writes what
    it returns.  This runs in the separate process, which ends with ``_OUT_OF_MEMORY`` if the memory
    or the depth of calls does not suffice."""
    limit_this_process(int(processor_seconds), int(memory_bytes))
    module, _, function = name.partition(":")
    try:
        answer = getattr(import_module(module), function)(sys.stdin.buffer.read())
        sys.stdout.buffer.write(answer)
        sys.stdout.flush()
    except (MemoryError, RecursionError):
        raise SystemExit(_OUT_OF_MEMORY) from None


def limit_this_process(processor_seconds: int, memory_bytes: int) -> None:
    """Sets limits that the system holds this process to, where it can."""
    try:
        import resource
    except ImportError:
        return
    wanted = {
        resource.RLIMIT_CPU: processor_seconds,
        resource.RLIMIT_AS: memory_bytes,
        resource.RLIMIT_CORE: 0,
        resource.RLIMIT_FSIZE: 0,
    }
    for limit, most in wanted.items():
        _, hard = resource.getrlimit(limit)
        within = most if hard == resource.RLIM_INFINITY else min(most, hard)
        try:
            resource.setrlimit(limit, (within, within))
        except (ValueError, OSError):
            # Some systems know a limit by name and do not enforce it.
            continue
