"""The commands as a player calls them: files, messages, exit codes."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from chartkit.cli.main import COMMANDS, PROGRAM
from tests.charts import SMALL
from tests.each import each

BROKEN = "title: Broken\nkey: Q\n\n| Gmaj77 | am | C F G |\n: | too | few |\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a good and a broken chart."""
    (tmp_path / "small.chart").write_text(SMALL)
    (tmp_path / "broken.chart").write_text(BROKEN)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str, given: str | bytes | None = None) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments), input=given)


def test_engrave_writes_the_pdf(folder: Path) -> None:
    """Engraving writes the PDF named, and says what it holds."""
    done = call("engrave", "small.chart", "-o", "page.pdf")
    assert done.exit_code == 0
    assert done.stdout == ""
    assert "page.pdf: 1 page; Capo 1, C major shapes, sounds in D♭ major" in done.stderr
    assert (folder / "page.pdf").read_bytes().startswith(b"%PDF-")


def test_engrave_without_output_goes_beside_the_chart(folder: Path) -> None:
    """Without -o the PDF has the chart's name."""
    assert call("engrave", "small.chart").exit_code == 0
    assert (folder / "small.pdf").exists()


def test_engrave_reads_and_writes_standard_streams(folder: Path) -> None:
    """A dash reads the chart from standard input and writes the PDF to standard output."""
    done = call("engrave", "-", "-o", "-", given=SMALL)
    assert done.exit_code == 0
    assert done.stdout_bytes.startswith(b"%PDF-")


def test_engrave_goes_on_after_a_broken_chart(folder: Path) -> None:
    """A broken chart is reported and the others are engraved all the same."""
    (folder / "out").mkdir()
    done = call("engrave", "broken.chart", "missing.chart", "small.chart", "-o", "out/")
    assert done.exit_code == 1
    assert "broken.chart:2:6: error[bad-key]" in done.stderr
    assert "missing.chart: cannot be read: there is no such file" in done.stderr
    assert sorted(path.name for path in (folder / "out").iterdir()) == ["small.pdf"]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("engrave", "a.chart", "b.chart", "-o", "small.chart"), "small.chart is not a folder"),
        (("engrave", "a.chart", "b.chart", "-o", "new"), "end it with / and it is made: -o new/"),
        (("engrave", "small.chart", "--show", "chords"), "chords is both, shapes or sounding"),
        (("engrave", "small.chart", "--size", "9"), "sizes go from 0.5 to 3 hint:"),
        (("transpose", "small.chart", "--key", "Des"), '"Des" is written "Db major" here'),
        (("transpose", "small.chart", "--key", "fis"), '"fis" is written "F# minor" here'),
        (("transpose", "small.chart", "--key", "Hb"), 'H is B natural: write "Bb"'),
        (("foo",), "chartkit --help lists them"),
        (("transpoes", "small.chart"), "did you mean chartkit transpose?"),
        (("engrave", "-"), "say where the PDF goes"),
        (("engrave", "x/a.chart", "y/a.chart", "-o", "./"), "would both become a.pdf"),
        (("engrave", "small.chart", "-o", "small.chart"), "would overwrite the chart"),
        (("engrave", "small.chart", "--key", "C mayor"), 'did you mean "major"?'),
        (("engrave", "small.chart", "--key", "H"), '"H" is not a key'),
        (("engrave", "small.chart", "--key", "C#m"), "cannot make it minor"),
        (("engrave", "small.chart", "--capo", "12"), "is out of reach: give a fret up to 11"),
        (("engrave", "small.chart", "--capo", "two"), '"two" is not a fret'),
        (("engrave", "small.chart", "--show", "all"), '"all" is not one of'),
        (("engrave", "small.chart", "--paper", "a3"), '"a3" is not one of'),
        (("engrave", "small.chart", "--show", "numbers", "--second-capo", "3"), "prints none"),
        (("engrave", "small.chart", "--show", "shapes", "--reads", "F"), "prints none"),
        (("engrave", "small.chart", "--png", "-o", "-"), "--png: pictures are named after the PDF"),
        (("engrave", "small.chart", "--large", "--size", "1"), "not both"),
        (("engrave", "small.chart", "--size", "1.3-0.9"), "the smaller one first"),
        (("transpose", "small.chart"), "give a target"),
        (("transpose", "small.chart", "--key", "B", "--by", "1"), "not both"),
        (("sing", "small.chart"), '"sing" is not a command'),
    ],
)
def test_wrong_usage(folder: Path, arguments: tuple[str, ...], message: str) -> None:
    """A call that makes no sense says why, in a line, and exits with 2."""
    done = call(*arguments)
    assert done.exit_code == 2
    assert message in " ".join(done.stderr.replace("│", " ").split())
    assert "Traceback" not in done.stderr


def test_check_tells_every_mistake_at_once(folder: Path) -> None:
    """One run of check lists all mistakes, in the order of the text."""
    done = call("check", "broken.chart", "small.chart")
    assert done.exit_code == 1
    places = [row for row in done.stderr.splitlines() if row.startswith("broken.chart:")]
    assert [row.split(": ")[1] for row in places] == [
        "error[bad-key]",
        "error[unknown-quality]",
        "error[lowercase-root]",
        "error[beats-unclear]",
        "error[too-few-bars]",
    ]
    assert done.stderr.splitlines()[-1].startswith("2 charts, 5 errors")


def test_check_of_a_good_chart(folder: Path) -> None:
    """A chart without mistakes passes."""
    done = call("check", "small.chart")
    assert (done.exit_code, done.stderr) == (0, "1 chart, 0 errors, 0 warnings\n")


