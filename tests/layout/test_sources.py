"""Texts on a page know the place in the chart that they came from."""

import re
from pathlib import Path

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.diagnostics import Source
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import Fonts
from chartkit.syntax.reader import read_chart
from chartkit.theory.capo import Capo

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
_LETTERS = re.compile(r"[^\W\d_]+")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_source_of_each_text_says_the_same(path: Path) -> None:
    """Every chord, sung word and heading stands at its source, word for word."""
    text = path.read_text(encoding="utf-8")
    chart = read_chart(Source(text)).chart
    document = laid_out(arrange(chart, View()), PageLook(form="full"), Fonts())
    line = "shape" if chart.written_as_shapes else "sounding"
    seen = set()
    for item in (item for page in document.pages for item in page.items):
        if not isinstance(item, Text) or item.role not in (line, "words", "heading"):
            continue
        assert item.source is not None and item.source.end > item.source.start, item.plain
        written = text[item.source.start : item.source.end]
        seen.add(item.role)
        if item.role == "words":
            assert "".join(_LETTERS.findall(written)) == "".join(_LETTERS.findall(item.plain))
        elif item.role == "heading":
            # How often it is played may stand on a line of its own.
            assert item.plain.startswith("×") or _LETTERS.findall(item.plain)[0] in written
        else:
            assert written.lstrip("(<")[0] == item.plain.lstrip("(")[0] or "/" in written[:1]
    assert seen >= {line, "heading"}


def test_a_shape_and_what_sounds_have_one_source() -> None:
    """Both lines of chords lead to the chord that was written."""
    text = "key: Db\n== A\n| Db | Gb |\n: one | two |\n"
    document = laid_out(
        arrange(read_chart(Source(text)).chart, View(capo=Capo(1))), PageLook(), Fonts()
    )
    places = [
        (item.role, text[item.source.start : item.source.end])
        for page in document.pages
        for item in page.items
        if isinstance(item, Text) and item.role in ("shape", "sounding")
    ]
    assert sorted(places) == sorted(
        [("shape", "Db"), ("shape", "Gb"), ("sounding", "Db"), ("sounding", "Gb")]
    )
