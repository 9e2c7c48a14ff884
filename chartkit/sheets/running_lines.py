"""The running lines around a song's pages in a book: head, foot, what comes next."""

from dataclasses import dataclass

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Text
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style

_HEAD_LIFT = 10.0
"""How far above the top margin the running head's baseline lies, in points."""


@dataclass(frozen=True, slots=True)
class RunningLines:
    """The texts around a page; an empty one is left out.

    ``coming`` stands at the foot of a song's last page, in the place of ``foot_left``: the next
    song, with room around it.  ``change`` is what to
    change for it, and stands out: it is read in the dark, in seconds.
    """

    head_left: str = ""
    head_right: str = ""
    foot_left: str = ""
    foot_right: str = ""
    coming: str = ""
    change: str = ""


def running_items(lines: RunningLines, fitter: Fitter, style: Style) -> tuple[Item, ...]:
    """The texts placed on a page of that style's paper."""
    paper = style.paper
    head = paper.top - min(_HEAD_LIFT, paper.top / 3)
    foot = paper.height - paper.bottom
    items = _pair(lines.head_left, lines.head_right, head, "head", fitter, style)
    left = "" if lines.coming else lines.foot_left
    items += _pair(left, lines.foot_right, foot, "foot", fitter, style)
    if lines.coming:
        items.append(_coming(lines, foot, fitter, style))
    return tuple(items)


def _coming(lines: RunningLines, y: float, fitter: Fitter, style: Style) -> Text:
    """The next song and the change, beside the page number.  The title gives way first."""
    size, beside = style.coming, fitter.width(lines.foot_right, "plain", style.small)
    room = style.line_width - beside - style.pt(16)
    change = f" — {lines.change}" if lines.change else ""
    change_size = max(fitter.fitting_size(change, "strong", size, room * 0.8), size * 0.6)
    change = fitter.shortened(change, "strong", change_size, room * 0.8)
    width = fitter.width(change, "strong", change_size)
    title = fitter.shortened(lines.coming, "italic", size, room - width)
    left = fitter.text(title, 0.0, y, "italic", size, role="coming")
    right = fitter.text(change, 0.0, y, "strong", change_size, role="coming")
    width = left.width + right.width
    return left._replace(x=style.paper.side, width=width, pieces=(*left.pieces, *right.pieces))


def _pair(left: str, right: str, y: float, role: str, fitter: Fitter, style: Style) -> list[Item]:
    """A text at the left margin and one at the right; the left one gives way."""
    size, side, items = style.small, style.paper.side, list[Item]()
    width = fitter.width(right, "plain", size)
    if left:
        room = style.line_width - width - style.pt(16)
        shown = fitter.shortened(left, "plain", size, room)
        items.append(fitter.text(shown, side, y, "plain", size, role=role, ink=SECOND_INK))
    if right:
        x = side + style.line_width - width
        items.append(fitter.text(right, x, y, "plain", size, role=role, ink=SECOND_INK))
    return items
