"""Figures of speed and memory, each a ratio measured in one run: ``python -m tests.benchmarks``.

Every ratio has its floor beside it: the same strings drawn by a bare ReportLab canvas, or a
process that imports the same libraries and draws that page.  Times are the least of several
runs; machines differ, ratios hardly do.
"""

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.diagnostics import Source
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document, Text
from chartkit.pdf.fonts import Fonts, embedded_font
from chartkit.pdf.write import pdf_bytes
from chartkit.syntax.reader import read_chart
from tests.benchmarks.intake import intake_rows
from tests.pdf.on_canvas import canvas_pdf

SONG = Path(__file__).resolve().parents[2] / "examples" / "lantern-road.chart"
VIEW = View(capo=1)
VERSE = """
== Verse {n}
         | Db         | Bbm7       | Gb      Ab      | Db    |
: Oh the | low tide   | pulls the  | lan-  / terns   | home, |
         | Gb / / <Ab | Db,Db/C Bbm7 / / | Ebm7 | Ab7! |
: and    | no- body / knows | how / far / we | roam | |
"""

Row = tuple[str, float, str]


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
    return laid_out(arrange(read_chart(Source(text)).chart, VIEW), "a4", Fonts())


def bare_strings(document: Document) -> list[list[tuple[str, float, float, float, str]]]:
    """Every string of every page: font, size, place, text."""
    pages = []
    for page in document.pages:
        strings = []
        for item in page.items:
            if isinstance(item, Text):
                for piece in item.pieces:
                    font = embedded_font(piece.font).fontName
                    strings.append((font, piece.size, item.x, page.height - item.y, piece.text))
        pages.append(strings)
    return pages


def drawn_bare(pages: list[list[tuple[str, float, float, float, str]]]) -> bytes:
    """The strings drawn with nothing but ReportLab."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1)
    for strings in pages:
        for font, size, x, y, text in strings:
            canvas.setFont(font, size)
            canvas.drawString(x, y, text)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


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
    from chartkit.pdf.fonts import FILES

    strings = bare_strings(document_of(SONG.read_text(encoding="utf-8")))
    fonts = [(embedded_font(n).fontName, str(font_path(f))) for n, f in FILES.items()]
    page = folder / "page.json"
    page.write_text(json.dumps([fonts, strings]), encoding="utf-8")
    bare_call = [sys.executable, "-c", _BARE_PROCESS, str(page), str(folder / "bare.pdf")]
    our_call = [
        sys.executable, "-c", "from chartkit.cli.main import run; run()",
        "engrave", str(SONG), "--capo", "1", "-o", str(folder / "ours.pdf"),
    ]  # fmt: skip

    def run(call: list[str]) -> Callable[[], object]:
        return lambda: subprocess.run(call, check=True, capture_output=True)

    ratio = least_seconds(run(our_call), 7) / least_seconds(run(bare_call), 7)
    return "cold: the command / a process that imports and draws bare", ratio, "≤ 2.5"


def layout() -> Row:
    """Laying the longest example out against drawing its pages on a ReportLab canvas."""
    texts = [path.read_text(encoding="utf-8") for path in SONG.parent.glob("*.chart")]
    documents = {text: document_of(text) for text in texts}
    text = max(texts, key=lambda one: sum(len(page.items) for page in documents[one].pages))
    arrangement, fonts = arrange(read_chart(Source(text)).chart, VIEW), Fonts()
    ours = least_seconds(lambda: laid_out(arrangement, "a4", fonts))
    drawing = least_seconds(lambda: canvas_pdf(documents[text], fonts))
    return (
        "layout of the longest example / drawing it on a ReportLab canvas",
        ours / drawing,
        "≤ 1.5",
    )


def growth() -> list[Row]:
    """How the cost grows when the song doubles."""

    def song(verses: int) -> str:
        return "key: Db\n" + "".join(VERSE.format(n=n) for n in range(verses))

    def seconds(verses: int) -> float:
        text = song(verses)
        return least_seconds(lambda: pdf_bytes(document_of(text)), 3)

    def reading(verses: int) -> float:
        source = Source(song(verses))
        return least_seconds(lambda: read_chart(source), 3)

    return [
        ("growth: 800 bars / 400 bars, whole way", seconds(100) / seconds(50), "≤ 2.1"),
        ("growth: 8,000 bars / 4,000 bars, reading", reading(1000) / reading(500), "≤ 2.1"),
    ]


def memory(folder: Path) -> Row:
    """The largest resident size of engraving one song."""
    # The kernel's own peak of this process: ru_maxrss would have the parent's in it.
    code = (
        "import re, sys\nfrom chartkit.cli.main import program\n"
        "try: program(sys.argv[1:])(sys.argv[1:])\nexcept SystemExit: pass\n"
        "print(re.search(r'VmHWM:\\s+(\\d+)', open('/proc/self/status').read())[1])"
    )
    call = [sys.executable, "-c", code, "engrave", str(SONG), "-o", str(folder / "memory.pdf")]
    done = subprocess.run(call, check=True, capture_output=True, text=True)
    return "memory of engraving one song, MB", int(done.stdout) / 1024, "≤ 80"


def main() -> None:
    """Measures and prints the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [warm(), cold(folder), layout(), *growth(), memory(folder), *intake_rows()]
    print("| figure | measured | wanted |\n|---|---|---|")
    for what, value, wanted in rows:
        print(f"| {what} | {value:.2f} | {wanted} |")


if __name__ == "__main__":
    main()
