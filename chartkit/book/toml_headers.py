"""The headers of a set file: where tables begin and end, and headers with a missing bracket."""

import re

from chartkit.diagnostics import Diagnostic, Span

HEADER = re.compile(r"\s*\[\[?[^\[\]\n=]*\]?\]?\s*(?:#[^\n]*)?(?:\n|$)")
"""A line that is a header."""
_MANY = re.compile(r"\s*\[\[?\s*(players|songs)\s*\]\]?\s*(?:#.*)?")
"""The header of a table that may stand more than once."""


def single_header(reason: str, first_line: int, text: str) -> int | None:
    """The line, from 0, of a header with one bracket before which others like it cannot stand."""
    lines = text.split("\n")
    header = _MANY.fullmatch(lines[first_line])
    if header is None or not reason.startswith("Cannot"):
        return None
    line = re.compile(rf"\s*\[\s*{header[1]}\s*\]\s*(?:#.*)?")
    return next((i for i in range(first_line) if line.fullmatch(lines[i])), None)


def too_few_brackets(line: int, text: str) -> Diagnostic:
    """The message for such a header."""
    start = line_start(text, line)
    written = text[start:].partition("\n")[0].partition("#")[0]
    name = written.strip(" \t[]")
    span = Span(start + len(written) - len(written.lstrip()), start + len(written.rstrip()))
    return Diagnostic(
        "not-toml",
        "error",
        span,
        f"each of the {name} stands under a header with two brackets",
        (f"write [[{name}]] before every one of them",),
    )


def table_lines(first: int, text: str) -> tuple[int, int]:
    """The first and last line of the table whose header stands on a line."""
    lines, last = text.split("\n"), first
    while last + 1 < len(lines) and not HEADER.match(lines[last + 1]):
        last += 1
    return first, last


def line_start(text: str, number: int) -> int:
    """The offset at which a line, counted from 0, begins."""
    return sum(len(line) + 1 for line in text.split("\n")[:number])
