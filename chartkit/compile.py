"""The whole way from text to PDF, as a list of calls."""

from chartkit.arrange.arrange import arrange
from chartkit.arrange.view import View
from chartkit.chart.model import Chart
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Document
from chartkit.layout.style import PaperName
from chartkit.pdf.fonts import FontMetrics
from chartkit.pdf.write import pdf_bytes


def engraved(
    chart: Chart, view: View, paper: PaperName = "a4", size: float | None = None
) -> tuple[Document, bytes]:
    """A chart as one player reads it: its pages, and the PDF they make.

    Without a size the type is as large as the song allows.
    """
    document = laid_out(arrange(chart, view), paper, FontMetrics(), size)
    return document, pdf_bytes(document)
