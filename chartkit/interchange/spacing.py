"""Blank rows of a chart that came from elsewhere, so that its text reads like a written one."""

from dataclasses import replace

from chartkit.chart.model import BlankRow, Chart, Section


def with_blank_rows(chart: Chart) -> Chart:
    """The chart with a blank row after its settings and between its sections."""
    *before, last = chart.sections or (Section(""),)
    top = chart.top if not chart.top or _is_spaced(chart.top[-1]) else (*chart.top, BlankRow())
    return Chart(top, (*map(_spaced, before), last) if chart.sections else ())


def _spaced(section: Section) -> Section:
    if section.rows and _is_spaced(section.rows[-1]):
        return section
    return replace(section, rows=(*section.rows, BlankRow()))


def _is_spaced(row: object) -> bool:
    return isinstance(row, BlankRow)
