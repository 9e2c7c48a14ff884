"""Figures of whole sets: ``python -m tests.benchmarks.book [songs]``.

Each figure is a ratio measured in one run, but for memory and the plan's seconds.  A set of
so many songs (a thousand unless another number is given) for five players is made of the examples,
each copy with words of its own; capos come from the charts.
"""

import gc
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import Executor
from io import BytesIO
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from chartkit.advise.set_plan import cheapest_steps
from chartkit.advise.set_steps import Guitarist, Offer, PlannedSong
from chartkit.advise.stage import GuitarSetup, StageCosts
from chartkit.arrange.view import View
from chartkit.book.books import BookOptions, made_night, output_files
from chartkit.book.cache import work_cache
from chartkit.book.make_song import PagesRequest, make_pages
from chartkit.book.night import ChartText, Night, read_night
from chartkit.book.readings import player_requests
from chartkit.book.set_file import read_set
from chartkit.book.set_list import SetList
from chartkit.book.staging import Staging
from chartkit.book.workers import COLLECT_AFTER, pool
from chartkit.book.workshop import Workshop
from chartkit.compile import drawn_for_book
from chartkit.diagnostics import Source
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import embedded_font
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo
from tests.benchmarks.measure import Row

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PLAYERS = """
name = "A long night"
stage = { capos = "chart" }
players = [
  { name = "Voice", reads = "words" },
  { name = "Capo", reads = "both", instrument = "guitar" },
  { name = "Second", reads = "shapes", instrument = "guitar" },
  { name = "Piano", reads = "sounding" },
  { name = "Trumpet", reads = "transposed", instrument = "B flat trumpet" },
]
"""
Texts = list[ChartText]
SetOfCharts = tuple[SetList, Source, Texts]


