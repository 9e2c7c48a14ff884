"""The example night, from the commands as the README gives them."""

import re
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.test_commands import call
from tests.gallery import as_picture, differing

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def friday(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The books of the example night."""
    folder = tmp_path_factory.mktemp("friday")
    patch = pytest.MonkeyPatch()
    patch.setenv("XDG_CACHE_HOME", str(folder / "cache"))
    done = call("book", str(ROOT / "examples/friday.toml"), "-o", str(folder / "out"))
    assert done.exit_code == 0, done.stderr
    told = call("plan", str(ROOT / "examples/friday.toml"))
    patch.undo()
    assert told.exit_code == 0, told.stderr
    (folder / "out/plan.txt").write_text(told.stdout)
    return folder / "out"


def test_five_books_and_a_set_sheet(friday: Path) -> None:
    """Each of the five has a book with all the songs they play; the sheet is one page."""
    songs = {"maren": 13, "tobias": 13, "isolde": 12, "wendel": 13, "odile": 12}
    for name, count in songs.items():
        outline = PdfReader(friday / f"{name}.pdf", strict=True).outline
        titles = [entry.title for entry in outline if not isinstance(entry, list)]
        assert len(titles) == count + 1
    assert len(PdfReader(friday / "set-sheet.pdf").pages) == 1


def test_set_sheet_and_plan_agree(friday: Path) -> None:
    """The set sheet gives each song the capo that the plan says."""
    lines = (friday / "plan.txt").read_text().splitlines()
    lane = next(line for line in lines if line.strip().startswith("the cedar guitar"))
    planned = re.findall(r"[ |]\s*(\d|-|\.)(?=[ |]|$)", lane.split("guitar")[1])
    sheet = PdfReader(friday / "set-sheet.pdf").pages[0].extract_text()
    assert sheet.count("the cedar guitar") == sum(cell != "." for cell in planned)
    assert sheet.count("capo 3") >= planned.count("3")


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler's pdftoppm")
def test_set_sheet_looks_as_in_the_readme(friday: Path, tmp_path: Path) -> None:
    """The picture in the README is the set sheet that is made."""
    now = as_picture(friday / "set-sheet.pdf", tmp_path / "now")
    assert differing(now, ROOT / "examples/set-sheet.png") < 1e-4
