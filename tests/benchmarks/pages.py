"""How the pages of the examples look, in figures: ``python -m tests.benchmarks.pages``.

Every figure is taken off the finished pages or their pictures.  Sight: normal eyes just tell
letters apart that are 5 minutes of arc high (the letters of Snellen's chart, from memory).
"""

import math
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate, pairwise
from pathlib import Path
from statistics import mean, median

import pypdfium2

import chartkit.layout.place as place_module
from chartkit.arrange.arrange import arrange
from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook, PaperName
from chartkit.arrange.view import View
from chartkit.layout.boxes import BarBox, SpacedRow
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.layout.place import PlacedSystem
from chartkit.layout.style import PAPERS
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.write import pdf_bytes
from tests.benchmarks.measure import as_table
from tests.charts import chart_of

SONGS = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
POINTS_PER_MM = 72 / 25.4
CAPITAL = 0.714
"""The height of capitals and figures, as part of the size of our faces (their OS/2 tables)."""
CELL_MM, INK_BELOW = 4.0, 170
"""The size of a cell, and how dark its darkest pixel is where it counts as inked."""
_SPACING_POWER = 0.6
"""Room goes up by about half as much again when the duration doubles (E. Gould, *Behind Bars*,
2011, on spacing; G. Read, *Music Notation*, 1969; both from memory)."""


@dataclass(frozen=True)
class Figures:
    """What is measured of one song on one paper."""

    pages: int
    ink: float
    words_mm: float
    shape_mm: float
    second_mm: float
    suffix_mm: float
    grids: int
    rows: int


def arranged_songs() -> dict[str, Arrangement]:
    """Every example as its own chart asks for it."""
    return {
        path.stem: arrange(chart_of(path.read_text(encoding="utf-8")), View()) for path in SONGS
    }


def figures(arrangement: Arrangement, paper: PaperName) -> Figures:
    """The figures of a song on a paper, at the size the program chooses."""
    fonts = Fonts()
    document = laid_out(arrangement, PageLook(paper=paper), fonts)
    strong, second = (
        arrangement.strong,
        [n for n in arrangement.chord_lines if n != arrangement.strong],
    )
    grids = grids_of(arrangement, PageLook(paper=paper))
    return Figures(
        len(document.pages),
        mean(ink_shares(document, paper, fonts)),
        capital_mm(document, "words"),
        capital_mm(document, strong),
        capital_mm(document, second[0]) if second else 0.0,
        suffix_mm(document, second[0] if second else strong),
        len(distinct(grids)),
        len(grids),
    )


def texts(document: Document, role: str) -> Iterator[Text]:
    """The texts of a role."""
    for page in document.pages:
        yield from (i for i in page.items if isinstance(i, Text) and i.role == role)


def capital_mm(document: Document, role: str) -> float:
    """The usual height of capitals in texts of a role, in millimetres; 0 where there are none."""
    sizes = [text.pieces[0].size for text in texts(document, role) if text.pieces]
    return median(sizes) * CAPITAL / POINTS_PER_MM if sizes else 0.0


def suffix_mm(document: Document, role: str) -> float:
    """The height of the smallest figures behind a root, in millimetres."""
    sizes = [
        piece.size
        for text in texts(document, role)
        for piece in text.pieces[1:]
        if piece.text[:1].isdigit() and piece.rise > 0
    ]
    return min(sizes) * CAPITAL / POINTS_PER_MM if sizes else 0.0


def minutes_of_arc(height_mm: float, metres: float) -> float:
    """How large a height looks from a distance."""
    return math.degrees(math.atan(height_mm / (metres * 1000))) * 60


# ---- grids
def grids_of(arrangement: Arrangement, look: PageLook) -> list[tuple[int, ...]]:
    """The places of the bar lines of each row of bars in time, in whole points at scale 1: a
    document has stems and brackets as well, which look the same there."""
    grids: list[tuple[int, ...]] = []
    system = place_module.Placer.system

    def noted(
        placer: place_module.Placer, line: SpacedRow, ends: int = -1, last: bool = False
    ) -> PlacedSystem:
        if line.row.bars and not line.row.free:
            edges = list(accumulate((line.indent, *line.widths)))
            grids.append(tuple(map(round, edges)))
        return system(placer, line, ends, last)

    place_module.Placer.system = noted  # type: ignore[method-assign, assignment]
    try:
        laid_out(arrangement, look, Fonts())
    finally:
        place_module.Placer.system = system  # type: ignore[method-assign]
    return grids


def distinct(grids: list[tuple[int, ...]]) -> set[tuple[int, ...]]:
    """Grids that are not part of another: a short row may stand in the columns of a long one."""
    distinct_grids = sorted(set(grids), key=len, reverse=True)
    kept: list[tuple[int, ...]] = []
    for grid in distinct_grids:
        if not any(all(any(abs(x - y) <= 3 for y in other) for x in grid) for other in kept):
            kept.append(grid)
    return set(kept)


