"""Reads the endings of repeats: their numbers, those without one, and those that are drawn once
more on the next line.

Common practice, no source.
"""

import re
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from chartkit.interchange.score.events import Measure

_MOST_ENDINGS = 9
_RUN = re.compile(r"(\d{1,2})(?:\.?\s?[-–]\s?(\d{1,2}))?")
_NUMBERS_ALONE = re.compile(
    r"\s*\d{1,2}(?:[\s.,;/&+)–-]|and|und|et|y|e|en|och|og|\d{1,2}(?!\d))*\s*", re.IGNORECASE
)
"""Text that gives numbers and says nothing else: "1. & 2.", "1.-3."."""
UNNUMBERED = (0,)
"""An ending without a number: the next one right after another, else the first."""


def endings_of(barline: Element) -> tuple[int, ...]:
    """The numbers of the ending that starts at a bar line; those of its text where the attribute
    has none, or the text is other numbers, for that is what is printed; 0 where neither says."""
    ending = barline.find("ending")
    if ending is None or ending.get("type") != "start":
        return ()
    numbers, text = _numbers(ending.get("number")), ending.text or ""
    if text and _NUMBERS_ALONE.fullmatch(text) and not set(_numbers(text)) <= set(numbers):
        return _numbers(text)
    return numbers or _numbers(text) or UNNUMBERED


def ends_ending(barline: Element) -> bool:
    """Whether an ending ends at a bar line."""
    ending = barline.find("ending")
    return ending is not None and ending.get("type") in ("stop", "discontinue")


def _numbers(text: str | None) -> tuple[int, ...]:
    """The numbers of a list such as "1, 2" or "1.-3."."""
    numbers: list[int] = []
    for run in _RUN.finditer(text or ""):
        first, last = int(run[1]), int(run[2] or run[1])
        numbers += range(first, last + 1) if last - first < _MOST_ENDINGS else (first, last)
    return tuple(dict.fromkeys(n for n in numbers if n > 0))[:_MOST_ENDINGS]


@dataclass(slots=True)
class Endings:
    """The numbers of the ending before, none after a repeat that it does not end."""

    last: tuple[int, ...] = ()

    def read(self, before: Measure | None, measure: Measure) -> tuple[Measure | None, Measure]:
        """Two measures with the endings that are meant, ``before`` None at the start.

        An ending without a number is the next one right after another, else the first.  One that
        begins with the numbers of the one before it, with no repeat between, goes on.
        """
        numbers = measure.left.endings
        if measure.left.repeat:
            self.last = ()
        if not numbers:
            return before, measure
        if numbers == UNNUMBERED:
            follows = before is not None and before.right.closes
            numbers = (max(self.last, default=0) + 1 if follows else 1,)
        goes_on = before is not None and not before.right.repeat and numbers == self.last
        if goes_on and before is not None:
            before = before._replace(right=before.right._replace(closes=False))
        self.last = numbers
        left = measure.left._replace(endings=() if goes_on else numbers)
        return before, measure._replace(left=left)
