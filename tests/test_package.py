"""The wheel: built, installed alone, and used."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.charts import SMALL

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which the wheel was unpacked without its checkout."""
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--no-deps", "-q", "-w", str(place), str(ROOT)],
        check=True,
    )
    (wheel,) = place.glob("chartkit-*.whl")
    target = place / "site"
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "--no-deps", "-q", "-t", str(target), str(wheel)],
        check=True,
    )
    return target


def test_wheel_engraves(installed: Path, tmp_path: Path) -> None:
    """The installed wheel finds its grammars and fonts and engraves a song."""
    out = tmp_path / "song.pdf"
    code = (
        "import chartkit, sys; assert chartkit.__file__.startswith(sys.argv[1])\n"
        "from chartkit.cli.main import program\n"
        "program(['engrave'])(['engrave', '-', '-o', sys.argv[2]])"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(installed), str(out)],
        input=SMALL.encode(),
        env={"PYTHONPATH": str(installed), "PATH": ""},
        cwd=tmp_path,
        check=True,
        capture_output=True,
    )
    assert out.read_bytes().startswith(b"%PDF-")


def test_wheel_ships_licences(installed: Path) -> None:
    """The fonts' licence travels with the fonts."""
    assert (installed / "chartkit" / "fonts" / "OFL.txt").is_file()
