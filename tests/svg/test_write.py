"""Pages as SVG: well formed, everything at its measured place, nothing a reader could run."""

from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.diagnostics import Source, Span
from chartkit.layout.engrave import laid_out
from chartkit.layout.faces import FILES
from chartkit.layout.frames import Dot, Glyph, Page, Piece, Shape, Stroke, Text
from chartkit.pdf.fonts import Fonts
from chartkit.svg.style import page_style
from chartkit.svg.write import page_svg
from chartkit.syntax.reader import read_chart

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.chart"))
SVG = "{http://www.w3.org/2000/svg}"


def parsed(*items: Any, fonts: Fonts | None = None) -> Any:
    """A page of these items as SVG, read again."""
    return ElementTree.fromstring(page_svg(Page(200, 100, items), fonts or Fonts()))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_piece_of_text_stands_at_its_measured_place(path: Path) -> None:
    """Each piece begins where the pieces before it end, within a hundredth of a point."""
    fonts, source = Fonts(), Source(path.read_text(encoding="utf-8"))
    for page in laid_out(arrange(read_chart(source).chart, View()), PageLook(), fonts).pages:
        root = ElementTree.fromstring(page_svg(page, fonts))
        texts = [item for item in page.items if isinstance(item, Text)]
        drawn = root.findall(f"{SVG}text")
        assert ["".join(one.itertext()) for one in drawn] == [one.plain for one in texts]
        for element, text in zip(drawn, texts, strict=True):
            x = text.x
            for span, piece in zip(element, text.pieces, strict=True):
                x -= piece.back
                assert float(span.get("x")) == pytest.approx(x, abs=0.006)
                assert float(span.get("y")) == pytest.approx(text.y - piece.rise, abs=0.006)
                x += fonts.width(piece.font, piece.text) * piece.size
            assert x == pytest.approx(text.x + text.width, abs=0.02)


def test_hostile_words_stay_words() -> None:
    """Markup, quotes and characters that XML forbids come out as text, or as a sign for them."""
    hostile = "<script>alert('1')</script>&\"\0\x0b\ud800"
    svg = page_svg(Page(9, 9, (Text(1, 2, 3, (Piece(hostile, "words", 9),), 'x"y'),)), Fonts())
    (text,) = ElementTree.fromstring(svg).findall(f"{SVG}text")
    shown = "".join(text.itertext())
    assert shown.startswith("<script>alert('1')</script>&\"") and "\0" not in shown
    assert text.get("data-role") == 'x"y' and "<script" not in svg


def test_a_text_says_where_it_came_from() -> None:
    """The place in the chart's source is an attribute; a text without one has none."""
    with_place = Text(0, 9, 5, (Piece("C", "strong", 9),), "shape", 1.0, Span(4, 5))
    root = parsed(with_place, with_place._replace(source=None))
    assert [one.get("data-at") for one in root.findall(f"{SVG}text")] == ["4 5", None]


def test_signs_are_outlines_and_ink_is_kept() -> None:
    """Drawn signs are paths within their box; light ink is opacity, paper ink its own class."""
    root = parsed(
        Glyph(10, 50, 20, "segno"),
        Stroke(0, 0, 5, 5, 0.7, 0.45),
        Dot(9, 9, 3, 0.0),
        Shape(((0, 0), (4, 0), (4, 4))),
    )
    paths = root.findall(f".//{SVG}path")
    assert [one.get("opacity") for one in paths] == [None, "0.45", None, None]
    assert paths[1].get("stroke-width") == "0.7" and paths[2].get("class") == "bare"
    numbers = paths[0].get("d").replace("M", " ").replace("C", " ").replace("L", " ")
    values = [float(part) for part in numbers.replace("Z", " ").split()]
    assert min(values[1::2]) >= 29.9 and max(values[1::2]) <= 50.1 and min(values[::2]) >= 9.9


def test_the_sheet_names_every_face() -> None:
    """Each font of a page has its file and its class, and kerning is on for running text alone."""
    css = page_style(lambda font: f"/fonts/{font}")
    for font in FILES:
        assert f'url("/fonts/{font}")' in css and f".sheet .{font}{{" in css
    assert css.count("font-kerning:normal") == 3


def test_a_line_is_read_aloud_as_a_player_says_it() -> None:
    """Where a line carries what is said of it, that is its label, and its chords are not read
    besides; other lines are read as they stand."""
    chord = Text(0, 9, 5, (Piece("C", "strong", 9),), "shape")
    said = chord._replace(pieces=(Piece(" ", "plain", 1),), role="spoken", spoken='C, rest "2"')
    root = parsed(said, chord, chord._replace(y=30))
    texts = root.findall(f"{SVG}text")
    assert [one.get("aria-label") for one in texts] == ['C, rest "2"', None, None]
    assert [one.get("aria-hidden") for one in texts] == [None, "true", None]
