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
    done = call("book", str(ROOT / "examples/friday.toml"), "-o", str(folder / "out"))
    assert done.exit_code == 0, done.stderr
    planned = call("plan", str(ROOT / "examples/friday.toml"))
    assert planned.exit_code == 0, planned.stderr
    (folder / "out/plan.txt").write_text(planned.stdout)
    return folder / "out"


def test_five_books_and_a_set_sheet(friday: Path) -> None:
    """Each of the five has a book with all the songs they play; the sheet is one page."""
    songs = {"maren": 13, "tobias": 13, "isolde": 12, "wendel": 13, "odile": 12}
    for name, count in songs.items():
        outline = PdfReader(friday / f"{name}.pdf", strict=True).outline
        titles = [entry.title for entry in outline if not isinstance(entry, list)]
        assert len(titles) == count + 1
    assert len(PdfReader(friday / "set-sheet.pdf").pages) == 1


_STATE = re.compile(r"no capo|capo \d+|down \d+")


def planned_states(plan: str, lanes: tuple[str, ...]) -> list[str]:
    """What a player's guitar is like in each song, by the lanes of the plan."""
    states: dict[int, str] = {}
    for lane in lanes:
        line = next(line for line in plan.splitlines() if line.strip().startswith(lane))
        cells = line.strip()[len(lane) :].replace("|", " ").split()
        for song, cell in enumerate(cells):
            if cell != ".":
                number = re.sub(r"\D", "", cell)
                states[song] = "no capo" if cell == "-" else f"capo {number}"
                states[song] = f"down {number}" if cell.startswith("d") else states[song]
    return [states.get(song, "") for song in range(13)]


def test_set_sheet_and_plan_agree(friday: Path) -> None:
    """The set sheet gives each song just the capos and tunings that the plan says."""
    plan = (friday / "plan.txt").read_text()
    tobias = planned_states(plan, ("the cedar guitar", "the old blue one"))
    isolde = planned_states(plan, ("guitar  ",))
    assert all(tobias) and isolde.count("") == 1
    sheet = PdfReader(friday / "set-sheet.pdf").pages[0].extract_text().splitlines()
    rows = [states for line in sheet if (states := _STATE.findall(line))]
    assert rows == [[one for one in pair if one] for pair in zip(tobias, isolde, strict=True)]


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler's pdftoppm")
def test_set_sheet_looks_as_in_the_readme(friday: Path, tmp_path: Path) -> None:
    """The picture in the README is the set sheet that is made."""
    now = as_picture(friday / "set-sheet.pdf", tmp_path / "now")
    assert differing(now, ROOT / "examples/set-sheet.png") < 1e-4
