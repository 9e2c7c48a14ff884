"""Prints a digest of everything that the program makes of a few charts, a line each.

Run as ``python -m tests.robustness.every_output FOLDER`` with different values of
PYTHONHASHSEED: what it prints must be the same each time.
"""

import json
import sys
from collections.abc import Iterator
from hashlib import sha256
from itertools import combinations
from pathlib import Path

from click.testing import CliRunner

from chartkit.cli.main import PROGRAM
from chartkit.theory.chord import Chord
from chartkit.theory.quality import DEGREE_PLACES, quality_with
from tests.charts import DENSE

EXAMPLES = Path(__file__).parents[2] / "examples"
_CALLS = (
    ("check", "--json"),
    ("transpose", "--by", "1"),
    ("transpose", "--by", "6"),
    ("transpose", "--capo", "3"),
    ("export", "--to", "json"),
    ("export", "--to", "text"),
    ("export", "--to", "musicxml"),
)

_RUNNER = CliRunner()


SET = """name = "A Night"
[[players]]
name = "Ada"
reads = "words"
[[players]]
name = "Bo"
reads = "both"
instrument = "guitar"
[[songs]]
chart = "dense.chart"
[[songs]]
chart = "song.chart"
"""


def all_symbols() -> str:
    """A chart of the symbols of many sets of tones, most of them with two changes or three."""
    tones = [degree for degree in DEGREE_PLACES if degree not in ("1", "6")]
    sets = [*list(combinations(tones, 3))[::5], *list(combinations(tones, 5))[::97]]
    qualities = (quality_with(frozenset(("1", *some))) for some in sets)
    symbols = dict.fromkeys(str(Chord(0, quality)) for quality in qualities if quality is not None)
    rows = [" | ".join(list(symbols)[at : at + 4]) for at in range(0, len(symbols), 4)]
    return "title: All\nkey: C major\n\n== A\n" + "".join(f"| {row} |\n" for row in rows)


def outputs(folder: Path) -> Iterator[tuple[str, bytes]]:
    """Each call by what it is, with what it printed or wrote."""
    dense, symbols, night = (folder / name for name in ("dense.chart", "symbols.chart", "set.toml"))
    dense.write_text(DENSE)
    symbols.write_text(all_symbols())
    night.write_text(SET)
    song = EXAMPLES / "paper-harbour.chart"
    for chart in (symbols, dense, song):
        for command, *options in _CALLS:
            yield _called(command, str(chart), *options)
    yield _called("capo", str(song), "--json")
    (folder / "song.chart").write_bytes(song.read_bytes())
    for chart, *more in ((song, "--diagrams"), (symbols,)):
        yield _written(folder, "engrave", str(chart), "--capo", "2", *more)
    sheet = folder / "sheet.txt"
    sheet.write_bytes(_called("export", str(song), "--to", "text")[1])
    yield _called("intake", str(sheet))
    books = folder / "books"
    _called("book", str(night), "-o", str(books), "--jobs", "2", "--no-cache")
    for path in sorted(books.rglob("*.pdf")):
        yield path.name, path.read_bytes()
    _called("tidy", str(symbols))
    yield "tidied", symbols.read_bytes()


def _called(*arguments: str) -> tuple[str, bytes]:
    done = _RUNNER.invoke(PROGRAM, list(arguments))
    if done.exit_code not in (0, 1):
        raise RuntimeError(f"{arguments}: {done.stderr}")
    return " ".join((*arguments[:1], *map(_short, arguments[1:]))), done.stdout_bytes


def _short(argument: str) -> str:
    return Path(argument).name if "/" in argument else argument


def _written(folder: Path, *arguments: str) -> tuple[str, bytes]:
    target = folder / "out.pdf"
    target.unlink(missing_ok=True)
    name, _ = _called(*arguments, "-o", str(target))
    return name, target.read_bytes()


def main() -> None:
    """Prints the digests as JSON."""
    sums = {name: sha256(made).hexdigest() for name, made in outputs(Path(sys.argv[1]))}
    print(json.dumps(sums))


if __name__ == "__main__":
    main()
