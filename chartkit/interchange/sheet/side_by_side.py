"""A text typed in two columns to one of lines one after another."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.columns import Columns, Run, columns_in
from chartkit.interchange.sheet.headings import heading_of
from chartkit.interchange.sheet.lines import Line
from chartkit.interchange.taken import Findings

_RUN = re.compile(r"\S+(?: {1,2}\S+)*")
"""Words with no more than two blanks between them."""
_CLOSE_RUN = re.compile(r"\S+(?: \S+)*")
"""Words with single blanks between them, where two headings on a line show columns."""
_LONGEST = 240
_MOST_LINES = 2000
"""More is a songbook, which nobody types in columns."""


def one_after_another(lines: list[Line], findings: Findings) -> list[Line]:
    """The lines, those of a left column before those of the right one, where there are two."""
    if len(lines) > _MOST_LINES or max((len(line.text) for line in lines), default=0) > _LONGEST:
        return lines
    found = _columns(lines, _RUN) or _columns(lines, _CLOSE_RUN)
    if found is None:
        return lines
    findings.guess(
        "columns", "what is typed in two columns is read one after the other",
        lines[found.first].place(),
    )  # fmt: skip
    return _unfolded(lines, found)


def _columns(lines: Sequence[Line], run: re.Pattern[str]) -> Columns | None:
    rows = [
        [Run(line.column(m.start()), line.column(m.end()), m[0]) for m in run.finditer(line.text)]
        for line in lines
    ]
    named = [[_is_named(one.text) for one in row] for row in rows]
    headings = [any(row[1:]) for row in named]
    if run is _CLOSE_RUN and not any(sum(row) > 1 for row in named):
        return None
    return columns_in(rows, headings)


def _is_named(text: str) -> bool:
    """Whether a run is a section's name; a bare number is rather a verse's."""
    return any(map(str.isalpha, text)) and heading_of(text) is not None


def _unfolded(lines: Sequence[Line], columns: Columns) -> list[Line]:
    inside = lines[columns.first : columns.end]
    left = [_cut(line, columns, right=False) for line in inside]
    right = [_cut(line, columns, right=True) for line in inside]
    return [*lines[: columns.first], *left, _blank(inside[0]), *right, *lines[columns.end :]]


def _cut(line: Line, columns: Columns, right: bool) -> Line:
    """The part of a line in one of two columns, where it stood."""
    at = line.index(round(columns.start))
    while 0 < at < len(line.text) and not line.text[at - 1].isspace():
        at -= 1
    if right:
        return replace(line, text=" " * at + line.text[at:])
    return replace(line, text=line.text[:at].rstrip())


def _blank(line: Line) -> Line:
    return replace(line, text="", columns=None)
