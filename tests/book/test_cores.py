"""No more work at once than a machine has cores, and none that waits for a killed worker."""

import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from importlib.util import find_spec
from pathlib import Path
from threading import Lock

import pytest

from chartkit.book import cores
from chartkit.book.cores import core_count, on_a_free_core

pytestmark = pytest.mark.skipif(find_spec("fcntl") is None, reason="this system has no flock")

HOLDER = """
import time
from chartkit.book.cores import on_a_free_core
on_a_free_core(lambda: (print("held", flush=True), time.sleep(600)))
"""


@pytest.fixture(autouse=True)
def own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder for locks of the test's own."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setenv("TMPDIR", str(tmp_path))


def test_work_waits_for_a_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of six workers on two cores two work at a time, and all get done."""
    monkeypatch.setattr(cores, "core_count", lambda: 2)
    busy, most, count = [0], [0], Lock()

    def work(number: int) -> int:
        with count:
            busy[0] += 1
            most[0] = max(most[0], busy[0])
        time.sleep(0.02)
        with count:
            busy[0] -= 1
        return 2 * number

    with ThreadPoolExecutor(6) as pool:
        done = list(pool.map(lambda number: on_a_free_core(work, number), range(18)))
    assert done == [2 * number for number in range(18)]
    assert most == [2]


def test_a_killed_worker_leaves_its_core(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The only core is free again as soon as the process that held it is gone."""
    monkeypatch.setattr(cores, "core_count", lambda: 1)
    holder = subprocess.Popen([sys.executable, "-c", HOLDER], stdout=subprocess.PIPE, text=True)
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    with ThreadPoolExecutor(1) as pool:
        waiting = pool.submit(on_a_free_core, lambda: "done")
        time.sleep(0.05)
        assert not waiting.done()
        holder.kill()
        holder.wait(20)
        assert waiting.result(20) == "done"


def test_a_mistake_in_the_work_frees_the_core(monkeypatch: pytest.MonkeyPatch) -> None:
    """What fails, fails as it would alone, and the next piece is done."""
    monkeypatch.setattr(cores, "core_count", lambda: 1)
    with pytest.raises(ZeroDivisionError):
        on_a_free_core(lambda: 1 // 0)
    assert on_a_free_core(lambda: 1) == 1


def test_a_folder_that_others_may_write_is_not_used(tmp_path: Path) -> None:
    """Where the folder is somebody else's to write in, nothing is limited and nothing is made."""
    assert on_a_free_core(lambda: 1) == 1
    (folder,) = tmp_path.iterdir()
    assert len(list(folder.iterdir())) == core_count()
    for one in folder.iterdir():
        one.unlink()
    folder.chmod(0o777)
    assert on_a_free_core(lambda: 1) == 1
    assert list(folder.iterdir()) == []
