"""What is kept on disk: whole or not at all, the user's alone, and never holding the program up."""

import multiprocessing
import os
import shutil
import sqlite3
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from chartkit.disk_cache import FILE_NAME, DiskCache, digest_of
from tests.robustness.commands import CHART, called, messages

linux = pytest.mark.skipif(sys.platform != "linux", reason="pipes and devices are the system's")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Where a cache is; not made yet."""
    return tmp_path / "user" / "cache"


def filled(folder: Path) -> Path:
    """The file of a cache that keeps two values."""
    cache = DiskCache(folder)
    cache.put({"one": b"work", "two": bytes(5000)})
    cache.close()
    return folder / FILE_NAME


def test_what_is_kept_comes_back(folder: Path) -> None:
    """Values come back in this process and in the next; others are missing."""
    cache = DiskCache(folder)
    assert cache.get("one") is None
    cache.put({"one": b"work", "two": b""})
    cache.put({"one": b"other work"})
    for again in (cache, DiskCache(folder)):
        assert [again.get(key) for key in ("one", "two", "three")] == [b"other work", b"", None]


def test_asking_makes_no_file(folder: Path) -> None:
    """Nothing is written where nothing is kept."""
    assert DiskCache(folder).get("one") is None
    DiskCache(folder).trim(10)
    assert not folder.parent.exists()


def test_no_folder_keeps_nothing() -> None:
    """Without a home everything works and nothing is kept."""
    cache = DiskCache(None)
    cache.put({"one": b"work"})
    cache.trim(10)
    assert cache.get("one") is None


def test_files_are_the_users_own(folder: Path) -> None:
    """Folders are 0700 and the file 0600, whatever the umask lets through; a folder in which
    others may write, or a link to another place, is not used."""
    before = os.umask(0)
    try:
        path = filled(folder)
    finally:
        os.umask(before)
    assert [one.stat().st_mode & 0o777 for one in (folder.parent, folder, path)] == [
        0o700,
        0o700,
        0o600,
    ]
    for opened in (folder, folder.parent):
        opened.chmod(0o777)
        assert DiskCache(folder).get("one") is None
        opened.chmod(0o700)
    assert DiskCache(folder).get("one") == b"work"
    link = folder.parent / "link"
    (folder.parent / "elsewhere").mkdir(mode=0o700)
    link.symlink_to(folder.parent / "elsewhere")
    DiskCache(link).put({"one": b"work"})
    assert list((folder.parent / "elsewhere").iterdir()) == []


def _flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    at = content.rindex(b"work")
    content[at : at + 4] = b"wxrk"
    path.write_bytes(content)


def _other_table(path: Path) -> None:
    path.unlink()
    with sqlite3.connect(path) as file:
        file.execute("CREATE TABLE kept (a, b)")


HARM: dict[str, Callable[[Path], object]] = {
    "cut": lambda path: path.write_bytes(path.read_bytes()[:3000]),
    "flip": _flip,
    "garbage": lambda path: path.write_bytes(b"SQLite format 3\0" + os.urandom(8000)),
    "text": lambda path: path.write_bytes(b"not a database at all " * 100),
    "empty": lambda path: path.write_bytes(b""),
    "folder": lambda path: (path.unlink(), path.mkdir()),
    "pipe": lambda path: (path.unlink(), os.mkfifo(path)),
    "pipe beside": lambda path: os.mkfifo(path.with_name(f"{FILE_NAME}-journal")),
    "device": lambda path: (path.unlink(), path.symlink_to("/dev/zero")),
    "huge": lambda path: os.truncate(path, 1 << 40),
    "other table": _other_table,
}


@linux
@pytest.mark.parametrize("harm", sorted(HARM))
def test_harm_is_taken_for_nothing_and_mended(folder: Path, harm: str) -> None:
    """Cut, changed, foreign and endless files, pipes and devices give no value and hold nothing
    up; what is kept next is there, but in a folder that stands where the file should be."""
    HARM[harm](filled(folder))
    cache = DiskCache(folder)
    assert cache.get("one") in ((b"work", None) if harm == "pipe beside" else (None,))
    cache.put({"one": b"work"})
    cache.put({"one": b"work"})
    assert DiskCache(folder).get("one") == (None if harm == "folder" else b"work")


@linux
@pytest.mark.parametrize("harm", ["pipe", "device", "huge"])
def test_commands_go_on_beside_a_harmed_cache(tmp_path: Path, harm: str) -> None:
    """``capo`` answers whatever stands where its caches were."""
    home = {"XDG_CACHE_HOME": str(tmp_path / "cache")}
    (tmp_path / "a.chart").write_text(CHART)
    first = called("capo", "a.chart", folder=tmp_path, environment=home)
    files = list((tmp_path / "cache").rglob(FILE_NAME))
    assert len(files) == 2
    for path in files:
        HARM[harm](path)
    again = called("capo", "a.chart", folder=tmp_path, environment=home)
    assert (again.returncode, again.stdout, messages(again)) == (0, first.stdout, messages(first))


def test_an_unwritable_place_is_no_error(tmp_path: Path) -> None:
    """Where no folder can be made nothing is kept, and nothing is raised."""
    (tmp_path / "file").write_text("in the way")
    cache = DiskCache(tmp_path / "file" / "cache")
    cache.put({"one": b"work"})
    assert cache.get("one") is None


def test_a_cache_that_goes_away_is_made_anew(folder: Path) -> None:
    """When somebody empties the folder meanwhile, the next process keeps things again."""
    cache = DiskCache(folder)
    cache.put({"one": b"work"})
    shutil.rmtree(folder)
    cache.put({"two": b"work"})
    cache.trim(10)
    DiskCache(folder).put({"two": b"work"})
    assert DiskCache(folder).get("two") == b"work"


def test_the_longest_unused_go(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Past its size the cache drops what was longest unused, and gives its room back."""
    day = 86_400
    for number in range(10):
        monkeypatch.setattr("chartkit.disk_cache.time", lambda n=number: 2 * day * n)
        DiskCache(folder).put({str(number): bytes(100_000)})
    monkeypatch.setattr("chartkit.disk_cache.time", lambda: 30 * day)
    cache = DiskCache(folder)
    before = (folder / FILE_NAME).stat().st_size
    cache.get("0")
    cache.trim(600_000)
    assert [n for n in range(10) if cache.get(str(n)) is not None] == [0, 7, 8, 9]
    assert (folder / FILE_NAME).stat().st_size < before / 2


