"""Any file that holds a lead sheet to a chart: recognise it, then read it."""

from dataclasses import replace
from typing import TYPE_CHECKING, assert_never

from chartkit.chart.walk import iter_chords
from chartkit.interchange.intake_result import (
    ChartReader,
    Findings,
    IntakeResult,
    Refused,
    SourceKind,
    SymbolReader,
)
from chartkit.interchange.recognise import format_of
from chartkit.interchange.wording import one_line

if TYPE_CHECKING:
    from chartkit.interchange.saved_mail import Mail

LARGEST_FILE_BYTES = 32_000_000
"""More than any lead sheet has, and little enough to hold in memory."""

LARGEST_TEXT_BYTES = 2_000_000
"""A songbook of five hundred songs; ours."""
_MOST_BARS_IN_A_LINE = 20_000
_MOST_LINES = 200_000


def read_lead_sheet(
    data: bytes,
    read_symbol: SymbolReader,
    part: str | None = None,
    read_chart: ChartReader | None = None,
) -> IntakeResult:
    """The chart that a file's content holds, with the findings.

    ``part`` names a part of a score.  ``read_symbol`` reads a chord symbol of the chart
    language, ``read_chart`` a whole chart, so that one that is ours already is kept as it is.
    Raises Refused for a file that cannot be read.
    """
    if len(data) > LARGEST_FILE_BYTES:
        raise Refused(f"the file is too large: more than {LARGEST_FILE_BYTES:,} bytes")
    format_name = format_of(data)
    if part is not None and format_name not in ("musicxml", "archive"):
        raise Refused("only a score has parts to choose from")
    match format_name:
        case "archive":
            from chartkit.interchange.musicxml.read import read_compressed

            return read_compressed(data, read_symbol, part)
        case "musicxml":
            from chartkit.interchange.musicxml.read import read_musicxml

            return read_musicxml(data, read_symbol, part)
        case "pdf":
            from chartkit.interchange.pdf_text.read import read_pdf

            return read_pdf(data, read_symbol, read_chart)
        case "json":
            return _of_json(data)
        case "mail":
            return _of_mail(data, read_symbol, read_chart)
        case "text":
            return _of_text(data, read_symbol, read_chart)
        case _:
            assert_never(format_name)


def _of_json(data: bytes) -> IntakeResult:
    from chartkit.interchange.chart_json import read_json
    from chartkit.interchange.recognise import text_and_encoding

    return replace(read_json(data), source_text=text_and_encoding(data)[0])


def _of_text(
    data: bytes, read_symbol: SymbolReader, read_chart: ChartReader | None
) -> IntakeResult:
    from chartkit.interchange.recognise import text_and_encoding

    text, encoding = text_and_encoding(_small(data))
    findings = Findings()
    if encoding == "windows-1252":
        findings.guess("encoding", "this text is not UTF-8; it is read as Windows-1252")
    elif encoding.startswith("utf-16-"):
        findings.guess("encoding", "this text is read as UTF-16, though it lacks the mark for that")
    return _typed(text, read_symbol, read_chart, findings)


def _of_mail(
    data: bytes, read_symbol: SymbolReader, read_chart: ChartReader | None
) -> IntakeResult:
    from chartkit.interchange.saved_mail import read_mail

    mail = read_mail(data)
    readings = [
        _from_mail(mail, number, text, read_symbol, read_chart)
        for number, text in enumerate((mail.text, *mail.texts))
        if text.strip()
    ]
    taken = next((one for one in readings if _has_chords(one)), readings[0])
    if isinstance(taken, Refused):
        raise taken
    return taken


def _has_chords(taken: IntakeResult | Refused) -> bool:
    return isinstance(taken, IntakeResult) and any(True for _ in iter_chords(taken.chart.sections))


def _from_mail(
    mail: "Mail", number: int, text: str, read_symbol: SymbolReader, read_chart: ChartReader | None
) -> IntakeResult | Refused:
    """The chart of a mail's own ``text`` (``number`` 0), or of the text that is attached to it as
    the file of that number; what keeps it from being one."""
    findings = Findings()
    read = f'the text attached to it, "{mail.attached[number - 1]}",' if number else "its text"
    findings.sure("mail", f"this is a saved email: {read} is read, lines counted from its start")
    for other, name in enumerate(mail.attached, 1):
        if other != number:
            findings.leave_out("attached", f"a file attached to the email: {name}")
    if number and mail.text.strip():
        findings.leave_out("mail-text", f'the text of the email: "{one_line(mail.text)}"')
    try:
        _small(text.encode("utf-8", "replace"))
        return _typed(text, read_symbol, read_chart, findings, "mail", mail.subject)
    except Refused as reason:
        return reason


def _typed(
    text: str,
    read_symbol: SymbolReader,
    read_chart: ChartReader | None,
    findings: Findings,
    format_name: SourceKind = "text",
    subject: str = "",
) -> IntakeResult:
    """The chart of a text: itself where it is one already, else what is typed in it."""
    from chartkit.interchange.embedded_chart import looks_like_a_chart, own_chart
    from chartkit.interchange.text.raw_text.decode import with_line_ends
    from chartkit.interchange.text.read import read_sheet

    text = with_line_ends(text)
    if text.count("\n") > _MOST_LINES:
        raise Refused(f"the text is too large: more than {_MOST_LINES:,} lines")
    if max(line.count("|") for line in text.split("\n")) > _MOST_BARS_IN_A_LINE:
        raise Refused("the text is too large: a line with more bars than a whole song has")
    if (own := own_chart(text, read_chart)) is not None:
        return replace(own, source_text=text)
    if read_chart is not None and looks_like_a_chart(text):
        findings.guess(
            "looks-like-a-chart",
            "this looks like a chart with mistakes, and is read as a typed sheet: chartkit check "
            "names them",
        )
    return read_sheet(text, read_symbol, findings, format_name, subject)


def _small(data: bytes) -> bytes:
    """The data.  Raises Refused where it is more than a text may be."""
    if len(data) > LARGEST_TEXT_BYTES:
        raise Refused(f"the text is too large: more than {LARGEST_TEXT_BYTES:,} bytes")
    return data
