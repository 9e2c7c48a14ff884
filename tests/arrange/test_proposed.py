"""Comments of a proposal in a chart that is written again."""

import pytest

from chartkit.advise.part.write_part import part_chart
from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import CommentRow
from chartkit.incoming import incoming_chart
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo
from tests.charts import chart_of

TEXT = """\
# left out: a greeting
# line 1: Hi Tobias, in C please
# for the Friday
title: Low Tide
key: C

== Verse
# guess: the chord over "tide" is F
# line 8: C   F
# line up with the drums
| C | F |
"""
OWN = ["# for the Friday", "# line up with the drums"]


def comments(text: str) -> list[str]:
    """The rows of a text that are comments."""
    return [row.strip() for row in text.splitlines() if row.startswith("#")]


@pytest.mark.parametrize(
    ("view", "as_shapes"), [(View(by=2), False), (View(capo=Capo(3)), True)], ids=str
)
def test_a_moved_chart_quotes_no_old_chords(view: View, as_shapes: bool) -> None:
    """What intake wrote beside a line of its source is about chords that no longer stand there;
    the writer's own comments stay."""
    assert comments(chart_text(rewritten_chart(chart_of(TEXT), view, as_shapes))) == OWN


def test_a_chart_that_stays_keeps_its_comments() -> None:
    """Where no chord moves, the comments are as true as before."""
    assert len(comments(chart_text(rewritten_chart(chart_of(TEXT), View(), False)))) == 6


def test_a_part_has_no_comments_of_the_proposal() -> None:
    """A second guitar's part is not what stood on the lines of the source."""
    written = part_chart(chart_of(TEXT), {}, {}, frozenset(), "a part")
    assert comments(chart_text(written)) == OWN


def test_what_intake_writes_is_known_as_such() -> None:
    """Every comment of a chart that intake makes of a typed sheet is left out when it is moved."""
    sheet = (
        b"Hi there\n\nLow Tide\nby Nobody\n\nC       F\nlow the tide\n\nG   C\ngoes out\n\nChorus\n"
    )
    taken = incoming_chart(sheet, comments=True)
    chart = chart_of(taken.text)
    rows = [row for part in (chart.top, *(s.rows for s in chart.sections)) for row in part]
    assert sum(isinstance(row, CommentRow) for row in rows) > 2
    assert comments(chart_text(rewritten_chart(chart, View(by=2), False))) == []
