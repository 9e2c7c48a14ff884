"""Reference pictures of finished pages: ``python -m tests.gallery`` draws them anew.

Each picture shows the first page of an example, or what a command makes of it.  The test beside
this compares the program's pages with them; look at every picture before it is committed.
"""

import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageChops, ImageFilter

from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.compile import engraved_pdf
from chartkit.theory.capo import NO_CAPO, Capo
from tests.charts import chart_of

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
DOTS_PER_INCH = 80


@dataclass(frozen=True)
class Picture:
    """A page to show: the chart, how it is read, and on which paper."""

    name: str
    chart: str
    view: View = View()
    look: PageLook = PageLook()


TABLET_DARK = PageLook(paper="tablet", dark=True, diagrams=True)
PICTURES = (
    Picture("lantern-road", "lantern-road"),
    Picture("dense-changes", "glass-piers", View(capo=Capo(1)), PageLook(paper="letter")),
    Picture("stacked-verses", "all-the-quiet-water", View(capo=Capo(tuned_down=2))),
    Picture("rhythm-chart", "breakwater", View(capo=NO_CAPO)),
    Picture("sparse-ballad", "before-the-boats", View(capo=Capo(2)), PageLook()),
    Picture("two-guitars", "salt-box-house", View(second_capo=Capo(4))),
    Picture(
        "tablet-dark", "winter-mooring", look=PageLook(paper="tablet", dark=True, diagrams=True)
    ),
    Picture("numbers", "winter-mooring", look=PageLook(show="numbers", paper="tablet")),
)


@dataclass(frozen=True)
class Made:
    """What a command makes: its arguments, run among the examples, ``{folder}`` for where it
    goes, and the name of the file."""

    name: str
    arguments: tuple[str, ...]
    file: str


MADE = (
    Made("advice-sheet", ("capo", "lantern-road.chart", "--sheet", "{folder}/a.pdf"), "a.pdf"),
    Made("set-sheet", ("book", "friday.toml", "-o", "{folder}/"), "set-sheet.pdf"),
)


def drawn(picture: Picture, folder: Path) -> Path:
    """The picture drawn afresh through poppler, as a PNG file in the folder."""
    chart = chart_of((EXAMPLES / f"{picture.chart}.chart").read_text(encoding="utf-8"))
    pdf = folder / f"{picture.name}.pdf"
    pdf.write_bytes(engraved_pdf(chart, picture.view, picture.look)[1])
    picture_file = as_picture(pdf, folder / picture.name)
    pdf.unlink()
    return picture_file


def made(one: Made, folder: Path) -> Path:
    """The file that the command makes, in the folder."""
    arguments = [argument.format(folder=folder) for argument in one.arguments]
    call = [sys.executable, "-c", "from chartkit.cli.start import run; run()", *arguments]
    subprocess.run(call, cwd=EXAMPLES, check=True, capture_output=True)
    return folder / one.file


def as_picture(pdf: Path, stem: Path) -> Path:
    """The first page of a PDF as a PNG file of that name, drawn by poppler."""
    subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", "-png", "-singlefile", str(pdf), str(stem)],
        check=True,
    )
    return stem.with_suffix(".png")


def differing(one: Path, other: Path) -> float:
    """The part of a picture that differs from another by more than smoothing does."""
    blur = ImageFilter.GaussianBlur(1)
    first, second = (Image.open(p).convert("L").filter(blur) for p in (one, other))
    assert first.size == second.size
    strong = ImageChops.difference(first, second).point(lambda level: 255 if level > 48 else 0)
    return strong.histogram()[255] / (first.width * first.height)


if __name__ == "__main__":
    for one in PICTURES:
        print(drawn(one, EXAMPLES))
    for other in MADE:
        with tempfile.TemporaryDirectory() as new:
            print(as_picture(made(other, Path(new)), EXAMPLES / other.name))
