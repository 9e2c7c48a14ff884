"""``barline`` elements: repeats, endings, double lines."""

import re
from xml.etree.ElementTree import Element

from chartkit.interchange.musicxml.elements import whole_number
from chartkit.interchange.musicxml.events import Edge

_MOST_ENDINGS = 9
_DOUBLE = ("light-light", "light-heavy", "heavy-heavy", "heavy-light")


def with_barline(edge: Edge, barline: Element, left: bool) -> Edge:
    """The edge with what a bar line adds to it."""
    repeat = barline.find("repeat")
    wanted = "forward" if left else "backward"
    repeats = repeat is not None and repeat.get("direction") == wanted
    times = whole_number(repeat.get("times")) if repeat is not None and repeats else 0
    style = (barline.findtext("bar-style") or "").strip()
    return Edge(
        edge.repeat or repeats,
        max(edge.times, times),
        edge.endings or (_endings(barline) if left else ()),
        edge.double or style in _DOUBLE,
    )


def _endings(barline: Element) -> tuple[int, ...]:
    """The numbers of the ending that starts here; those of its text where the attribute has
    none; one where neither says."""
    ending = barline.find("ending")
    if ending is None or ending.get("type") != "start":
        return ()
    return _numbers(ending.get("number")) or _numbers(ending.text) or (1,)


def _numbers(text: str | None) -> tuple[int, ...]:
    found = (int(n) for n in re.findall(r"\d{1,2}", text or ""))
    return tuple(dict.fromkeys(n for n in found if n > 0))[:_MOST_ENDINGS]
