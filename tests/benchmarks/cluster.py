"""Figures of books made on a cluster: ``python -m tests.benchmarks.cluster [songs] [long]``.

A scheduler and its workers run on this machine, each in a folder of its own, and a book for one
player is made of so many songs (300 unless told otherwise) by one, two and four workers, in
alternation; then, with a second number, a long book by two workers.

Others may use the machine too.  A process that does nothing but count runs beside the workers and
shows how much of a core anyone gets: ``busy`` is how many such processes the workers are worth, 2
for two workers that never wait.  Songs in a second of computing show what a worker loses to its
neighbours.
"""

import hashlib
import json
import os
import resource
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from chartkit.book import cluster
from chartkit.book.books import BookOptions, files, made_night
from chartkit.book.cache import work_cache
from chartkit.book.cluster import ClusterExecutor, cluster_at, lost_workers
from chartkit.book.night import read_night
from chartkit.book.workshop import Workshop
from tests.benchmarks.book import night_of

ROOT = Path(__file__).resolve().parents[2]
ONE_PLAYER = """
name = "A library"
stage = { capos = "chart" }
players = [{ name = "Piano", reads = "sounding" }]
"""


@dataclass(frozen=True)
class Run:
    """One book: songs, workers, seconds it took here, seconds that each worker computed, those that
    the counting process did, the most memory that each worker has held, in megabytes, and a digest
    of the files."""

    songs: int
    workers: int
    seconds: float
    computed: tuple[float, ...]
    counted: float
    peaks_mb: tuple[float, ...]
    digest: str


def process(folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """A process of the cluster that sees no folder but its own and the program's."""
    folder.mkdir()
    own = {"PYTHONPATH": str(ROOT), "HOME": str(folder), "XDG_CACHE_HOME": str(folder)}
    return subprocess.Popen(
        [sys.executable, "-m", *arguments],
        cwd=folder,
        env={**os.environ, **own},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


@contextmanager
def cluster_of(workers: int) -> Iterator[ClusterExecutor]:
    """A scheduler and so many workers of one thread, warm."""
    with tempfile.TemporaryDirectory() as name:
        home, note = Path(name), Path(name) / "scheduler.json"
        options = ("--host", "127.0.0.1", "--port", "0", "--no-dashboard")
        own = [
            process(
                home / "scheduler",
                "distributed.cli.dask_scheduler",
                *options,
                "--scheduler-file",
                str(note),
            )
        ]
        try:
            while not (note.exists() and note.read_text().endswith("}")):
                time.sleep(0.05)
            address = json.loads(note.read_text())["address"]
            options = (address, "--nthreads", "1", "--no-nanny", "--no-dashboard")
            own += [
                process(home / f"worker{number}", "distributed.cli.dask_worker", *options)
                for number in range(workers)
            ]
            with cluster_at(address) as executor:
                executor._client.wait_for_workers(workers, timeout=60)
                made_book(8 * workers, workshop(executor))
                yield executor
        finally:
            for one in own:
                one.kill()
            for one in own:
                one.wait(20)


def workshop(executor: ClusterExecutor) -> Workshop:
    """A workshop on a cluster, without a cache."""
    return Workshop(
        work_cache(None),
        executor,
        most_waiting=executor.most_waiting,
        lost_by=lost_workers(),
    )


def made_book(songs: int, shop: Workshop) -> str:
    """Makes the set sheet and the book; their digest."""
    night = night_of(songs, ONE_PLAYER)
    made = made_night(read_night(*night, shop, False), None, shop)
    digest = hashlib.sha256()
    for name, content in files(made, BookOptions()):
        digest.update(name.encode() + content)
    return digest.hexdigest()


def worker_figures() -> tuple[float, float]:
    """The seconds a worker has computed, and the most memory it has held, in megabytes."""
    usage = resource.getrusage(resource.RUSAGE_SELF)
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def run(songs: int, workers: int, during: Callable[[Workshop, ClusterExecutor], None]) -> Run:
    """A book made by so many workers; ``during`` may watch the workshop."""
    with cluster_of(workers) as executor:
        client: Any = executor._client
        before = client.run(worker_figures)
        shop = workshop(executor)
        during(shop, executor)
        with counting() as counted:
            start = time.perf_counter()
            digest = made_book(songs, shop)
            seconds = time.perf_counter() - start
            beside = counted()
        after = client.run(worker_figures)
        return Run(
            songs=songs,
            workers=workers,
            seconds=seconds,
            computed=tuple(after[one][0] - before[one][0] for one in after),
            counted=beside,
            peaks_mb=tuple(after[one][1] for one in after),
            digest=digest,
        )


@contextmanager
def counting() -> Iterator[Callable[[], float]]:
    """A process that counts; how many seconds it has computed."""
    other = subprocess.Popen([sys.executable, "-c", "while True: pass"])

    def computed() -> float:
        fields = Path(f"/proc/{other.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    try:
        yield computed
    finally:
        other.kill()
        other.wait(20)


def nothing(_: Workshop, __: ClusterExecutor) -> None:
    """Leaves the work alone."""


def kill_one(shop: Workshop, executor: ClusterExecutor) -> None:
    """Kills a worker when a third of the pages are made."""
    left = executor.worker_processes()[-1:]

    def progress(doing: str, done: int, total: int) -> None:
        if doing == "engraving" and left and 3 * done > total:
            os.kill(left.pop(), signal.SIGKILL)

    shop.progress = progress


def shown(one: Run, what: str = "") -> str:
    """A run in a line."""
    computed = sum(one.computed)
    return (
        f"{one.songs:>6} songs, {one.workers} workers{what}: {one.seconds:7.1f} s, "
        f"{one.songs / one.seconds:6.1f} songs/s, {one.songs / computed:6.1f} songs/CPU-s, "
        f"busy {computed / one.counted:.2f}, peak {max(one.peaks_mb):.0f} MB, "
        f"{one.digest[:12]}"
    )


def main() -> None:
    """Prints every run, and the ratios."""
    cluster.ANSWER_SECONDS = 120.0  # a busy machine starts workers slowly
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that the cluster ends too
    songs = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    runs = list[Run]()
    for _ in range(3):
        for workers in (1, 2, 4):
            runs.append(run(songs, workers, nothing))
            print(shown(runs[-1]), flush=True)
    busy = {
        workers: statistics.median(
            sum(one.computed) / one.counted for one in runs if one.workers == workers
        )
        for workers in (1, 2, 4)
    }
    print(
        f"two workers are worth {busy[2] / busy[1]:.2f} of one, four {busy[4] / busy[2]:.2f} of two"
    )
    runs.append(run(songs, 3, kill_one))
    print(shown(runs[-1], ", one of them killed"), flush=True)
    here = made_book(songs, Workshop(work_cache(None)))
    print("the same bytes everywhere" if {one.digest for one in runs} == {here} else "BYTES DIFFER")
    if len(sys.argv) > 2:
        for count in (songs, 2 * songs, int(sys.argv[2])):
            print(shown(run(count, 2, nothing)), flush=True)


if __name__ == "__main__":
    main()
