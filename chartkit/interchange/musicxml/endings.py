"""Follows the endings of repeats through a part: those without a number, and those that are drawn
once more on the next line.

Common practice, no source.
"""

from dataclasses import dataclass

from chartkit.interchange.musicxml.measure_reader import UNNUMBERED
from chartkit.interchange.score.events import Measure


@dataclass(slots=True)
class Endings:
    """The numbers of the ending before, none behind a repeat that it does not end."""

    last: tuple[int, ...] = ()

    def read(self, before: Measure | None, measure: Measure) -> tuple[Measure | None, Measure]:
        """Two measures with the endings that are meant, ``before`` None at the start.

        An ending without a number is the next one right behind another, else the first.  One that
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
