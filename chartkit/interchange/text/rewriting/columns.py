"""Turns a text typed in columns into lines one after another."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.column_ends import report_columns, whole_columns
from chartkit.interchange.columns import Columns, Run
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.raw_text.set_apart import chords_in
from chartkit.interchange.text.rewriting.odd_rows import is_row_in_brackets

_RUN = re.compile(r"\S+(?: {1,2}\S+)*")
"""Words with no more than two blanks between them."""
_CLOSE_RUN = re.compile(r"\S+(?: \S+)*")
"""Words with single blanks between them, where two headings on a line show columns."""
_LONGEST = 240
_FEWEST_BESIDE, _MOST_WORDS_BESIDE = 2, 6
_SIDE_BY_SIDE = 2
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
    rows = [_row(*pair) for pair in zip(lines, matches, strict=True)]
    for at, start in _filled_up(lines, rows):
        parted = lines[at].index(start)
        text = lines[at].text
        matches[at] = [*run.finditer(text, 0, parted), *run.finditer(text, parted)]
        rows[at] = _row(lines[at], matches[at])
    if run is _CLOSE_RUN and not any(sum(one.is_heading for one in row) > 1 for row in rows):
        return None
    columns = whole_columns(rows, range(len(rows)))
    if columns is None or _is_in_parentheses(columns, rows) or _names_rows(columns, rows):
        return None
    if columns.count == 2 and _is_said_beside(columns, rows):
        return None
    return _View(columns, rows, matches)


def _row(line: Line, matches: Sequence[re.Match[str]]) -> list[Run]:
    return [
        Run(line.column(m.start()), line.column(m.end()), m[0], _is_named(m[0])) for m in matches
    ]


def _filled_up(lines: Sequence[Line], rows: Sequence[list[Run]]) -> list[tuple[int, int]]:
    """The lines right below two headings side by side whose first column reaches up to the second,
    with one blank between, and where that begins, as it does on other lines of the block."""
    found = []
    for top, row in enumerate(rows):
        if len(row) != _SIDE_BY_SIDE or not all(run.is_heading for run in row):
            continue
        start = int(row[1].start)
        end = next((at for at in range(top, len(rows)) if not rows[at]), len(rows))
        block = range(top + 1, end)
        others = sum(any(run.start == start for run in rows[at]) for at in block)
        found += [
            (at, start)
            for at in block
            if others >= _FEWEST_BESIDE and len(rows[at]) == 1 and _has_gap(lines[at], start)
        ]
    return found


def _has_gap(line: Line, start: int) -> bool:
    """Whether a word of a line begins at a column."""
    at = line.index(start)
    return 0 < at < len(line.text) and line.text[at - 1] == " " != line.text[at]


_SIGN_OF_A_REMARK = re.compile(r"(?:<?[-=]+>?|–|—|←|→|/{2}|#|\*|~|;)\s*[^\W\d_]")


def _is_in_parentheses(columns: Columns, rows: Sequence[list[Run]]) -> bool:
    """Whether most of what stands in the last column is in brackets or behind a sign: it goes with
    the words before it on each line, as chords and remarks do."""
    inside = rows[columns.first : columns.end]
    last = (row[slice(*columns.parted(row)[-1])] for row in inside)
    texts = [" ".join(run.text for run in runs) for runs in last if runs]
    bracketed = sum(
        text[0] + text[-1] in ("()", "[]", "{}") or _SIGN_OF_A_REMARK.match(text) is not None
        for text in texts
    )
    return 2 * bracketed > len(texts)


def _names_rows(columns: Columns, rows: Sequence[list[Run]]) -> bool:
    """Whether the first column is the names of sections, and their chords stand beside them on
    the same lines: a table, and no page in columns."""
    named = music = 0
    for row in rows[columns.first : columns.end]:
        first, *others = (row[slice(*part)] for part in columns.parted(row))
        if any(not run.is_heading for run in first):
            return False
        named += bool(first)
        music += bool(first) and _are_chords([run.text for runs in others[:1] for run in runs])
    return named >= _FEWEST_BESIDE and music * 2 >= named


def _is_said_beside(columns: Columns, rows: Sequence[list[Run]]) -> bool:
    """Whether all that stands in the last column are few words beside the names of sections and
    their chords: remarks at the margin."""
    said, begun = 0, False
    for row in rows[columns.first : columns.end]:
        left, right = (row[slice(*part)] for part in columns.parted(row))
        begun = begun or (bool(left) and (left[0].is_heading or _is_name_and_row(left)))
        if not right or not begun:
            continue  # settings stand beside a title as well
        words = " ".join(run.text for run in right).split()
        named = bool(left) and (left[0].is_heading or _is_name_and_row(left))
        plain = not any(run.is_heading for run in right) and not chords_in(" ".join(words))
        if not named or not plain or len(words) > _MOST_WORDS_BESIDE:
            return False
        said += 1
    return said >= _FEWEST_BESIDE


def _is_name_and_row(runs: Sequence[Run]) -> bool:
    """Whether runs are a section's name with a colon and its chords."""
    name, colon, _ = runs[0].text.partition(":")
    return bool(colon) and heading_of(name) is not None


def _are_chords(texts: Sequence[str]) -> bool:
    """Whether runs beside a name look like chords, with bar lines or without."""
    bare = " ".join(texts).replace("|", " ").replace(" - ", " ")
    return bool(texts) and chords_in(bare) > 1


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
