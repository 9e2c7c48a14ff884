"""What a second call of ``book`` finds unchanged, and what it makes anew."""

import inspect
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import chartkit
from chartkit.book.cache import program_digest
from chartkit.book.last_run import Call, LastRun, digests_of, keep_run, last_run
from chartkit.book.staging import PREFIX
from chartkit.cli import book as command
from chartkit.disk_cache import DiskCache
from tests.book.sets import chart, set_text

PROGRAM = Path(chartkit.__file__).parent
SAID = ("night.toml: a message",)


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[DiskCache, Call]:
    """The record of a run that made two books of a set file and a chart."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "out/bo").mkdir(parents=True)
    files = ["night.toml", "a.chart", "out/bo.pdf", "out/bo/01-alpha.pdf", "out/set-sheet.pdf"]
    for name in files:
        (tmp_path / name).write_text(name)
    cache, call = DiskCache(tmp_path / "cache/kept"), Call(Path("night.toml"), Path("out"), (True,))
    made_of = digests_of([Path("night.toml"), Path("a.chart")])
    keep_run(cache, call, made_of, map(Path, files[2:]), SAID)
    return cache, call


def test_the_same_call_finds_its_last_run(kept: tuple[DiskCache, Call]) -> None:
    """Where nothing has changed, the record says what was said and how many files stand there."""
    assert last_run(*kept) == LastRun(SAID, 3)
    Path("out/notes.txt").write_text("not a book")
    assert last_run(*kept) == LastRun(SAID, 3)


CHANGES: dict[str, Callable[[], object]] = {
    "the set file": lambda: Path("night.toml").write_text("another"),
    "a chart": lambda: Path("a.chart").write_text("another"),
    "a chart gone": lambda: Path("a.chart").unlink(),
    "a chart that is a pipe": lambda: (Path("a.chart").unlink(), os.mkfifo("a.chart")),
    "a book": lambda: Path("out/bo.pdf").write_text("another"),
    "a book gone": lambda: Path("out/bo.pdf").unlink(),
    "the folder gone": lambda: shutil.rmtree("out"),
    "another book": lambda: Path("out/di.pdf").write_text(""),
    "another screen book": lambda: Path("out/bo.html").write_text(""),
    "another song": lambda: Path("out/bo/02-beta.pdf").write_text(""),
    "what a killed run left": lambda: Path(f"out/{PREFIX}1-x").mkdir(),
}


@pytest.mark.parametrize("what", CHANGES)
def test_whatever_has_changed_is_noticed(kept: tuple[DiskCache, Call], what: str) -> None:
    """A run whose files have changed, or stand beside others that may be books, counts for
    nothing."""
    CHANGES[what]()
    assert last_run(*kept) is None


def test_another_call_has_a_record_of_its_own(
    kept: tuple[DiskCache, Call], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Other options, another folder, and the same names in another folder are other calls."""
    cache, call = kept
    assert last_run(cache, Call(call.set_file, call.output, (False,))) is None
    assert last_run(cache, Call(call.set_file, Path("elsewhere"), call.options)) is None
    monkeypatch.chdir("out")
    assert last_run(cache, call) is None


def test_another_program_starts_afresh(
    kept: tuple[DiskCache, Call], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A changed program, or a changed page of screen books, has no record."""
    for change in ("cli/book.py", "book/screen/book.js", "book/screen/book.css"):
        program = tmp_path / "program" / change.replace("/", "-")
        shutil.copytree(PROGRAM, program, ignore=shutil.ignore_patterns("__pycache__", "desk"))
        monkeypatch.setattr("chartkit.book.cache._PROGRAM", program)
        program_digest.cache_clear()
        before = program_digest()
        with (program / change).open("a") as file:
            file.write("\n")
        program_digest.cache_clear()
        assert program_digest() != before
        assert last_run(*kept) is None
    program_digest.cache_clear()


@pytest.mark.parametrize("body", [b"", b"7", b"[]", b"[1, 2, 3]", b'[[], [["a"]], []]', b"\xff"])
def test_a_record_that_makes_no_sense_counts_for_nothing(
    kept: tuple[DiskCache, Call], body: bytes
) -> None:
    """A damaged record is as good as none."""
    cache, call = kept
    cache.put({call.key: body})
    assert last_run(cache, call) is None


def test_a_run_whose_file_is_gone_already_is_not_kept(kept: tuple[DiskCache, Call]) -> None:
    """What cannot be compared later is not recorded."""
    cache, call = kept
    other = Call(call.set_file, call.output, ("other",))
    keep_run(cache, other, digests_of([Path("missing.chart")]), [Path("out/bo.pdf")], ())
    assert cache.get(other.key) is None


def test_an_unchanged_night_is_answered_by_the_standard_library(tmp_path: Path) -> None:
    """The second call repeats what the first one said, and loads neither readers of charts and
    set files nor what draws; after a change the books are made again."""
    (tmp_path / "a.chart").write_text(chart("Alpha \N{SNOWMAN WITHOUT SNOW}\N{HIRAGANA LETTER A}"))
    (tmp_path / "night.toml").write_text(set_text(['chart = "a.chart"']))
    code = (
        "import sys\nfrom chartkit.cli.main import run\n"
        "sys.argv = ['chartkit', 'book', 'night.toml', '-o', 'out', '--jobs', '1']\n"
        "try: run()\nfinally: print(*sys.modules)"
    )

    def run() -> tuple[set[str], list[str]]:
        surroundings = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache")}
        done = subprocess.run(
            [sys.executable, "-c", code],
            cwd=tmp_path,
            env=surroundings,
            capture_output=True,
            text=True,
            check=True,
        )
        return set(done.stdout.split()), done.stderr.splitlines()

    loaded, said = run()
    assert "pydantic" in loaded
    warnings = [line for line in said[:-1] if not line.startswith("out")]
    assert any("sign-not-in-fonts" in line for line in warnings)
    loaded, again = run()
    heavy = {"pydantic", "lark", "reportlab", "tomllib", "fontTools", "chartkit.chart.model"}
    assert not loaded & heavy
    assert again[:-1] == warnings
    assert again[-1].startswith("0 files written, 4 unchanged; ")
    (tmp_path / "a.chart").write_text(chart("Beta"))
    _, changed = run()
    assert changed[-1].startswith("4 files written, 0 unchanged; ")


def test_every_option_of_book_is_part_of_the_call() -> None:
    """Each parameter is either part of the key under which a run is kept, or named among those
    that leave the books the same, so that a new option cannot be answered with "unchanged"."""
    parameters = inspect.signature(command.book).parameters
    assert parameters.keys() >= command._BOOKS_STAY
    usual = command._that_change_books(dict.fromkeys(parameters))
    assert {name for name, _ in usual} == parameters.keys() - command._BOOKS_STAY
    keys = {Call(Path("a.toml"), Path("out"), usual).key}
    for name, _ in usual:
        given = dict.fromkeys(parameters) | {name: True}
        keys.add(Call(Path("a.toml"), Path("out"), command._that_change_books(given)).key)
    assert len(keys) == 1 + len(usual)
