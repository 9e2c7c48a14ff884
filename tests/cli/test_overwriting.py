"""A result replaces only unchanged results of this program."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from chartkit.cli.main import PROGRAM

CHART = "title: A\nkey: C\n\n| C | F | G7 | C |\n"
SET = (
    'name = "A night"\n\n[[players]]\nname = "Ada"\nreads = "both"\ninstrument = "guitar"\n\n'
    '[[songs]]\nchart = "song.chart"\n'
)
CALLS = [
    "engrave song.chart -o other.chart",
    "capo song.chart --sheet other.chart",
    "plan set.toml --sheet set.toml",
    "plan set.toml --sheet other.chart",
    "capo song.chart --beside other.chart --sheet other.chart",
    "export song.chart --to text -o other.chart",
]


@pytest.mark.parametrize("call", CALLS)
def test_charts_and_sets_are_never_replaced(
    call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever the command, a chart or a set file that stands at its target stays as it is."""
    texts = {"song.chart": CHART, "other.chart": CHART.replace("A", "B"), "set.toml": SET}
    for name, text in texts.items():
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    arguments = call.split()
    done = CliRunner().invoke(PROGRAM, arguments)
    assert done.exit_code in (1, 2)
    assert "Traceback" not in done.output
    assert {name: (tmp_path / name).read_text() for name in texts} == texts


def test_a_page_is_replaced_by_the_next(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A PDF made before, or an empty file, gives way to the new one."""
    (tmp_path / "song.chart").write_text(CHART)
    (tmp_path / "empty.pdf").write_bytes(b"")
    monkeypatch.chdir(tmp_path)
    for target in ("page.pdf", "page.pdf", "empty.pdf"):
        arguments = ["engrave", "song.chart", "-o", target]
        assert CliRunner().invoke(PROGRAM, arguments).exit_code == 0
        assert (tmp_path / target).read_bytes().startswith(b"%PDF-")


SHEET = "Song\n\nC   G\nlow tide\n"
RESULTS = [
    "engrave song.chart -o out.pdf",
    "engrave song.chart -o out.pdf --png --dark",
    "capo song.chart --sheet out.pdf",
    "part song.chart -o out.chart",
    "part song.chart --sheet out.pdf",
    "intake sheet.txt -o out.chart",
    "export song.chart --to text -o out.txt",
    "export song.chart --to json -o out.json",
    "export song.chart --to musicxml -o out.musicxml",
    "export song.chart --to midi -o out.mid",
    "plan set.toml --sheet out.pdf",
    "book set.toml -o .",
]
SIGNED = (".pdf", ".json", ".musicxml", ".mid", ".png")
"""The forms whose files say which program made them."""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a song, a sheet and a set."""
    for name, text in {"song.chart": CHART, "sheet.txt": SHEET, "set.toml": SET}.items():
        (tmp_path / name).write_text(text)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(call: str) -> int:
    """The exit code of a call."""
    arguments = call.split()
    done = CliRunner().invoke(PROGRAM, arguments)
    assert "Traceback" not in done.output
    return done.exit_code


def results(folder: Path) -> dict[Path, bytes]:
    """The files in the folder besides the sources."""
    sources = ("song.chart", "sheet.txt", "set.toml")
    return {path: path.read_bytes() for path in folder.iterdir() if path.name not in sources}


@pytest.mark.parametrize("call", RESULTS)
def test_one_guard_for_all_results(call: str, folder: Path) -> None:
    """Made again, a result takes its own place; somebody's file there stays, byte for byte,
    until --replace is given."""
    assert run(call) == 0
    made = results(folder)
    assert made
    assert run(call) == 0
    for path in made:
        path.write_bytes(b"somebody's own")
    before = results(folder)
    assert run(call) == 1
    assert results(folder) == before
    assert run(f"{call} --replace") == 0
    assert all(content != b"somebody's own" for content in results(folder).values())


@pytest.mark.parametrize("call", RESULTS)
def test_a_result_that_was_changed_is_kept(call: str, folder: Path) -> None:
    """A signed result gives way to another one of this program; with notes that a viewer added,
    or a chart or sheet with another word in it, it stays."""
    assert run(call) == 0
    (folder / "song.chart").write_text(CHART.replace("title: A", "title: Other"))
    (folder / "sheet.txt").write_text(SHEET.replace("Song", "Other"))
    signed = all(path.suffix in SIGNED for path in results(folder))
    assert run(call) == (0 if signed else 1)
    for path, content in results(folder).items():
        path.write_bytes(content + b"\n% a note\n%%EOF\n" if path.suffix == ".pdf" else content)
    if any(path.suffix == ".pdf" for path in results(folder)):
        assert run(call) == 1
