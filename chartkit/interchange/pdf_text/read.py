"""A PDF to a chart: the one that travels inside, or its lines rebuilt and read as a sheet."""

from collections.abc import Sequence

from chartkit.interchange.own import ATTACHED_SUFFIX, attached_chart
from chartkit.interchange.pdf_text.attached import attached_text
from chartkit.interchange.pdf_text.lines import lines_of
from chartkit.interchange.pdf_text.pieces import Pages, pages_of
from chartkit.interchange.taken import ChartReader, Findings, SymbolReader, Taken
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.read import read_lines


def read_pdf(
    data: bytes, read_symbol: SymbolReader, read_chart: ChartReader | None = None
) -> Taken:
    """The chart of a PDF.  Raises Refused for a scan, a locked or a damaged file, and for one
    with neither chords nor words."""
    findings = Findings()
    found = attached_text(data, ATTACHED_SUFFIX) if read_chart is not None else None
    if found is not None:
        name, text = found
        if (own := attached_chart(text, read_chart)) is not None:
            return own
        findings.leave_out(
            "chart-inside", f'the file "{name[:60]}" inside this PDF does not read as a '
            "chart: its pages are read",
        )  # fmt: skip
    pages = pages_of(data, findings)
    lines = lines_of(pages, read_symbol, findings)
    _tell_what_is_drawn(pages, lines, findings)
    return read_lines(lines, read_symbol, findings, "PDF")


def _tell_what_is_drawn(pages: Pages, lines: Sequence[Line], findings: Findings) -> None:
    """Tells that bars are lost where bar lines are drawn: only letters are read."""
    if pages.made_here:
        findings.leave_out(
            "drawn", "bar lines, repeats, rests and rhythms, which are drawn on the page and no "
            "letters: chords stand in free time; engraved without --no-source a page gives back "
            "its whole chart",
        )  # fmt: skip
    elif pages.bars_drawn and not any("|" in line.text for line in lines):
        findings.leave_out(
            "drawn", "upright lines drawn on the pages, which may be bar lines: only letters are "
            "read, so that chords stand in free time",
        )  # fmt: skip
