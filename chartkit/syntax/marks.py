"""Navigation marks: segno, coda, D.S. and the others, and the bars they belong to."""

from chartkit.chart.model import OPENING_MARKS, Mark, MarkKind
from chartkit.diagnostics import Span
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report

_MARKS: dict[str, MarkKind] = {
    "segno": "segno", "coda": "coda", "to-coda": "to-coda", "tocoda": "to-coda",
    "fine": "fine", "d.c.": "D.C.", "dc": "D.C.", "d.c": "D.C.",
    "d.s.": "D.S.", "ds": "D.S.", "d.s": "D.S.",
}  # fmt: skip


def attach(marks: tuple[Mark, ...], bars: list[list[Mark]], report: Report) -> None:
    """Gives marks that stand alone between bar lines, but for segno and coda, to the bar
    before; ``bars`` holds the marks of each bar so far."""
    for mark in marks:
        if mark.kind in OPENING_MARKS:
            continue
        if bars:
            bars[-1].append(mark)
        else:
            report.add(
                "mark-without-bar", *report.in_row(mark.span),
                f'"@{mark.kind}" has no bar before it in this row',
                "write it at the end of the bar it belongs to",
            )  # fmt: skip


def marks_in(elements: list[Element], report: Report) -> tuple[Mark, ...]:
    """The navigation marks among the elements; what is none of them is reported."""
    found = (_mark(element, report) for element in elements if element.kind == "mark")
    return tuple(mark for mark in found if mark is not None)


def _mark(element: Element, report: Report) -> Mark | None:
    name, until = element.value
    kind = _MARKS.get(name[1:].lower().rstrip(",;"))
    span = Span(element.start + report.offset, element.end + report.offset)
    if kind is None:
        report.add(
            "unknown-mark", element.start, element.start + len(name), f'"{name}" is not a mark',
            "the marks are @segno @coda @to-coda @fine @D.C. @D.S., the last two with "
            "al fine or al coda",
        )  # fmt: skip
        return None
    if until and kind not in ("D.C.", "D.S."):
        report.add(
            "misplaced-al", element.start, element.end, f'"al {until}" does not go with {name}',
            f"write @D.C. al {until} or @D.S. al {until}",
        )  # fmt: skip
        until = ""
    return Mark(kind, until, span)
