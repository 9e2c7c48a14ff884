"""What commands print in the guides: ``python -m tests.evening`` writes it there anew.

In a guide, a command stands in an indented block after ``$``, and what it prints follows.  A line
of three dots stands for lines left out, three dots at a line's end for the rest of that line.
"""

import re
import shlex
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from click.testing import CliRunner

from chartkit.cli.main import PROGRAM

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"
GUIDES = (ROOT / "README.md", EXAMPLES / "COMMANDS.md")
_BLOCK = re.compile(r"(?m)(?:^    .*\n(?:\n(?=    ))*)+")
_SHORTENED = {"capo": 5, "singer": 8}
"""Commands of which only the first lines are shown."""
_TIME = re.compile(r"(?<=unchanged;) .* s$")
_WIDEST = 100


class Step(NamedTuple):
    """A command of a guide, or a file to write; and the lines that follow it."""

    command: str
    lines: tuple[str, ...]
    file: str = ""


def steps(text: str) -> Iterator[Step]:
    """The steps of a guide in order."""
    for block in _BLOCK.finditer(text):
        lines = [line[4:] for line in block[0].rstrip("\n").split("\n")]
        if lines[0].startswith("$ chartkit "):
            yield Step(lines[0].removeprefix("$ chartkit "), tuple(lines[1:]))
        elif named := re.search(r"`([\w-]+\.toml)`:\n\n$", text[: block.start()]):
            yield Step("", tuple(lines), named[1])


def printed(command: str) -> list[str]:
    """What a command prints in the current folder, on both streams, line by line."""
    arguments = shlex.split(command)
    done = CliRunner().invoke(PROGRAM, arguments, env={"COLUMNS": "100"})
    assert done.exit_code == 0, (command, done.output)
    return done.output.rstrip().splitlines()


def shown(command: str) -> list[str]:
    """The same as a guide shows it: the first lines of long tables, long lines and times cut."""
    lines = [_cut(_TIME.sub(" ...", line)) for line in printed(command)]
    most = _SHORTENED.get(command.split()[0])
    return [*lines[:most], "..."] if most is not None and len(lines) > most else lines


def _cut(line: str) -> str:
    return line if len(line) <= _WIDEST else line[: _WIDEST - 4].rsplit(" ", 1)[0] + " ..."


def differs(line: str, wanted: str) -> bool:
    """Whether a printed line is not what a guide shows."""
    if wanted.endswith(" ..."):
        return not line.startswith(wanted.removesuffix(" ..."))
    return line.rstrip() != wanted


def prepare(folder: Path, guide: Path) -> None:
    """The files that a reader of the guide has."""
    shutil.copytree(
        EXAMPLES, folder / "examples" if guide.parent == ROOT else folder, dirs_exist_ok=True
    )


def refreshed(guide: Path, folder: Path) -> str:
    """The guide with what its commands print now."""
    text = guide.read_text(encoding="utf-8")
    prepare(folder, guide)
    for step in steps(text):
        if step.file:
            (folder / step.file).write_text("\n".join(step.lines) + "\n", encoding="utf-8")
            continue
        old = "".join(
            f"    {line}".rstrip() + "\n" for line in (f"$ chartkit {step.command}", *step.lines)
        )
        new = [f"$ chartkit {step.command}", *shown(step.command)]
        text = text.replace(old, "".join(f"    {line}".rstrip() + "\n" for line in new))
    return text


def _block(*lines: str) -> str:
    return "".join(f"    {line}".rstrip() + "\n" for line in lines)


if __name__ == "__main__":
    for one in GUIDES:
        with tempfile.TemporaryDirectory() as place, pytest.MonkeyPatch.context() as patch:
            patch.chdir(place)
            patch.setenv("XDG_CACHE_HOME", place)
            one.write_text(refreshed(one, Path(place)), encoding="utf-8")
