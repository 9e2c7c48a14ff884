"""Holds Ctrl-C back at moments when it would be lost or reach the wrong process."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def interrupts_held_back() -> Iterator[None]:
    """Holds Ctrl-C back inside the ``with`` block; it arrives when the block ends.

    Processes started inside never receive it. On systems without this ability nothing changes.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
