"""Files are written whole or not at all, whatever happens."""

import os
import random
import signal
import subprocess
import sys
import time
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from chartkit.book.staging import Staging, writer_of
from chartkit.files import Unusable
from tests.book.sets import simple_set

MOMENTS = int(os.environ.get("CHARTKIT_KILLS", "4"))
"""How many random moments the program is killed at; fifty are wanted now and then."""

OLD = b"%PDF-1.7\n%\xe2\xe3\n%chartkit\nold\n%%EOF\n"
"""As this program begins its own, so that it may be replaced."""


def test_nothing_moves_before_commit(tmp_path: Path) -> None:
    """Until all files are done the folder holds the old ones; then all new ones."""
    (tmp_path / "a.pdf").write_bytes(OLD)
    with Staging(tmp_path) as staging:
        staging.add("a.pdf", writer_of(b"new"))
        staging.add("deep/b.pdf", writer_of(b"too"))
        assert (tmp_path / "a.pdf").read_bytes() == OLD
        assert not (tmp_path / "deep").exists()
        staging.commit()
    assert (tmp_path / "a.pdf").read_bytes() == b"new"
    assert (tmp_path / "deep/b.pdf").read_bytes() == b"too"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.pdf", "deep"]


def test_what_breaks_off_leaves_everything_as_it_was(tmp_path: Path) -> None:
    """An exception on the way leaves the old files and nothing else."""
    (tmp_path / "a.pdf").write_bytes(OLD)
    with pytest.raises(KeyboardInterrupt), Staging(tmp_path) as staging:
        staging.add("a.pdf", writer_of(b"new"))
        raise KeyboardInterrupt
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]
    assert (tmp_path / "a.pdf").read_bytes() == OLD


def test_what_others_made_stays(tmp_path: Path) -> None:
    """A file that this program has not made is kept, and nothing else is changed either."""
    (tmp_path / "a.pdf").write_bytes(b"%PDF-1.4 of somebody")
    with pytest.raises(Unusable, match="not made by chartkit"), Staging(tmp_path) as staging:
        staging.add("b.pdf", writer_of(b"new"))
        staging.add("a.pdf", writer_of(b"new"))
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]
    with Staging(tmp_path, replace=True) as staging:
        staging.add("a.pdf", writer_of(b"new"))
        staging.commit()
    assert (tmp_path / "a.pdf").read_bytes() == b"new"


def test_files_that_say_the_same_are_left_alone(tmp_path: Path) -> None:
    """A file that already holds the result keeps its time."""
    (tmp_path / "a.pdf").write_bytes(b"same")
    os.utime(tmp_path / "a.pdf", (1, 1))
    with Staging(tmp_path) as staging:
        staging.add("a.pdf", writer_of(b"same"))
        staging.commit()
    assert (tmp_path / "a.pdf").stat().st_mtime == 1
    assert staging.unchanged == [tmp_path / "a.pdf"]


def test_leftovers_of_the_dead_are_removed(tmp_path: Path) -> None:
    """A hidden folder of a process that is no more goes; that of a living one stays."""
    ended = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"],
        capture_output=True,
        text=True,
        check=True,
    )
    dead = tmp_path / f".chartkit-making-{ended.stdout.strip()}-x"
    alive = tmp_path / f".chartkit-making-{os.getppid()}-x"
    dead.mkdir()
    alive.mkdir()
    with Staging(tmp_path):
        pass
    assert [path.name for path in tmp_path.iterdir()] == [alive.name]


def written_set(folder: Path, key: str) -> list[str]:
    """A set on disk, every song in a key, and the call that makes its books."""
    texts, set_file = simple_set(3)
    for name, text in texts.items():
        (folder / name).write_text(text.replace("key: C", f"key: {key}"))
    (folder / "night.toml").write_text(set_file)
    code = "from chartkit.cli.start import run; run()"
    return [
        sys.executable,
        "-c",
        code,
        "book",
        str(folder / "night.toml"),
        "-o",
        str(folder / "out"),
        "--no-cache",
        "--jobs",
        "1",
        "--per-song",
    ]


def key_of(path: Path) -> str:
    """The key a finished book is in; reading it also shows that the file is whole."""
    reader = PdfReader(BytesIO(path.read_bytes()), strict=True)
    text = "".join(page.extract_text() for page in reader.pages)
    keys_shown = {key for key in ("C major", "D major") if f"Key of {key}" in text}
    (key,) = keys_shown
    return key


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs signals")
def test_killed_at_any_moment_no_file_is_cut_short(tmp_path: Path) -> None:
    """Killed without warning at random moments, the folder holds complete old or new files."""
    environment = {**os.environ, "HOME": str(tmp_path)}
    started = time.monotonic()
    subprocess.run(written_set(tmp_path, "C"), check=True, capture_output=True, env=environment)
    whole_run = time.monotonic() - started
    names = sorted(path.relative_to(tmp_path) for path in (tmp_path / "out").rglob("*.pdf"))
    draw = random.Random(11)
    for moment in range(MOMENTS):
        call = written_set(tmp_path, "CD"[(moment + 1) % 2])
        running = subprocess.Popen(call, stderr=subprocess.DEVNULL, env=environment)
        time.sleep(whole_run * draw.uniform(0.3, 1.05))
        running.kill()
        running.wait()
        now = sorted(path.relative_to(tmp_path) for path in (tmp_path / "out").rglob("*.pdf"))
        now = [name for name in now if not name.parts[1].startswith(".")]
        assert now == names
        for name in names:
            if name.stem != "set-sheet" and "cy" not in str(name):
                assert key_of(tmp_path / name) in ("C major", "D major")
            else:
                PdfReader(tmp_path / name, strict=True)
    subprocess.run(written_set(tmp_path, "D"), check=True, capture_output=True, env=environment)
    assert key_of(tmp_path / "out/ada.pdf") == "D major"
    assert not list((tmp_path / "out").glob(".chartkit*"))
