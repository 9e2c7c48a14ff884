"""A PDF with text to a chart: its lines rebuilt from places, then read as a sheet."""

from chartkit.interchange.pdf_text.lines import lines_of
from chartkit.interchange.pdf_text.pieces import pieces_of
from chartkit.interchange.sheet.read import read_lines
from chartkit.interchange.taken import Findings, SymbolReader, Taken


def read_pdf(data: bytes, read_symbol: SymbolReader) -> Taken:
    """The chart of a PDF.  Raises Refused for a scan, a locked or a damaged file, and for one
    with neither chords nor words."""
    findings = Findings()
    lines = lines_of(pieces_of(data), findings)
    return read_lines(lines, read_symbol, findings, "PDF")
