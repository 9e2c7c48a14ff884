"""Figures of books made on a cluster:
``python -m tests.benchmarks.cluster [songs] [long ...] [busy] [only]``.

A scheduler and its workers run on this machine, each in a folder of its own, and a book for one
player is made of so many songs (300 unless another number is given) by one, two and four workers,
in alternation; then, with more numbers, long books of songs of one page by two workers, whose
memory, and that of the client, is written down as it grows.  With the word ``only`` only these are
made.

``others`` is how much of the machine's processors somebody else had: seconds compare only where it
is small.  With the word ``busy`` a process that does nothing but count runs beside the workers and
shows how much of a core anyone gets; ``worth`` is how many such processes the workers are worth.
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
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from chartkit.book import cluster
from chartkit.book.books import BookOptions, made_night, output_files
from chartkit.book.cache import work_cache
from chartkit.book.cluster import LARGEST_BATCH, ClusterExecutor, cluster_at, lost_workers
from chartkit.book.night import ChartText, read_night
from chartkit.book.workshop import Workshop
from tests.benchmarks.book import SetOfCharts, night_of

ROOT = Path(__file__).resolve().parents[2]
NO_PROFILE = {"DASK_DISTRIBUTED__WORKER__PROFILE__ENABLED": "False"}
"""A worker keeps an hour of its profile otherwise, which grows by 0.2 MB a second (measured)."""
ONE_PLAYER = """
name = "A library"
stage = { capos = "chart" }
players = [{ name = "Piano", reads = "sounding" }]
"""


@dataclass(frozen=True)
class Run:
    """One book: songs, workers, seconds it took here, seconds that each worker computed, those that
    the counting process did (0 without one), the share of the processors that others had, the most
    memory that each worker has held, in megabytes, and a digest of the files."""

    songs: int
    workers: int
    seconds: float
    computed: tuple[float, ...]
    counted: float
    others: float
    peaks_mb: tuple[float, ...]
    digest: str


def process(folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """A process of the cluster that sees no folder but its own and the program's."""
    folder.mkdir()
    own = {
        "PYTHONPATH": str(ROOT),
        "HOME": str(folder),
        "XDG_CACHE_HOME": str(folder),
        **NO_PROFILE,
    }
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
        largest_batch=LARGEST_BATCH,
    )


_CHORDS = (
    "C Dm Em F G Am",
    "G Am Bm C D Em",
    "D Em F#m G A Bm",
    "Eb Fm Gm Ab Bb Cm",
    "Bb Cm Dm Eb F Gm",
)
"""The first six chords of some keys."""


def short_song(number: int) -> str:
    """A song of one page that no other is like: four rows of four bars with words."""
    one, two, three, four, five, six = _CHORDS[number % len(_CHORDS)].split()
    rows = "".join(
        f"| {one} | {(two, four, six, five, three)[(number + row) % 5]} | {four} | {five} |\n"
        f": | low tide | song {number} | row {row} | home |\n"
        for row in range(4)
    )
    return (
        f"title: Shore Song {number}\nkey: {one}\ntempo: {80 + number % 60}\n\n== Verse 1\n{rows}"
    )


def short_night(songs: int) -> SetOfCharts:
    """A set of so many songs of one page."""
    set_list, source, _ = night_of(songs, ONE_PLAYER)
    return set_list, source, [ChartText(short_song(number)) for number in range(songs)]


def made_book(songs: int, shop: Workshop, short: bool = False) -> str:
    """Makes the set sheet and the book; their digest."""
    night = short_night(songs) if short else night_of(songs, ONE_PLAYER)
    made = made_night(read_night(*night, shop, with_plan=False), None, shop)
    digest = hashlib.sha256()
    with tempfile.TemporaryDirectory() as folder:
        for name, write in output_files(made, BookOptions()):
            path = Path(folder, name)
            with path.open("wb") as out:
                write(out)
            with path.open("rb") as there:
                digest.update(hashlib.file_digest(there, "sha256").digest())
    return digest.hexdigest()


