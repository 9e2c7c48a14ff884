"""The documents tell what is true of the program."""

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

import chartkit
from chartkit.cli.main import program

ROOT = Path(__file__).resolve().parent.parent


def test_rooms_in_developers_match_the_folders() -> None:
    """Every room in the table exists, and every room is in the table."""
    table = (ROOT / "DEVELOPERS.md").read_text().split("## Rooms")[1].split("##")[0]
    told = set(re.findall(r"`(\w+)`", "".join(row.split("|")[1] for row in _rows(table))))
    package = Path(chartkit.__file__).parent
    there = {path.stem for path in package.iterdir() if path.stem[0] not in "_."}
    assert told == there


def _rows(table: str) -> list[str]:
    return [row for row in table.splitlines() if row.startswith("| `")]


def test_paths_in_documents_exist() -> None:
    """Every file a document names is there."""
    for name in ("README.md", "DEVELOPERS.md", "fonts/README.md"):
        text = (ROOT / name).read_text()
        for path in re.findall(r"\((\w[\w./-]*\.\w+)\)", text):
            assert (ROOT / path).exists(), f"{name} names {path}"
        for path in re.findall(r"`((?:chartkit|tests|grammar|fonts|examples)/[\w./]+\.\w+)`", text):
            assert (ROOT / path).exists(), f"{name} names {path}"


def test_readme_begins_with_the_job() -> None:
    """One paragraph under the title states the job."""
    first = (ROOT / "README.md").read_text().split("\n\n")[1]
    assert {"capo", "shapes", "sounding", "PDF"} <= set(re.findall(r"\w+", first))


def test_nothing_else_at_the_top() -> None:
    """The top level holds the files and folders that belong there."""
    allowed = {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "chartkit", "grammar", "tests",
        "examples", "fonts", ".ci", ".git", ".gitignore",
    }  # fmt: skip
    ignored = (ROOT / ".gitignore").read_text().split()
    names = {p.name for p in ROOT.iterdir()}
    extra = {n for n in names - allowed if f"{n}/" not in ignored and not n.endswith(".pdf")}
    assert extra <= {n for n in extra if n.endswith(".egg-info")}


def test_the_ranking_in_the_readme_is_what_is_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The table that the README shows comes out of the program."""
    monkeypatch.setenv("COLUMNS", "100")
    text = (ROOT / "README.md").read_text()
    block = text.split("$ chartkit capo examples/lantern-road.chart\n")[1].split(
        "chartkit searches"
    )[0]
    shown = [line[4:] for line in block.rstrip().splitlines()]
    done = CliRunner().invoke(
        program(["capo"]), ["capo", str(ROOT / "examples" / "lantern-road.chart")]
    )
    assert len(shown) >= 5
    assert done.stdout.splitlines()[: len(shown)] == shown
