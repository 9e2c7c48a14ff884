"""Files that are no charts, or odd ones: a clear line, the right exit code, nothing destroyed."""

import ctypes
import os
import resource
import signal
import sys
from pathlib import Path

import pytest

from tests.interchange.hostile_pdfs import page, shown
from tests.robustness.commands import CHART, READERS, answered, called, messages, with_file

OLD_PAGE = b"%PDF-1.7\n%\xe2\xe3\n%chartkit\nold\n%%EOF\n"
"""As this program begins its own, so that it may be replaced."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one good chart."""
    (tmp_path / "ferry.chart").write_text(CHART)
    return tmp_path


@pytest.mark.parametrize("command", READERS, ids=" ".join)
def test_a_folder_is_no_chart(folder: Path, command: tuple[str, ...]) -> None:
    """Every command says in one line that a folder cannot be read, and makes nothing."""
    (folder / "songs").mkdir()
    done = answered(*with_file(command, "songs"), folder=folder)
    assert messages(done) == ["chartkit: songs: cannot be read: it is a folder"]
    assert done.returncode == 1
    assert sorted(p.name for p in folder.iterdir()) == ["ferry.chart", "songs"]


@pytest.mark.parametrize(
    ("name", "message"),
    [
        (".", "chartkit: .: cannot be read: it is a folder"),
        ("/", "chartkit: /: cannot be read: it is a folder"),
        ("loop", "chartkit: loop: cannot be read: too many levels of symbolic links"),
        ("n" * 300, f"chartkit: {'n' * 300}: cannot be read: file name too long"),
        (
            "ferry.chart/x",
            "chartkit: ferry.chart/x: cannot be read: a part of its path is not a folder",
        ),
        (
            "/dev/zero",
            "chartkit: /dev/zero: this is too large to be a chart: more than 8,000,000 bytes",
        ),
    ],
)
def test_names_of_no_chart(folder: Path, name: str, message: str) -> None:
    """Folders, loops of links, endless devices and names too long get one line."""
    (folder / "loop").symlink_to("loop")
    done = answered("engrave", name, "-o", "out.pdf", folder=folder)
    assert messages(done) == [message]
    assert done.returncode == 1
    assert not (folder / "out.pdf").exists()


@pytest.mark.parametrize("command", [("check", ""), ("engrave", ""), ("engrave", "a", "-o", "")])
def test_an_empty_name_is_no_file(folder: Path, command: tuple[str, ...]) -> None:
    """An empty name, as an unset variable of a shell gives, is reported and nothing is written."""
    done = answered(*command, folder=folder)
    assert messages(done)[0].endswith(": nothing is given")
    assert done.returncode == 2
    assert [p.name for p in folder.iterdir()] == ["ferry.chart"]


@pytest.mark.parametrize(
    ("command", "message"),
    [
        (("engrave", "ferry.chart", "-o", "n" * 300), "cannot be written: file name too long"),
        (("engrave", "ferry.chart", "-o", "ferry.chart/"), "cannot be made: a file has that name"),
        (("engrave", "ferry.chart", "-o", "ferry.chart/a.pdf"), "there is no folder ferry.chart"),
        (("engrave", "ferry.chart", "-o", "/dev/full"), "no space left on device"),
        (("export", "ferry.chart", "--to", "text", "-o", "no/a.txt"), "there is no folder no"),
        (("export", "ferry.chart", "--to", "text", "-o", "/dev/full"), "no space left on device"),
        (("capo", "ferry.chart", "--sheet", "songs"), "it is a folder"),
        (("capo", "ferry.chart", "--sheet", "no/sheet.pdf"), "there is no folder no"),
    ],
)
def test_targets_that_cannot_be_written(
    folder: Path, command: tuple[str, ...], message: str
) -> None:
    """A target that cannot be written gets one line, and nothing is left beside it."""
    (folder / "songs").mkdir()
    done = answered(*command, folder=folder)
    assert message in messages(done)[-1]
    assert len(messages(done)) == 1
    assert done.returncode == 1
    assert sorted(p.name for p in folder.iterdir()) == ["ferry.chart", "songs"]
    assert not list((folder / "songs").iterdir())


def _as_others_are() -> None:
    """Takes the superuser's right to pass over permissions away, if there is one."""
    drop_from_bounds, pass_over, read_all = 24, 1, 2  # prctl(2), capabilities(7)
    for capability in (pass_over, read_all):
        ctypes.CDLL(None).prctl(drop_from_bounds, capability, 0, 0, 0)


@pytest.mark.skipif(sys.platform != "linux", reason="prctl is Linux's")
def test_what_others_may_not_touch(folder: Path) -> None:
    """Files that may not be read, written or put in a folder get one line each."""
    (folder / "ferry.chart").chmod(0o200)
    assert (
        "ferry.chart: cannot be read: permission denied"
        in messages(called("check", "ferry.chart", folder=folder, before=_as_others_are))[0]
    )
    (folder / "ferry.chart").chmod(0o444)
    (folder / "page.pdf").write_bytes(OLD_PAGE)
    (folder / "page.pdf").chmod(0o444)
    folder.chmod(0o555)
    for arguments in (("-o", "page.pdf"), ("-o", "new.pdf")):
        done = called("engrave", "ferry.chart", *arguments, folder=folder, before=_as_others_are)
        (line,) = messages(done)
        assert "cannot be written: " in line
        assert done.returncode == 1
    done = called("tidy", "ferry.chart", folder=folder, before=_as_others_are)
    assert "cannot be written: it is read-only" in messages(done)[0]
    folder.chmod(0o755)
    assert (folder / "page.pdf").read_bytes() == OLD_PAGE
    assert (folder / "ferry.chart").read_text() == CHART
    assert sorted(p.name for p in folder.iterdir()) == ["ferry.chart", "page.pdf"]


