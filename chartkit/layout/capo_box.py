"""A move of the capo over a row: the fret in a dark box, as in the head of the page."""

from chartkit.diagnostics import Span
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Shape
from chartkit.layout.style import Style

_SIZE, _PAD, _OVER, _UNDER = 1.05, 0.4, 0.98, 0.23
"""The type in the box, the room beside it, and how far the box reaches above and below the
baseline, in sizes of the type of cues: as high as a level of annotations allows (ours)."""


def capo_box(
    words: str, x: float, room: float, source: Span | None, fitter: Fitter, style: Style
) -> tuple[float, tuple[Item, ...]]:
    """What to do with the capo in a dark box, and beside it the shapes that follow, around a
    baseline at y = 0, after where that ends; smaller where both are wider than the room."""
    move, colon, shapes = words.partition(": ")
    pad, size = style.cue * _PAD, style.cue * _SIZE
    size = fitter.fitting_size(move + shapes, "strong", size, room - (3 if colon else 2) * pad)
    text = fitter.text(move, x + pad, 0, "strong", size, role="change", source=source, ink=0.0)
    right = text.x + text.width + pad
    top, foot = -style.cue * _OVER, style.cue * _UNDER
    items: list[Item] = [Shape(((x, top), (right, top), (right, foot), (x, foot))), text]
    if colon:
        beside = fitter.text(shapes, right + pad, 0, "strong", size, role="change", source=source)
        items.append(beside)
        right = beside.x + beside.width
    return right, tuple(items)
