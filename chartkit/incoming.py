"""Reads a file from elsewhere into the text of a chart that has no mistakes, or says why it cannot.

The readers of other formats do not know the chart language.  This module knows both and keeps one
rule: the text is read again before it is written, is equal to the chart it was made from, and is
already tidy.
"""

import json
import re
from collections.abc import Iterator
from dataclasses import astuple, dataclass, replace
from typing import TYPE_CHECKING

from chartkit.bounded import LimitReached, Limits, ProcessCrashed, run_in_process
from chartkit.chart.model import BlankRow, Chart, Row, Section, TopRow
from chartkit.diagnostics import Diagnostic, Source
from chartkit.files import why_too_long
from chartkit.interchange.commented_chart import with_comments
from chartkit.interchange.intake_result import Finding, Refused, SourceKind, in_order
from chartkit.interchange.read_lead_sheet import LARGEST_FILE_BYTES, read_lead_sheet

if TYPE_CHECKING:
    from chartkit.interchange.intake_result import IntakeResult

__all__ = ["LARGEST_FILE_BYTES", "Incoming", "Refused", "incoming_chart", "incoming_json"]
_WITH_LINES: frozenset[SourceKind] = frozenset({"text", "mail", "PDF"})
"""Formats whose rows know the line that they were made from."""
_MOST_ROUNDS = 3
"""How many times unreadable rows are set aside before the file is refused."""
_SMALL_BYTES = 60_000
"""The largest file that is read in this process. A song has a tenth of it, and starting another
process takes a quarter of a second."""
_LIMITS = Limits(processor_seconds=10, clock_seconds=120.0)
_WORDS = re.compile(r"\s*\d*:")
"""How a row of words begins."""
_ON_PAGE = re.compile(r"page (\d+), line (\d+)")
_SPANS = frozenset({"span"})


@dataclass(frozen=True, slots=True)
class Incoming:
    """The text of a chart, the findings, and the format of the file.

    ``places`` say which row of the chart was made from which line of the source: the line, the
    row's line in the text, and the name of its section.  ``source_text`` is the text whose lines
    the findings count; empty where the file is no text.
    """

    text: str
    findings: tuple[Finding, ...]
    format: SourceKind
    places: tuple[tuple[int, int, str], ...] = ()
    source_text: str = ""


def incoming_chart(data: bytes, part: str | None = None, comments: bool = False) -> Incoming:
    """The chart that a file's content holds; ``part`` names a part of a score.

    With ``comments``, what was guessed or left out stands beside its row
    (``commented_chart.py``).  The text is read again before it is given out.  A row that the
    language cannot say becomes a comment, with a finding.  A large file is read in a process of
    its own with limits of time and memory.  Raises Refused for a file that cannot be read.
    """
    if len(data) <= _SMALL_BYTES or _is_pdf(data):
        return _incoming_here(data, part, comments)
    asked = json.dumps([part, comments]).encode() + b"\n" + data
    try:
        answer = json.loads(run_in_process(incoming_answer, asked, _LIMITS))
    except (LimitReached, ProcessCrashed):
        raise Refused("reading this takes more time or memory than a lead sheet may") from None
    if "refused" in answer:
        raise Refused(answer["refused"])
    findings = tuple(Finding(*finding) for finding in answer["findings"])
    places = tuple((line, row, section) for line, row, section in answer["places"])
    return Incoming(answer["text"], findings, answer["format"], places, answer["source_text"])


def incoming_answer(request: bytes) -> bytes:
    """The answer of a separate process: the fields of an Incoming, or the refusal, as JSON.

    ``request`` is the part and whether there are comments as JSON, a line end, and the file.
    """
    head, _, data = request.partition(b"\n")
    part, comments = json.loads(head)
    try:
        made = _incoming_here(data, part, comments)
    except Refused as reason:
        return json.dumps({"refused": str(reason)}).encode()
    findings = [astuple(finding) for finding in made.findings]
    answer = {
        "text": made.text,
        "findings": findings,
        "format": made.format,
        "places": made.places,
        "source_text": made.source_text,
    }
    return json.dumps(answer).encode()


