"""The room left of the rows: boxed section names, and the numbers of bars.

A name beside its first row takes no height, and is easy to spot.  Where a name is too
long for the gutter it stands over the row instead.
"""

import re
from dataclasses import dataclass
from math import cos, pi, sin

from chartkit.diagnostics import Span
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Shape, Text
from chartkit.layout.style import Style

WIDEST = 0.22
"""The largest part of a line that the gutter takes for names."""
_EASY = 62.0
"""Room that every page has for a name, at scale 1; a longer one is set in two lines."""
_WIDER = 1.3
"""How much wider the gutter may get before a name is set smaller: names are looked for at a glance,
and one that is smaller than the others looks as if it counted less."""
_PAD_X, _PAD_Y, _CLEAR = 5.0, 1.1, 6.0
"""Room inside the box beside and over its text, and up to the bar line, at scale 1; it is low, so
that the words of a pick-up under it and the number of a bar over it keep off it."""
_LINE, _ASCENT, _DESCENT = 1.1, 0.74, 0.05
"""From one line of a name to the next, and how far its capitals reach over and under its baseline,
as parts of its size; what hangs lower stands in the room inside the box."""
_SMALLER = (1.0, 0.88, 0.76)
"""Sizes tried, as parts of the usual one."""
_NUMBERED = re.compile(r", (?=\d+(?:–\d+|,\u00a0\d+)* )")
"""Between names that have numbers of their own, which stand in a line each."""
_LISTED = re.compile(r", (?!\d)")
"""Between names, which a line break falls between if it can: not before the 2 of ``Verse 1, 2``."""
_NAMES_PART = 0.75
"""How much of the widest gutter such names may take."""
_OVER_BAR_LINE, NUMBER_CLEAR = 1.6, 2.6
"""How far a bar number stands over its bar line and left of it, at scale 1: cues and signs over the
row begin at the bar line, and must not be read with it."""
_CORNER, _CORNER_POINTS = 2.2, 3
CONTINUED, _CONTINUED_SHORT = "(continued)", "cont."
_READABLE = 0.75
"""How much of its usual size the word has at least; over a narrow box the short one stands."""
CONTINUED_SIZE, OVER_BOX = 0.66, 2.5
"""The size of the word, as a part of that of names, and how far it stands over what goes on."""


@dataclass(frozen=True, slots=True)
class SectionLabel:
    """A section's name as it stands in the gutter: its lines, their size, the box's width."""

    lines: tuple[str, ...]
    size: float
    width: float
    source: Span | None = None

    def height(self, style: Style) -> float:
        """The height of the box around the lines."""
        lines = (len(self.lines) - 1) * _LINE + _ASCENT + _DESCENT
        return lines * self.size + 2 * style.pt(_PAD_Y)

    def anchored_at(self, source: Span | None) -> "SectionLabel":
        """The label with its place in the chart."""
        return SectionLabel(self.lines, self.size, self.width, source)


def section_label(
    name: str, free_width: float, most_lines: int, fitter: Fitter, style: Style, tight: bool = False
) -> SectionLabel | None:
    """The name in the fewest lines and the largest type that the gutter holds.

    ``free_width`` is the room that is there in any case; in a ``tight`` column the gutter gets
    wider only for names that need it.  None where the name is too long.
    """
    widest = style.line_width * WIDEST - style.pt(_CLEAR)
    easy = max(free_width - style.pt(_CLEAR), min(style.pt(_EASY), widest))
    named = _a_name_a_line(name)
    whole = _label([name], style.heading, fitter, style)
    if whole.width <= easy and not _NUMBERED.search(name):
        return whole
    if 1 < len(named) <= most_lines:
        labels = [_label(named, style.heading * part, fitter, style) for part in _SMALLER]
        narrow = (one for one in labels if one.width <= max(easy, _NAMES_PART * widest))
        label = next(narrow, labels[-1])
        if label.width <= widest:
            return label
        if _NUMBERED.search(name):
            return None
    wider = easy if tight else min(_WIDER * easy, widest)
    steps = [(easy, 1.0), (wider, 1.0)]
    steps += [(room, part) for room in (easy, widest) for part in _SMALLER]
    for room, part in steps:
        for count in range(1, most_lines + 1):
            lines = _in_lines(name, count, style.heading * part, fitter)
            label = _label(lines, style.heading * part, fitter, style)
            if len(lines) <= count and label.width <= room:
                return label
    return None


