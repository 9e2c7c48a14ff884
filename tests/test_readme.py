"""Every command that the README shows, run."""

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.testing import CliRunner

from chartkit.cli.main import COMMANDS, program
from chartkit.diagnostics import Source
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.syntax.reader import read_chart

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
_SHOWN = re.compile(rf"\bchartkit ((?:{'|'.join(COMMANDS)})(?: [^`\n]*)?|--[a-z-]+)(?=[`\n])")
_NOT_RUN = {"--install-completion"}
"""It changes the files of the user's shell."""


def shown_commands() -> list[str]:
    """The commands in code, each once: what stands in its place in a sentence goes too."""
    found = dict.fromkeys(call.strip() for call in _SHOWN.findall(README))
    bare = set(COMMANDS) - {"schema"}  # a command's name alone, in a sentence
    return [call for call in found if call not in _NOT_RUN | bare]


def more_calls() -> Iterator[str]:
    """The commands of the table with each option that is told beside them."""
    for row in re.findall(r"(?m)^\| `chartkit .*$", README):
        _, shown, told, _ = row.split("|")
        call = re.split(r" --| -o", shown.strip(" `").removeprefix("chartkit "))[0]
        yield from (f"{call} {option}" for option in re.findall(r"`(--[^`]+)`", told))


def shown_options(command: str) -> list[str]:
    """Every option in the first column of the table of a command's options."""
    table = README.split(f"| option of `{command}` | |")[1].split("\n\n")[0]
    first = (row.split("|")[1] for row in table.splitlines() if row.startswith("|"))
    return [option for cell in first for option in re.findall(r"`(--[^`]+)`", cell)]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A player's folder: the examples, a song, another player's sheet, the set."""
    place = tmp_path_factory.mktemp("player")
    shutil.copytree(ROOT / "examples", place / "examples")
    for file in (ROOT / "examples").iterdir():
        if file.suffix in (".chart", ".toml"):
            shutil.copy(file, place)
    shutil.copy(ROOT / "examples" / "lantern-road.chart", place / "song.chart")
    chart = read_chart(Source((place / "song.chart").read_text(encoding="utf-8"))).chart
    score = musicxml_bytes(chart).decode()
    named = re.sub("<part-name>.*?</part-name>", "<part-name>Voice</part-name>", score)
    (place / "sheet").write_text(named, encoding="utf-8")
    return place


def run(call: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Runs a call as a shell would, in the folder; it must go well."""
    monkeypatch.chdir(folder)
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "cache"))
    arguments: list[str] = []
    for word in shlex.split(call):
        arguments += sorted(map(str, Path().glob(word))) if "*" in word else [word]
    done = CliRunner().invoke(program(arguments), arguments)
    assert done.exit_code == 0, (call, done.stderr, done.exception)


@pytest.mark.parametrize("call", dict.fromkeys([*shown_commands(), *more_calls()]))
def test_each_command_of_the_readme_runs(
    call: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a reader types after the README goes well."""
    run(call, folder, monkeypatch)


@pytest.mark.parametrize("option", shown_options("engrave"))
def test_each_option_of_engrave_runs(
    option: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each option of the table engraves the song."""
    run(f"engrave song.chart -o page.pdf {option}", folder, monkeypatch)


@pytest.mark.parametrize("option", shown_options("book"))
def test_each_option_of_book_runs(
    option: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each option of the table makes the books of the set."""
    run(f"book friday.toml -o books/ {option}", folder, monkeypatch)


def test_the_readme_shows_every_command() -> None:
    """No command is left out of what is run."""
    assert {call.split()[0] for call in shown_commands()} == set(COMMANDS)