def _is_pdf(data: bytes) -> bool:
    """Whether a file is a PDF, whose own reader opens a separate process."""
    return b"%PDF-" in data[:1024]


def _incoming_here(data: bytes, part: str | None, comments: bool) -> Incoming:
    from chartkit.syntax.symbol import chord_or_none

    taken = read_lead_sheet(data, chord_or_none, part, _chart_or_none)
    if taken.own_text:
        incoming = Incoming(taken.own_text, taken.findings, taken.format)
    elif taken.format == "JSON":
        incoming = Incoming(_exactly(taken.chart), taken.findings, taken.format)
    else:
        if comments and taken.format in _WITH_LINES:
            taken = replace(taken, chart=with_comments(taken.chart, taken.findings))
        elif comments:
            taken = replace(taken, chart=with_comments(taken.chart, _by_rows(taken)))
        incoming = _readable(taken)
    if problem := why_too_long(incoming.text):
        raise Refused(f"the chart made of it could not be read: {problem}")
    return replace(incoming, source_text=taken.source_text)


def _by_rows(taken: "IntakeResult") -> list[Finding]:
    """The findings of a score, each with the number of the row of its measure for a line, and with
    the measure in its message."""
    return [
        replace(one, line=taken.rows[one.place], message=f"{one.place}: {one.message}")
        if one.place in taken.rows
        else one
        for one in taken.findings
    ]


def _chart_or_none(text: str) -> Chart | None:
    from chartkit.syntax.reader import chart_or_none  # most files need no reader of charts

    return chart_or_none(text)


def _exactly(chart: Chart) -> str:
    """The text of a chart that came as JSON.

    Raises Refused, with the path, for what the language cannot say.
    """
    from chartkit.interchange.chart_json import chart_json, first_difference, path_text
    from chartkit.syntax.reader import read_chart
    from chartkit.syntax.write import chart_text

    try:
        text = chart_text(chart)
    except (ValueError, LookupError, ArithmeticError):
        raise Refused(
            f"{path_text(_unwritable(chart))}: the chart language has no way to write this"
        ) from None
    reading = read_chart(Source(text))
    path = first_difference(chart_json(chart), chart_json(reading.chart), _SPANS)
    wrong = next(
        (diagnostic for diagnostic in reading.diagnostics if diagnostic.severity == "error"), None
    )
    if path is None and wrong is None:
        return text
    place = path_text(path) if path is not None else _line_of(wrong, text)
    why = f" ({wrong.message})" if wrong is not None else ""
    raise Refused(f"{place}: the chart language has no way to write this{why}")


def _line_of(wrong: Diagnostic | None, text: str) -> str:
    line, _ = Source(text).place(wrong.span.start if wrong is not None else 0)
    return f"line {line} of the chart that it makes"


def _unwritable(chart: Chart) -> tuple[str | int, ...]:
    """The path to the first section that cannot be written."""
    from chartkit.syntax.write import chart_text

    for number in range(len(chart.sections)):
        try:
            chart_text(replace(chart, sections=chart.sections[: number + 1]))
        except (ValueError, LookupError, ArithmeticError):
            return ("sections", number)
    return ("top",)


def canonical_text(chart: Chart) -> str:
    """The chart in canonical columns."""
    from chartkit.syntax.write import chart_text

    return chart_text(chart)


def _readable(taken: "IntakeResult") -> Incoming:
    """The text of a chart in which every unreadable row is a comment."""
    from chartkit.syntax.reader import read_chart

    text = canonical_text(_with_blank_rows(taken.chart))
    if problem := why_too_long(text):
        raise Refused(f"the chart made of it could not be read: {problem}")
    findings = list(taken.findings)
    for _ in range(_MOST_ROUNDS):
        reading = read_chart(Source(text))
        errors = [
            diagnostic for diagnostic in reading.diagnostics if diagnostic.severity == "error"
        ]
        if not errors:
            text = canonical_text(reading.chart)
            places: tuple[tuple[int, int, str], ...] = ()
            if taken.format in _WITH_LINES:
                places = _places(taken.chart, read_chart(Source(text)).chart, Source(text))
            return Incoming(text, tuple(findings), taken.format, places)
        text = _without_rows(text, errors, findings)
    said = "; ".join(finding.message for finding in findings if finding.code == "not-read")[:120]
    raise Refused(f"no chart can be made of it: {said}")


