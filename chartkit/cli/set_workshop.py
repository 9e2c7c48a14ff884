"""Where the work on a set is done: in this process, on this machine's workers, on a cluster."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from chartkit.cli.reporting import say, wrong_usage
from chartkit.cli.streams import BROKEN_OFF

if TYPE_CHECKING:
    from chartkit.book.workshop import Workshop

_FEW = 6
"""With fewer pieces of work, this process is quicker than workers that have to start first."""


@contextmanager
def workshop_for(
    jobs: int | None, pieces: int, no_cache: bool, cluster: str | None = None
) -> "Iterator[Workshop]":
    """A workshop with a progress bar, and with workers if starting them pays.

    Ends the run if the work is interrupted, or workers are lost or cannot be reached.
    """
    from chartkit.book.cache import book_cache_folder, work_cache
    from chartkit.book.cluster import NoCluster
    from chartkit.book.workshop import WorkersLost
    from chartkit.cli.progress import progress_bar

    cache = work_cache(None if no_cache else book_cache_folder())
    try:
        with progress_bar(sys.stderr) as progress, _workshop(jobs, pieces, cluster) as workshop:
            workshop.cache, workshop.progress = cache, progress
            yield workshop
    except NoCluster as reason:
        raise wrong_usage(f"--cluster: {reason}", reason.hint) from None
    except WorkersLost as reason:
        say(f"chartkit: {reason}; nothing has been written")
        raise click.exceptions.Exit(1) from None
    except KeyboardInterrupt:
        say("chartkit: stopped; nothing has been written")
        raise click.exceptions.Exit(BROKEN_OFF) from None
    cache.trim()


@contextmanager
def _workshop(jobs: int | None, pieces: int, cluster: str | None) -> "Iterator[Workshop]":
    """The executor of a workshop: a cluster's workers, this machine's, or this process."""
    from chartkit.book.cache import work_cache
    from chartkit.book.workshop import Workshop

    if cluster is not None:
        from chartkit.book.cluster import LARGEST_BATCH, cluster_at, lost_workers

        with cluster_at(cluster) as executor:
            yield Workshop(
                work_cache(None),
                executor,
                most_waiting=executor.most_waiting,
                lost_by=lost_workers(),
                largest_batch=LARGEST_BATCH,
            )
        return
    from chartkit.book.workers import pool

    workers = min(jobs or os.cpu_count() or 1, max(1, pieces))
    with pool(workers if pieces > _FEW else 1) as executor:
        yield Workshop(work_cache(None), executor, starts_slowly=True)