def night_of(count: int, players: str = PLAYERS) -> SetOfCharts:
    """A set of so many songs and their charts' texts."""
    charts = [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.chart"))]
    songs = "".join(f'\n[[songs]]\nchart = "{number}.chart"\n' for number in range(count))
    source = Source(players + songs, "night.toml")
    set_list = read_set(source, Path("/nowhere")).set_list
    assert set_list is not None
    texts = [ChartText(own_copy(charts[n % len(charts)], n)) for n in range(count)]
    return set_list, source, texts


def own_copy(text: str, number: int) -> str:
    """A chart that differs from every other copy in its title and its notes."""
    title, _, rest = text.partition("\n")
    return f"{title} {number}\nnote: copy {number}\n{rest}"


def made_books(night: SetOfCharts, cache: Path | None, executor: Executor | None, out: Path) -> int:
    """Everything from texts to files, as the command does it; the bytes written."""
    set_list, source, texts = night
    workshop = Workshop(work_cache(cache), executor)
    read = read_night(set_list, source, texts, workshop, with_plan=False)
    made = made_night(read, None, workshop)
    with Staging(out) as staging:
        for name, write in output_files(made, BookOptions()):
            staging.add(name, write)
        staging.commit()
    return sum(path.stat().st_size for path in staging.changed)


def seconds(work: Callable[[], object]) -> float:
    """How long the work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def cpu_seconds(work: Callable[[], object]) -> float:
    """How long this process computes for the work, whatever else the machine does."""
    start = time.process_time()
    work()
    return time.process_time() - start


def warm(executor: Executor) -> None:
    """Lets every worker import the program and read its fonts."""
    night = parts_of(night_of(4))
    list(executor.map(make_pages, night * 3))


def parts_of(night: SetOfCharts) -> list[PagesRequest]:
    """Every request for pages that a set makes."""
    set_list, source, texts = night
    read: Night = read_night(set_list, source, texts, Workshop(work_cache(None)), with_plan=False)
    return [one for part in player_requests(read, None) for one in part.requests if one is not None]


def bare_seconds(requests: list[PagesRequest]) -> tuple[float, float]:
    """Drawing the same strings with nothing but ReportLab, as one book: wall and CPU seconds."""
    pages = []
    for request in requests:
        chart, view = read_chart(Source(request.text)).chart, View(capo=request.capo)
        document = drawn_for_book(chart, view, request.notes, request.look)[1]
        for page in document.pages:
            pages.append(
                [
                    (
                        embedded_font(piece.font).fontName,
                        piece.size,
                        item.x,
                        page.height - item.y,
                        piece.text,
                    )
                    for item in page.items
                    if isinstance(item, Text)
                    for piece in item.pieces
                ]
            )

    def draw() -> None:
        canvas = Canvas(BytesIO(), invariant=1, pageCompression=1)
        for strings in pages:
            for font, size, x, y, text in strings:
                canvas.setFont(font, size)
                canvas.drawString(x, y, text)
            canvas.showPage()
        canvas.save()

    return min((seconds(draw), cpu_seconds(draw)) for _ in range(3))


def peak_mb(_: int = 0) -> float:
    """The largest resident size of this process so far, in megabytes.

    Read from /proc: what getrusage gives a new process begins at its parent's size.
    """
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def worker_memory(count: int) -> float:
    """The peak of one worker that has made so many songs for everybody."""
    with pool(2) as executor:
        assert executor is not None
        with tempfile.TemporaryDirectory() as name:
            made_books(night_of(count), None, executor, Path(name))
        return max(executor.map(peak_mb, range(8)))


def plan_seconds() -> float:
    """The plan of forty songs for three guitars, thirteen options each, a straight one in ten."""
    import random

    draw = random.Random(7)
    every = [Capo(capo) for capo in range(10)] + [Capo(0, down) for down in (1, 2, 3)]
    offers = tuple(
        tuple(Offer(guitar, option, draw.uniform(0, 3)) for guitar in range(3) for option in every)
        for _ in range(40)
    )
    songs = tuple(PlannedSong(200.0, draw.random() < 0.1) for _ in range(40))
    guitarist = Guitarist((6,) * 3, (GuitarSetup(),) * 3, offers)
    return statistics.median(
        seconds(lambda: cheapest_steps(guitarist, songs, StageCosts())) for _ in range(3)
    )


def built(night: SetOfCharts, executor: Executor | None, folder: Path) -> float:
    """Seconds to make everything with nothing kept; the cache is left in the folder."""
    return seconds(lambda: made_books(night, folder / "u/cache", executor, folder / "out"))


def books(count: int) -> list[Row]:
    """Speed-up, throughput and rebuilding, all of the same set; each build twice."""
    night = night_of(count)
    set_list, source, texts = night
    changed = [*texts[:-1], ChartText((texts[-1].text or "") + "| C |\n")]
    list(map(make_pages, parts_of(night_of(2))))
    with tempfile.TemporaryDirectory() as name, pool(2) as two:
        assert two is not None
        warm(two)
        folders = [Path(name) / str(number) for number in range(4)]
        both = min(built(night, two, folder) for folder in folders[:2])
        # What the workers are spared must be spared here too, or two would seem more than twice.
        gc.set_threshold(COLLECT_AFTER)
        alone_cpu = cpu_seconds(lambda: built(night, None, folders[2]))
        again_cpu = cpu_seconds(lambda: built((set_list, source, changed), None, folders[2]))
        alone = built(night, None, folders[3])
    sample = min(count, 100)
    wall, cpu = bare_seconds(parts_of(night_of(sample)))
    bare, bare_cpu = wall * count / sample, cpu * count / sample
    return [
        ("two workers / this process alone, speed", alone / both, "≥ 1.8"),
        ("throughput of two workers / bare drawing of the same pages", bare / both, "≥ 0.4"),
        ("the same of one process, by CPU seconds", bare_cpu / alone_cpu, "≥ 0.2"),
        (
            "rebuilding with one changed song / building, by CPU seconds",
            again_cpu / alone_cpu,
            "≤ 0.05",
        ),
    ]


def main() -> None:
    """Measures and prints the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    rows = [("plan of 40 songs × 3 guitars, seconds", plan_seconds(), "≤ 2")]
    small, large = worker_memory(max(10, count // 10)), worker_memory(max(20, count // 2))
    rows += [
        ("a worker's peak memory, MB", large, "≤ 150"),
        ("the same at five times as many songs / at few", large / small, "flat"),
    ]
    rows += books(count)
    print(f"{count} songs × 5 players\n\n| figure | measured | wanted |\n|---|---|---|")
    for what, value, wanted in rows:
        print(f"| {what} | {value:.3f} | {wanted} |")


if __name__ == "__main__":
    main()
