"""Mistakes in a chart as values: what is wrong, where, and how to correct it.

A mistake in a chart is data and travels beside the chart; an exception means a mistake in
this program.  Places are offsets into the text, turned into lines and columns only when a
diagnostic is shown.
"""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

Severity = Literal["error", "warning"]

_LINE_END = re.compile(r"\r\n?|\n")
_WINDOW = 100
"""How many characters of a long line a diagnostic shows."""


class Span(NamedTuple):
    """A stretch of the source text: offsets in characters, the end not included."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One mistake: a stable code, its severity, its place, a message in plain words, and hints."""

    code: str
    severity: Severity
    span: Span
    message: str
    hints: tuple[str, ...] = ()


class Source:
    """A text and the name it goes by in messages."""

    def __init__(self, text: str, name: str = "chart") -> None:
        self.text = text
        self.name = name

    @cached_property
    def _line_ends(self) -> list[tuple[int, int]]:
        """Where each line ends, without and with its line end."""
        ends = [match.span() for match in _LINE_END.finditer(self.text)]
        return [*ends, (len(self.text), len(self.text))]

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0, *(end for _, end in self._line_ends[:-1])]

    def lines(self) -> Iterator[tuple[int, str]]:
        """Each line without its line end, and the offset at which it starts."""
        for start, (end, _) in zip(self._line_starts, self._line_ends, strict=True):
            yield start, self.text[start:end]

    def place(self, offset: int) -> tuple[int, int]:
        """The line and the column of an offset, both counted from 1."""
        line = bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def line_span(self, number: int) -> Span:
        """The span of a line, counted from 1, without its line end."""
        return Span(self._line_starts[number - 1], self._line_ends[number - 1][0])

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, without its line end."""
        start, end = self.line_span(number)
        return self.text[start:end]


def has_errors(diagnostics: tuple[Diagnostic, ...]) -> bool:
    """Whether any of them is an error rather than a warning."""
    return any(diagnostic.severity == "error" for diagnostic in diagnostics)


def diagnostic_text(diagnostic: Diagnostic, source: Source) -> str:
    """The diagnostic as lines for a terminal: place, message, the line, a caret, hints."""
    line, column = source.place(diagnostic.span.start)
    text, start = _excerpt(source, source.line_span(line), diagnostic.span.start)
    length = max(1, min(diagnostic.span.end - diagnostic.span.start, len(text) - start))
    margin = f"  {line} | "
    blank = " " * (len(margin) - 2) + "| "
    caret = " " * _columns(text[:start]) + "^" * max(1, _columns(text[start : start + length]))
    lines = [
        f"{source.name}:{line}:{column}: "
        f"{diagnostic.severity}[{diagnostic.code}]: {visible(diagnostic.message)}",
        (margin + text).rstrip(),
        blank + caret,
        *(f"  hint: {visible(hint)}" for hint in diagnostic.hints),
    ]
    return "\n".join(lines)


def as_json(diagnostic: Diagnostic, source: Source) -> dict[str, object]:
    """The diagnostic as plain values for an editor; lines and columns count from 1."""
    line, column = source.place(diagnostic.span.start)
    end_line, end_column = source.place(max(diagnostic.span.start, diagnostic.span.end))
    return {
        "file": source.name,
        "line": line,
        "column": column,
        "end_line": end_line,
        "end_column": end_column,
        "severity": diagnostic.severity,
        "code": diagnostic.code,
        "message": diagnostic.message,
        "hints": list(diagnostic.hints),
    }


def visible(text: str) -> str:
    """The text with control characters, lone surrogates and direction marks shown as �."""
    return "".join(
        " " if c == "\t" else "\ufffd" if unicodedata.category(c) in _HIDDEN else c for c in text
    )


_HIDDEN = {"Cc", "Cf", "Cs", "Zl", "Zp"}


def _excerpt(source: Source, line: Span, offset: int) -> tuple[str, int]:
    """A window of a line around an offset, and the offset's place in the window.

    The cost does not depend on the line's length.
    """
    if line.end - line.start <= _WINDOW:
        text = source.text[line.start : line.end]
        return visible(text), min(offset - line.start, len(text))
    start = max(line.start, min(offset - _WINDOW // 2, line.end - _WINDOW))
    lead = "… " if start > line.start else ""
    tail = " …" if start + _WINDOW < line.end else ""
    return lead + visible(source.text[start : start + _WINDOW]) + tail, offset - start + len(lead)


def _columns(text: str) -> int:
    """How many terminal columns the text takes."""
    wide = sum(unicodedata.east_asian_width(c) in "WF" for c in text)
    return len(text) + wide - sum(unicodedata.combining(c) > 0 for c in text)
