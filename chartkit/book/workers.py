"""Workers on this machine."""

import gc
import os
import signal
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager, suppress
from multiprocessing import active_children, get_context, parent_process
from threading import Thread
from typing import ParamSpec, TypeVar

from chartkit.interrupts import interrupts_held_back

Given = ParamSpec("Given")
Made = TypeVar("Made")


@contextmanager
def pool(count: int) -> Iterator[Executor | None]:
    """So many worker processes; None, which means this process, for fewer than two.

    They start from nothing rather than as copies of this process, which may have threads.
    When the work is broken off they are ended at once, whatever they have in hand: they write
    no files but caches, which are whole at any moment.
    """
    if count < 2:
        yield None
        return
    others = active_children()
    executor = _Pool(count, get_context("spawn"), _start_worker)
    try:
        yield executor
    except BaseException:
        for worker in active_children():
            if worker not in others:
                worker.terminate()
        _stop_reading(executor)
        # Waits for the pool's own thread: at the end of the program Python would wake it through a
        # pipe that it may just be closing, and print an error on the terminal.
        executor.shutdown(cancel_futures=True)
        raise
    executor.shutdown()


def _stop_reading(executor: ProcessPoolExecutor) -> None:
    """Closes this process's end of the pipe from which the workers took their work.

    The thread that fills the pipe would otherwise wait for ever once it is full. Python does the
    same from 3.12 on when a worker dies; until then only its private names reach the pipe.
    """
    reader = getattr(getattr(executor, "_call_queue", None), "_reader", None)
    if reader is not None:
        with suppress(OSError):
            reader.close()


class _Pool(ProcessPoolExecutor):
    """A pool whose workers, which start when work comes, never hear Ctrl-C."""

    def submit(
        self, fn: Callable[Given, Made], /, *args: Given.args, **kwargs: Given.kwargs
    ) -> Future[Made]:
        """Runs a call in a worker, as ``Executor.submit`` does."""
        # A worker that is interrupted while it loads would print an error on the terminal.
        with interrupts_held_back():
            return super().submit(fn, *args, **kwargs)


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
