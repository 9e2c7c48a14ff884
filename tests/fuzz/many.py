"""Many random inputs to every reader: ``python -m tests.fuzz.many SEED SHARE [KIND ...]``.

SHARE 1 is about half a million inputs; without a KIND all are tried.  Each is made from the
examples, the sheets and the scores of the tests by cutting, doubling, joining and putting in pieces
of their languages, or of pieces alone.  ``readers.py`` says what readers promise; besides, each
input may take ten seconds of the processor, and all of them together 400 MB of memory.  Prints a
table; an input that breaks a promise is printed as it is, and the exit code is 1.
"""

import contextlib
import resource
import signal
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from xml.etree import ElementTree

from chartkit.diagnostics import Source, has_errors
from chartkit.incoming import Refused, incoming_chart
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.fuzz import command_lines
from tests.fuzz.readers import READERS, incoming
from tests.interchange.messy_sheets import MESSY
from tests.interchange.mutated_json import mutated as mutated_json
from tests.interchange.mutated_json import seeds
from tests.interchange.sheets import SHEETS
from tests.interchange.test_fuzz import _MAIL_PARTS, SCORES
from tests.interchange.test_fuzz import mutated as mutated_score
from tests.robustness.test_any_value import FRIDAY
from tests.robustness.test_any_value import PIECES as VALUES
from tests.syntax.test_any_text import PIECES as CHART_PIECES

ROOT = Path(__file__).parents[2]
CHARTS = [path.read_text(encoding="utf-8") for path in sorted((ROOT / "examples").glob("*.chart"))]
TYPED = sorted((ROOT / "tests" / "interchange" / "typed").glob("*.txt"))
SHEET_TEXTS = [
    *(sheet for sheet, _ in (*MESSY.values(), *SHEETS.values())),
    *(
        part.partition("\n")[2].partition("@@>")[0]
        for path in TYPED
        for part in path.read_text(encoding="utf-8").split("@@@")[1:]
    ),
]
SHEET_PIECES = (
    "C", "G/B", "Am7", "|", "||", "|:", ":|", "/", "%", "x2", "(C7)", "N.C.", "-", "lan-", "tide",
    "_", "<F", "(soft)", "|1.", "Verse", "Chorus 2x", ":", "\t", "海", "“softly”", "¦", "[C]",
    "Capo 2\n", "8 bars rest", "3/4", "Key: Bb\n", "1. ", "\n", "\n\n", "→", "e|--2--|\n", "> ",
    "\u202e", "\x9b", "\u00a0", "D.S. al Coda", "(2x)", "rit.", "Coda:", "same", "&amp;",
)  # fmt: skip
NIGHT = """
name = "Late Set"
[stage]
capos = "plan"
[[players]]
name = "Ada"
reads = "words"
[[players]]
name = "Bo"
instrument = "guitar"
[[players]]
name = "Cy"
reads = "transposed"
instrument = "B flat trumpet"
[[songs]]
chart = "a.chart"
[[songs]]
chart = "b.chart"
key = "D"
"""
SECONDS_EACH = 10


def cut_and_joined(
    random: Random, texts: Sequence[str], pieces: Sequence[str], longest: int = 1500
) -> str:
    """A text made of others, or of pieces alone."""
    if random.random() < 0.3:
        joint = random.choice(("", " ", "\n"))
        return joint.join(random.choices(pieces, k=random.randint(0, 30)))
    text = random.choice(texts)
    start = random.randrange(max(1, len(text) - longest))
    text = text[start : start + longest] if random.random() < 0.8 else text[:longest]
    for _ in range(random.randint(1, 6)):
        at, end = sorted((random.randrange(len(text) + 1), random.randrange(len(text) + 1)))
        end = min(end, at + random.choice((1, 2, 5, 20, 80)))
        other = random.choice(texts)
        cut = random.randrange(len(other) + 1)
        put = random.choice((
            "", random.choice(pieces), text[at:end] * 2, other[cut : cut + 60],
            chr(random.choice((0, 9, 0x85, 0x2028, 0x202E, 0xFEFF, random.randrange(32, 0x2FFF)))),
        ))  # fmt: skip
        text = text[:at] + put + text[end:]
    return text


def law(data: bytes) -> None:
    """Whatever is taken in is a chart that reads without a mistake and is tidy."""
    with contextlib.suppress(Refused):
        made = incoming_chart(data)
        reading = read_chart(Source(made.text))
        assert not has_errors(reading.diagnostics), made.text
        assert chart_text(reading.chart) == made.text or made.format in ("chart", "PDF")


def values(reader: str) -> Callable[[Random], str]:
    """Texts of pieces for one of the small readers."""
    return lambda random: "".join(random.choices(VALUES[reader], k=random.randint(0, 7)))


