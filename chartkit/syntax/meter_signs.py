"""Time signatures inside a row of music."""

from chartkit.chart.model import Meter
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report
from chartkit.syntax.settings import setting_value
from chartkit.syntax.strikes import MusicContext


def read_meter(elements: list[Element], context: MusicContext, report: Report) -> Meter | None:
    """The time signature at the start of the bar, which holds from there on; None without one."""
    timed = [element for element in elements if element.kind not in ("cue", "mark")]
    meter: Meter | None = None
    for element in elements:
        if element.kind != "meter":
            continue
        if element is not timed[0]:
            _report_meter_inside(element, report)
            continue
        try:
            value = setting_value("meter", element.value)
        except ValueError as reason:
            report.add("bad-meter", element.start, element.end, str(reason))
            continue
        if isinstance(value, Meter):
            context.meter = meter = value
    return meter


def _report_meter_inside(element: Element, report: Report) -> None:
    if element.value == "6/9":
        report.add(
            "chord-typed-apart",
            element.start,
            element.end,
            '"6/9" looks like the end of a chord',
            'join "6/9" to its root: "C6/9"',
        )
        return
    report.add(
        "meter-inside-bar",
        element.start,
        element.end,
        f"the time signature {element.value} does not stand first in its bar",
        f"a change of meter needs a bar line before it: | {element.value} ...",
    )
