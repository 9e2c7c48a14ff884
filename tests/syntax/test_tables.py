"""Parse tables kept between runs give the same charts, and damaged ones are never used."""

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from chartkit.diagnostics import Source
from chartkit.disk_cache import FILE_NAME, DiskCache
from chartkit.syntax import grammar, symbol, tables
from chartkit.syntax.reader import Reading, read_chart

ROOT = Path(__file__).resolve().parents[2]
CHARTS = sorted((ROOT / "examples").glob("*.chart"))[::4]
ODD = (
    "key: Q\n== A as B\n| Gmaj77 | (C | am |: F7(b9 % :|2.\n: | a / b | c | d | e\n"
    "|| /E,F @coda al fine"
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A cache folder of its own, and parsers that have to be made anew."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    forget()
    yield tmp_path / "cache" / "chartkit" / "grammars"
    forget()


def forget() -> None:
    """Makes the next reading begin as a new process does."""
    grammar._parser_of.cache_clear()
    grammar.chord_parser.cache_clear()
    symbol.read_symbol.cache_clear()


def entries(folder: Path) -> dict[str, bytes]:
    """What is kept, by its key."""
    with sqlite3.connect(folder / FILE_NAME) as file:
        return dict(file.execute("SELECT key, body FROM kept"))


def readings() -> list[Reading]:
    """The results of reading some examples and a jumble of mistakes with new parsers."""
    forget()
    return [read_chart(Source(text)) for text in (*(p.read_text() for p in CHARTS), ODD)]


def test_kept_tables_read_the_same(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From kept tables come the same charts and mistakes as from the grammars themselves."""
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.delenv("HOME")
    built = readings()
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder.parents[1]))
    assert readings() == built
    assert len(entries(folder)) == 3
    monkeypatch.setattr(grammar, "Lark", None)
    assert readings() == built
    assert len(built[-1].diagnostics) > 5


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"[]",
        b"[{}, {}]",
        b"\x80\x05",
        json.dumps([{"parser": {"lexer_conf": 1}}, {"0": {"__type__": "Rule"}}]).encode(),
    ],
)
def test_what_is_no_table_is_made_anew(folder: Path, content: bytes) -> None:
    """Entries that are whole but no tables are passed over and written again."""
    before = readings()
    names = set(entries(folder))
    DiskCache(folder).put(dict.fromkeys(names, content))
    assert readings() == before
    assert {name for name, body in entries(folder).items() if len(body) > 10_000} == names


def test_tables_are_no_pickles(folder: Path) -> None:
    """The kept file is JSON, which can be wrong but cannot run."""
    readings()
    assert [len(json.loads(body)) for body in entries(folder).values()] == [2, 2, 2]


def test_tables_in_a_folder_of_others_are_not_read(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where somebody else may write, nothing is read and nothing kept."""
    before = readings()
    folder.chmod(0o777)
    kept = {path.name: path.stat().st_mtime_ns for path in folder.iterdir()}
    tables._cache(folder).close()
    monkeypatch.setattr("chartkit.syntax.tables.Lark", None)
    assert readings() == before
    assert {path.name: path.stat().st_mtime_ns for path in folder.iterdir()} == kept


def test_another_grammar_has_other_tables(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A spelling more, or another version of Lark, is another file."""
    readings()
    assert len(entries(folder)) == 3
    monkeypatch.setattr(grammar, "ADDED", {**grammar.ADDED, "99": "9"})  # type: ignore[attr-defined]
    readings()
    assert len(entries(folder)) == 4
    monkeypatch.setattr("lark.__version__", "0")
    readings()
    assert len(entries(folder)) == 7
