"""The bars of a chart in the order they are played.

Repeats, numbered endings, sections played several times, D.C., D.S., fine and coda are
unrolled.  Conventions, all common practice, no source:

- a repeat is played before a jump that stands in the same bar; the jump is taken the last time
  through, and once only;
- after D.C. or D.S. no repeat is taken, a section played several times is played once, and of
  numbered endings the last one is played, until the coda or until the bar of the jump is passed
  again; music not yet played has its repeats;
- "al coda" leaves at the end of the first to-coda bar after the jump and goes on at the coda sign;
  "al fine" stops at the end of the fine bar; with neither, or with the sign missing, the music is
  played on to its end;
- D.S. goes to the last segno before it;
- verses under one another are sung in turn, and where nothing leads back to their music the section
  is played once for each of them.

No library: those that unroll repeats work on scores of notes; tests compare with music21's.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.chart.marks import Mark
from chartkit.chart.model import Chart, Meter, Strike
from chartkit.chart.repeats import Repeat, Repeats, find_repeats
from chartkit.chart.verses import has_stacks, times_for_verses
from chartkit.chart.written_order import WrittenBar, written_order
from chartkit.theory.key import Key

LONGEST = 10_000
"""The most bars that are unrolled. No song comes near it; it bounds the time for odd charts."""


@dataclass(frozen=True, slots=True)
class PlayedBar:
    """A bar as it comes in the song.

    ``section`` is the section being played; ``written_in``, ``row`` and ``bar`` say where the bar
    stands: a section, one of its rows (counting rows of every kind) and a bar of the row.
    ``strikes`` are what is played, simile signs resolved.  ``length`` is in ticks, 0 in
    free time.  ``key`` is the key the bar stands under, None where none is given.
    """

    section: int
    written_in: int
    row: int
    bar: int
    strikes: tuple[Strike, ...]
    length: int
    key: Key | None
    meter: Meter

    @property
    def row_place(self) -> tuple[int, int, int]:
        """Where its row stands, as ``capos_of_rows`` and ``paces_of_rows`` name rows."""
        return self.section, self.written_in, self.row


@dataclass(frozen=True, slots=True)
class PlayingOrder:
    """The bars as played; ``cut_short`` if there were more than the bound."""

    bars: tuple[PlayedBar, ...]
    cut_short: bool = False


def playing_order(chart: Chart, longest: int = LONGEST) -> PlayingOrder:
    """The bars of the chart as they are played, at most ``longest`` of them."""
    bars = written_order(chart)
    walk = _Walk(
        bars=bars,
        section_times=_times(chart, bars),
        repeats=find_repeats(bars),
        longest=longest,
    )
    played = tuple(_played(bars[i], strikes) for i in walk.order() for strikes in bars[i].contents)
    return PlayingOrder(played[:longest], walk.cut_short or len(played) > longest)


def section_times(chart: Chart) -> tuple[int, ...]:
    """How often each section is played: as its heading says, or once for each of the verses that
    stand under one another (``verses.py``)."""
    return _times(chart, written_order(chart) if has_stacks(chart) else ())


def _times(chart: Chart, bars: Sequence[WrittenBar]) -> tuple[int, ...]:
    times = tuple(section.times for section in chart.sections)
    if not has_stacks(chart):
        return times
    walk = _Walk(bars=bars, section_times=times, repeats=find_repeats(bars), longest=LONGEST)
    played = [bars[index] for index in walk.order()]
    return times_for_verses(
        chart, (((bar.section, bar.written_in, bar.row), bar.bar) for bar in played)
    )


def _played(bar: WrittenBar, strikes: tuple[Strike, ...]) -> PlayedBar:
    return PlayedBar(
        section=bar.section,
        written_in=bar.written_in,
        row=bar.row,
        bar=bar.bar,
        strikes=strikes,
        length=bar.length,
        key=bar.key,
        meter=bar.meter,
    )


@dataclass(slots=True)
class _Walk:
    """A player on the way through the bars: the current bar, and how often each was played."""

    bars: Sequence[WrittenBar]
    section_times: Sequence[int]
    repeats: Repeats
    longest: int
    cut_short: bool = False
    passes: dict[int, int] = field(default_factory=dict)
    section_pass: int = 1
    jumped_from: int | None = None
    until: str = ""
    jumped: set[int] = field(default_factory=set)

    def order(self) -> list[int]:
        """The numbers of the written bars in the order they are played."""
        walked: list[int] = []
        index: int | None = 0
        steps = 0
        while index is not None and index < len(self.bars):
            steps += 1
            if len(walked) >= self.longest or steps > 4 * self.longest:
                self.cut_short = True
                break
            ending = self.repeats.endings.get(index)
            skipped = None if ending is None else self._past_ending(ending, index)
            if skipped is None:
                walked.append(index)
                index = self._next(index, self.repeats.backs.get(index))
            else:
                same = self._same_section(index, skipped)
                index = skipped if same else self._past_section(skipped - 1)
        return walked

    # ---- endings
    def _past_ending(self, repeat: Repeat, index: int) -> int | None:
        """The bar to go to instead of the ending that starts here; None if it is this ending's
        turn.

        It is the next ending or the bar after the last one: always ahead, so a mistaken numbering
        cannot trap the player.
        """
        numbers = next(numbers for bar, numbers in repeat.endings if bar == index)
        if self._number(repeat) in numbers:
            return None
        return next((bar for bar, _ in repeat.endings if bar > index), repeat.after)

    def _number(self, repeat: Repeat) -> int:
        if not repeat.backs and self.jumped_from is None:
            return self.section_pass
        last_time = self.jumped_from is not None
        return repeat.ending_number(repeat.times if last_time else self.passes.get(repeat.start, 1))

    # ---- what comes after a bar
    def _next(self, index: int, repeat: Repeat | None) -> int | None:
        if self.jumped_from is not None:
            return self._next_after_jump(index)
        if repeat is not None and self._goes_back(repeat, index):
            return repeat.start
        last, more = self._ends_section(index), self._section_again(index)
        jump = self._jump(index)
        if jump is not None and not more:
            return self._jumped(index, jump)
        return self._past_section(index) if last else index + 1

    def _past_section(self, index: int) -> int:
        """What follows the last bar of a section: its start again, or the next one."""
        if not self._section_again(index):
            self.section_pass = 1
            return index + 1
        self.section_pass += 1
        start = self._section_start(index)
        self._forget(start, index)
        return start

    def _section_again(self, index: int) -> bool:
        times = self.section_times[self.bars[index].section]
        return self.jumped_from is None and self.section_pass < times

    def _ends_section(self, index: int) -> bool:
        return not self._same_section(index, index + 1)

    def _same_section(self, index: int, other: int) -> bool:
        return other < len(self.bars) and self.bars[index].section == self.bars[other].section

    def _goes_back(self, repeat: Repeat, index: int) -> bool:
        played = self.passes.get(repeat.start, 1)
        if played >= repeat.times:
            return False
        self.passes[repeat.start] = played + 1
        if self.bars[repeat.start].section != self.bars[index].section:
            self.section_pass = 1
        return True

    def _forget(self, first: int, last: int) -> None:
        """Starts afresh the repeats that begin and end within these bars."""
        for bar in range(first, last + 1):
            repeat = self.repeats.backs.get(bar)
            if repeat is not None and first <= repeat.start and repeat.backs[-1] <= last:
                self.passes.pop(repeat.start, None)

    def _section_start(self, index: int) -> int:
        section = self.bars[index].section
        while index and self.bars[index - 1].section == section:
            index -= 1
        return index

    # ---- jumps
    def _jump(self, index: int) -> Mark | None:
        if index in self.jumped:
            return None
        marks = self.bars[index].written.marks
        return next((mark for mark in marks if mark.kind in ("D.C.", "D.S.")), None)

    def _jumped(self, index: int, mark: Mark) -> int:
        self.jumped.add(index)
        self.jumped_from, self.until = index, mark.until
        self.passes, self.section_pass = {}, 1
        if mark.kind == "D.C.":
            return 0
        return self._last_with("segno", index) or 0

    def _last_with(self, kind: str, index: int) -> int | None:
        """The last bar with that mark up to ``at``, or else the first one of all."""
        marked = [i for i, bar in enumerate(self.bars) if _has(bar, kind)]
        return max((i for i in marked if i <= index), default=min(marked, default=None))

    def _next_after_jump(self, index: int) -> int | None:
        if self.until == "fine" and _has(self.bars[index], "fine"):
            return None
        if self.until == "coda" and _has(self.bars[index], "to-coda"):
            coda = next((i for i in range(index + 1, len(self.bars)) if self._is_coda(i)), None)
            if coda is not None:
                self.jumped_from, self.until = None, ""
                return coda
        if index == self.jumped_from:
            self.jumped_from, self.until = None, ""
            self.section_pass = self._next_section_pass(index)
        return index + 1

    def _next_section_pass(self, index: int) -> int:
        """After a jump out of a section, the section is not repeated again."""
        return 1 if self._ends_section(index) else self.section_times[self.bars[index].section]

    def _is_coda(self, i: int) -> bool:
        return _has(self.bars[i], "coda")


def _has(bar: WrittenBar, kind: str) -> bool:
    return any(mark.kind == kind for mark in bar.written.marks)
