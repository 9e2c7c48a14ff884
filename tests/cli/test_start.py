"""The modules that a command loads before it does anything."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.charts import SMALL

FLOOR = {"lark", "reportlab", "PIL", "pypdf", "pypdfium2", "uharfbuzz", "pydantic"}
DESK = {"starlette", "uvicorn", "watchfiles", "anyio"}
HEAVY = {*DESK, "reportlab", "PIL", "pypdf", "pypdfium2", "uharfbuzz", "defusedxml", "tomllib"}


def loaded(*arguments: str) -> set[str]:
    """Every module that is loaded when the command has run."""
    code = (
        "import sys\nfrom chartkit.cli.main import run\nsys.argv[0] = 'chartkit'\n"
        "try: run()\nexcept SystemExit as end: assert not end.code, end.code\n"
        "print('loaded:', *sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        input=SMALL,
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.rsplit("loaded:", 1)[1].split())


@pytest.mark.parametrize(
    "arguments",
    [
        ("--help",),
        ("check", "-"),
        ("check", "--help"),
        ("tidy", "-"),
        ("transpose", "-", "--by", "1"),
        ("capo", "-"),
        ("singer", "--help"),
        ("strings",),
        ("export", "-", "--to", "text"),
    ],
    ids=" ".join,
)
def test_what_draws_nothing_loads_no_drawing_library(arguments: tuple[str, ...]) -> None:
    """Commands that make no page load neither ReportLab nor readers of other formats."""
    assert not loaded(*arguments) & HEAVY


@pytest.mark.parametrize("module", ["interchange.musicxml.read", "pdf.write"])
def test_readers_and_pages_load_nothing_of_the_net(module: str) -> None:
    """Reading scores and drawing pages load no library for mail or the net, which together take
    longer to load than all of ours for scores."""
    code = f"import sys, chartkit.{module}\nprint(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert not set(done.stdout.split()) & {"urllib.request", "http.client", "ssl", "email"}


def test_the_version_loads_no_room() -> None:
    """Telling the version loads the command line and its floor, no other room, no parser."""
    names = loaded("--version")
    rooms = {name.split(".")[1] for name in names if name.startswith("chartkit.")}
    assert rooms == {"cli", "phrases", "theory", "typed_values"}
    assert not names & FLOOR


def test_checking_loads_no_fretboard() -> None:
    """Checking a chart loads no more of the program than reading it takes, and no validators."""
    names = loaded("check", "-")
    assert "pydantic" not in names
    rooms = {name.split(".")[1] for name in names if name.startswith("chartkit.")}
    assert rooms == {
        "cli",
        "syntax",
        "chart",
        "theory",
        "diagnostics",
        "assets",
        "disk_cache",
        "files",
        "phrases",
        "private_folder",
        "typed_values",
    }


def test_broken_off_while_loading() -> None:
    """Ctrl-C while the program is still being loaded ends it with 130 and without a traceback,
    whichever module it strikes in."""
    code = (
        "import sys\nclass Struck:\n"
        "    def find_spec(self, name, *rest):\n"
        "        if name == struck: raise KeyboardInterrupt\n"
        "struck = sys.argv.pop(1)\nsys.meta_path.insert(0, Struck())\n"
        "from chartkit.cli.start import run\nrun()"
    )
    expected = (130, "", "chartkit: stopped\n")
    for name in ("click", "chartkit.cli.main", "chartkit.diagnostics", "lark", "inspect"):
        done = subprocess.run(
            [sys.executable, "-c", code, name, "check", "-"],
            input="",
            capture_output=True,
            text=True,
            check=False,
        )
        assert (done.returncode, done.stdout, done.stderr) == expected, name


@pytest.mark.skipif(not hasattr(signal, "pthread_sigmask"), reason="holds nothing back there")
def test_broken_off_while_a_library_guesses(tmp_path: Path) -> None:
    """Ctrl-C while ReportLab looks whether a library is there is not taken for its absence."""
    (tmp_path / "a.chart").write_text(SMALL)
    code = (
        "import os, signal, sys\nclass Struck:\n"
        "    def find_spec(self, name, *rest):\n"
        "        if name == 'uharfbuzz' and sys.meta_path.pop(0):\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Struck())\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "from chartkit.cli.start import run\nrun()"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, "engrave", "a.chart"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (130, "chartkit: stopped\n")
    assert not (tmp_path / "a.pdf").exists()


def test_where_a_process_begins_hardly_anything_is_loaded() -> None:
    """Before Ctrl-C is looked after, no module but the package's own three is loaded."""
    code = (
        "import sys\nbefore = set(sys.modules)\nfrom chartkit.cli.start import run\n"
        "print(*sorted(set(sys.modules) - before))"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["chartkit", "chartkit.cli", "chartkit.cli.start"]
