"""Pages in the browser are the PDF's pages: drawn by both, every dark spot has its match."""

import json
from io import BytesIO
from typing import Any

import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageFilter
from playwright.sync_api import expect

from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.compile import song_document
from chartkit.diagnostics import Source
from chartkit.pdf.write import pdf_bytes
from chartkit.svg.write import page_svg
from chartkit.syntax.reader import read_chart
from tests.desk.conftest import ROOT, Served

EXAMPLES = sorted((ROOT / "examples").glob("*.chart"))
DOTS_PER_POINT = 2
"""Half a point is one dot."""
DARK, MOST_UNMATCHED = 110, 0.002
"""What counts as dark, and the share of dark dots that may lack a match: the two draw the edges
of letters a little differently."""


_SHOW = """([svg, width, height]) => {
    document.body.innerHTML = svg;
    const size = {width: `${width}px`, height: `${height}px`};
    const place = {position: "fixed", left: 0, top: 0, boxShadow: "none"};
    Object.assign(document.body.firstElementChild.style, size, place);
    return Promise.all([...document.fonts].map((font) => font.load()));
}"""


def unmatched(one: Image.Image, other: Image.Image) -> float:
    """The share of dark dots of one picture without a dark dot of the other within a dot."""
    dark = one.point(lambda grey: 255 * (grey < DARK))
    near = other.point(lambda grey: 255 * (grey < 2 * DARK)).filter(ImageFilter.MaxFilter(3))
    alone = ImageChops.subtract(dark, near)
    return alone.histogram()[255] / max(1, dark.histogram()[255])


@pytest.fixture(scope="module")
def drawing(browser: Any) -> Any:
    """A window that shows bare pages, two dots a point."""
    context = browser.new_context(device_scale_factor=DOTS_PER_POINT)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_browser_and_pdf_draw_the_same(drawing: Any, served: Served, path: Any) -> None:
    """For every example each mark on the first page lies within half a point of the PDF's."""
    chart = read_chart(Source(path.read_text(encoding="utf-8"))).chart
    document, fonts = song_document(chart, View(), PageLook())
    page = document.pages[0]
    if drawing.url == "about:blank":
        drawing.goto(served.address)
        drawing.wait_for_selector("html[data-ready]")
    size = {"width": round(page.width), "height": round(page.height)}
    drawing.set_viewport_size(size)
    drawing.evaluate(_SHOW, [page_svg(page, fonts), page.width, page.height])
    picture = Image.open(BytesIO(drawing.screenshot())).convert("L")
    pdf = pypdfium2.PdfDocument(pdf_bytes(document, fonts))
    printed = pdf[0].render(scale=DOTS_PER_POINT, grayscale=True).to_pil().convert("L")
    box = (0, 0, min(picture.width, printed.width), min(picture.height, printed.height))
    picture, printed = picture.crop(box), printed.crop(box)
    assert unmatched(picture, printed) < MOST_UNMATCHED, json.dumps(size)
    assert unmatched(printed, picture) < MOST_UNMATCHED
    # A point to the side and the two would not be taken for the same.
    assert unmatched(ImageChops.offset(picture, DOTS_PER_POINT, 0), printed) > MOST_UNMATCHED


def test_the_desk_shows_that_very_page(page: Any) -> None:
    """The page beside the text is what the compiler makes of it, element for element."""
    chart = read_chart(Source(page.input_value("#text"))).chart
    document, _ = song_document(chart, View(), PageLook())
    expect(page.locator("#pages svg")).to_have_count(len(document.pages))
    wanted = [text for one in document.pages for text in one.items if hasattr(text, "pieces")]
    shown = page.locator("#pages text").all_text_contents()
    assert shown == [text.plain for text in wanted]