def test_a_full_cache_trims_itself(folder: Path) -> None:
    """Whatever is put in, the file stays near the size that it may have."""
    cache = DiskCache(folder, most_bytes=300_000)
    for number in range(60):
        cache.put({str(number): os.urandom(20_000)})
    assert (folder / FILE_NAME).stat().st_size < 400_000
    assert cache.get("59") is not None


def _keep(folder: str, first: int) -> None:
    cache = DiskCache(Path(folder))
    for number in range(first, first + 20):
        cache.put({str(number): str(number).encode()})


def test_processes_keep_things_together(folder: Path) -> None:
    """Several processes at once lose nothing and leave one file."""
    context = multiprocessing.get_context("spawn")
    workers = [context.Process(target=_keep, args=(str(folder), 100 * n)) for n in range(3)]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join(60)
    assert [worker.exitcode for worker in workers] == [0, 0, 0]
    cache = DiskCache(folder)
    wanted = [100 * n + i for n in range(3) for i in range(20)]
    assert [n for n in wanted if cache.get(str(n)) == str(n).encode()] == wanted
    assert [path.name for path in folder.iterdir()] == [FILE_NAME]


def test_keys_tell_values_apart() -> None:
    """What differs by a letter has another key."""
    assert len({digest_of(1, 2), digest_of(12), digest_of("1", 2), digest_of((1, 2))}) == 4
