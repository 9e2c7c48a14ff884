"""Figures of speed and memory, each a ratio measured in one run: ``python -m tests.benchmarks``.

Every ratio has its floor beside it: the same strings drawn by a bare ReportLab canvas, a bare
Lark parse, or a process that imports the same libraries.  Times are the least of several runs,
those of whole processes seconds of the processor; machines differ, ratios hardly do.  Three sets
of figures have commands of their own: ``tests.benchmarks.advice``, ``tests.benchmarks.book`` and
``tests.benchmarks.sensitivity``.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.diagnostics import Source
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document
from chartkit.pdf.fonts import Fonts, embedded_font
from chartkit.pdf.write import pdf_bytes
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo
from tests.benchmarks.bare import bare_strings, drawn_bare
from tests.benchmarks.growth import growth, memory_rows
from tests.benchmarks.intake import intake_rows
from tests.benchmarks.measure import Row, as_table, peak_megabytes, process_cpu_seconds
from tests.benchmarks.profile import profile_table
from tests.benchmarks.start import start_rows
from tests.pdf.on_canvas import canvas_pdf

SONG = Path(__file__).resolve().parents[2] / "examples" / "lantern-road.chart"
VIEW = View(capo=Capo(1))


def least_seconds(work: Callable[[], object], runs: int = 15) -> float:
    """The shortest of several runs, after one that does not count."""
    work()
    best = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def document_of(text: str) -> Document:
    """The laid-out pages of a chart."""
    return laid_out(arrange(read_chart(Source(text)).chart, VIEW), PageLook(), Fonts())


def warm() -> Row:
    """Text to PDF in a warm process against bare drawing of the same strings."""
    text = SONG.read_text(encoding="utf-8")
    strings = bare_strings(document_of(text))
    ours = least_seconds(lambda: pdf_bytes(document_of(text)))
    bare = least_seconds(lambda: drawn_bare(strings))
    return "warm: parse, transpose, lay out, draw / bare drawing", ours / bare, "≤ 2.5"


_BARE_PROCESS = """
import lark, pydantic, typer, json, sys
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
fonts, pages = json.load(open(sys.argv[1]))
for name, path in fonts: pdfmetrics.registerFont(TTFont(name, path))
canvas = Canvas(sys.argv[2], invariant=1)
for strings in pages:
    for font, size, x, y, text in strings:
        canvas.setFont(font, size); canvas.drawString(x, y, text)
    canvas.showPage()
canvas.save()
"""


def cold(folder: Path) -> Row:
    """The command in a fresh process against a process that only imports and draws."""
    import json

    from chartkit.assets import font_path
    from chartkit.layout.faces import FILES

    strings = bare_strings(document_of(SONG.read_text(encoding="utf-8")))
    fonts = [(embedded_font(n).fontName, str(font_path(f))) for n, f in FILES.items()]
    page = folder / "page.json"
    page.write_text(json.dumps([fonts, strings]), encoding="utf-8")
    bare_call = [sys.executable, "-c", _BARE_PROCESS, str(page), str(folder / "bare.pdf")]
    our_call = [
        sys.executable,
        "-c",
        "from chartkit.cli.start import run; run()",
        "engrave",
        str(SONG),
        "--capo",
        "1",
        "-o",
        str(folder / "ours.pdf"),
    ]
    ratio = process_cpu_seconds(our_call) / process_cpu_seconds(bare_call)
    return "cold: the command / a process that imports and draws bare", ratio, "≤ 2.5"


def layout() -> Row:
    """Laying the longest example out against drawing its pages on a ReportLab canvas."""
    texts = [path.read_text(encoding="utf-8") for path in SONG.parent.glob("*.chart")]
    documents = {text: document_of(text) for text in texts}
    text = max(texts, key=lambda one: sum(len(page.items) for page in documents[one].pages))
    arrangement, fonts = arrange(read_chart(Source(text)).chart, VIEW), Fonts()
    ours = least_seconds(lambda: laid_out(arrangement, PageLook(), fonts))
    drawing = least_seconds(lambda: canvas_pdf(documents[text], fonts))
    return (
        "layout of the longest example / drawing it on a ReportLab canvas",
        ours / drawing,
        "≤ 1.5",
    )


def main() -> None:
    """Measures and prints the tables."""
    text = SONG.read_text(encoding="utf-8")
    curves, steps = growth()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        memory = peak_megabytes("engrave", str(SONG), "-o", str(folder / "page.pdf"))
        rows = [
            warm(),
            cold(folder),
            layout(),
            *start_rows(),
            *steps,
            ("memory of engraving one song, MB", memory, "≤ 80"),
            *memory_rows(),
            *intake_rows(),
        ]
    print(as_table(["figure", "measured", "wanted"], [[w, f"{v:.2f}", b] for w, v, b in rows]))
    print(f"\n{curves}\n")
    print(profile_table("engraving one song, warm", lambda: pdf_bytes(document_of(text))))
    print()
    print(profile_table("reading one song, warm", lambda: read_chart(Source(text))))


if __name__ == "__main__":
    main()
