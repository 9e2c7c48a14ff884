"""A song's pages to PDF bytes."""

from chartkit.layout.frames import Document, Page
from chartkit.pdf.bind import FileDescription, Leaf, bound_file
from chartkit.pdf.draw import drawn_pages
from chartkit.pdf.fonts import Fonts


def pdf_bytes(document: Document, fonts: Fonts | None = None) -> bytes:
    """The document as a PDF file.  The same document always gives the same bytes."""
    fonts = fonts or Fonts()
    drawn = drawn_pages(document.pages, fonts, document.dark)
    leaves = [
        Leaf(Page(page.width, page.height, (), (), page.links), made)
        for page, made in zip(document.pages, drawn, strict=True)
    ]
    return bound_file(
        FileDescription(document.title, document.author, document.subject, document.language),
        leaves,
        fonts,
        document.source,
        document.source_name,
    )