def test_check_as_json(folder: Path) -> None:
    """Editors get the same mistakes as JSON on standard output."""
    done = call("check", "--json", "broken.chart")
    answer = json.loads(done.stdout)
    assert done.exit_code == 1
    assert answer[1] == {
        "file": "broken.chart",
        "line": 4,
        "column": 4,
        "end_line": 4,
        "end_column": 9,
        "severity": "error",
        "code": "unknown-quality",
        "message": '"maj77" is not a chord quality',
        "hints": ['did you mean "maj7"?'],
    }


def test_tidy_rewrites_and_then_rests(folder: Path) -> None:
    """Tidying lines a chart up; tidying it again changes nothing."""
    (folder / "loose.chart").write_text("key:Db # flat\n\n|Db|Gb Ab|\n:|low|lan-/tern\n")
    assert call("tidy", "--check", "loose.chart").exit_code == 1
    assert call("tidy", "loose.chart").exit_code == 0
    tidy = (folder / "loose.chart").read_text()
    assert tidy == ("key: Db major  # flat\n\n  | Db  | Gb     Ab   |\n: | low | lan- / tern |\n")
    assert call("tidy", "--check", "loose.chart").exit_code == 0


def test_tidy_leaves_a_broken_chart_alone(folder: Path) -> None:
    """A chart with mistakes is not rewritten."""
    assert call("tidy", "broken.chart").exit_code == 1
    assert (folder / "broken.chart").read_text() == BROKEN


def test_transpose_prints_text(folder: Path) -> None:
    """Transposing prints a chart in the new key, or as shapes."""
    moved = call("transpose", "small.chart", "--key", "B")
    assert "key: B major" in moved.stdout
    assert "| B   | E      F#   |" in moved.stdout
    shapes = call("transpose", "small.chart", "--capo", "1")
    assert "chords: shapes" in shapes.stdout
    assert "| C   | F      G    |" in shapes.stdout
    assert call("transpose", "small.chart", "--by", "-2").stdout.count("B") >= 1


def test_schema_is_json() -> None:
    """The schema of a chart is a JSON Schema."""
    schema = json.loads(call("schema").stdout)
    assert schema["$schema"].endswith("2020-12/schema")
    assert {"top", "sections"} <= set(schema["properties"])


@each("command", COMMANDS)
def test_help_of_each_command(command: str) -> None:
    """Every command explains itself, in sentences and without types of a programming language."""
    done = call(command, "--help")
    assert done.exit_code == 0
    assert f"Usage: chartkit {command}" in done.stdout
    assert ("FILES..." in done.stdout) is (command in ("engrave", "check", "tidy", "export"))
    assert not [sign for sign in ("<", "list[", "range>", "x<=") if sign in done.stdout]


def test_help_lists_every_command_in_one_line() -> None:
    """The list of commands tells what each does, none cut off."""
    lines = call("--help").stdout.rsplit("Commands:", 1)[1].splitlines()
    for command in COMMANDS:
        (line,) = [line for line in lines if line.split()[:1] == [command]]
        assert line.endswith(".") and not line.endswith("...")


def test_odd_files_get_one_line(folder: Path) -> None:
    """Folders, bytes that are no text and odd line ends get a line each, never a traceback."""
    (folder / "bytes.chart").write_bytes(b"title: \xff\xfe\n")
    (folder / "windows.chart").write_bytes(b"\xef\xbb\xbfkey: C\r\n\r\n| C |\r\n")
    (folder / "dir.chart").mkdir()
    done = call("check", "bytes.chart", "dir.chart", "windows.chart")
    assert done.exit_code == 1
    assert "bytes.chart:1: this is not UTF-8 text" in done.stderr
    assert "dir.chart: cannot be read: it is a folder" in done.stderr
    assert "1 chart, 0 errors" in done.stderr


@pytest.mark.skipif(os.geteuid() == 0 and not Path("/proc/self").exists(), reason="needs /proc")
def test_unwritable_target_leaves_no_wreck(folder: Path) -> None:
    """A target that cannot be written gets one line, and nothing is left behind."""
    done = call("engrave", "small.chart", "-o", "nowhere/page.pdf")
    assert done.exit_code == 1
    assert "nowhere/page.pdf: cannot be written: there is no folder nowhere" in done.stderr
    assert sorted(path.name for path in folder.iterdir()) == ["broken.chart", "small.chart"]


def test_reading_commands_load_no_drawing_library() -> None:
    """check starts without ReportLab."""
    code = (
        "import sys; from chartkit.cli.main import COMMANDS, PROGRAM\n"
        "try: PROGRAM(['check', '-'])\n"
        "except SystemExit: pass\n"
        "print(sorted({'reportlab', 'PIL'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], input=SMALL, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_pipes_are_written_into(folder: Path) -> None:
    """A named pipe gets the PDF's bytes and stays a pipe."""
    os.mkfifo("pipe")
    reader = subprocess.Popen(["cat", "pipe"], stdout=subprocess.PIPE)
    assert call("engrave", "small.chart", "-o", "pipe").exit_code == 0
    assert reader.communicate(timeout=20)[0].startswith(b"%PDF-")
    assert Path("pipe").is_fifo()


def test_folder_asked_for_is_made(folder: Path) -> None:
    """A folder named with a slash at its end is made where there is none."""
    assert call("engrave", "small.chart", "-o", "new/pages/").exit_code == 0
    assert (folder / "new" / "pages" / "small.pdf").exists()
