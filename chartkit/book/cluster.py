"""Workers on other machines: a scheduler of the package distributed, named by its address.

Songs travel as text and come back as pages, so workers need no folder in common with this machine,
only the same version of this program.
"""

import gc
import os
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future
from contextlib import contextmanager
from typing import Any, ParamSpec, TypeVar

from chartkit.book.cache import program_digest
from chartkit.book.workers import COLLECT_AFTER
from chartkit.book.workshop import MOST_WAITING

Given = ParamSpec("Given")
Made = TypeVar("Made")

ANSWER_SECONDS = 15.0
"""How long a scheduler and its first worker may take to answer."""
_WAITING_A_THREAD = 4
"""Pieces of work that wait for each thread of the cluster, so that none is idle."""
LARGEST_BATCH = 16
"""The pieces of work that go to a worker at once: each trip through the scheduler costs it and this
machine some 6 ms, a tenth of the time that a song's pages take (measured)."""
_INSTALL = "install it: pip install '.[cluster]'"


class NoCluster(Exception):
    """A cluster that cannot be used: the reason in plain words, and a hint."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.hint = hint


class ClusterExecutor(Executor):
    """Gives work to a cluster. If a worker is lost, another one does its piece again."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._inner = client.get_executor(pure=False)

    @property
    def most_waiting(self) -> int:
        """How many pieces of work should wait at a time."""
        threads = int(sum(self._client.nthreads().values()))
        return max(MOST_WAITING, _WAITING_A_THREAD * threads)

    def worker_processes(self) -> list[int]:
        """The numbers of the workers' processes, on whatever machine they run."""
        return sorted(self._client.run(os.getpid).values())

    def submit(
        self, fn: Callable[Given, Made], /, *args: Given.args, **kwargs: Given.kwargs
    ) -> Future[Made]:
        """Runs a call on the cluster, as ``Executor.submit`` does."""
        future: Future[Made] = self._inner.submit(fn, *args, **kwargs)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Disconnects from the scheduler; its workers stay."""
        self._inner.shutdown(wait=wait)


@contextmanager
def cluster_at(address: str) -> Iterator[ClusterExecutor]:
    """The workers of the scheduler at an address, such as ``tcp://192.0.2.7:8786``.

    Raises NoCluster where none answers, there is no worker, or one runs another version.
    """
    try:
        import distributed
    except ImportError:
        raise NoCluster("--cluster needs the package distributed", _INSTALL) from None
    connect: Any = distributed.Client
    try:
        client = connect(address, timeout=ANSWER_SECONDS, set_as_default=False)
    except (OSError, TimeoutError, ValueError, TypeError) as reason:
        raise NoCluster(f"{address}: no scheduler answers there ({_short(reason)})") from None
    try:
        _check_workers(client, address)
        yield ClusterExecutor(client)
    finally:
        client.close(timeout=ANSWER_SECONDS)


def lost_workers() -> tuple[type[BaseException], ...]:
    """The exceptions that a cluster raises when it gives a piece of work up."""
    from concurrent.futures import CancelledError

    from distributed.client import FutureCancelledError
    from distributed.scheduler import KilledWorker

    return (KilledWorker, CancelledError, FutureCancelledError)


def _check_workers(client: Any, address: str) -> None:
    try:
        client.wait_for_workers(1, timeout=ANSWER_SECONDS)
    except (TimeoutError, OSError):
        raise NoCluster(
            f"{address}: the scheduler has no workers",
            "start some: dask worker ADDRESS --nworkers -1",
        ) from None
    versions: dict[str, Any] = client.run(_prepared, on_error="return")
    other = sorted(worker for worker, version in versions.items() if version != program_digest())
    if other:
        shown = ", ".join(other[:3]) + (", …" if len(other) > 3 else "")
        raise NoCluster(
            f"{address}: {len(other)} of {len(versions)} workers have another version of chartkit "
            f"or none: {shown}",
            "install the same one everywhere, so that the same pages come out",
        )


def _prepared() -> str:
    """Makes a worker's garbage collector run as rarely as on this machine; returns its program's
    digest."""
    gc.set_threshold(COLLECT_AFTER)
    return program_digest()


def _short(reason: BaseException) -> str:
    return str(reason).partition("\n")[0][:120] or type(reason).__name__
