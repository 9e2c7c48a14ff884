"""Books made on a cluster: the same bytes, other folders, lost workers, and what is refused."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from chartkit.book import cluster
from chartkit.book.cache import work_cache
from chartkit.book.cluster import NoCluster, cluster_at, lost_workers
from chartkit.book.workshop import Job, Workshop
from tests.book.sets import files_of, made_of, simple_set
from tests.book.test_workshop import DOUBLED, Answer

pytestmark = pytest.mark.skipif(
    find_spec("distributed") is None,
    reason="distributed is not installed: pip install '.[cluster]'",
)

ROOT = Path(__file__).parents[2]


def started(folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """A process of the cluster in a folder and with a cache of its own."""
    folder.mkdir()
    environment = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "HOME": str(folder),
        "XDG_CACHE_HOME": str(folder),
    }
    return subprocess.Popen(
        [sys.executable, "-m", *arguments],
        cwd=folder,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a scheduler on this machine with two workers that share no folder."""
    home = tmp_path_factory.mktemp("cluster")
    note = home / "scheduler.json"
    processes = [
        started(
            home / "scheduler",
            "distributed.cli.dask_scheduler",
            "--host",
            "127.0.0.1",
            "--port",
            "0",
            "--no-dashboard",
            "--scheduler-file",
            str(note),
        )
    ]
    until = time.monotonic() + 60
    while not (note.exists() and note.read_text().endswith("}")) and time.monotonic() < until:
        time.sleep(0.05)
    address_read = json.loads(note.read_text())["address"]
    processes += [
        started(
            home / f"worker{number}",
            "distributed.cli.dask_worker",
            address_read,
            "--nthreads",
            "1",
            "--no-nanny",
            "--no-dashboard",
        )
        for number in range(2)
    ]
    yield address_read
    for process in processes:
        process.kill()
    for process in processes:
        process.wait(20)


def workshop(executor: Any) -> Workshop:
    """A workshop on a cluster, without a cache."""
    return Workshop(work_cache(None), executor, lost_by=lost_workers(), largest_batch=3)


def test_a_cluster_makes_the_same_bytes(address: str) -> None:
    """Workers that see no folder of this machine make the books that this process makes."""
    texts, set_file = simple_set(4)
    here = files_of(made_of(texts, set_file, Workshop(work_cache(None))))
    with cluster_at(address) as executor:
        assert executor.most_waiting >= 64
        made = files_of(made_of(texts, set_file, workshop(executor)))
    assert made == here


def slowly(number: int) -> Answer:
    """Twice the number after a moment, with the process that worked it out."""
    time.sleep(0.05)
    return Answer(2 * number)


def test_work_of_a_lost_worker_is_done_again(address: str) -> None:
    """A worker killed in the middle costs nothing: its pieces are done by another."""
    with cluster_at(address) as executor:
        shop = workshop(executor)
        pids = executor.worker_processes()
        assert len(pids) >= 2
        shop.progress = lambda doing, done, total: (
            os.kill(pids.pop(), signal.SIGKILL) if done == 5 and len(pids) > 1 else None
        )
        answers = shop.done(Job(slowly, Answer), range(40))
    assert answers == [Answer(2 * number) for number in range(40)]
    assert len(pids) == 1


def test_what_fails_fails_alone(address: str) -> None:
    """A mistake in one piece of work leaves the others alone, as anywhere."""
    with cluster_at(address) as executor:
        answers = workshop(executor).done(DOUBLED, [1, 3, 5])
    assert answers[0] == Answer(2)
    assert answers[2] == Answer(10)
    assert "three" in str(answers[1])


def test_another_version_is_refused(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Workers whose program differs are named, since their pages might differ too."""
    monkeypatch.setattr(cluster, "program_digest", lambda: "other")
    with pytest.raises(NoCluster, match="another version"), cluster_at(address):
        pass


def test_nobody_at_the_address(monkeypatch: pytest.MonkeyPatch) -> None:
    """An address where nobody answers, or that is none, is said in a line."""
    monkeypatch.setattr(cluster, "ANSWER_SECONDS", 0.3)
    for address in ("tcp://127.0.0.1:1", "nonsense", "ftp://127.0.0.1:1"):
        with pytest.raises(NoCluster, match="no scheduler answers"), cluster_at(address):
            pass
