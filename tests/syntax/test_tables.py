"""Parse tables kept between runs: the same charts, and nothing believed that is not whole."""

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from chartkit.diagnostics import Source
from chartkit.syntax import grammar, symbol
from chartkit.syntax.reader import Reading, read_chart

ROOT = Path(__file__).resolve().parents[2]
CHARTS = sorted((ROOT / "examples").glob("*.chart"))
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


def readings() -> list[Reading]:
    """What comes of reading every example and a jumble of mistakes, with new parsers."""
    forget()
    return [read_chart(Source(text)) for text in (*(p.read_text() for p in CHARTS), ODD)]


def test_kept_tables_read_the_same(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """From kept tables come the same charts and mistakes as from the grammars themselves."""
    monkeypatch.delenv("XDG_CACHE_HOME")
    monkeypatch.delenv("HOME")
    built = readings()
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder.parents[1]))
    assert readings() == built
    assert len(list(folder.iterdir())) == 3
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
    """Files that are cut, changed or nothing at all are passed over and written again."""
    before = readings()
    names = {path.name for path in folder.iterdir()}
    for path in folder.iterdir():
        path.write_bytes(sha256(content).hexdigest().encode() + b"\n" + content)
    assert readings() == before
    for path in folder.iterdir():
        path.write_bytes(path.read_bytes()[:-1])
    assert readings() == before
    assert {path.name for path in folder.iterdir() if path.stat().st_size > 10_000} == names


def test_tables_are_private_and_are_no_pickles(folder: Path) -> None:
    """The folder and its files are the user's alone, and hold a digest and JSON."""
    readings()
    assert folder.stat().st_mode & 0o777 == 0o700
    for path in folder.iterdir():
        digest, _, body = path.read_bytes().partition(b"\n")
        assert path.stat().st_mode & 0o777 == 0o600
        assert digest.decode() == sha256(body).hexdigest()
        assert len(json.loads(body)) == 2


def test_tables_in_a_folder_of_others_are_not_read(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where somebody else may write, nothing is read and nothing kept."""
    before = readings()
    folder.chmod(0o777)
    kept = {path.name: path.stat().st_mtime_ns for path in folder.iterdir()}
    monkeypatch.setattr("chartkit.syntax.tables.Lark", None)
    assert readings() == before
    assert {path.name: path.stat().st_mtime_ns for path in folder.iterdir()} == kept


def test_another_grammar_has_other_tables(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A spelling more, or another version of Lark, is another file."""
    readings()
    assert len(list(folder.iterdir())) == 3
    monkeypatch.setattr(grammar, "ADDED", {**grammar.ADDED, "99": "9"})
    readings()
    assert len(list(folder.iterdir())) == 4
    monkeypatch.setattr("lark.__version__", "0")
    readings()
    assert len(list(folder.iterdir())) == 7
