"""Messages on standard error, and how a run ends.

Exit codes: 0 success, 1 a chart has mistakes or a file cannot be read or written,
2 the command was called wrongly.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, NoReturn

import click

from chartkit.cli.streams import MISUSED, say, say_misuse
from chartkit.diagnostics import Source, diagnostic_text, has_errors
from chartkit.files import Unusable, read_source

if TYPE_CHECKING:
    from chartkit.chart.model import Chart
    from chartkit.syntax.reader import Reading

__all__ = ["Outcome", "end_with", "say", "say_unusable", "wrong_usage"]


def wrong_usage(message: str, hint: str = "") -> click.exceptions.Exit:
    """Reports a mistake in the call, and a hint; raise the result."""
    say_misuse(message, hint)
    return click.exceptions.Exit(MISUSED)


def end_with(wrong: Iterable[tuple[str, str]]) -> NoReturn:
    """Reports every mistake in the call with its hint, of which there is one at least, and ends
    the run."""
    raise [wrong_usage(message, hint) for message, hint in wrong][-1] from None


def say_unusable(reason: Unusable) -> None:
    """Reports why a file cannot be used, and a hint."""
    say_misuse(str(reason), reason.hint)


def _unusable(name: str, reason: Unusable) -> dict[str, object]:
    return {
        "file": name,
        "line": 1,
        "column": 1,
        "end_line": 1,
        "end_column": 1,
        "severity": "error",
        "code": "unusable-file",
        "message": str(reason),
        "hints": [reason.hint] if reason.hint else [],
    }


@dataclass(slots=True)
class Outcome:
    """Whether anything has gone wrong so far."""

    failed: bool = False

    def finish(self) -> None:
        """Ends the run with its exit code."""
        if self.failed:
            raise click.exceptions.Exit(1)

    @contextmanager
    def guarded(
        self, name: str = "", entries: list[dict[str, object]] | None = None
    ) -> Iterator[None]:
        """Reports a file that cannot be used in one line, or as an entry of a list, and lets
        the run go on."""
        try:
            yield
        except Unusable as reason:
            self.failed = True
            if entries is None:
                say_unusable(reason)
            else:
                entries.append(_unusable(name, reason))

    def readings(
        self, names: list[str], entries: list[dict[str, object]] | None = None
    ) -> "Iterator[tuple[Source, Reading]]":
        """Each file that can be read, with its chart and diagnostics."""
        from chartkit.syntax.reader import read_chart

        for name in names:
            with self.guarded(name, entries):
                if name.endswith(".toml"):
                    hint = "chartkit book and chartkit plan read it"
                    raise Unusable(f"{name}: this is a set file, not a chart", hint)
                source = read_source(name)
                yield source, read_chart(source)

    def charts(self, names: list[str], need_key: bool = True) -> "Iterator[tuple[Source, Chart]]":
        """Each chart without errors; mistakes are shown.

        If a key is needed and none is given, reports the one that is assumed.
        """
        for source, reading in self.readings(names):
            for diagnostic in reading.diagnostics:
                say(diagnostic_text(diagnostic, source))
            if has_errors(reading.diagnostics):
                self.failed = True
            else:
                if need_key and reading.chart.key is None:
                    _tell_key(source.name, reading.chart)
                yield source, reading.chart


def _tell_key(name: str, chart: "Chart") -> None:
    from chartkit.chart.keys import written_key
    from chartkit.chart.walk import iter_chords

    if next(iter_chords(chart.sections), None) is None:
        return
    key = written_key(chart)
    say(f"{name}: no key is given; {key} is assumed from its chords")
    say(f"  hint: write a row key: {key}, or the right key; the page prints it")
