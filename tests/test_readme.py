"""Every command that the README shows, run."""

import os
import re
import shlex
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from chartkit.cli.main import COMMANDS, PROGRAM
from chartkit.diagnostics import Source
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.syntax.reader import read_chart

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDES = "".join(
    (ROOT / "examples" / name).read_text(encoding="utf-8") for name in ("PAGES.md", "COMMANDS.md")
)
_SHOWN = re.compile(
    rf"(?<!\$ )\bchartkit ((?:{'|'.join(COMMANDS)})(?: [^`\n]*)?|--[a-z-]+)(?=[`\n])"
)
_NOT_RUN = {"desk songs/", "desk songs", "desk"}
"""It serves until it is stopped."""


SHORT_SET = """name = "Four Songs"
[[players]]
name = "Maren"
reads = "words"
[[players]]
name = "Tobias"
instrument = "guitar"
""" + "".join(
    f'[[songs]]\nchart = "{name}.chart"\n'
    for name in ("lantern-road", "breakwater", "glass-piers", "winter-mooring")
)
"""A set for the options of `book`: the night of the examples is made whole by its own call."""


def shown_commands() -> list[str]:
    """The commands in code, each once: what stands in its place in a sentence goes too."""
    calls = dict.fromkeys(call.strip() for call in _SHOWN.findall(README))
    bare = set(COMMANDS) - {"schema"}  # a command's name alone, in a sentence
    return [call for call in calls if call not in bare]


def shown_options(command: str) -> list[str]:
    """Every option in the first column of the guides' tables of a command's options."""
    tables = [part.split("\n\n")[0] for part in GUIDES.split(f"| option of `{command}` | |")[1:]]
    rows = (row.split("|") for table in tables for row in table.splitlines())
    cells = (cell for row in rows if len(row) > 2 for cell in row[1:-1])
    return [option for cell in cells for option in re.findall(r"`(--[^`]+)`", cell)]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A player's folder: the examples, a song, another player's sheet, the set."""
    place = tmp_path_factory.mktemp("player")
    shutil.copytree(ROOT / "examples", place / "examples")
    for file in (ROOT / "examples").iterdir():
        if file.suffix in (".chart", ".toml"):
            shutil.copy(file, place)
    shutil.copy(ROOT / "examples" / "lantern-road.chart", place / "song.chart")
    (place / "short.toml").write_text(SHORT_SET, encoding="utf-8")
    chart = read_chart(Source((place / "song.chart").read_text(encoding="utf-8"))).chart
    score = musicxml_bytes(chart).decode()
    named = re.sub("<part-name>.*?</part-name>", "<part-name>Voice</part-name>", score)
    (place / "sheet").write_text(named, encoding="utf-8")
    return place


def run(call: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Runs a call as a shell would, in the folder; it must go well."""
    monkeypatch.chdir(folder)
    monkeypatch.setattr(os, "cpu_count", lambda: 1)  # workers take longer to start than to help
    arguments: list[str] = []
    for word in shlex.split(call):
        arguments += sorted(map(str, Path().glob(word))) if "*" in word else [word]
    done = CliRunner().invoke(PROGRAM, arguments)
    assert done.exit_code == 0, (call, done.stderr, done.exception)


@pytest.mark.parametrize("call", [call for call in shown_commands() if call not in _NOT_RUN])
def test_each_command_of_the_readme_runs(
    call: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a reader types after the README goes well."""
    run(call, folder, monkeypatch)


CALLS = {
    "engrave": "engrave song.chart -o page.pdf",
    "book": "book short.toml -o books/",
    "capo": "capo song.chart",
    "strings": "strings",
    "singer": "singer song.chart",
    "export": "export song.chart --replace -o out",
}


@pytest.mark.parametrize(
    ("command", "option"), [(name, option) for name in CALLS for option in shown_options(name)]
)
def test_each_option_of_the_guides_runs(
    command: str, option: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each option in a table of the guides goes well with its command."""
    run(f"{CALLS[command]} {option}", folder, monkeypatch)


def test_the_readme_shows_every_command() -> None:
    """No command is left out of what is run."""
    shown = {call.split()[0] for call in shown_commands()}
    assert {name for name in shown if name[0] != "-"} == set(COMMANDS)