def _disk_of_8_kb() -> None:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (8_000, 8_000))


def test_a_full_disk_leaves_what_was_there(folder: Path) -> None:
    """Where the file does not fit, one line says so and the old file stays whole."""
    (folder / "page.pdf").write_bytes(OLD_PAGE)
    for command in (
        ("engrave", "ferry.chart", "-o", "page.pdf"),
        ("capo", "ferry.chart", "--sheet", "page.pdf"),
    ):
        done = called(*command, folder=folder, before=_disk_of_8_kb)
        assert messages(done) == ["chartkit: page.pdf: cannot be written: file too large"]
        assert done.returncode == 1
    assert (folder / "page.pdf").read_bytes() == OLD_PAGE
    assert sorted(p.name for p in folder.iterdir()) == ["ferry.chart", "page.pdf"]


@pytest.mark.parametrize("way", ["./ferry.chart", "soft.chart", "hard.chart"])
@pytest.mark.parametrize(
    "command",
    [
        ("engrave", "ferry.chart", "-o"),
        ("export", "ferry.chart", "--to", "text", "-o"),
        ("capo", "ferry.chart", "--sheet"),
    ],
    ids=lambda command: command[0],
)
def test_no_result_overwrites_its_chart(folder: Path, command: tuple[str, ...], way: str) -> None:
    """The chart is not destroyed by what is made from it, whatever name it goes by."""
    (folder / "soft.chart").symlink_to("ferry.chart")
    os.link(folder / "ferry.chart", folder / "hard.chart")
    done = answered(*command, way, folder=folder)
    line = messages(done)[0]
    assert "would overwrite the chart" in line or "is the chart itself" in line
    assert done.returncode in (1, 2)
    for name in ("ferry.chart", "soft.chart", "hard.chart"):
        assert (folder / name).read_text() == CHART


def test_no_picture_or_page_overwrites_another_chart(folder: Path) -> None:
    """Nor is a chart destroyed by the pictures of its pages or the PDF of another."""
    (folder / "odd.png").write_text(CHART)
    (folder / "ferry.pdf").write_text(CHART)
    pictures = answered("engrave", "odd.png", "--png", folder=folder)
    assert messages(pictures)[-1] == "chartkit: odd.png: cannot be written: it is a chart itself"
    pages = answered("engrave", "ferry.chart", "ferry.pdf", folder=folder)
    assert messages(pages)[0] == "chartkit: ferry.pdf would overwrite the chart ferry.pdf"
    assert (pictures.returncode, pages.returncode) == (1, 2)
    assert (folder / "odd.png").read_text() == (folder / "ferry.pdf").read_text() == CHART


def test_a_font_must_be_a_file(folder: Path) -> None:
    """An endless device is not read as a font."""
    done = answered("engrave", "ferry.chart", "--font", "/dev/zero", folder=folder)
    assert messages(done)[0] == "chartkit: --font: there is no file /dev/zero"
    assert done.returncode == 2


def test_names_that_are_no_text(folder: Path) -> None:
    """A file whose name is no UTF-8 is read and engraved all the same."""
    name = b"caf\xe9.chart"
    (folder / os.fsdecode(name)).write_text(CHART)
    for arguments in ((b"check", name), (b"engrave", name), (b"check", b"--json", name)):
        done = called(*arguments, folder=folder)
        assert (done.returncode, bool(messages(done))) == (0, b"--json" not in arguments)
    assert (folder / os.fsdecode(b"caf\xe9.pdf")).exists()


def test_too_many_open_files_are_reported_as_such(folder: Path) -> None:
    """Where no more files can be opened, that is what the line says, and not that the output
    is at fault."""

    def few() -> None:
        resource.setrlimit(resource.RLIMIT_NOFILE, (9, 9))

    (folder / "in.pdf").write_bytes(page(shown(b"C G")))
    done = called("intake", "in.pdf", folder=folder, before=few)
    assert messages(done) == [
        "chartkit: too many files are open: close other programs, or raise the limit"
    ]
    assert done.returncode == 1


def test_out_of_memory_is_a_line(folder: Path) -> None:
    """A chart that takes more memory than there is ends the call with one line."""
    (folder / "large.chart").write_text("key: C\n\n== A\n" + "| C | F | G7 | C |\n" * 6_000)

    def little() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (100_000_000, 100_000_000))

    done = called("engrave", "large.chart", folder=folder, before=little)
    # The interpreter may itself complain on that line that it cannot tidy up.
    assert messages(done)[-1].endswith("chartkit: there is not enough memory for this")
    assert done.returncode == 1
