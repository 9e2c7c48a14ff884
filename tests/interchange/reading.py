"""Short ways to take a sheet in and to look at what came of it."""

import os
import pickle
import re
from hashlib import sha256
from pathlib import Path

import music21

from chartkit.chart.model import Chart, MusicRow, Segment, Strike, WordsRow
from chartkit.diagnostics import Source, diagnostic_text
from chartkit.interchange.intake_result import IntakeResult, Refused
from chartkit.interchange.pdf_text.read import read_pdf
from chartkit.interchange.read_lead_sheet import read_lead_sheet
from chartkit.interchange.recognise import format_of
from chartkit.private_folder import write_private
from chartkit.syntax.reader import chart_or_none, read_chart
from chartkit.syntax.symbol import chord_or_none
from chartkit.syntax.write import chart_text

MUSIC21 = Path(music21.__file__).parent
SUITE = MUSIC21 / "musicxml" / "lilypondTestSuite"
LEAD_SHEETS = MUSIC21 / "corpus" / "leadSheet"

RUN_FOLDER = "CHARTKIT_TESTS_RUN"
"""Names the folder in which a run of the tests keeps what it has worked out."""
_LARGE = 1_000_000


def taken(data: bytes | str, part: str | None = None) -> IntakeResult:
    """What the program takes from a file's content; a PDF is opened here, and not in a process
    of its own, which takes a tenth of the time."""
    as_bytes = data.encode() if isinstance(data, str) else data
    if part is None and len(as_bytes) < _LARGE and format_of(as_bytes) == "pdf":
        return read_pdf(as_bytes, chord_or_none, chart_or_none, apart=lambda work, one: work(one))
    return read_lead_sheet(as_bytes, chord_or_none, part, chart_or_none)


def taken_once(sheet: str) -> IntakeResult:
    """What the program takes from a typed sheet, worked out once in a run of the tests: several
    read the same thousand sheets, in several processes."""
    run = os.environ.get(RUN_FOLDER)
    if run is None:
        return taken(sheet)
    kept = Path(run) / "taken" / sha256(sheet.encode()).hexdigest()
    if not kept.exists():
        result: IntakeResult | Refused
        try:
            result = taken(sheet)
        except Refused as reason:
            result = reason
        kept.parent.mkdir(exist_ok=True)
        write_private(kept, pickle.dumps(result))
    there = pickle.loads(kept.read_bytes())
    if isinstance(there, Refused):
        raise there
    assert isinstance(there, IntakeResult)
    return there


def suite(name: str, part: str | None = None) -> IntakeResult:
    """What it takes from the suite's file whose name begins so."""
    (path,) = SUITE.glob(f"{name}-*")
    return taken(path.read_bytes(), part)


def body(chart: Chart) -> str:
    """The text of a chart without the settings at its top, blanks evened out."""
    lines = chart_text(Chart((), chart.sections)).splitlines()
    return "\n".join(re.sub(r" +", " ", line).strip() for line in lines)


def codes(result: IntakeResult) -> set[str]:
    """The codes of its guesses and of what it left out."""
    return {finding.code for finding in result.findings if finding.certainty != "sure"}


def reads_back(chart: Chart) -> None:
    """The chart's text must be read as the same chart, without a mistake."""
    text = chart_text(chart)
    source = Source(text)
    reading = read_chart(source)
    errors = [diagnostic_text(d, source) for d in reading.diagnostics if d.severity == "error"]
    assert not errors, "\n".join(errors) + "\n" + text
    assert reading.chart == chart, text


def codes_read_as(data: bytes, wanted: str) -> set[str]:
    """The codes of the guesses and of what was left out, of a source that must be read as the
    wanted rows (without empty lines), and whose chart must read back."""
    read = taken(data)
    rows = body(read.chart).replace("\n\n", "\n")
    assert rows == wanted, f"{rows}\n-- wanted:\n{wanted}"
    reads_back(read.chart)
    return codes(read)


def strikes(chart: Chart) -> list[Strike]:
    """Every strike of the chart, in order."""
    return [
        strike
        for section in chart.sections
        for row in section.rows
        if isinstance(row, MusicRow)
        for bar in row.bars
        for strike in bar.strikes
    ]


def all_words(chart: Chart) -> list[str]:
    """The text of every segment of every verse."""
    return [segment.text for verse in (None, *range(1, 20)) for segment in _segments(chart, verse)]


def _segments(chart: Chart, verse: int | None) -> list[Segment]:
    return [
        segment
        for section in chart.sections
        for row in section.rows
        if isinstance(row, WordsRow) and row.verse == verse
        for cell in row.cells
        for segment in cell
    ]


def sung(chart: Chart, verse: int | None) -> str:
    """The words of a verse, without blanks; a bare row is every verse's."""
    segments: list[Segment] = [
        segment
        for section in chart.sections
        for row in section.rows
        if isinstance(row, WordsRow) and row.verse in (None, verse)
        for cell in row.cells
        for segment in cell
    ]
    return "".join(segment.text for segment in segments).replace(" ", "")
