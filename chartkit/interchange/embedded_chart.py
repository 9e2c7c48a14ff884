"""Charts that are in our own language already: a file of ours, or one inside a PDF of ours."""

import re

from chartkit.chart.model import Chart, MusicRow, WordsRow
from chartkit.chart.walk import iter_rows
from chartkit.interchange.intake_result import ChartReader, Finding, IntakeResult

ATTACHED_SUFFIX = ".chart"
"""How the name ends under which an engraved page carries its chart."""
_BEGINS_A_CHART = re.compile(r"(?:[^\S\n]*(?:#[^\n]*)?\n)*(?:==|[a-z][a-z ]{1,20}:)")
_SHOWS_A_CHART = re.compile(r"^\s*==|\|", re.MULTILINE)
_SECTION_ROW = re.compile(r"^==[^\S\n]*\w", re.MULTILINE)
_WORDS_ROW = re.compile(r"^:[^\S\n]+\S", re.MULTILINE)
_LARGEST_CHARS = 200_000
"""More than any song's chart has; longer texts are not tried as one."""


def own_chart(text: str, read_chart: ChartReader | None) -> IntakeResult | None:
    """The chart that a text already is, unchanged; None for any other text.

    It begins with a section's row or a setting, has bars or such a row, and reads without a
    mistake; a text of facts and bare chords alone is a sheet.
    """
    chart = _read(text, read_chart) if _SHOWS_A_CHART.search(text) else None
    if chart is None:
        return None
    said = "this is already a chart: it is passed on as it is"
    return IntakeResult(chart, (Finding("sure", "already-a-chart", said),), "a chart", text)


def looks_like_a_chart(text: str) -> bool:
    """Whether a text that is no chart looks like one with mistakes: it begins with a setting or a
    section's row, and has such rows and rows of words as only charts have."""
    if len(text) > _LARGEST_CHARS or not _BEGINS_A_CHART.match(text):
        return False
    return _SECTION_ROW.search(text) is not None and _WORDS_ROW.search(text) is not None


def attached_chart(text: str, read_chart: ChartReader | None) -> IntakeResult | None:
    """The chart that was attached to a PDF; None where it does not read."""
    chart = _read(text, read_chart)
    if chart is None:
        return None
    said = (
        "this is the chart that travels inside this PDF, in its own key and with its own capo "
        "whatever the page shows"
    )
    return IntakeResult(chart, (Finding("sure", "chart-inside", said),), "PDF", text)


def _read(text: str, read_chart: ChartReader | None) -> Chart | None:
    if read_chart is None or len(text) > _LARGEST_CHARS or not _BEGINS_A_CHART.match(text):
        return None
    chart = read_chart(text)
    music = chart is not None and any(
        isinstance(row, MusicRow | WordsRow) for row in iter_rows(chart.sections)
    )
    return chart if music else None
