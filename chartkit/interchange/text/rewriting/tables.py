"""Tables with a section in each row and a row that says what stands in each column."""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.table_heads import kind_of_head
from chartkit.interchange.text.vocabulary.times_played import times_of

_CELL = re.compile(r"\S+(?: \S+)*")
_AS_CHORDS = {"bars": "chords"}
_FEWEST_COLUMNS, _FEWEST_ROWS = 2, 2
_LONGEST, _MOST_LINES = 240, 2_000


def with_rows_of_tables(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those of a table under a row of heads as a section's name, its count, its chords
    and what is said of it."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result: list[Line] = []
    at = 0
    while at < len(lines):
        columns = _columns(lines[at].text)
        rows: list[list[Line]] = []
        end = at + 1
        while columns and end < len(lines) and lines[end].text.strip():
            row = _row(lines[end], columns, is_chords)
            if not row:
                break
            rows.append(row)
            end += 1
        ends = end == len(lines) or "  " not in lines[end].text.strip()
        if len(rows) >= _FEWEST_ROWS and ends:
            findings.guess(
                "table",
                f'"{" ".join(lines[at].text.split())}" names the columns of a table: each row is '
                "read as a section",
                lines[at].place(),
            )
            result += [line for row in rows for line in row]
            at = end
        else:
            result.append(lines[at])
            at += 1
    return result


def _columns(text: str) -> dict[str, int]:
    """Where each column begins, by what stands in it, if a line is the heads of a table with
    names and chords; else none."""
    cells = list(_CELL.finditer(text)) if 0 < len(text) <= _LONGEST and "  " in text else []
    kinds = [_AS_CHORDS.get(kind, kind) for kind in (kind_of_head(cell[0]) for cell in cells)]
    plain = len(kinds) > _FEWEST_COLUMNS and "" not in kinds and len({*kinds}) == len(kinds)
    if not plain or kinds[0] != "name" or "chords" not in kinds:
        return {}
    return {kind: cell.start() for kind, cell in zip(kinds, cells, strict=True)}


def _row(line: Line, columns: dict[str, int], is_chords: IsChords) -> list[Line]:
    """A row of a table as a section's name with its count, what is said of it, and its chords;
    empty for any other line."""
    found: dict[str, tuple[int, str]] = {}
    starts = [*columns.values(), _LONGEST]
    for (kind, start), following in zip(columns.items(), starts[1:], strict=True):
        cut = line.text[start:following]
        whole = start == 0 or not line.text[start - 1 : start].strip()
        if not whole and cut.strip():
            return []
        found[kind] = start + len(cut) - len(cut.lstrip()), cut.strip()
    name, (at, chords) = found["name"][1], found["chords"]
    if not name or (chords and not is_chords(chords)):
        return []
    count = found.get("times", (0, ""))[1].strip(" x×")
    times = int(count) if count.isdecimal() else times_of(count) if count else 1
    sign = ":" if is_direction(name) else ""  # "[build]" alone would be said to the band
    head = f"[{name}]" + (f" x{times}" if times > 1 else sign)
    said = found.get("remark", (0, ""))[1]
    rows = [replace(line, text=head, columns=None)]
    rows += [replace(line, text=f"({said.strip('()')})", columns=None)] if said else []
    rows += [replace(line, text=" " * at + chords, columns=None)] if chords else []
    return rows