def _a_name_a_line(name: str) -> list[str]:
    """The names that a label lists, a line each."""
    numbered = _NUMBERED.split(name)
    if len(numbered) > 1:
        return numbered
    *before, last = _LISTED.split(name)
    return [*(f"{one}," for one in before), last]


def _label(lines: list[str], size: float, fitter: Fitter, style: Style) -> SectionLabel:
    width = max(fitter.width(line, "strong", size) for line in lines)
    return SectionLabel(tuple(lines), size, width + 2 * style.pt(_PAD_X))


def _in_lines(name: str, count: int, size: float, fitter: Fitter) -> list[str]:
    """The name in at most so many lines, as narrow as its words allow."""
    words = name.split()
    if count == 1 or len(words) < 2:
        return [name]
    room = fitter.width(name, "strong", size) / count
    room = max(room, max(fitter.width(word, "strong", size) for word in words))
    lines = fitter.wrapped(name, "strong", size, room)
    while len(lines) > count:
        room *= 1.08
        lines = fitter.wrapped(name, "strong", size, room)
    return lines


def is_squeezed(label: SectionLabel, style: Style) -> bool:
    """Whether a name is in several lines, or smaller than usual."""
    return len(label.lines) > 1 or label.size < style.heading


def label_room(label: SectionLabel, style: Style) -> float:
    """How far, in points, the first bar line stands from the margin beside a label."""
    return label.width + style.pt(_CLEAR)


def label_items(
    label: SectionLabel,
    baseline: float,
    fitter: Fitter,
    style: Style,
    continued: bool,
    number_x: float,
) -> list[Item]:
    """The name in its box, its first line on the baseline of a row's chords.

    On a page after its first the name says that it goes on, left of where the number of the row's
    first bar begins.
    """
    y = baseline - label.size * _ASCENT - style.pt(_PAD_Y)
    height = label.height(style)
    box = Shape(_rounded(0.0, y, label.width, height, style.pt(_CORNER)), style.pt(0.9))
    items: list[Item] = [box]
    role = "continued" if continued else "heading"
    for i, line in enumerate(label.lines):
        at = baseline + label.size * _LINE * i
        text = fitter.text(
            line,
            style.pt(_PAD_X),
            at,
            "strong",
            label.size,
            role=role,
            ink=1.0,
            source=label.source,
        )
        items.append(text)
    if continued:
        usual = style.heading * CONTINUED_SIZE
        room = min(label.width - style.pt(6), number_x - style.pt(NUMBER_CLEAR))
        size = fitter.fitting_size(CONTINUED, "italic", usual, room)
        said = CONTINUED if size >= _READABLE * usual else _CONTINUED_SHORT
        size = fitter.fitting_size(said, "italic", usual, room)
        above = y - style.pt(OVER_BOX)
        items.append(fitter.text(said, 0.0, above, "italic", size, role="continued"))
    return items


def _rounded(
    x: float, y: float, width: float, height: float, radius: float
) -> tuple[tuple[float, float], ...]:
    """A rectangle with round corners, clockwise from the right of its upper left corner."""
    corners = (
        (x + width - radius, y + radius, -pi / 2),
        (x + width - radius, y + height - radius, 0.0),
        (x + radius, y + height - radius, pi / 2),
        (x + radius, y + radius, pi),
    )
    return tuple(
        (cx + radius * cos(start + turn), cy + radius * sin(start + turn))
        for cx, cy, start in corners
        for turn in (pi / 2 * i / _CORNER_POINTS for i in range(_CORNER_POINTS + 1))
    )


def bar_number(number: int, edge: float, top: float, fitter: Fitter, style: Style) -> Text:
    """The number of a row's first bar, at the upper left of its bar line.  The first row of a song
    has none (E. Gould, *Behind Bars*, 2011; from memory)."""
    text = fitter.text(
        str(number),
        0.0,
        top - style.pt(_OVER_BAR_LINE),
        "plain",
        style.bar_number,
        role="bar-number",
        ink=0.72,
    )
    return text._replace(x=max(0.0, edge - text.width - style.pt(NUMBER_CLEAR)))
