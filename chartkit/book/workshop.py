"""Does pieces of work in this process, in a pool, or on a whole cluster.

The pool is any ``concurrent.futures.Executor``: work and requests are plain picklable
values, and only so many wait at a time, so that memory does not grow with the library.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from dataclasses import dataclass
from itertools import groupby
from typing import Generic, TypeVar

from pydantic import TypeAdapter, ValidationError

from chartkit.book.cache import work_key
from chartkit.disk_cache import DiskCache

Request = TypeVar("Request")
Made = TypeVar("Made")

MOST_WAITING = 64
"""The pieces of work that wait at a time: enough to keep a machine's workers busy."""

_LAST_BATCHES = 8
"""A batch holds at most this part of what is left."""


class WorkersLost(Exception):
    """The pool broke down, for instance because the system ended a worker."""


@dataclass(frozen=True, slots=True)
class Failed:
    """A piece of work that failed because of a mistake in the program, with the reason."""

    reason: str


@dataclass(frozen=True, slots=True)
class Job(Generic[Request, Made]):
    """A function of one request, the type of what it makes, and what doing it is called.

    Requests that follow each other and have the same ``together`` go to one worker at a time, so
    that it does once what they share.  With at most ``few`` pieces, this process is quicker than
    workers that have to start first.
    """

    work: Callable[[Request], Made]
    makes: type[Made]
    doing: str = ""
    together: Callable[[Request], object] | None = None
    few: int = 0


Progress = Callable[[str, int, int], None]
"""Called with what is being done, how many are done, and of how many, 0 where nobody knows."""


def no_progress(doing: str, done: int, total: int) -> None:
    """Reports nothing."""


@dataclass(slots=True)
class Workshop:
    """Does jobs, from the cache where they were done before.

    ``executor`` None works in this process.  ``progress`` is called with what is being done, and
    how many are done of how many.  ``lost_by`` are the exceptions that the executor raises when it
    breaks down.  ``largest_batch`` is how many requests at most go to a worker at once, where each
    trip costs more than it does to a process on this machine.  ``starts_slowly`` says that its
    workers first start when work comes, so that a few pieces are not worth it.
    """

    cache: DiskCache
    executor: Executor | None = None
    progress: Progress = no_progress
    most_waiting: int = MOST_WAITING
    lost_by: tuple[type[BaseException], ...] = (BrokenExecutor,)
    largest_batch: int = 1
    starts_slowly: bool = False

    def done(self, job: Job[Request, Made], requests: Sequence[Request]) -> list[Made | Failed]:
        """The result of each request, in order; equal requests are done once.

        Raises WorkersLost when the pool breaks down.
        """
        results: dict[Request, Made | Failed] = {}
        for request, made in self.each(job, requests):
            results[request] = made
        return [results[request] for request in requests]

    def each(
        self, job: Job[Request, Made], requests: Iterable[Request]
    ) -> Iterator[tuple[Request, Made | Failed]]:
        """Each request once with its result, as soon as it is done; results are not kept here.

        Raises WorkersLost when the pool breaks down.
        """
        adapter: TypeAdapter[Made] = TypeAdapter(job.makes)
        wanted = list(dict.fromkeys(requests))
        left, total, count = list[Request](), len(wanted), 0
        for request in wanted:
            kept = self._kept(adapter, job, request)
            if kept is None:
                left.append(request)
            else:
                count += 1
                yield request, kept
        self.progress(job.doing, count, total)
        for request, made in self._worked(job, left):
            if self.cache.keeps and not isinstance(made, Failed):
                self.cache.put({_key(job, request): adapter.dump_json(made)})
            yield request, made
            count += 1
            self.progress(job.doing, count, total)

    def _kept(
        self, adapter: TypeAdapter[Made], job: Job[Request, Made], request: Request
    ) -> Made | None:
        body = self.cache.get(_key(job, request)) if self.cache.keeps else None
        if body is None:
            return None
        try:
            return adapter.validate_json(body)
        except ValidationError:
            return None

    def _worked(
        self, job: Job[Request, Made], requests: list[Request]
    ) -> Iterator[tuple[Request, Made | Failed]]:
        if self.executor is None or (self.starts_slowly and len(requests) <= job.few):
            for request in requests:
                yield request, result_or_failure(job.work, request)
            return
        self.starts_slowly = False
        groups = [tuple(group) for _, group in groupby(requests, job.together)]
        try:
            yield from self._by_others(self.executor, job, batches(groups, self.largest_batch))
        except self.lost_by:
            raise WorkersLost("a worker was killed before it was done") from None

    def _by_others(
        self, executor: Executor, job: Job[Request, Made], coming: Iterator[tuple[Request, ...]]
    ) -> Iterator[tuple[Request, Made | Failed]]:
        waiting: dict[Future[list[Made | Failed]], tuple[Request, ...]] = {}
        try:
            while True:
                for batch in coming:
                    waiting[executor.submit(results_or_failures, job.work, batch)] = batch
                    if len(waiting) >= self.most_waiting:
                        break
                if not waiting:
                    return
                for future in wait(waiting, return_when=FIRST_COMPLETED).done:
                    yield from zip(waiting.pop(future), future.result(), strict=True)
        finally:
            for future in waiting:
                future.cancel()


def _key(job: Job[Request, Made], request: Request) -> str:
    return work_key(job.work.__name__, request)


def batches(groups: Sequence[tuple[Request, ...]], largest: int) -> Iterator[tuple[Request, ...]]:
    """Groups joined until a batch has ``largest`` requests, and smaller batches towards the end,
    so that no worker is left with a long one when the others are done.

    The sizes shrink with what is left (guided self-scheduling, Polychronopoulos and Kuck, 1987).
    """
    left = sum(map(len, groups))
    batch: tuple[Request, ...] = ()
    for group in groups:
        batch += group
        if len(batch) >= min(largest, left // _LAST_BATCHES):
            left -= len(batch)
            yield batch
            batch = ()
    if batch:
        yield batch


def result_or_failure(work: Callable[[Request], Made], request: Request) -> Made | Failed:
    """The result of the work; a mistake in the program costs one piece, not the night."""
    try:
        return work(request)
    except Exception as reason:
        return Failed(f"{type(reason).__name__}: {reason}")


def results_or_failures(
    work: Callable[[Request], Made], requests: tuple[Request, ...]
) -> list[Made | Failed]:
    """The results or failures of several requests, in their order."""
    return [result_or_failure(work, request) for request in requests]
