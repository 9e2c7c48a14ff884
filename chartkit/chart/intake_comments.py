"""The comments of a proposal: what intake guessed or left out, and the lines of its source."""

import re
from dataclasses import replace

from chartkit.chart.model import Chart, CommentRow

GUESS, LEFT_OUT, SOURCE_LINE = "guess", "left out", "line"
"""How such a comment begins, before its colon; the last one with the number of the line, behind
that of its page where it has one."""
_BEGINS = re.compile(
    rf"(?:{GUESS}|{LEFT_OUT}|(?:page [0-9]{{1,9}}, )?{SOURCE_LINE} [0-9]{{1,9}}): "
)


def is_proposal(row: object) -> bool:
    """Whether a row is a comment of a proposal."""
    return isinstance(row, CommentRow) and _BEGINS.match(row.comment) is not None


def without_proposal(chart: Chart) -> Chart:
    """The chart without the comments of a proposal: once its chords have moved, the chords that
    they quote are false."""
    top = tuple(row for row in chart.top if not is_proposal(row))
    sections = (
        replace(section, rows=tuple(row for row in section.rows if not is_proposal(row)))
        for section in chart.sections
    )
    return Chart(top, tuple(sections))
