"""Repeats and their endings, from the bars as they stand on the page.

Common practice, no source: ``:|`` goes back to the last ``|:`` that is still open, without
one to the bar after the last repeat or to the start of the section, whichever is later.
Endings follow one another; how often the repeat is played is the highest ending number, at
least twice; a time that has no ending of its own passes over them.  Endings with no ``:|``
among them belong to the times the whole section is played.

``:| x4`` says how often the repeat is played in all.  Where that is more than the endings count,
the last ending belongs to the last time, and the one before it to every time in between:
``|: A |1. B :| x4 |2. C |`` is A B A B A B A C.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.chart.written_order import WrittenBar


@dataclass(slots=True)
class Repeat:
    """A repeat: where it starts, the bars whose end goes back, and its endings.

    ``endings`` pairs the first bar of each ending with its numbers; ``after`` is the first bar past
    them all.  ``written_times`` is how often it is played if the writer says so, else 0.
    """

    start: int
    backs: list[int] = field(default_factory=list)
    endings: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    after: int = 0
    written_times: int = 0

    @property
    def _numbered(self) -> int:
        """How often it is played by its endings alone."""
        numbers = [number for _, numbers in self.endings for number in numbers]
        return max([*numbers, 2] if self.backs else numbers, default=2)

    @property
    def times(self) -> int:
        """How often it is played."""
        return max(self._numbered, self.written_times)

    def ending_number(self, time: int) -> int:
        """The number of the ending that belongs to a time through, counted from 1."""
        last = self._numbered
        if time >= self.times:
            return last
        return min(time, last - 1)


@dataclass(frozen=True, slots=True)
class Repeats:
    """The repeats by the bars where they act: the bar whose end goes back, and the bar that opens
    an ending."""

    backs: dict[int, Repeat]
    endings: dict[int, Repeat]


def find_repeats(bars: Sequence[WrittenBar]) -> Repeats:
    """The repeats of a chart laid out bar by bar."""
    repeats = Repeats({}, {})
    current = Repeat(0)
    explicit = False
    for i, bar in enumerate(bars):
        fresh_section = i > 0 and bar.section != bars[i - 1].section
        if bar.opens_repeat:
            current, explicit = Repeat(i), True
        elif _over(current, bars, i) or (fresh_section and not explicit):
            current, explicit = Repeat(i), False
        if bar.endings:
            current.endings.append((i, bar.endings))
            repeats.endings[i] = current
        if bar.closes_repeat:
            current.backs.append(i)
            current.written_times = max(current.written_times, bar.after.times)
            repeats.backs[i] = current
        current.after = i + 1
    return repeats


def _over(current: Repeat, bars: Sequence[WrittenBar], i: int) -> bool:
    """Whether the repeat so far ended before bar ``i``."""
    if i == 0:
        return False
    bar, last = bars[i], bars[i - 1]
    if bar.endings:
        taken = {number for _, numbers in current.endings for number in numbers}
        return bool(taken & set(bar.endings))
    if not current.endings:
        return last.closes_repeat
    return last.closes_repeat or last.after.kind == "double" or bar.section != last.section
