"""No typed chord vanishes without a finding."""

import re
from collections.abc import Iterator

from chartkit.chart.model import MusicRow
from chartkit.interchange.intake_result import IntakeResult, Refused
from tests.interchange.reading import taken_once
from tests.interchange.typed_sheets import TypedSheet, sheets

_CHORD = re.compile(
    r"\(?[A-G][#b♯♭]?(?:maj|min|m|M|dim|sus|add|aug|[2-9]|1[13]|\+|°|ø)*(?:/[A-G][#b]?)?\)?"
)
_FEWEST_ROWS = 4_000


def _rows(sheet: TypedSheet) -> list[int]:
    """The lines that are nothing but two chords or more."""
    numbered = enumerate(sheet.text.split("\n"), 1)
    tokens = ((number, line.replace("|", " ").split()) for number, line in numbered)
    return [at for at, row in tokens if len(row) > 1 and all(map(_CHORD.fullmatch, row))]


def _told(result: IntakeResult) -> Iterator[int]:
    """The lines from which rows of the chart come, or of which a finding tells."""
    for section in result.chart.sections:
        yield from (row.span.start for row in section.rows if isinstance(row, MusicRow))
    for finding in result.findings:
        number = finding.place.split(":")[0]
        yield int(number) if number.isdecimal() else finding.line


def test_every_row_of_chords_is_in_the_chart_or_told() -> None:
    """Of all sheets each line of chords alone is a row of the chart or has a finding."""
    lost: list[str] = []
    looked_at = 0
    for sheet in sheets():
        rows = _rows(sheet)
        try:
            told = {*_told(taken_once(sheet.text))} if rows else set()
        except Refused:
            continue
        looked_at += len(rows)
        lost += [f"{sheet.name}: line {row}" for row in rows if row not in told]
    assert lost == []
    assert looked_at > _FEWEST_ROWS
