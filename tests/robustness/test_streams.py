"""Closed, full and narrow standard streams, odd places and homes."""

import os
import pty
import re
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from threading import Thread

import pytest

from tests.robustness.commands import CHART, START, answered, called, messages

PRINTING = (
    ("check", "--json", "ferry.chart"),
    ("tidy", "-"),
    ("capo", "ferry.chart"),
    ("engrave", "ferry.chart", "-o", "-"),
    ("--help",),
)
"""Calls whose result goes to standard output: JSON, a chart, a table, bytes, help."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one good chart."""
    (tmp_path / "ferry.chart").write_text(CHART)
    return tmp_path


@pytest.mark.parametrize("command", PRINTING, ids=lambda command: command[0])
def test_output_that_cannot_be_written(folder: Path, command: tuple[str, ...]) -> None:
    """A full device and a closed output each get one line and exit code 1, never silence."""
    with Path("/dev/full").open("wb") as full:
        done = called(
            *command, folder=folder, given=CHART.encode(), streams={"stdout": full.fileno()}
        )
    assert messages(done) == ["chartkit: the output cannot be written: no space left on device"]
    assert done.returncode == 1
    closed = called(*command, folder=folder, given=CHART.encode(), before=lambda: os.close(1))
    assert messages(closed) == ["chartkit: the output cannot be written: bad file descriptor"]
    assert closed.returncode == 1


def test_closed_input_is_reported(folder: Path) -> None:
    """A closed standard input is a file that cannot be read."""
    done = called("check", "-", folder=folder, before=lambda: os.close(0))
    assert messages(done) == ["chartkit: standard input: cannot be read: bad file descriptor"]
    assert done.returncode == 1


def test_messages_that_nobody_can_read_change_nothing(folder: Path) -> None:
    """With standard error full or closed the result and the exit code are the same."""
    (folder / "odd.chart").write_text("key: Q\n| Cfoo |\n")
    with Path("/dev/full").open("wb") as full:
        checked = called("check", "odd.chart", folder=folder, streams={"stderr": full.fileno()})
    assert checked.returncode == 1
    done = called(
        "engrave", "ferry.chart", "-o", "a.pdf", folder=folder, before=lambda: os.closerange(0, 3)
    )
    assert done.returncode == 0
    assert (folder / "a.pdf").read_bytes().startswith(b"%PDF-")


