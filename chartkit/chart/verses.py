"""Verses that stand under one another: whose turn it is, and how often their music is played.

Of several lines of words under one row the first is sung the first time, the second the second
time.  Where neither a repeat nor a jump nor a heading that comes again leads back to the row, the
section is played once for each of them, as a hymn is (common practice, no source).
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import pairwise

from chartkit.chart.model import BarLine, Chart, CommentRow, WordsRow
from chartkit.chart.systems import placed_systems, sections_again

Place = tuple[int, int, int]
"""The section being played, and the section and the row that hold the music of a bar."""


def turns_of(chart: Chart) -> tuple[int, ...]:
    """For each section the one whose words it sings: a bare heading sings on where the section that
    it names left off."""
    turns: list[int] = []
    for number, source in enumerate(sections_again(chart)):
        turns.append(number if source is None else turns[source])
    return tuple(turns)


def rows_in_order(chart: Chart) -> dict[Place, int]:
    """The number of each row of music among those of its section, as it is played: the same for a
    row and for its copy in a section that is moved to another key."""
    return {
        (section, written_in, row): number
        for section, systems in enumerate(placed_systems(chart))
        for number, (written_in, row, _) in enumerate(systems)
    }


def has_stacks(chart: Chart) -> bool:
    """Whether lines of words may stand under one another in a section that is played once."""
    return any(
        isinstance(row, WordsRow) and isinstance(below, WordsRow)
        for section in chart.sections
        if section.times == 1
        for row, below in pairwise(row for row in section.rows if not isinstance(row, CommentRow))
    )


def times_for_verses(chart: Chart, played: Iterable[tuple[Place, int]]) -> tuple[int, ...]:
    """How often each section is played, once for each of its verses where no other way comes round
    to them.  ``played`` are the bars in the order of the song, each as its place and its number in
    the row, as if there were no verses."""
    turns, order = turns_of(chart), rows_in_order(chart)
    passes = Counter[tuple[int, int]]()
    each = Counter(((turns[place[0]], order[place]), bar) for place, bar in played)
    for row, count in ((row, count) for (row, _), count in each.items()):
        passes[row] = max(passes[row], count)
    times = [section.times for section in chart.sections]
    for number, systems in enumerate(placed_systems(chart)):
        own = [passes[turns[number], row] for row in range(len(systems))]
        if times[number] == 1 and max(own, default=0) == 1:
            times[number] = max(1, *(len(system.words) for _, _, system in systems))
    return tuple(times)


class TimesThrough:
    """Which time through its music each bar is played, counted bar by bar as the song is played.

    The bars of a second ending come for the first time when their verse is the second: from
    the start of an ending to its end the time is at least that of the bar before it.
    """

    def __init__(self) -> None:
        self._visits = Counter[tuple[int, int, int]]()
        self._turn, self._time, self._in_ending = -1, 0, False

    def at(self, turn: int, row: int, bar: int, opening: BarLine, closing: BarLine) -> int:
        """The time through, counted from 1, of a bar between two bar lines that is played now, of a
        row of the section whose words are sung."""
        self._visits[turn, row, bar] += 1
        time = self._visits[turn, row, bar]
        self._in_ending = turn == self._turn and (self._in_ending or bool(opening.endings))
        if self._in_ending:
            time = max(time, self._time)
        self._in_ending = self._in_ending and closing.kind == "single"
        self._turn, self._time = turn, time
        return time

    def visits(self, turn: int, row: int, bar: int) -> int:
        """How often a bar has been played."""
        return self._visits[turn, row, bar]


def line_of_time(numbers: Sequence[int | None], time: int, stacked: bool) -> int | None:
    """Which of the lines of words under a row, known by the numbers they were typed with, is sung
    the given time through it, counted from 1; None where there is none.

    After the last line the last one is sung again.  A single line with a number, in a section where
    others are ``stacked``, is sung in its verse alone.
    """
    if len(numbers) == 1 and stacked and numbers[0] not in (None, time):
        return None
    if time in numbers:
        return numbers.index(time)
    return min(time, len(numbers)) - 1 if numbers else None
