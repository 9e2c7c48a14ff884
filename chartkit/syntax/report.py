"""Where mistakes gather while a chart is read."""

from dataclasses import dataclass, field

from chartkit.diagnostics import Diagnostic, Severity, Span


@dataclass(slots=True)
class Report:
    """The diagnostics found so far; ``offset`` is added to each place, so that a row can be
    read with places counted from its own start."""

    found: list[Diagnostic] = field(default_factory=list)
    offset: int = 0

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
        self.found.append(Diagnostic(code, severity, span, message, hints))

    def warn(self, code: str, start: int, end: int, message: str, *hints: str) -> None:
        """Notes something that looks like a slip but can be read all the same."""
        self.add(code, start, end, message, *hints, severity="warning")

    def ordered(self) -> tuple[Diagnostic, ...]:
        """All of them in the order of the text."""
        return tuple(sorted(self.found, key=lambda d: (d.span, d.code)))
