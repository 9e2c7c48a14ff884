"""Marks as typed: their kinds and their places in a bar."""

from collections.abc import Sequence

from chartkit.chart.marks import MARKS, Mark, MarkKind, Until, kind_of_typed_mark, ordered_marks
from chartkit.diagnostics import Span
from chartkit.syntax.beats import TIMED
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report


def marks_in(elements: list[Element], starts: Sequence[int], report: Report) -> tuple[Mark, ...]:
    """The marks among the elements of a bar, in order; unknown ones are reported.

    ``starts`` are the onsets of its slots.  A mark over a beat belongs to the slot before it, at
    the start of a bar to the first.
    """
    marks: list[Mark] = []
    passed = 0
    for element in elements:
        passed += element.kind in TIMED
        if element.kind == "mark" and (kind := _kind_of(element, report)) is not None:
            onset = starts[min(max(passed, 1), len(starts)) - 1] if starts else 0
            marks.append(
                Mark(
                    kind,
                    _until(element, kind, report),
                    onset if MARKS[kind].place == "beat" else 0,
                    Span(element.start + report.offset, element.end + report.offset),
                )
            )
    return ordered_marks(marks)


def report_no_bar_before(mark: Mark, report: Report) -> None:
    """Reports a mark alone between bar lines that would close a bar, but has no bar before it."""
    report.add(
        "mark-without-bar",
        *report.in_row(mark.span),
        f'"@{mark.kind}" has no bar before it in this row',
        "write it at the end of the bar it belongs to",
    )


def _kind_of(element: Element, report: Report) -> MarkKind | None:
    name, _ = element.value
    kind = kind_of_typed_mark(name[1:].rstrip(",;"))
    if kind is None:
        report.add(
            "unknown-mark",
            element.start,
            element.start + len(name),
            f'"{name}" is not a mark',
            f"the marks are {' '.join(f'@{sign.typed[0]}' for sign in MARKS.values())}; "
            "@D.C. and @D.S. may be followed by al fine or al coda",
        )
    return kind


def _until(element: Element, kind: MarkKind, report: Report) -> Until:
    name, until = element.value
    if until and not MARKS[kind].leads_back:
        report.add(
            "misplaced-al",
            element.start,
            element.end,
            f'"al {until}" does not go with {name}',
            f"write @D.C. al {until} or @D.S. al {until}",
        )
        return ""
    return until  # type: ignore[no-any-return]
