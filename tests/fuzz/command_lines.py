"""Random command lines over random files: what the program promises of any of them.

Options are read off the commands, so that a new one is tried without a word here.
"""

import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from random import Random

import click

from chartkit.cli.main import COMMANDS, PROGRAM
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from tests.robustness.commands import answered, messages

_SERVES = "desk"
_READS_A_SET = ("book", "plan")
_NAMES = ("a.chart", "b.chart", "a.txt", "a.xml", "night.toml", "-", "out", "missing.chart", ".")
_VALUES: dict[str, tuple[str, ...]] = {
    "FRET": ("0", "2", "-2", "5", "11", "12", "best", "x"),
    "FRET|best": ("0", "3", "-1", "best", "12", "²"),
    "FRET|CHART": ("0", "3", "b.chart", "-3", "a.txt"),
    "KEY": ("C", "Bb", "F#m", "Cb", "D dorian", "H", "E blues", "G##"),
    "PITCH": ("Bb", "E flat", "F", "C"),
    "SCALE": ("0.9-1.3", "1.2", "0.5", "3", "9", "1-"),
    "FILE": ("a.chart", "missing.ttf"),
    "PDF": ("out.pdf", "a.chart", "none/out.pdf", "-"),
    "PATH": ("out.pdf", "out", "out/", "-", "a.chart"),
    "FOLDER": ("books", "a.chart", "."),
    "CHART": ("b.chart", "new.chart", "missing.chart", "-"),
    "SONG=KEY": ("1=D", "2=Am", "Lantern=E", "x", "=", "99=C"),
    "SONG=STEPS": ("1=2", "2=-11", "1=12", "x=x"),
    "SONG,SONG,...": ("2,1", "1,2,3", "2", ",", "1,1"),
    "NAME|NOTES": ("guitar", "ukulele", "E A D G B E", "C", "mandolin", "7-string guitar"),
    "NAME": ("alto", "Voice", "nobody"),
    "CHORDS": ("C,G,D", "C G", "Hm"),
    "LOW-HIGH": ("A3-D5", "B3-E5", "C4-C4", "D5-A3", "x-y"),
    "HZ": ("440", "432", "0", "1e9"),
    "STEPS": ("2", "1", "0", "-3", "12", "¾"),
    "NUMBER": ("1", "2", "3", "0"),
}  # fmt: skip
_LEFT_OUT = {"--cluster", "--jobs"}
"""A cluster is somewhere else, and workers take longer to start than all the rest."""


@dataclass(frozen=True, slots=True)
class CommandLine:
    """What is called, and the files it finds."""

    arguments: tuple[str, ...]
    files: tuple[tuple[str, bytes], ...]


def _value(option: click.Parameter, random: Random) -> str:
    kind = option.metavar or ""
    if random.random() < 0.03:
        return random.choice(("", " ", "-", "\x9b", "99999999999", "a" * 300, "é"))
    if kind in _VALUES:  # the first ones make sense
        return random.choice(_VALUES[kind][: 2 if random.random() < 0.7 else None])
    return random.choice(kind.split("|"))


def command_line(random: Random, text: Callable[[Random], str], sheet: bytes, night: str) -> object:
    """A command with options of its own, and charts, a sheet and a set beside it."""
    name = random.choice([name for name in COMMANDS if name != _SERVES])
    command = PROGRAM.get_command(click.Context(PROGRAM), name)
    assert command is not None
    arguments = [name]
    for one in command.params:
        if isinstance(one, click.Argument):
            usual = "night.toml" if name in _READS_A_SET else "a.chart"
            arguments += [usual if random.random() < 0.93 else random.choice(_NAMES)]
        elif one.opts[0] not in _LEFT_OUT and (one.required or random.random() < 0.12):
            flag = isinstance(one, click.Option) and one.is_flag
            arguments += [one.opts[0]] if flag else [one.opts[0], _value(one, random)]
    files = (
        ("a.chart", text(random).encode("utf-8", "replace")),
        ("b.chart", text(random).encode("utf-8", "replace")),
        ("a.txt", sheet),
        ("night.toml", night.encode("utf-8", "replace")),
    )
    if name in _READS_A_SET:
        arguments += ["--jobs", "1", "--no-cache"]
    return CommandLine(tuple(arguments), files)


@contextmanager
def _folder(files: Sequence[tuple[str, bytes]]) -> Iterator[Path]:
    place = Path(tempfile.mkdtemp(prefix="chartkit-fuzz-"))
    try:
        for name, content in files:
            (place / name).write_bytes(content)
        yield place
    finally:
        shutil.rmtree(place)


def promise(given: object) -> None:
    """One of three exit codes, no traceback, something said where it fails, every chart whole."""
    assert isinstance(given, CommandLine)
    with _folder(given.files) as place:
        done = answered(*given.arguments, folder=place, given=given.files[0][1])
        said = messages(done)
        assert done.returncode in (0, 1, 2), done.returncode
        assert done.returncode == 0 or said or done.stdout or given.arguments[0] == "tidy"
        left = [path.name for path in place.iterdir() if path.name.startswith(".")]
        assert not left, left
        for name, content in given.files[:2]:
            _whole_or_told(place / name, content, given.arguments)


def _whole_or_told(path: Path, before: bytes, arguments: Sequence[str]) -> None:
    """A chart that was without a mistake still is, and only commands that write it change it."""
    if not path.exists():
        raise AssertionError(f"{path.name} is gone")
    now = path.read_bytes()
    if now == before:
        return
    may = arguments[0] == "tidy" or "--write" in arguments or "--replace" in arguments
    assert may, f"{path.name} was changed"
    if now.startswith(b"%PDF") or arguments[0] not in ("tidy", "singer", "plan"):
        return
    if not has_errors(read_chart(Source(before.decode("utf-8", "replace"))).diagnostics):
        assert not has_errors(read_chart(Source(now.decode("utf-8"))).diagnostics)
