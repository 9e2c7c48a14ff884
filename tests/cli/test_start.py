"""What a command loads before it does anything."""

import subprocess
import sys

import pytest

from tests.charts import SMALL

FLOOR = {"lark", "reportlab", "PIL", "pypdf", "pypdfium2", "uharfbuzz", "pydantic"}
HEAVY = {"reportlab", "PIL", "pypdf", "pypdfium2", "uharfbuzz", "defusedxml", "tomllib"}


def loaded(*arguments: str) -> set[str]:
    """Every module that is loaded when the command has run."""
    code = (
        "import sys\nfrom chartkit.cli.main import run\nsys.argv[0] = 'chartkit'\n"
        "try: run()\nexcept SystemExit as end: assert not end.code, end.code\n"
        "print('loaded:', *sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *arguments],
        input=SMALL, capture_output=True, text=True, check=True,
    )  # fmt: skip
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


def test_the_version_loads_no_room() -> None:
    """Telling the version loads the command line and its floor, no other room, no parser."""
    names = loaded("--version")
    rooms = {name.split(".")[1] for name in names if name.startswith("chartkit.")}
    assert rooms == {"cli", "theory"}
    assert not names & FLOOR


def test_checking_loads_no_fretboard() -> None:
    """Checking a chart loads no more of the program than reading it takes."""
    names = loaded("check", "-")
    rooms = {name.split(".")[1] for name in names if name.startswith("chartkit.")}
    assert rooms == {
        "cli", "syntax", "chart", "arrange", "theory", "diagnostics", "assets", "private_folder",
    }  # fmt: skip
