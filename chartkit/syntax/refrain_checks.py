"""Checks of the form: a refrain that comes once after several verses."""

from itertools import pairwise

from chartkit.chart.model import Chart
from chartkit.chart.playing_order import section_times
from chartkit.chart.section_words import kind_of_section
from chartkit.chart.verses import has_stacks
from chartkit.diagnostics import has_errors
from chartkit.phrases import counted
from chartkit.syntax.report import Report


def check_refrains(chart: Chart, report: Report) -> None:
    """Warns of a refrain right after verses that stand under one another: all of them are sung
    before it, and most songs sing it after each (common practice, no source)."""
    if has_errors(tuple(report.diagnostics)) or not has_stacks(chart):
        return
    times = zip(section_times(chart), chart.sections, strict=True)
    for (often, verses), (_, refrain) in pairwise(times):
        if often == verses.times or kind_of_section(refrain.name) != "chorus":
            continue
        again = f'"== {verses.name}", "== {refrain.name}"'
        report.warn(
            "refrain-once",
            *refrain.span,
            f'all {counted(often, "verse")} of "{verses.name}" are sung before "{refrain.name}"',
            f"if it comes after each of them, write the headings alone for each time: {again}",
        )