def _with_blank_rows(chart: Chart) -> Chart:
    """The chart with a blank row after its settings and between its sections."""
    *before, last = chart.sections or (Section(""),)
    top = chart.top if not chart.top or _is_spaced(chart.top[-1]) else (*chart.top, BlankRow())
    return Chart(top, (*map(_spaced, before), last) if chart.sections else ())


def _spaced(section: Section) -> Section:
    if section.rows and _is_spaced(section.rows[-1]):
        return section
    return replace(section, rows=(*section.rows, BlankRow()))


def _is_spaced(row: object) -> bool:
    return isinstance(row, BlankRow)


def _places(sheet: Chart, chart: Chart, source: Source) -> tuple[tuple[int, int, str], ...]:
    """Which rows of the chart were made from which lines; empty if the rows do not match."""
    made, written_rows = list(_rows(sheet)), list(_rows(chart))
    if len(made) != len(written_rows):
        return ()
    return tuple(
        (row.span.start, source.place(other.span.start)[0], name)
        for (row, name), (other, _) in zip(made, written_rows, strict=True)
        if row.span.start
    )


def _rows(chart: Chart) -> Iterator[tuple[Section | Row | TopRow, str]]:
    """The rows of a chart with something on them, each with the name of its section."""
    yield from ((row, "") for row in chart.top if not isinstance(row, BlankRow))
    for section in chart.sections:
        if section.name:
            yield section, section.name
        yield from ((row, section.name) for row in section.rows if not isinstance(row, BlankRow))


def incoming_json(incoming: Incoming) -> dict[str, object]:
    """The chart and every finding as plain values, in the order of their places in the source.

    ``kind`` is "sure", "guess" or "left-out"; ``page``, ``line`` (on its page, if there is one) and
    ``column`` are from 1, null where the source has none; ``chart`` is where its row stands in the
    text, null where there is none.
    """
    return {
        "format": incoming.format,
        "chart": incoming.text,
        "findings": [_finding_json(finding, incoming) for finding in in_order(incoming.findings)],
    }


def _finding_json(finding: Finding, incoming: Incoming) -> dict[str, object]:
    column = finding.place.partition(":")[2]
    on_page = _ON_PAGE.fullmatch(finding.place)
    page, line = (int(on_page[1]), int(on_page[2])) if on_page else (None, finding.line or None)
    rows = [(line, name) for where, line, name in incoming.places if where == finding.line]
    return {
        "kind": _KINDS[finding.certainty],
        "code": finding.code,
        "message": finding.message,
        "place": finding.place,
        "page": page,
        "line": line,
        "column": int(column) if column.isdecimal() else None,
        "source": finding.source,
        "chart": {"line": rows[0][0], "section": rows[0][1]} if rows and finding.line else None,
    }


_KINDS = {"sure": "sure", "guessed": "guess", "left-out": "left-out"}


def _without_rows(text: str, errors: list[Diagnostic], findings: list[Finding]) -> str:
    source = Source(text)
    lines = text.splitlines()
    wrong = {source.place(error.span.start)[0]: error.message for error in reversed(errors)}
    for number, message in sorted(wrong.items()):
        row = " ".join(lines[number - 1].split())
        if row.startswith("#"):
            continue
        lines[number - 1] = f"# {row}"
        findings.append(
            Finding("left-out", "not-read", f"a row that became a comment: {row[:60]} ({message})")
        )
        for under in range(number, len(lines)):
            # Words without their music would be sung to the row above.
            if _WORDS.match(row) or not _WORDS.match(lines[under]):
                break
            lines[under] = f"# {' '.join(lines[under].split())}"
    return "\n".join(lines) + "\n"
