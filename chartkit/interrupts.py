"""Ctrl-C, held back where it would be lost or come to the wrong process."""

import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def held_back() -> Iterator[None]:
    """Holds Ctrl-C back for a moment: it comes when the moment is over.

    Processes started meanwhile never hear it.  Where the system cannot do so nothing changes.
    """
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
