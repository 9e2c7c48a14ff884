"""Pages as pictures, compared with the reference pictures in ``examples/``."""

import os
import shutil
from pathlib import Path

import pytest
from PIL import Image

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import Fonts
from tests.charts import chart_of
from tests.gallery import (
    DOTS_PER_INCH,
    EXAMPLES,
    MADE,
    PICTURES,
    Picture,
    as_picture,
    differing,
    drawn,
    made,
)
from tests.layout.geometry import box_of

_MOST_DIFFERENT = 0.0001
"""The largest part of a picture that may differ: another poppler smooths edges otherwise."""


needs_poppler = pytest.mark.skipif(
    shutil.which("pdftoppm") is None and "CI" not in os.environ, reason="needs poppler's pdftoppm"
)


@needs_poppler
@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
def test_page_looks_as_it_did(picture: Picture, tmp_path: Path) -> None:
    """The first page of an example looks as its reference picture does."""
    reference = EXAMPLES / f"{picture.name}.png"
    assert differing(drawn(picture, tmp_path), reference) <= _MOST_DIFFERENT


@needs_poppler
def test_the_advice_sheet_looks_as_in_the_readme(tmp_path: Path) -> None:
    """The picture of the capo's places is the page that the command draws."""
    (sheet,) = (one for one in MADE if one.name == "advice-sheet")
    now = as_picture(made(sheet, tmp_path), tmp_path / "now")
    assert differing(now, EXAMPLES / "advice-sheet.png") <= _MOST_DIFFERENT


def test_comparison_sees_a_missing_chord(tmp_path: Path) -> None:
    """The comparison notices one chord name rubbed out."""
    picture = PICTURES[0]
    chart = chart_of((EXAMPLES / f"{picture.chart}.chart").read_text(encoding="utf-8"))
    page = laid_out(arrange(chart, View()), picture.look, Fonts()).pages[0]
    shapes = [i for i in page.items if isinstance(i, Text) and i.role == "shape"]
    chord = max(shapes, key=lambda i: i.width)
    scale = DOTS_PER_INCH / 72
    left, top, right, bottom = (round(edge * scale) for edge in box_of(chord))
    reference = EXAMPLES / f"{picture.name}.png"
    spoilt = Image.open(reference).convert("L")
    spoilt.paste(255, (left, top, right, bottom))
    spoilt.save(tmp_path / "spoilt.png")
    assert differing(tmp_path / "spoilt.png", reference) > _MOST_DIFFERENT
