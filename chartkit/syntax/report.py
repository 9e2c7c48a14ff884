"""Collects mistakes while a chart is read."""

from dataclasses import dataclass, field

from chartkit.diagnostics import Diagnostic, Severity, Span

_LONGEST_QUOTE = 40


def _readable(text: str) -> str:
    """The text with overlong quotations cut."""
    pieces = text.split('"')
    for i in range(1, len(pieces), 2):
        if len(pieces[i]) > _LONGEST_QUOTE:
            pieces[i] = pieces[i][:_LONGEST_QUOTE] + "…"
    return '"'.join(pieces)


@dataclass(slots=True)
class Report:
    """The diagnostics so far; ``offset`` is added to each place, so that a row can be read with
    places counted from its own start."""

    diagnostics: list[Diagnostic] = field(default_factory=list)
    offset: int = 0
    _row_from: int = 0

    def begin_row(self, offset: int) -> None:
        """Counts places from the start of the next row."""
        self.offset = offset
        self._row_from = len(self.diagnostics)

    def in_row(self, span: Span) -> Span:
        """A place of the text as a place of the row being read."""
        return Span(span.start - self.offset, span.end - self.offset)

    def places_in_row(self) -> list[int]:
        """Where in this row something was reported so far, in order."""
        return sorted(d.span.start - self.offset for d in self.diagnostics[self._row_from :])

    def has_in_row(self, code: str) -> bool:
        """Whether a mistake of that code was reported in the row being read."""
        return any(diagnostic.code == code for diagnostic in self.diagnostics[self._row_from :])

    def add(
        self,
        code: str,
        start: int,
        end: int,
        message: str,
        *hints: str,
        severity: Severity = "error",
    ) -> None:
        """Notes one mistake between two offsets of the row being read."""
        span = Span(start + self.offset, end + self.offset)
        readable = tuple(map(_readable, hints))
        self.diagnostics.append(Diagnostic(code, severity, span, _readable(message), readable))

    def warn(self, code: str, start: int, end: int, message: str, *hints: str) -> None:
        """Notes a warning: something that looks like a slip but can be read."""
        self.add(code, start, end, message, *hints, severity="warning")

    def ordered(self) -> tuple[Diagnostic, ...]:
        """All mistakes in the order of the text, each once."""
        return tuple(sorted(dict.fromkeys(self.diagnostics), key=lambda d: (d.span, d.code)))
