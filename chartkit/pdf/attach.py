"""A file inside the PDF: whoever has the page has the chart as well.

PDF 32000-1:2008, 7.11.4 (embedded file streams) and 7.7.4 (the name dictionary).
"""

from typing import Any

from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas


def attach(canvas: Canvas, name: str, content: bytes) -> None:
    """Puts a text file into the document under that name, for viewers to save."""
    document: Any = canvas._doc  # type: ignore[attr-defined]
    size = pdfdoc.PDFDictionary({"Size": len(content)})
    stream = pdfdoc.PDFStream(
        pdfdoc.PDFDictionary(
            {
                "Type": pdfdoc.PDFName("EmbeddedFile"),
                "Subtype": pdfdoc.PDFName("text#2Fplain"),
                "Params": size,
            }
        ),
        content,
    )
    stream.filters = [pdfdoc.PDFZCompress]
    title = pdfdoc.PDFString(name)
    entry = pdfdoc.PDFDictionary(
        {
            "Type": pdfdoc.PDFName("Filespec"),
            "F": title,
            "UF": title,
            "EF": pdfdoc.PDFDictionary({"F": document.Reference(stream)}),
        }
    )
    files = pdfdoc.PDFDictionary({"Names": pdfdoc.PDFArray([title, document.Reference(entry)])})
    document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": files})
