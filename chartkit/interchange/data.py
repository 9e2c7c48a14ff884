"""A chart as JSON, taken back in.

The schema says what values there are; what only the language can say (that a chord stands on
a beat) is told by reading the chart's text, which the caller does anyway.
"""

from chartkit.chart.model import MusicRow, WordsRow
from chartkit.chart.walk import iter_rows
from chartkit.interchange.schema import chart_from_json
from chartkit.interchange.taken import Findings, Refused, Taken


def read_json(data: bytes) -> Taken:
    """The chart of a JSON document.  Raises Refused for JSON that is no chart."""
    try:
        chart = chart_from_json(data)
    except ValueError as reason:
        raise Refused(f"this is JSON, but not a chart: {reason}") from None
    if not chart.sections:
        raise Refused('this is JSON, but not a chart: it has no "sections"')
    if not any(isinstance(row, MusicRow | WordsRow) for row in iter_rows(chart.sections)):
        raise Refused("this is a chart as JSON, but there is no music in it")
    findings = Findings()
    findings.sure("read", "a chart as data")
    return Taken(chart, tuple(findings.found), "JSON")
