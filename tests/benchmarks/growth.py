"""Growth curves: songs of 10 to 10,000 bars and rows of 1 to 500 chords, each step a ratio.

What is linear costs as much a bar at every size; beside each step stands its floor in the same
run: a bare Lark parse of the same rows for reading, bare ReportLab drawing of the same strings
for engraving.
"""

import gc
import tempfile
from pathlib import Path

from lark import Lark

from chartkit.advise.ranking import rank_options
from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.assets import grammar_text
from chartkit.chart.model import Chart
from chartkit.cli.main import COLLECTOR
from chartkit.diagnostics import Source
from chartkit.fretboard.store import BoardStore
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.write import pdf_bytes
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo
from tests.benchmarks.bare import bare_strings, drawn_bare
from tests.benchmarks.measure import Row, as_table, least_cpu_seconds, peak_megabytes

BARS = (10, 100, 1_000, 10_000)
CHORDS = (1, 5, 20, 100, 500)
_NAMES = ("Db", "Gb", "Ab7", "Bbm7", "Ebm7", "Fm", "Db/F", "Gbmaj7", "Absus4", "Cdim7")
_ROW = "| {0} | {1} | {2} {3} | {0} | {2} / / <{3} | Db,Db/C {1} / / | {4} | {3}! | {0} | {3} |"
_WORDS = (
    ": | low tide | pulls the | lan- / terns | home, | no- / body | knows | how | far | we | {} |"
)


def song(bars: int) -> str:
    """A song of so many bars, ten to a row with words, forty to a section; no two rows have the
    same chords or words: what is the same is written once on a page, and a song with verses over
    the same chords is tried in two forms."""
    lines = ["key: Db"]
    for n in range(bars // 10):
        lines += [f"\n== Verse {n // 4}"] if n % 4 == 0 else []
        names = [_NAMES[step % len(_NAMES)] for step in (n, n // 10, n // 100, n // 7, 3 * n)]
        lines += [_ROW.format(*names), _WORDS.format(_spelled(n))]
    return "\n".join(lines) + "\n"


def _spelled(number: int) -> str:
    """A word of its own for each number."""
    return "".join("abcdefghij"[int(figure)] for figure in str(number))


def row_of(chords: int) -> str:
    """A song of one row with so many chords, two to a bar."""
    names = [_NAMES[(i * i + i // 3) % len(_NAMES)] for i in range(chords)]
    return (
        "key: Db\n\n| "
        + " | ".join(" ".join(names[i : i + 2]) for i in range(0, len(names), 2))
        + " |\n"
    )


def bare_parse(text: str) -> int:
    """How many rows of music and words a bare Lark parser, with nothing built, goes through."""
    music, words = _bare_parsers()
    rows = 0
    for row in text.splitlines():
        if row[:1] == "|":
            music.parse(row)
        elif row[:1] == ":":
            words.parse(row)
        rows += 1
    return rows


_MADE: list[Lark] = []


def _bare_parsers() -> tuple[Lark, Lark]:
    if not _MADE:
        _MADE.append(Lark(grammar_text("music.lark"), parser="lalr", start="music"))
        _MADE.append(Lark(grammar_text("rows.lark"), parser="lalr", start="words"))
    return _MADE[0], _MADE[1]


def document_of(chart: Chart) -> Document:
    """The laid-out pages of a chart with a capo at 1."""
    return laid_out(arrange(chart, View(capo=Capo(1))), PageLook(), Fonts())


def _steps_of(text: str, runs: int) -> dict[str, float]:
    """The processor seconds of every step and floor, for one text."""
    chart = read_chart(Source(text)).chart
    document = document_of(chart)
    strings = bare_strings(document)
    boards = BoardStore()
    rank_options(chart, boards=boards)
    gc.collect()
    gc.freeze()
    return {
        "read": least_cpu_seconds(lambda: read_chart(Source(text)), runs),
        "bare parse": least_cpu_seconds(lambda: bare_parse(text), runs),
        "lay out": least_cpu_seconds(lambda: document_of(chart), runs),
        "draw": least_cpu_seconds(lambda: pdf_bytes(document), runs),
        "bare drawing": least_cpu_seconds(lambda: drawn_bare(strings), runs),
        "rank": least_cpu_seconds(lambda: rank_options(chart, boards=boards), runs),
    }


def _curve(
    sizes: tuple[int, ...], noun: str, what: str, text_of: dict[int, str]
) -> tuple[str, list[Row]]:
    rows, steps_by_size = [], {}
    for size in sizes:
        steps = _steps_of(text_of[size], 9 if size <= 100 else 5 if size <= 1_000 else 2)
        steps_by_size[size] = steps
        rows.append(
            [
                f"{size:,} {what}",
                *(
                    f"{steps[name] * 1e6 / size:,.0f}"
                    for name in ("read", "lay out", "draw", "rank")
                ),
                f"{steps['read'] / steps['bare parse']:.2f}",
                f"{(steps['read'] + steps['lay out'] + steps['draw']) / steps['bare drawing']:.2f}",
            ]
        )
    head = [
        f"µs a {noun}",
        "read",
        "lay out",
        "draw",
        "rank capos",
        "read / bare parse",
        "whole way / bare drawing",
    ]
    before, last = sizes[-2:]
    figures = [
        (
            f"growth: {name} {last:,} {what} / {before:,}, by their number",
            steps_by_size[last][name] / steps_by_size[before][name] / (last / before),
            "≤ 1.2",
        )
        for name in ("read", "lay out", "draw", "rank")
    ]
    return as_table(head, rows), figures


def growth() -> tuple[str, list[Row]]:
    """The curves as tables, and the last step of each as figures.

    The collector is set as the program sets it.
    """
    gc.set_threshold(*COLLECTOR)
    bars, of_bars = _curve(BARS, "bar", "bars", {n: song(n) for n in BARS})
    chords, of_chords = _curve(CHORDS, "chord", "chords in a row", {n: row_of(n) for n in CHORDS})
    return f"{bars}\n\n{chords}", [*of_bars, *of_chords]


def memory_rows() -> list[Row]:
    """The peak of whole processes on a song of 10,000 bars."""
    with tempfile.TemporaryDirectory() as folder:
        chart = Path(folder) / "long.chart"
        chart.write_text(song(10_000), encoding="utf-8")
        page = str(Path(folder) / "long.pdf")
        return [
            ("memory of checking 10,000 bars, MB", peak_megabytes("check", str(chart)), "≤ 100"),
            (
                "memory of engraving 10,000 bars, MB",
                peak_megabytes("engrave", str(chart), "-o", page),
                "≤ 150",
            ),
            ("memory of ranking 10,000 bars, MB", peak_megabytes("capo", str(chart)), "≤ 150"),
        ]
