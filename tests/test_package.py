"""The wheel: built, installed alone, and used."""

import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

import chartkit
from tests.charts import SMALL

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which the wheel was unpacked without its checkout.

    The builder is called as pip calls it (PEP 517), but without an environment of its own for it,
    which pip would fetch and fill each time.
    """
    place = tmp_path_factory.mktemp("wheel")
    code = "import sys; from hatchling.build import build_wheel; build_wheel(sys.argv[1])"
    subprocess.run([sys.executable, "-c", code, str(place)], cwd=ROOT, check=True)
    (wheel,) = place.glob("chartkit-*.whl")
    with ZipFile(wheel) as packed:
        packed.extractall(place / "site")
    return place / "site"


def test_wheel_engraves(installed: Path, tmp_path: Path) -> None:
    """The installed wheel finds its grammars and fonts and engraves a song."""
    out = tmp_path / "song.pdf"
    code = (
        "import chartkit, sys; assert chartkit.__file__.startswith(sys.argv[1])\n"
        "from chartkit.cli.main import PROGRAM\n"
        "PROGRAM(['engrave', '-', '-o', sys.argv[2]])"
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
    """Both licences are named in the wheel's own data, and the fonts' stands beside the fonts."""
    (data,) = installed.glob("chartkit-*.dist-info")
    texts = {path.name: path.read_text(encoding="utf-8") for path in data.rglob("*.txt")}
    assert texts["LICENSE.txt"].startswith("MIT License")
    assert "SIL OPEN FONT LICENSE" in texts["OFL.txt"]
    assert (installed / "chartkit" / "fonts" / "OFL.txt").is_file()


def test_wheel_tells_its_version_once_and_is_typed(installed: Path) -> None:
    """The wheel has the package's own version, and says that it has types."""
    (data,) = installed.glob("chartkit-*.dist-info")
    assert f"\nVersion: {chartkit.__version__}\n" in (data / "METADATA").read_text("utf-8")
    assert (installed / "chartkit" / "py.typed").is_file()


def test_the_package_runs_as_a_program() -> None:
    """``python -m chartkit`` is the program."""
    done = subprocess.run(
        [sys.executable, "-m", "chartkit", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout == f"chartkit {chartkit.__version__}\n"


def test_wheel_ships_the_desk_and_the_examples(installed: Path) -> None:
    """The page of the desk, the pages of screen books and every example song are inside."""
    for room in ("desk/page", "book/screen"):
        there = {path.name for path in (ROOT / "chartkit" / room).iterdir() if path.is_file()}
        assert there == {path.name for path in (installed / "chartkit" / room).iterdir()} - {
            "__pycache__"
        }
    songs = {path.name for kind in ("*.chart", "*.toml") for path in (ROOT / "examples").glob(kind)}
    assert {path.name for path in (installed / "chartkit" / "examples").iterdir()} == songs