JSON_SEEDS = seeds()
ROOTS = [ElementTree.fromstring(path.read_bytes()) for path in SCORES]


def score(random: Random) -> bytes:
    """A score of the corpus with elements dropped, doubled, moved and misspelt."""
    root = ElementTree.fromstring(ElementTree.tostring(random.choice(ROOTS)))
    mutated_score(root, random)
    return ElementTree.tostring(root)


def mail(random: Random) -> bytes:
    """A saved mail of the pieces of mails, in any order."""
    parts = "".join(random.choices(_MAIL_PARTS, k=random.randint(0, 24)))
    return f"From: a@example.org\nMIME-Version: 1.0\n{parts}".encode("utf-8", "replace")


def _song(random: Random) -> str:
    """A chart of the examples as it is, or one cut and joined."""
    if random.random() < 0.5:
        return random.choice(CHARTS)
    return cut_and_joined(random, CHARTS, CHART_PIECES, 500)


def command_line(random: Random) -> object:
    """A command line with its files."""
    night = NIGHT if random.random() < 0.6 else cut_and_joined(random, [NIGHT], SHEET_PIECES)
    return command_lines.command_line(random, _song, sheet(random), night)


def sheet(random: Random) -> bytes:
    """A typed sheet, cut and joined."""
    return cut_and_joined(random, SHEET_TEXTS, SHEET_PIECES, 500).encode("utf-8", "replace")


Kind = tuple[str, int, Callable[[Random], object], Callable[..., object]]
KINDS: tuple[Kind, ...] = (
    ("symbols", 300_000, values("symbol"), READERS["symbol"]),
    ("shapes", 60_000, values("shape"), READERS["shape"]),
    ("tunings", 20_000, values("tuning"), READERS["tuning"]),
    ("ranges", 20_000, values("range"), READERS["range"]),
    ("keys", 30_000, values("key"), READERS["key"]),
    ("charts", 60_000, lambda r: cut_and_joined(r, CHARTS, CHART_PIECES, 500), READERS["chart"]),
    ("JSON", 25_000, lambda r: mutated_json(r.choice(JSON_SEEDS), r).decode(), READERS["json"]),
    ("set files", 10_000, lambda r: cut_and_joined(r, [FRIDAY], SHEET_PIECES), READERS["set"]),
    ("typed sheets", 40_000, sheet, law),
    ("mails", 6_000, mail, incoming),
    ("scores", 3_000, score, law),
    ("command lines", 3_000, command_line, command_lines.promise),
)  # fmt: skip
"""What is read, how many inputs at share 1, how one is made, and what is promised of it."""


@dataclass(slots=True)
class Tried:
    """What came of one kind of input."""

    count: int = 0
    broken: int = 0
    seconds: float = 0.0
    worst: float = 0.0
    messages: list[str] = field(default_factory=list)


class _TooSlow(Exception):
    pass


def _too_slow(*_: object) -> None:
    raise _TooSlow


def tried(kind: Kind, random: Random, count: int) -> Tried:
    """Tries so many inputs of a kind."""
    _, _, made, promise = kind
    result = Tried()
    for _ in range(count):
        given = made(random)
        start = time.process_time()
        signal.setitimer(signal.ITIMER_PROF, SECONDS_EACH)
        try:
            promise(given)
        except Exception as reason:  # every promise broken is one
            result.broken += 1
            where = "".join(traceback.format_exception(reason)[-2:])
            result.messages.append(f"{given!r}\n{where}")
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
        took = time.process_time() - start
        result.count += 1
        result.seconds += took
        result.worst = max(result.worst, took)
    return result


def rows(seed: int, share: float, names: list[str]) -> Iterator[tuple[str, Tried, int]]:
    """What came of each kind, with the most memory so far in MB."""
    signal.signal(signal.SIGPROF, _too_slow)
    for kind in [one for one in KINDS if not names or one[0] in names]:
        result = tried(kind, Random(f"{seed} {kind[0]}"), round(kind[1] * share))
        yield kind[0], result, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def main() -> None:
    """Prints the table, and what broke."""
    seed, share = int(sys.argv[1]), float(sys.argv[2])
    broken = False
    print("| inputs | tried | broken | mean, ms | slowest, s | memory, MB |")
    print("|---|---:|---:|---:|---:|---:|")
    for name, result, memory in rows(seed, share, sys.argv[3:]):
        mean = 1000 * result.seconds / max(1, result.count)
        print(
            f"| {name} | {result.count:,} | {result.broken} | {mean:.2f} | {result.worst:.2f} "
            f"| {memory} |", flush=True,
        )  # fmt: skip
        broken = broken or bool(result.broken) or memory > 400
        for message in result.messages[:5]:
            print(message, file=sys.stderr)
    sys.exit(broken)


if __name__ == "__main__":
    main()
