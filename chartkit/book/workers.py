"""Workers on this machine."""

import signal
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context


@contextmanager
def pool(count: int) -> Iterator[Executor | None]:
    """So many worker processes; None, which means this process, for fewer than two.

    They start from nothing rather than as copies of this process, which may have threads.
    When the work is broken off they are not waited for longer than the song in hand.
    """
    if count < 2:
        yield None
        return
    executor = ProcessPoolExecutor(count, get_context("spawn"), _left_alone)
    try:
        yield executor
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        raise
    executor.shutdown()


def _left_alone() -> None:
    """A worker does not hear Ctrl-C: the process that started it ends it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
