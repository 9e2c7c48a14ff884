"""Drawn pages and fresh ones bound into one PDF, with outline, links and page labels."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reportlab.pdfbase import pdfdoc

from chartkit.layout.frames import FontName, Page
from chartkit.pdf.draw import (
    DrawnPage,
    canvas_with_fixed_fonts,
    keep_used_characters,
    used_characters,
)
from chartkit.pdf.write import Pen


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page of a book: one drawn before, if any, and what is drawn over it now.

    ``title`` begins an entry of the outline; the page's own bookmarks stand under it.
    """

    over: Page
    drawn: DrawnPage | None = None
    title: str = ""


def bound(title: str, author: str, subject: str, language: str, leaves: Sequence[Leaf]) -> bytes:
    """The leaves as one PDF file; pages are numbered through from 1.

    The same leaves always give the same bytes.
    """
    canvas = canvas_with_fixed_fonts(language)
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setSubject(subject)
    canvas.setCreator("chartkit")
    for number, leaf in enumerate(leaves):
        _bind(canvas, leaf, number)
    labels = canvas._doc.Catalog.PageLabels = pdfdoc.PDFPageLabels()
    labels.addPageLabel(0, pdfdoc.PDFPageLabel(pdfdoc.PDFPageLabel.ARABIC, 1))
    keep_used_characters(canvas, _used(leaves))
    return bytes(canvas.getpdfdata())


def _used(leaves: Sequence[Leaf]) -> Iterator[tuple[FontName, str]]:
    for leaf in leaves:
        yield from used_characters(leaf.over)
        if leaf.drawn is not None:
            yield from leaf.drawn.characters


def _bind(canvas: Any, leaf: Leaf, number: int) -> None:
    page = leaf.over
    canvas.setPageSize((page.width, page.height))
    canvas.bookmarkPage(_page_key(number))
    pen = Pen(canvas, page.height)
    for item in page.items:
        pen.draw(item)
    for link in page.links:
        top, foot = page.height - link.y, page.height - link.y - link.height
        rect = (link.x, foot, link.x + link.width, top)
        canvas.linkRect("", _page_key(link.page), rect, relative=0, thickness=0)
    _outline(canvas, leaf, number)
    canvas.showPage()
    if leaf.drawn is not None:
        _put_under(canvas._doc.Pages.pages[-1], leaf.drawn, canvas._doc)


def _page_key(number: int) -> str:
    return f"page{number}"


def _outline(canvas: Any, leaf: Leaf, number: int) -> None:
    if leaf.title:
        canvas.addOutlineEntry(leaf.title, _page_key(number), 0, closed=True)
    marks = leaf.over.bookmarks + (leaf.drawn.bookmarks if leaf.drawn is not None else ())
    for i, mark in enumerate(marks):
        key = f"{_page_key(number)}mark{i}"
        canvas.bookmarkHorizontal(key, 0, leaf.over.height - mark.y)
        canvas.addOutlineEntry(mark.name, key, 1)


def _put_under(page: Any, drawn: DrawnPage, document: Any) -> None:
    """Puts the commands drawn before under those of the page."""
    before = pdfdoc.PDFStream(content=drawn.commands)
    before.dictionary["Filter"] = pdfdoc.PDFName("FlateDecode")
    after = pdfdoc.PDFStream(content=page.stream, filters=[pdfdoc.PDFZCompress])
    page.Contents = pdfdoc.PDFArray([document.Reference(before), document.Reference(after)])