def test_a_reader_that_leaves_early(folder: Path) -> None:
    """A reader that takes one line and goes (as head does) gets it, and sees no traceback."""
    (folder / "long.chart").write_text("== A\n" + "| Cfoo | Gbar |\n" * 2_000)
    call = subprocess.Popen(
        [*START, "check", "--json", "long.chart"],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert call.stdout is not None and call.stderr is not None
    assert call.stdout.readline() == b"[\n"
    call.stdout.close()
    assert call.stderr.read() == b""
    assert call.wait(timeout=60) == 1


SONG = "key: Db\n\n  | Db | Gb |\n: | é  | ño |\n".encode()


def test_breaking_off_leaves_nothing_half_done(folder: Path) -> None:
    """Ctrl-C ends a run with 130, no traceback and no file, here while a pipe is awaited."""
    os.mkfifo(folder / "pipe.chart")
    call = subprocess.Popen(
        [*START, "engrave", "pipe.chart", "-o", "page.pdf"],
        cwd=folder,
        stderr=subprocess.PIPE,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # what runs in the background may have it ignored
    with (folder / "pipe.chart").open("w") as pipe:  # opens when the program reads
        call.send_signal(signal.SIGINT)
        assert call.wait(timeout=60) == 130
        pipe.write("")
    assert call.stderr is not None
    assert b"Traceback" not in call.stderr.read()
    call.stderr.close()
    assert sorted(p.name for p in folder.iterdir()) == ["ferry.chart", "pipe.chart"]


@pytest.mark.parametrize(
    "environment",
    [
        {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        {"PYTHONIOENCODING": "ascii"},
        {"LC_ALL": "xx_YY.NONE"},
    ],
    ids=str,
)
def test_odd_locales_change_no_chart(folder: Path, environment: dict[str, str]) -> None:
    """A chart is UTF-8 text wherever it is printed."""
    done = called("transpose", "-", "--by", "1", folder=folder, given=SONG, environment=environment)
    assert (done.returncode, messages(done)) == (0, [])
    assert "é" in done.stdout.decode("utf-8")


@pytest.mark.parametrize(
    "environment",
    [
        {"HOME": "", "COLUMNS": "1"},
        {"HOME": "relative", "COLUMNS": "-3"},
        {"HOME": "/nowhere", "PYTHONIOENCODING": "ascii"},
        {"HOME": "/dev/null", "XDG_CACHE_HOME": "/proc"},
    ],
    ids=str,
)
def test_odd_terminals_and_homes(folder: Path, environment: dict[str, str]) -> None:
    """Without a usable home or width the fingerings are worked out and drawn all the same."""
    done = called(
        "capo", "-", "--sheet", "a.pdf", folder=folder, given=SONG, environment=environment
    )
    assert (done.returncode, messages(done)) == (0, ["a.pdf: the options drawn"])
    assert (folder / "a.pdf").read_bytes().startswith(b"%PDF-")
    assert not Path("/nowhere").exists()


def test_signs_that_an_encoding_lacks_are_written_plainly(folder: Path) -> None:
    """In an encoding without ♭ a key is D b, not D and a question mark."""
    song = b"title: \xc3\xa9\nkey: Db\n| Db | Gb |\n"
    done = called(
        "capo", "-", folder=folder, given=song, environment={"PYTHONIOENCODING": "latin-1"}
    )
    assert "é, sounding in Db major" in done.stdout.decode("latin-1").splitlines()[0]


_TURNED = (
    "title: A\u202eB\x9b31mC\u2066\nkey: C\nrange: C4-C5\n\n== Ve\u2067rse\n| C | F | G7 | C |\n"
)
_RAW = re.compile("[\x80-\x9f\x1b\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
_PRINTING = (
    ("capo", "a.chart"),
    ("singer", "a.chart", "--voice", "alto"),
    ("part", "a.chart"),
    ("check", "a.chart"),
    ("transpose", "a.chart", "--by", "1"),
    ("export", "a.chart", "--to", "text", "-o", "-"),
    ("intake", "a.chart"),
    ("plan", "set.toml", "--no-cache"),
    ("tidy", "-"),
)
_SET = (
    'name = "Night"\n[[players]]\nname = "Ada"\nreads = "both"\ninstrument = "guitar"\n'
    '[[songs]]\nchart = "a.chart"\n'
)


def _read_all(handle: int, into: list[bytes]) -> None:
    with suppress(OSError):
        while more := os.read(handle, 65536):
            into.append(more)


@pytest.mark.skipif(sys.platform != "linux", reason="needs a pseudo-terminal")
@pytest.mark.parametrize("call", _PRINTING, ids=" ".join)
def test_nothing_turns_a_terminal(call: tuple[str, ...], tmp_path: Path) -> None:
    """Marks of direction and C1 controls in a chart reach no terminal raw, from any command."""
    (tmp_path / "a.chart").write_text(_TURNED)
    (tmp_path / "set.toml").write_text(_SET)
    ours, theirs = pty.openpty()
    shown: list[bytes] = []
    reader = Thread(target=_read_all, args=(ours, shown))
    reader.start()
    with os.fdopen(theirs, "w", encoding="utf-8") as terminal:
        done = answered(*call, folder=tmp_path, given=_TURNED.encode(), out=terminal)
    reader.join()
    os.close(ours)
    text = b"".join(shown).decode() + "\n".join(messages(done))
    assert text.strip()
    assert not _RAW.search(text), text


@pytest.mark.parametrize("call", [("transpose", "a.chart", "--by", "1"), ("tidy", "-")])
def test_pipes_keep_the_writers_own(call: tuple[str, ...], tmp_path: Path) -> None:
    """A chart that goes through a pipe keeps every mark that its writer has put there."""
    (tmp_path / "a.chart").write_text(_TURNED)
    done = called(*call, folder=tmp_path, given=_TURNED.encode())
    assert "title: A\u202eB\x9b31mC\u2066\n".encode() in done.stdout


LATE = """
import atexit, os, signal
from chartkit.cli.start import run
atexit.register(lambda: os.kill(os.getpid(), signal.SIGINT))
run()
"""


def test_ctrl_c_after_the_last_file_comes_too_late(tmp_path: Path) -> None:
    """When all is written and Python is ending, Ctrl-C changes nothing and prints nothing."""
    (tmp_path / "ferry.chart").write_text(CHART)
    done = subprocess.run(
        [sys.executable, "-c", LATE, "engrave", "ferry.chart"],
        cwd=tmp_path,
        capture_output=True,
        check=False,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    assert (done.returncode, len(messages(done))) == (0, 1)
    assert (tmp_path / "ferry.pdf").exists()