# ---- ink
def ink_shares(document: Document, paper: PaperName, fonts: Fonts) -> Iterator[float]:
    """The part of each page's text area whose cells have ink."""
    sheet = PAPERS[paper]
    drawn = pypdfium2.PdfDocument(pdf_bytes(document, fonts))
    for page, frame in zip(drawn, document.pages, strict=True):
        picture = page.render(scale=1, grayscale=True).to_numpy()
        cell = CELL_MM * POINTS_PER_MM
        inked = cells = 0
        y = sheet.top
        while y < frame.height - sheet.bottom - sheet.foot:
            x = sheet.side
            while x < frame.width - sheet.side:
                part = picture[int(y) : int(y + cell), int(x) : int(x + cell)]
                cells, inked = cells + 1, inked + int((part < INK_BELOW).any())
                x += cell
            y += cell
        yield inked / cells
    drawn.close()


# ---- spacing
def spacing(arrangement: Arrangement) -> tuple[int, int, list[float]]:
    """Neighbours in bars with exact beats: how many there are, in how many of them the longer
    one has less room, and the room of each by its duration, the mean being 1."""
    placed: list[tuple[BarBox, list[float], float]] = []
    usual = place_module.slot_places  # type: ignore[attr-defined]

    def noted(box: BarBox, width: float, edge: float) -> list[float]:
        places = usual(box, width, edge)
        placed.append((box, places, edge + width - box.right_pad))
        return places

    place_module.slot_places = noted  # type: ignore[attr-defined]
    try:
        laid_out(arrangement, PageLook(), Fonts())
    finally:
        place_module.slot_places = usual  # type: ignore[attr-defined]
    pairs = wrong = 0
    spread: list[float] = []
    for box, places, end in placed:
        if not box.groups:
            continue
        rooms = [b - a for a, b in pairwise([*places, end])]
        shares = [slot.share for slot in box.slots] + [1.0]
        lasts = [b - a for a, b in pairwise(shares)]
        for i, j in pairwise(range(len(rooms))):
            if abs(lasts[i] - lasts[j]) > 1e-6:
                pairs += 1
                longer, shorter = (i, j) if lasts[i] > lasts[j] else (j, i)
                wrong += rooms[longer] < rooms[shorter] - 0.5
        by_length = [room / last**_SPACING_POWER for room, last in zip(rooms, lasts, strict=True)]
        spread += [value / mean(by_length) for value in by_length]
    return pairs, wrong, spread


# ---- tables
def song_table(paper: PaperName) -> str:
    """The songs on a paper, a line each."""
    rows, every = [], []
    for name, arrangement in arranged_songs().items():
        figures_of_song = figures(arrangement, paper)
        every.append(figures_of_song)
        rows.append(
            [
                name,
                str(figures_of_song.pages),
                f"{figures_of_song.ink:.0%}",
                sizes(figures_of_song.words_mm),
                sizes(figures_of_song.shape_mm),
                sizes(figures_of_song.second_mm),
                sizes(figures_of_song.suffix_mm),
                f"{figures_of_song.grids} of {figures_of_song.rows}",
            ]
        )
    one = sum(figures_of_song.pages == 1 for figures_of_song in every)
    rows.append(
        [
            f"{one} of {len(every)} on one page",
            str(sum(f.pages for f in every)),
            f"{mean(f.ink for f in every):.0%}",
            "",
            "",
            "",
            "",
            f"{mean(f.grids for f in every):.1f}",
        ]
    )
    head = ["song", "pages", "ink", "words", "strong", "second", "suffix", "grids of rows"]
    return as_table(head, rows)


def sizes(height_mm: float) -> str:
    """A height of capitals in millimetres, and as it looks from two metres."""
    return f"{height_mm:.2f} mm {minutes_of_arc(height_mm, 2):.1f}′" if height_mm else ""


def large_table() -> str:
    """Large print on A4: pages a song."""
    counts = {
        name: len(laid_out(arrangement, PageLook(large=True), Fonts()).pages)
        for name, arrangement in arranged_songs().items()
    }
    rows = [[name, str(count)] for name, count in counts.items()]
    return as_table(["large print", "pages"], [*rows, ["all", str(sum(counts.values()))]])


def spacing_table() -> str:
    """Spacing in bars with exact beats, song by song."""
    rows = []
    for name, arrangement in arranged_songs().items():
        pairs, wrong, spread = spacing(arrangement)
        if pairs:
            off = mean(abs(value - 1) for value in spread)
            rows.append([name, str(pairs), str(wrong), f"{off:.0%}"])
    head = ["spacing", "unequal neighbours", "longer one has less room", "off its duration by"]
    return as_table(head, rows)


def main() -> None:
    """Prints the tables; papers can be named on the command line."""
    wanted: Counter[str] = Counter(sys.argv[1:] or PAPERS)
    for paper in PAPERS:
        if paper in wanted:
            print(f"{paper}\n\n{song_table(paper)}\n")
    print(f"{large_table()}\n\n{spacing_table()}")


if __name__ == "__main__":
    main()
