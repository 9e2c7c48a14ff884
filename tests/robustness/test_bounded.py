"""Work in a process of its own is held to its limits, and finds no other program."""

import os
import shutil
import sys
from pathlib import Path

import pytest

from chartkit.bounded import LimitReached, Limits, ProcessCrashed, run_in_process
from tests.interchange.hostile_pdfs import HOSTILE, page
from tests.robustness.commands import answered, called, messages

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="limits are the system's")
SMALL = Limits(processor_seconds=1, clock_seconds=30, memory_bytes=100_000_000)


def doubled(data: bytes) -> bytes:
    """What it is given, twice."""
    return data * 2


def swelling(data: bytes) -> bytes:
    """More bytes than are allowed."""
    return b"x" * 200_000_000


def endless(data: bytes) -> bytes:
    """Never comes to an end."""
    while True:
        pass


def asleep(data: bytes) -> bytes:
    """Takes a minute and no work."""
    import time

    time.sleep(60)
    return data


def failing(data: bytes) -> bytes:
    """Raises."""
    raise KeyError("no such thing")


def programs(data: bytes) -> bytes:
    """Where a shell is, and where programs are looked for."""
    return str([shutil.which("sh"), dict(os.environ).get("PATH")]).encode()


def test_an_answer_comes_back() -> None:
    """What the function returns is what comes back."""
    assert run_in_process(doubled, b"ab\0", SMALL) == b"ab\0ab\0"


@pytest.mark.parametrize("work", [swelling, endless])
def test_what_takes_too_much_is_ended(work: object) -> None:
    """Too much memory and too much time of the processor end the work."""
    with pytest.raises(LimitReached):
        run_in_process(work, b"", SMALL)  # type: ignore[arg-type]


def test_what_waits_is_ended() -> None:
    """Work that does nothing for too long is ended too."""
    with pytest.raises(LimitReached):
        run_in_process(asleep, b"", Limits(clock_seconds=1))


def test_what_fails_is_no_answer() -> None:
    """An exception there is one here, with its last line."""
    with pytest.raises(ProcessCrashed, match="no such thing"):
        run_in_process(failing, b"", SMALL)


def test_no_other_program_can_be_found() -> None:
    """The process has no place to look for programs."""
    assert run_in_process(programs, b"", SMALL) == b"[None, '']"


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_hostile_pdfs_are_read_or_refused_in_a_line(name: str, tmp_path: Path) -> None:
    """PDFs that swell or run on are read in part or refused, with no traceback."""
    (tmp_path / "in.pdf").write_bytes(HOSTILE[name]())
    done = answered("intake", "in.pdf", folder=tmp_path)
    lines = messages(done)
    assert done.returncode in (0, 1)
    assert lines and (done.returncode == 0 or lines[0].startswith("chartkit: in.pdf: "))


def test_a_pdf_runs_no_program(tmp_path: Path) -> None:
    """Data that pypdf would hand to a program named jbig2dec is not handed to it."""
    program = tmp_path / "bin" / "jbig2dec"
    program.parent.mkdir()
    program.write_text(f"#!/bin/sh\necho jbig2dec 0.20 | tee -a {tmp_path}/ran\n")
    program.chmod(0o755)
    (tmp_path / "in.pdf").write_bytes(page(b"xx", b"/Filter/JBIG2Decode"))
    path = {"PATH": f"{program.parent}:{os.environ['PATH']}"}
    done = called("intake", "in.pdf", folder=tmp_path, environment=path)
    assert messages(done) and done.returncode == 1
    assert not (tmp_path / "ran").exists()
