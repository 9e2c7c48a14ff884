"""Written rests: bars in which nobody on this chart plays."""

from chartkit.chart.model import LONGEST_REST
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report

ALONE = (
    "it stands alone between its bar lines: | rest 4 |; "
    'inside a bar a rest of one beat is "r": | C / r / |'
)
"""The message for a rest with something else in its bar."""


def read_rest(elements: list[Element], slots: list[Element], report: Report) -> int:
    """How many bars of rest are written in the bar; 0 if it is not a rest."""
    rests = [element for element in elements if element.kind == "rest"]
    if not rests:
        return 0
    rest = rests[0]
    others = [e for e in elements if e.kind in ("simile", "rest") and e is not rest]
    if slots or others:
        report.add(
            "rest-not-alone",
            rest.start,
            rest.end,
            "a bar of rest has nothing else in it",
            ALONE,
        )
        if slots:
            return 0
    bars = int(rest.value[:4])
    if not 1 <= bars <= LONGEST_REST:
        report.add(
            "bad-rest",
            rest.start,
            rest.end,
            f"a rest lasts from 1 to {LONGEST_REST} bars, not {rest.value}",
            "write how many bars after it: rest 8",
        )
    return max(1, min(bars, LONGEST_REST))
