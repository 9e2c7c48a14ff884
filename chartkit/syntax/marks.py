"""Marks as typed: their kinds and their places in a bar."""

import re
from collections.abc import Sequence

from chartkit.chart.marks import MARKS, Mark, MarkKind, Until, kind_of_typed_mark, ordered_marks
from chartkit.diagnostics import Span
from chartkit.syntax.beats import TIMED
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report

_JUMP_IN_WORDS = re.compile(r"d\.?[sc]\.? al (?:fine|coda)|to coda", re.IGNORECASE)
_MOST_WORDS_OF_JUMP = 3


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


def with_jumps_joined(elements: list[Element]) -> list[Element]:
    """The elements; several that form a mark typed in words without its sign, as in D.S. al Coda,
    are joined, so that they are reported as one slip."""
    joined: list[Element] = []
    for element in elements:
        joined.append(element)
        for count in range(2, _MOST_WORDS_OF_JUMP + 1):
            back = joined[-count:]
            words = " ".join(map(_bare_word, back))
            if len(back) == count and _JUMP_IN_WORDS.fullmatch(words):
                joined[-count:] = [Element("unknown", back[0].start, element.end, words)]
    return joined


def _bare_word(element: Element) -> str:
    """The element's text if it is a word alone; empty for any other."""
    if element.kind == "unknown":
        return str(element.value)
    if element.kind == "group" and len(element.value) == 1:
        strike = element.value[0]
        return strike.text or "" if strike.end - strike.start == len(strike.text or "") else ""
    return ""
