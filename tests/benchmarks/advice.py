"""Figures of the fretboard and the advice: ``python -m tests.benchmarks.advice``.

A song of 51 strikes of 14 chords in D flat is ranked over 13 options: cold in a process of
its own with nothing on disk, again with the disk cache filled, and warm in one process.
Times are the least of several runs, in milliseconds; those of processes are processor time.
"""

import json
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from chartkit.advise.ranking import rank_options
from chartkit.disk_cache import DiskCache, digest_of
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.instruments import KNOWN, instrument_named
from chartkit.fretboard.store import BoardStore
from chartkit.theory.chord import Chord
from chartkit.theory.quality import TABLE
from tests.advise.songs import chart_of

CHORDS = (
    "Db",
    "Gb",
    "Ab",
    "Bbm",
    "Ebm",
    "Fm",
    "Db/F",
    "Ab7",
    "Gbmaj7",
    "Bbm7",
    "Ebm7",
    "Absus4",
    "Db7",
    "Cdim7",
)
QUALITIES = tuple(row.quality for row in TABLE[:20])


def song_text(strikes: int = 51) -> str:
    """A chart of that many bars that walks through the chords in uneven steps."""
    bars = [CHORDS[(i * i + i // 3) % len(CHORDS)] for i in range(len(CHORDS), strikes)]
    rows = [*CHORDS, *bars]
    lines = ["| " + " | ".join(rows[i : i + 4]) + " |" for i in range(0, len(rows), 4)]
    return "key: Db\n" + "\n".join(lines) + "\n"


COLD = """
import sys
from pathlib import Path
from chartkit.advise.ranking import rank_options
from chartkit.diagnostics import Source
from chartkit.fretboard.store import BoardStore
from chartkit.syntax.reader import read_chart
if sys.argv[1] != "import":
    chart = read_chart(Source(sys.argv[2])).chart
    rank_options(chart, boards=BoardStore(Path(sys.argv[1])))
"""


def process_seconds(*arguments: str) -> float:
    """The processor time of a fresh process that does the work above."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", COLD, *arguments], check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def least(work: Callable[[], object], runs: int = 5) -> float:
    """The shortest of several runs, in seconds."""
    best = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def vocabulary(tuning: str) -> Callable[[], object]:
    """Finds 20 qualities on 12 roots on a fresh instrument."""

    def work() -> None:
        board = Fretboard(instrument_named(tuning))
        for quality in QUALITIES:
            for root in range(-5, 7):
                board.voicings(Chord(root, quality))

    return work


def other_songs(folder: Path, songs: int = 750, chords: int = 14) -> None:
    """Keeps what so many other songs leave there, chords of their own each."""
    cache = DiskCache(folder)
    body = json.dumps([[[0] * 6, [0] * 6, None, [50] * 6, 1.5, 0.5, 30, [[1, 1.0]] * 12]] * 12)
    for song in range(songs):
        keys = (digest_of("song", song, chord) for chord in range(chords))
        cache.put(dict.fromkeys(keys, body.encode()))


def main() -> None:
    """Prints the figures as a Markdown table."""
    chart = chart_of(song_text())
    store = BoardStore()
    rank_options(chart, boards=store)
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "kept" / "voicings"
        floor = min(process_seconds("import") for _ in range(9))
        cold = min(
            process_seconds(str(kept / str(time.perf_counter())), song_text()) for _ in range(3)
        )
        process_seconds(str(kept), song_text())
        disk = min(process_seconds(str(kept), song_text()) for _ in range(9))
        other_songs(kept)
        after = min(process_seconds(str(kept), song_text()) for _ in range(9))
    rows = {
        "a process that imports the advice (the floor)": floor,
        "the same, ranking 13 options with nothing known": cold,
        "the same with the voicings on disk": disk,
        "the same after 750 other songs": after,
        "ranking again in one process": least(lambda: rank_options(chart, boards=store)),
        **{f"240 chords on {i.name}": least(vocabulary(i.name), 2) for i in (KNOWN[0], KNOWN[4])},
    }
    print("| what | ms |\n|---|---:|")
    for name, seconds in rows.items():
        print(f"| {name} | {seconds * 1000:.0f} |")
    print(f"\ncold is {cold / floor:.1f} times the floor")
    print(f"after 750 other songs a warm run takes {after / disk:.2f} of one after none (flat: 1)")


if __name__ == "__main__":
    main()
