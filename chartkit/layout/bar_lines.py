"""Bar lines, repeat signs and the final bar line as strokes and dots."""

from chartkit.chart.model import BarLine
from chartkit.layout.boxes import Line
from chartkit.layout.frames import Dot, Item, Stroke
from chartkit.layout.style import Style

_THIN, _THICK, _APART = 0.8, 2.4, 2.6
_BARS_OF_SIMILE = 2


def bar_line_items(
    line: Line, edges: list[float], top: float, foot: float, style: Style, last: bool
) -> list[Item]:
    """Every bar line of a system between two heights; ``last`` ends the song."""
    bars = line.row.bars
    items: list[Item] = []
    if not bars[0].bar.pickup and not bars[0].continued:
        opening = bars[0].opening
        shown = opening if opening.kind in ("repeat-start", "double") else BarLine()
        if opening.kind == "repeat-both":
            shown = BarLine("repeat-start")
        items += _one(shown, edges[0], top, foot, style, at_start=True)
    for i, box in enumerate(bars):
        if box.bar.simile == _BARS_OF_SIMILE:
            between = (edges[i] + box.left_pad + edges[i + 1] - box.right_pad) / 2
            items += _one(BarLine(), between, top, foot, style)
        if box.broken:
            continue
        at_end = i + 1 == len(bars)
        closing = box.closing
        if at_end and last and closing.kind in ("double", "single"):
            items += _final(edges[i + 1], top, foot, style)
        else:
            items += _one(closing, edges[i + 1], top, foot, style, at_end=at_end)
    return items


def _one(
    line: BarLine,
    x: float,
    top: float,
    foot: float,
    style: Style,
    at_start: bool = False,
    at_end: bool = False,
) -> list[Item]:
    pt = style.pt
    thin, thick, apart = pt(_THIN), pt(_THICK), pt(_APART)

    def bar(at: float, thickness: float) -> Stroke:
        return Stroke(at, top, at, foot, thickness)

    def dots(at: float) -> list[Item]:
        middle, space = (top + foot) / 2, (foot - top) / 7
        return [Dot(at, middle - space, pt(1.25)), Dot(at, middle + space, pt(1.25))]

    match line.kind:
        case "double":
            first = x if at_start else x - apart
            return [bar(first, thin), bar(first + apart, thin)]
        case "repeat-start" if at_end:
            return [bar(x, thin)]
        case "repeat-start":
            return [
                bar(x + thick / 2 - (0 if at_start else thin), thick),
                bar(x + thick + apart * 0.7, thin),
                *dots(x + thick + apart * 2.2),
            ]
        case "repeat-end":
            return [
                *dots(x - thick - apart * 2.2),
                bar(x - thick - apart * 0.7, thin),
                bar(x - thick / 2, thick),
            ]
        case "repeat-both":
            if at_end:
                return _one(BarLine("repeat-end"), x, top, foot, style, at_end=True)
            return [
                *dots(x - thick / 2 - apart * 1.9),
                bar(x - thick / 2 - apart * 0.6, thin),
                bar(x, thick),
                bar(x + thick / 2 + apart * 0.6, thin),
                *dots(x + thick / 2 + apart * 1.9),
            ]
        case _:
            return [bar(x, thin)]


def _final(x: float, top: float, foot: float, style: Style) -> list[Item]:
    thick = style.pt(_THICK)
    return [
        Stroke(
            x - thick - style.pt(_APART), top, x - thick - style.pt(_APART), foot, style.pt(_THIN)
        ),
        Stroke(x - thick / 2, top, x - thick / 2, foot, thick),
    ]
