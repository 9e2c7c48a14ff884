"""How often a repeat is played, said over its sign: ``× 4``.

It stands close over the bar line.  Where something else is there, such as the bracket of an ending
or a beam, it stands over that.
"""

from typing import NamedTuple

from chartkit.layout.annotate import Annotation
from chartkit.layout.boxes import BarBox, SpacedRow
from chartkit.layout.cues_sink import is_said
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Text
from chartkit.layout.place_slots import slot_places
from chartkit.layout.style import Style

_OVER, _CAPITAL = 2.5, 0.714
"""How far it stands over the bar line, at scale 1, and the height of figures in sizes of type."""
_CLEAR, _NOTE = 3.0, 10.0
"""Room at its left, and the least width of what stands over a beat, at scale 1."""


class TimesOver(NamedTuple):
    """The times of a row: those close over their bar lines, with baselines at 0, and those over
    something else."""

    low: tuple[Text, ...]
    high: list[Annotation]


def times_over(
    line: SpacedRow, edges: list[float], occupied: list[Annotation], fitter: Fitter, style: Style
) -> TimesOver:
    """The times of the repeats in a row; ``occupied`` is what else stands over it."""
    low, high = list[Text](), list[Annotation]()
    for i, box in enumerate(line.row.bars):
        if not box.closing.times or box.broken:
            continue
        end = edges[i + 1]
        text = fitter.text(f"× {box.closing.times}", 0, 0, "strong", style.cue, role="direction")
        text = text._replace(x=end - text.width)
        left = text.x - style.pt(_CLEAR)
        free = all(one.end <= left or one.start >= end for one in occupied)
        if free and _reach(box, line.widths[i], edges[i], style) <= left:
            low.append(text)
        else:
            high.append(Annotation(text.x, end, (text,)))
    return TimesOver(tuple(low), high)


def _reach(box: BarBox, width: float, edge: float, style: Style) -> float:
    """Up to where something of a bar stands higher than its bar line."""
    if not box.over.tall or not box.slots:
        return edge
    label = next(iter(box.slots[-1].labels), None)
    over = max(style.pt(_NOTE), label.width if label else 0.0)
    return slot_places(box, width, edge)[-1] + over


def with_times(annotations: list[Annotation], high: list[Annotation]) -> list[Annotation]:
    """The annotations of a row in the order in which they are stacked: times stand over marks and
    endings, but nearer to their sign than cues and changes."""
    signs = [one for one in annotations if not is_said(one)]
    return [*signs, *high, *(one for one in annotations if is_said(one))]


def times_height(style: Style) -> float:
    """How high they reach over the bar line, in points."""
    return style.pt(_OVER) + style.cue * _CAPITAL


def placed_times(low: tuple[Text, ...], top: float, style: Style) -> list[Text]:
    """The times close over bar lines that begin at ``top``."""
    return [text._replace(y=top - style.pt(_OVER)) for text in low]