def worker_figures() -> tuple[float, float]:
    """The seconds a worker has computed, and the most memory it has held, in megabytes."""
    usage = resource.getrusage(resource.RUSAGE_SELF)
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def run(
    songs: int,
    workers: int,
    during: Callable[[Workshop, ClusterExecutor], None],
    is_busy: bool = False,
    short: bool = False,
) -> Run:
    """A book made by so many workers; ``during`` may watch the workshop."""
    with cluster_of(workers) as executor:
        client: Any = executor._client
        ours = (client.run_on_scheduler(os.getpid), os.getpid())
        before = client.run(worker_figures)
        shop = workshop(executor)
        during(shop, executor)
        with counting() if is_busy else nullcontext(lambda: 0.0) as counted:
            start, machine, beside = time.perf_counter(), machine_seconds(), seconds_of(*ours)
            digest = made_book(songs, shop, short)
            seconds, counts = time.perf_counter() - start, counted()
            machine, beside = machine_seconds() - machine, seconds_of(*ours) - beside
        after = client.run(worker_figures)
        computed = tuple(after[one][0] - before[one][0] for one in after)
        return Run(
            songs=songs,
            workers=workers,
            seconds=seconds,
            computed=computed,
            counted=counts,
            others=(machine - beside - counts - sum(computed)) / seconds / (os.cpu_count() or 1),
            peaks_mb=tuple(after[one][1] for one in after),
            digest=digest,
        )


def machine_seconds() -> float:
    """The seconds that all processors of this machine have computed."""
    first = Path("/proc/stat").read_text(encoding="ascii").partition("\n")[0]
    user, nice, system, _, _, *interrupts = map(int, first.split()[1:9])
    return (user + nice + system + sum(interrupts)) / os.sysconf("SC_CLK_TCK")


def seconds_of(*processes: int) -> float:
    """The seconds that these processes have computed."""
    ticks = 0
    for one in processes:
        fields = Path(f"/proc/{one}/stat").read_text().rpartition(")")[2].split()
        ticks += int(fields[11]) + int(fields[12])
    return ticks / os.sysconf("SC_CLK_TCK")


@contextmanager
def counting() -> Iterator[Callable[[], float]]:
    """A process that counts; how many seconds it has computed."""
    other = subprocess.Popen([sys.executable, "-c", "while True: pass"])
    try:
        yield lambda: seconds_of(other.pid)
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


def watch_memory(shop: Workshop, executor: ClusterExecutor) -> None:
    """Prints what each worker and the client hold, ten times while pages are made."""
    client: Any = executor._client
    due = [0]

    def progress(doing: str, done: int, total: int) -> None:
        if doing == "engraving" and 10 * done >= total * due[0]:
            held = client.run(megabytes_held).values()
            workers = ", ".join(f"{one:.0f}" for one in held)
            print(
                f"{done:>8} made: workers {workers} MB, client {megabytes_held():.0f} MB",
                flush=True,
            )
            due[0] += 1

    shop.progress = progress


def megabytes_held() -> float:
    """The memory this process holds."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * resource.getpagesize() / (1 << 20)


def shown(one: Run, what: str = "") -> str:
    """A run in a line."""
    computed = sum(one.computed)
    worth = f", worth {computed / one.counted:.2f}" if one.counted else ""
    return (
        f"{one.songs:>6} songs, {one.workers} workers{what}: {one.seconds:7.1f} s, "
        f"{one.songs / one.seconds:6.1f} songs/s, {one.songs / computed:6.1f} songs/CPU-s{worth}, "
        f"others {one.others:.0%}, peak {max(one.peaks_mb):.0f} MB, {one.digest[:12]}"
    )


def speed(one: Run) -> float:
    """How fast a book was made: songs a second, or what the workers were worth beside a counting
    process."""
    return sum(one.computed) / one.counted if one.counted else one.songs / one.seconds


def main() -> None:
    """Prints every run, and the ratios."""
    cluster.ANSWER_SECONDS = 120.0  # a busy machine starts workers slowly
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that the cluster ends too
    is_busy = "busy" in sys.argv
    numbers = [int(one) for one in sys.argv[1:] if one.isdecimal()]
    if "only" in sys.argv:
        long_books(numbers)
        return
    songs = numbers[0] if numbers else 300
    runs = list[Run]()
    for _ in range(3):
        for workers in (1, 2, 4):
            runs.append(run(songs, workers, nothing, is_busy))
            print(shown(runs[-1]), flush=True)
    one, two, four = (
        statistics.median(speed(each) for each in runs if each.workers == workers)
        for workers in (1, 2, 4)
    )
    print(f"two workers: {two / one:.2f} of one, four: {four / two:.2f} of two")
    runs.append(run(songs, 3, kill_one))
    print(shown(runs[-1], ", one of them killed"), flush=True)
    here = made_book(songs, Workshop(work_cache(None)))
    print("the same bytes everywhere" if {one.digest for one in runs} == {here} else "BYTES DIFFER")
    long_books(numbers[1:])


def long_books(counts: list[int]) -> None:
    """Prints figures of long books of short songs, with the most memory the client has held."""
    for count in counts:
        print(shown(run(count, 2, watch_memory, short=True)), flush=True)
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"{count:>8} songs: the client held {most:.0f} MB at most", flush=True)


if __name__ == "__main__":
    main()
