"""One piece of work at a time for each core, however many workers a machine has.

Workers that take turns on a core cost more than they bring: each finds the core's caches full of
another's data.
"""

import os
import platform
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from stat import S_ISDIR
from typing import BinaryIO, ParamSpec, TypeVar

try:
    from fcntl import LOCK_EX, LOCK_NB, flock
except ImportError:  # Windows, where nothing is limited
    flock = None  # type: ignore[assignment]

Given = ParamSpec("Given")
Made = TypeVar("Made")

_LOOK_AGAIN_SECONDS = 0.01
"""How soon a worker looks again for a free core: much less than a song's pages take (ours)."""


def on_a_free_core(
    work: Callable[Given, Made], /, *args: Given.args, **kwargs: Given.kwargs
) -> Made:
    """The result of the work, done as soon as a core of this machine has no other such work of
    the same user."""
    with _a_core():
        return work(*args, **kwargs)


def core_count() -> int:
    """How many cores this process may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


@contextmanager
def _a_core() -> Iterator[None]:
    """Holds one of this machine's cores. The system frees it if the process is killed."""
    with ExitStack() as stack:
        locks = [stack.enter_context(one) for one in _locks()]
        while locks and not any(map(_is_taken_by_us, locks)):
            time.sleep(_LOOK_AGAIN_SECONDS)
        yield


def _locks() -> list[BinaryIO]:
    """A file to lock for each core, in a folder of this machine that is the user's alone; none
    where there is no such folder."""
    if flock is None:
        return []
    # The name of the machine, for a folder that several of them share.
    folder = Path(tempfile.gettempdir(), f"chartkit-cores-{platform.node()}-{os.getuid()}")
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        status = folder.lstat()
        if not S_ISDIR(status.st_mode) or status.st_uid != os.getuid() or status.st_mode & 0o077:
            return []
        return [Path(folder, str(number)).open("wb") for number in range(core_count())]
    except OSError:
        return []


def _is_taken_by_us(lock: BinaryIO) -> bool:
    """Whether the lock was free and now is ours, until the file is closed."""
    try:
        flock(lock, LOCK_EX | LOCK_NB)
    except OSError:
        return False
    return True
