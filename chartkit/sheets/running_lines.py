"""What stands around a song's pages in a book: running head, foot line, what comes next."""

from dataclasses import dataclass

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style

_HEAD_LIFT = 10.0
"""How far above the top margin the running head's baseline lies, in points."""


@dataclass(frozen=True, slots=True)
class RunningLines:
    """The texts around a page; an empty one is left out.

    ``coming`` is told at the foot of a song's last page: the next song and what to change.
    """

    head_left: str = ""
    head_right: str = ""
    foot_left: str = ""
    foot_right: str = ""
    coming: str = ""


def running_items(lines: RunningLines, fitter: Fitter, style: Style) -> tuple[Item, ...]:
    """The texts placed on a page of that style's paper."""
    paper = style.paper
    head = paper.top - min(_HEAD_LIFT, paper.top / 3)
    foot = paper.height - paper.bottom
    items = _pair(lines.head_left, lines.head_right, head, "head", fitter, style)
    items += _pair(lines.foot_left, lines.foot_right, foot, "foot", fitter, style)
    if lines.coming:
        size = style.small * 1.1
        told = fitter.shortened(lines.coming, "italic", size, style.line_width)
        x = paper.side + style.line_width - fitter.width(told, "italic", size)
        items.append(fitter.text(told, x, foot - style.small * 1.45, "italic", size, "coming"))
    return tuple(items)


def _pair(left: str, right: str, y: float, role: str, fitter: Fitter, style: Style) -> list[Item]:
    """A text at the left margin and one at the right; the left one gives way."""
    size, side, items = style.small, style.paper.side, list[Item]()
    width = fitter.width(right, "plain", size)
    if left:
        room = style.line_width - width - style.pt(16)
        shown = fitter.shortened(left, "plain", size, room)
        items.append(fitter.text(shown, side, y, "plain", size, role, SECOND_INK))
    if right:
        x = side + style.line_width - width
        items.append(fitter.text(right, x, y, "plain", size, role, SECOND_INK))
    return items
