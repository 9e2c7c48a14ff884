"""Turns a text typed in columns into lines one after another."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.column_ends import report_columns, whole_columns
from chartkit.interchange.columns import Columns, Run
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rewriting.odd_rows import is_row_in_brackets

_RUN = re.compile(r"\S+(?: {1,2}\S+)*")
"""Words with no more than two blanks between them."""
_CLOSE_RUN = re.compile(r"\S+(?: \S+)*")
"""Words with single blanks between them, where two headings on a line show columns."""
_LONGEST = 240
_FEWEST_BESIDE = 2
_MOST_LINES = 2000
"""A longer text is a songbook, which nobody types in columns."""


def one_after_another(lines: list[Line], findings: Findings) -> list[Line]:
    """The lines, those of a left column before those of the right one, where there are several."""
    if len(lines) > _MOST_LINES or max((len(line.text) for line in lines), default=0) > _LONGEST:
        return lines
    views = [view for run in (_CLOSE_RUN, _RUN) if (view := _view(lines, run)) is not None]
    if not views or _has_chords_beside(lines):
        return lines
    # What goes on right below in another column is no line of its own.
    return _unfolded(lines, max(views, key=lambda view: view.columns.end), findings)


def _has_chords_beside(lines: Sequence[Line]) -> bool:
    """Whether what stands far behind the words of several lines is their chords in brackets."""
    behind = [line.text.rstrip().rpartition("  ")[2].strip() for line in lines if "  " in line.text]
    return sum(map(is_row_in_brackets, behind)) > max(_FEWEST_BESIDE, len(behind) // 2)


@dataclass(frozen=True, slots=True)
class _View:
    """The runs of all lines, found in one way, and the columns that they stand in."""

    columns: Columns
    rows: list[list[Run]]
    matches: list[list[re.Match[str]]]


def _view(lines: Sequence[Line], run: re.Pattern[str]) -> _View | None:
    """The lines as runs in columns; None where there is one column."""
    matches = [list(run.finditer(line.text)) for line in lines]
    rows = [
        [Run(line.column(m.start()), line.column(m.end()), m[0], _is_named(m[0])) for m in result]
        for line, result in zip(lines, matches, strict=True)
    ]
    if run is _CLOSE_RUN and not any(sum(one.is_heading for one in row) > 1 for row in rows):
        return None
    columns = whole_columns(rows, range(len(rows)))
    if columns is None or _is_in_parentheses(columns, rows):
        return None
    return _View(columns, rows, matches)


def _is_in_parentheses(columns: Columns, rows: Sequence[list[Run]]) -> bool:
    """Whether most of what stands in the last column is in brackets: it goes with the words
    before it on each line, as chords and remarks do."""
    inside = rows[columns.first : columns.end]
    last = (row[slice(*columns.parted(row)[-1])] for row in inside)
    texts = [" ".join(run.text for run in runs) for runs in last if runs]
    bracketed = sum(text[0] + text[-1] in ("()", "[]") for text in texts)
    return 2 * bracketed > len(texts)


def _unfolded(lines: Sequence[Line], view: _View, findings: Findings) -> list[Line]:
    """The lines of each column after those of the one before."""
    columns = view.columns
    report_columns(columns, view.rows, findings, lines[columns.first].place())
    inside = range(columns.first, columns.end)
    parted = [columns.parted(view.rows[i]) for i in inside]
    result = list(lines[: columns.first])
    for column in range(columns.count):
        for i, parts in zip(inside, parted, strict=True):
            result.append(_cut(lines[i], view.matches[i][slice(*parts[column])]))
        result += [_cut(lines[columns.first], [])] * (column + 1 < columns.count)
    return [*result, *lines[columns.end :]]


def _is_named(text: str) -> bool:
    """Whether a run is a section's name; a bare number is rather a verse's."""
    return any(map(str.isalpha, text)) and heading_of(text) is not None


def _cut(line: Line, runs: Sequence[re.Match[str]]) -> Line:
    """The text of some runs of a line, in their places."""
    if not runs:
        return replace(line, text="", columns=None)
    first, end = runs[0].start(), runs[-1].end()
    return replace(line, text=" " * first + line.text[first:end])
