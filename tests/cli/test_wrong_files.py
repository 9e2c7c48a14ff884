"""Files that are not what a command reads: each message says what would help."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from chartkit.cli.main import PROGRAM
from tests.charts import SMALL


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a good chart."""
    (tmp_path / "harbour.chart").write_text(SMALL)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments))


@pytest.mark.parametrize("command", ["check", "tidy", "engrave", "capo"])
def test_a_slip_in_a_files_name_is_offered(command: str) -> None:
    """Where a file has nearly the name that was given, the message offers it."""
    done = call(command, "harbor.chart")
    assert done.exit_code == 1
    assert done.stderr.splitlines()[:2] == [
        "chartkit: harbor.chart: cannot be read: there is no such file",
        '  hint: did you mean "harbour.chart"?',
    ]


def test_a_name_that_shares_only_its_ending_is_not_offered() -> None:
    """That two files are charts does not make their names alike."""
    assert call("check", "lamp.chart").stderr.count("\n") == 1


@pytest.mark.parametrize(
    ("name", "content", "kind"),
    [
        ("a.pdf", b"%PDF-1.4\n", "a PDF"),
        ("a.mxl", b"PK\x03\x04....", "a packed file"),
        ("a.musicxml", b"<score-partwise/>", "MusicXML"),
        ("a.musicxml", b"<?xml version='1.0'?>\n", "XML"),
    ],
)
def test_lead_sheets_in_other_forms_are_sent_to_intake(
    name: str, content: bytes, kind: str
) -> None:
    """A file that intake reads is no chart yet, and the message says which command makes one."""
    Path(name).write_bytes(content)
    done = call("check", name)
    assert done.exit_code == 1
    assert done.stderr.splitlines() == [
        f"chartkit: {name}: this is {kind}, not a chart",
        "  hint: chartkit intake makes a chart of a lead sheet",
    ]


@pytest.mark.parametrize(
    ("content", "kind", "hint"),
    [
        (b"\x89PNG\r\n\x1a\n", "a picture", "type what it shows"),
        (b"MThd\0\0\0\6", "a MIDI file", "no chord symbols"),
    ],
)
def test_other_files_are_called_by_their_kind(content: bytes, kind: str, hint: str) -> None:
    """A file that no command can read is called by its kind, with a hint."""
    Path("a.chart").write_bytes(content)
    lines = call("check", "a.chart").stderr.splitlines()
    assert lines[0] == f"chartkit: a.chart: this is {kind}, not a chart"
    assert hint in lines[1]


def test_a_set_is_no_chart_and_a_chart_no_set() -> None:
    """The message names the command that reads each, once, rather than by its every line."""
    Path("night.toml").write_text('name = "Night"\n')
    done = call("check", "night.toml")
    assert (done.exit_code, len(done.stderr.splitlines())) == (1, 2)
    assert "this is a set file, not a chart\n  hint: chartkit book" in done.stderr
    for command in (("book", "harbour.chart", "-o", "out"), ("plan", "harbour.chart")):
        done = call(*command)
        assert done.exit_code == 2
        assert done.stderr.startswith("chartkit: SET: harbour.chart is a chart, not a set file\n")


def test_hints_reach_editors_too() -> None:
    """As JSON a file that cannot be used carries its hint."""
    assert '"did you mean \\"harbour.chart\\"?"' in call("check", "--json", "harbor.chart").stdout
