"""Work done by this process, by pools, by a cluster, or long ago."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO, StringIO
from multiprocessing import active_children
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from chartkit.book import books
from chartkit.book.make_song import PagesRequest, SongPages, make_pages
from chartkit.book.workers import pool
from chartkit.book.workshop import Failed, Job, WorkersLost, Workshop, batches
from chartkit.cli.progress import progress_bar
from chartkit.disk_cache import DiskCache
from tests.book.sets import chart, files_of, made_of, simple_set


@dataclass(frozen=True)
class Answer:
    """What the work below makes."""

    value: int


def doubled(number: int) -> Answer:
    """Twice the number; three is too much for it, and thirteen for the whole process."""
    if number == 3:
        raise RuntimeError("three")
    if number == 13:
        os._exit(1)
    return Answer(2 * number)


DOUBLED = Job(doubled, Answer)


@contextmanager
def cluster() -> Iterator[Executor]:
    """The executor of a small cluster on this machine."""
    distributed = pytest.importorskip(
        "distributed", reason="dask.distributed is not installed: pip install 'chartkit[cluster]'"
    )
    with (
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
        ) as local,
        distributed.Client(local) as client,
        client.get_executor() as executor,
    ):
        yield executor


@pytest.mark.parametrize("kind", ["here", "threads", "processes", "cluster"])
def test_any_executor_makes_the_same_books(kind: str) -> None:
    """Threads, processes and a cluster make the books that this process makes, to the byte."""
    texts, set_file = simple_set(3)
    here = files_of(made_of(texts, set_file))

    @contextmanager
    def executors() -> Iterator[Executor | None]:
        if kind == "here":
            yield None
        elif kind == "threads":
            with ThreadPoolExecutor(2) as threads:
                yield threads
        elif kind == "processes":
            with pool(2) as processes:
                yield processes
        else:
            with cluster() as workers:
                yield workers

    with executors() as executor:
        made = made_of(texts, set_file, Workshop(DiskCache(None), executor, most_waiting=2))
        assert files_of(made) == here


@given(st.lists(st.integers(1, 9), max_size=60), st.integers(1, 16))
def test_batches_lose_nothing_and_shrink(sizes: list[int], largest: int) -> None:
    """Batches are whole groups in order; none waits for more than the largest size, and none is
    longer than its last group needs once an eighth of what is left is reached."""
    groups = [tuple((group, i) for i in range(size)) for group, size in enumerate(sizes)]
    made = list(batches(groups, largest))
    assert [one for batch in made for one in batch] == [one for group in groups for one in group]
    left = sum(sizes)
    for batch in made:
        last = batch[-1][0]
        without_last = [one for one in batch if one[0] != last]
        assert batch[-1] == groups[last][-1]
        assert not without_last or len(without_last) < min(largest, left // 8)
        left -= len(batch)


def test_results_keep_their_order_and_failures_cost_one() -> None:
    """Results come in the order asked for, equal requests share one, a failure is its own."""
    asked = [5, 3, 1, 5, 2]
    for executor in (None, ThreadPoolExecutor(3)):
        answers = Workshop(DiskCache(None), executor, most_waiting=2).done(DOUBLED, asked)
        assert [one.value if isinstance(one, Answer) else None for one in answers] == [
            10,
            None,
            2,
            10,
            4,
        ]
        assert answers[1] == Failed("RuntimeError: three")


def test_a_lost_worker_is_reported() -> None:
    """A worker that the system ends is reported as such, not as a traceback of the pool's."""
    with (
        ProcessPoolExecutor(1) as executor,
        pytest.raises(WorkersLost, match="killed before it was done"),
    ):
        Workshop(DiskCache(None), executor).done(DOUBLED, [1, 13, 2])


