"""Reference pictures of finished pages: ``python -m tests.gallery`` draws them anew.

Each picture shows the first page of an example.  The test beside this compares the program's
pages with them; look at every picture before it is committed.
"""

import subprocess
from dataclasses import dataclass
from pathlib import Path

from chartkit.arrange.view import View
from chartkit.compile import Look, engraved
from tests.charts import chart_of

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
DOTS_PER_INCH = 80


@dataclass(frozen=True)
class Picture:
    """A page to show: the chart, how it is read, and on which paper."""

    name: str
    chart: str
    view: View = View()
    look: Look = Look()


PICTURES = (
    Picture("lantern-road", "lantern-road"),
    Picture("dense-changes", "glass-piers", View(capo=1), Look("letter")),
    Picture("stacked-verses", "all-the-quiet-water", View(capo=-2)),
    Picture("rhythm-chart", "breakwater", View(capo=0)),
    Picture("sparse-ballad", "before-the-boats", View(capo=2), Look(again="words")),
    Picture("two-guitars", "salt-box-house", View(second_capo=4)),
    Picture("tablet-dark", "winter-mooring", look=Look("tablet", dark=True, diagrams=True)),
    Picture("numbers", "winter-mooring", View(show="numbers"), Look("tablet")),
)


def drawn(picture: Picture, folder: Path) -> Path:
    """The picture drawn afresh through poppler, as a PNG file in the folder."""
    chart = chart_of((EXAMPLES / f"{picture.chart}.chart").read_text(encoding="utf-8"))
    view = picture.view
    pdf = folder / f"{picture.name}.pdf"
    pdf.write_bytes(engraved(chart, view, picture.look)[1])
    stem = folder / picture.name
    subprocess.run(
        ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", "-png", "-singlefile", str(pdf), str(stem)],
        check=True,
    )
    pdf.unlink()
    return stem.with_suffix(".png")


if __name__ == "__main__":
    for one in PICTURES:
        print(drawn(one, EXAMPLES))
