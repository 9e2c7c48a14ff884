"""Workers on this machine."""

import gc
import os
import signal
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context, parent_process
from threading import Thread


@contextmanager
def pool(count: int) -> Iterator[Executor | None]:
    """So many worker processes; None, which means this process, for fewer than two.

    They start from nothing rather than as copies of this process, which may have threads.
    When the work is broken off they are not waited for longer than the song in hand.
    """
    if count < 2:
        yield None
        return
    executor = ProcessPoolExecutor(count, get_context("spawn"), _start_worker)
    with _deaf_to_interrupts():
        for _ in range(count):
            executor.submit(_nothing)
    try:
        yield executor
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        raise
    executor.shutdown()


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """Holds Ctrl-C back for a moment; processes started meanwhile never hear it.

    A worker that were broken off while it loads would say so on the terminal.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _nothing() -> None:
    """A piece of work for which a worker has to be started."""


COLLECT_AFTER = 50_000
"""How many new objects a worker makes before it looks for garbage: a song's pages are tens of
thousands, nearly all free of cycles, and looking more often took a tenth of the time."""


def _start_worker() -> None:
    """A worker does not hear Ctrl-C, since the process that started it ends it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(COLLECT_AFTER)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Ends this worker when the process that started it has been killed without warning."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