def test_work_done_before_is_not_done_again(tmp_path: Path) -> None:
    """A second run takes everything from the cache; one changed song is one song's work."""
    texts, set_file = simple_set(4)
    progress: list[tuple[int, int]] = []
    workshop = Workshop(
        DiskCache(tmp_path / "user/cache"), progress=lambda _, done, of: progress.append((done, of))
    )
    first = files_of(made_of(texts, set_file, workshop))
    progress.clear()
    assert files_of(made_of(texts, set_file, workshop)) == first
    assert progress == [(4, 4), (12, 12)]
    progress.clear()
    texts["song2.chart"] = chart("Song 2", "D")
    made_of(texts, set_file, workshop)
    assert progress[0] == (3, 4)
    assert (9, 12) in progress


def test_progress_counts_up_to_all() -> None:
    """Progress is reported after each piece and ends at all of them."""
    progress: list[tuple[int, int]] = []
    workshop = Workshop(DiskCache(None), progress=lambda _, done, of: progress.append((done, of)))
    workshop.done(DOUBLED, [1, 2, 4])
    assert progress == [(0, 3), (1, 3), (2, 3), (3, 3)]


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs /proc")
def test_workers_end_with_the_process_that_started_them() -> None:
    """When the program is killed without warning, its workers do not stay behind."""
    code = (
        "import os, time\n"
        "from chartkit.book.workers import pool\n"
        "if __name__ == '__main__':\n"
        "    with pool(2) as p:\n"
        "        print(*{p.submit(os.getpid).result() for _ in range(9)}, flush=True)\n"
        "        time.sleep(60)\n"
    )
    running = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    assert running.stdout is not None
    workers = running.stdout.readline().split()
    assert workers
    running.kill()
    running.wait()
    running.stdout.close()
    deadline = time.monotonic() + 10
    while any(is_running(number) for number in workers) and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not any(is_running(number) for number in workers)


def is_running(number: str) -> bool:
    """Whether there is such a process that is not merely waiting to be buried."""
    try:
        return Path(f"/proc/{number}/stat").read_text().split(") ")[1][0] != "Z"
    except OSError:
        return False


class Screen(StringIO):
    """A terminal that remembers what it was shown."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def test_the_bar_shows_how_many_are_done() -> None:
    """On a terminal the bar names the work, counts pieces and tells the time left; elsewhere it
    is silent."""
    screen, file = Screen(), StringIO()
    with progress_bar(screen) as report:
        report("reading charts", 8, 8)
        report("engraving", 5, 8)
        time.sleep(0.25)
    assert "engraving" in screen.getvalue()
    assert "5/8" in screen.getvalue()
    assert ":" in screen.getvalue()
    with progress_bar(file) as report:
        report("engraving", 3, 8)
    assert file.getvalue() == ""


def test_a_mistake_of_ours_costs_one_song(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where making a song fails through the program, its place is marked and the rest is made."""
    texts, set_file = simple_set(3)

    def failing(request: PagesRequest) -> SongPages:
        if "Song 2" in request.text:
            raise RuntimeError("out of ink")
        return make_pages(request)

    monkeypatch.setattr(books, "PAGES", Job(failing, SongPages))
    made = made_of(texts, set_file)
    assert made.failed
    assert any("song2.chart" in message and "out of ink" in message for message in made.messages)
    book = PdfReader(BytesIO(files_of(made)["bo.pdf"]))
    shown = [page.extract_text() for page in book.pages]
    assert [("could not be engraved" in text) for text in shown] == [False, False, True, False]


def test_workers_start_only_for_work() -> None:
    """A pool without work has no processes, so that a rebuild from the cache starts none; with
    work it starts no more than were asked for."""
    before = len(active_children())
    with pool(2) as executor:
        assert executor is not None
        assert len(active_children()) == before
        assert executor.submit(abs, -3).result() == 3
        assert 1 <= len(active_children()) - before <= 2


def test_workers_are_ended_with_the_song_in_hand() -> None:
    """Broken off, a pool ends its workers at once, however long they would still have worked."""
    with pytest.raises(KeyboardInterrupt), pool(2) as executor:
        assert executor is not None
        asleep = executor.submit(time.sleep, 3600)
        while not asleep.running():
            time.sleep(0.01)
        workers = active_children()
        assert workers
        raise KeyboardInterrupt
    for worker in workers:
        worker.join(60)
        assert worker.exitcode
