"""Pages replace pages, and nothing else."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from chartkit.cli.main import program

CHART = "title: A\nkey: C\n\n| C | F | G7 | C |\n"
SET = 'name = "A night"\n\n[[players]]\nname = "Ada"\nreads = "both"\ninstrument = "guitar"\n\n' \
    '[[songs]]\nchart = "song.chart"\n'  # fmt: skip
CALLS = [
    "engrave song.chart -o other.chart", "capo song.chart --sheet other.chart",
    "plan set.toml --sheet set.toml", "plan set.toml --sheet other.chart",
    "capo song.chart --beside other.chart --sheet other.chart",
    "export song.chart --to text -o other.chart",
]  # fmt: skip


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
    done = CliRunner().invoke(program(arguments), arguments)
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
        assert CliRunner().invoke(program(arguments), arguments).exit_code == 0
        assert (tmp_path / target).read_bytes().startswith(b"%PDF-")
