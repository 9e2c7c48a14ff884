"""Signs over a beat that say how its chord is struck, and their words in the legend.

A wedge for a stop is the staccatissimo of notation (G. Read, *Music Notation*, 1969; from memory);
the open diamond for what rings on and the arrowhead for what is struck early are common practice
on band charts, no source.
"""

from collections.abc import Iterable
from typing import Literal

from chartkit.arrange.arrangement import ArrangedStrike
from chartkit.layout.frames import Shape
from chartkit.layout.style import Style

MarkName = Literal["pushed", "stopped", "ringing"]
MEANINGS: dict[MarkName, str] = {
    "pushed": "struck early",
    "stopped": "stopped short",
    "ringing": "left to ring",
}
"""What each sign means, in the words of the legend."""
MARKS_ROOM = 8.5
"""What signs over the beats add to the height of a system, at scale 1."""
MARK_WIDTH = 6.6
_APART = 8.0
OVER_ROOT = 0.33
"""The middle of a root letter, as part of the type's size."""


def marks_of(strike: ArrangedStrike) -> tuple[MarkName, ...]:
    """The signs of a strike."""
    if not has_marks(strike):
        return ()
    given = {"pushed": strike.pushed, "stopped": strike.stopped, "ringing": strike.ringing}
    return tuple(name for name in MEANINGS if given[name])


def has_marks(strike: ArrangedStrike) -> bool:
    """Whether any sign stands over a strike."""
    return strike.pushed or strike.stopped or strike.ringing


def used_marks(strikes: Iterable[ArrangedStrike]) -> tuple[MarkName, ...]:
    """The signs that a song uses, in the order of the legend."""
    used = {name for strike in strikes for name in marks_of(strike)}
    return tuple(name for name in MEANINGS if name in used)


def marks_over(strike: ArrangedStrike, x: float, foot: float, style: Style) -> list[Shape]:
    """The signs of a strike that begins at ``x``, side by side over its root."""
    middle = x + style.strong * OVER_ROOT
    return [
        mark_shape(name, middle - style.pt(MARK_WIDTH / 2 - _APART * i), foot, style)
        for i, name in enumerate(marks_of(strike))
    ]


def mark_shape(name: MarkName, x: float, foot: float, style: Style) -> Shape:
    """One sign: its left edge at ``x``, its lowest point at ``foot``."""
    wide, high = style.pt(MARK_WIDTH), style.pt(MARK_WIDTH)
    if name == "pushed":
        return Shape(((x, foot - high / 2), (x + wide, foot - high), (x + wide, foot)))
    if name == "stopped":
        aside = wide * 0.2
        return Shape(
            ((x + aside, foot - high), (x + wide - aside, foot - high), (x + wide / 2, foot))
        )
    middle = x + wide / 2, foot - high / 2
    half = style.pt(MARK_WIDTH / 2 - 0.5)
    return Shape(
        (
            (middle[0] - half, middle[1]),
            (middle[0], middle[1] - half),
            (middle[0] + half, middle[1]),
            (middle[0], middle[1] + half),
        ),
        style.pt(1.2),
    )
