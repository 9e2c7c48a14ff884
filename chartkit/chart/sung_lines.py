"""Which of the verses under a section are sung where the section comes again.

Verses that stand under one another are written once, and a bare heading sings on with the next of
them.  Where every section is written out, each one shows the verses that are its own.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import BarLine, Chart
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.systems import System, all_systems, placed_systems
from chartkit.chart.verses import TimesThrough, line_of_time, rows_in_order, turns_of

SungLines = tuple[tuple[tuple[int, ...], ...], ...]
"""For each section and each of its systems, in order, the numbers of the lines of words that are
sung there, counted from 0."""


class VersesSung:
    """Whose turn it is among the verses under each row, as the bars of a song are played."""

    def __init__(self, chart: Chart) -> None:
        placed = placed_systems(chart)
        self.turns, self.rows = turns_of(chart), rows_in_order(chart)
        self._systems = {
            (section, written_in, row): system
            for section, systems in enumerate(placed)
            for written_in, row, system in systems
        }
        self.stacked = {
            section
            for section, systems in enumerate(placed)
            if any(len(system.words) > 1 for _, _, system in systems)
        }
        self._through = TimesThrough()

    def at(self, bar: PlayedBar) -> tuple[System | None, tuple[int, ...]]:
        """The system of a bar that is played now, and the lines of its words that may be sung,
        the likeliest first; each call counts as a time it is played.

        Notation programs write the words of a second ending into the first verse, so the line of
        so many visits to the bar comes second.
        """
        place = (self.turns[bar.section], self.rows[bar.row_place], bar.bar)
        system = self._systems.get(bar.row_place)
        music = None if system is None else system.music
        lines = () if music is None else music.lines[bar.bar : bar.bar + 2]
        opening, closing = lines if len(lines) > 1 else (BarLine(), BarLine())
        time = self._through.at(*place, opening, closing)
        if system is None:
            return None, ()
        numbers = [words.verse for words in system.words]
        counts = dict.fromkeys((time, self._through.visits(*place)))
        likely = (line_of_time(numbers, each, bar.section in self.stacked) for each in counts)
        return system, tuple(line for line in likely if line is not None)


def sung_lines(chart: Chart) -> SungLines:
    """The lines that each section sings of the words of its systems.

    A section whose words no other one sings on with has all of its lines, and so have words
    without music.  A line that is never reached (a third verse of a section that comes twice)
    stays where the section comes last, so that nothing is lost.  Where the song is too long to be
    played through, every section has all.
    """
    systems = all_systems(chart)
    every = tuple(
        tuple(tuple(range(len(system.words))) for system in section) for section in systems
    )
    verses = VersesSung(chart)
    shared = {turn for turn, count in Counter(verses.turns).items() if count > 1}
    if not any(verses.turns[number] in shared for number in verses.stacked):
        return every
    order = playing_order(chart)
    if order.cut_short:
        return every
    reached: dict[tuple[int, int], set[int]] = {}
    for bar in order.bars:
        place = (bar.section, verses.rows[bar.row_place])
        reached.setdefault(place, set()).update(verses.at(bar)[1])
    _keep_the_rest(reached, verses.turns, systems)
    return tuple(
        _own_lines(number, section, reached) if verses.turns[number] in shared else every[number]
        for number, section in enumerate(systems)
    )


def _own_lines(
    number: int, systems: Sequence[System], reached: dict[tuple[int, int], set[int]]
) -> tuple[tuple[int, ...], ...]:
    """The lines of one section; ``reached`` counts its systems with music alone."""
    lines: list[tuple[int, ...]] = []
    row = 0
    for system in systems:
        if system.music is None:
            lines.append(tuple(range(len(system.words))))
        else:
            lines.append(tuple(sorted(reached.get((number, row), ()))))
            row += 1
    return tuple(lines)


def _keep_the_rest(
    reached: dict[tuple[int, int], set[int]],
    turns: Sequence[int],
    systems: Sequence[Sequence[System]],
) -> None:
    """Adds the lines that no time through comes to where their section comes last."""
    last = {turn: number for number, turn in enumerate(turns)}
    sung: dict[tuple[int, int], set[int]] = {}
    for (section, row), lines in reached.items():
        sung.setdefault((turns[section], row), set()).update(lines)
    for turn, number in last.items():
        rows = (system for system in systems[number] if system.music is not None)
        for row, system in enumerate(rows):
            rest = set(range(len(system.words))) - sung.get((turn, row), set())
            reached.setdefault((number, row), set()).update(rest)


def with_own_verses(
    systems: Sequence[tuple[System, ...]], lines: SungLines
) -> tuple[tuple[System, ...], ...]:
    """The systems of all sections, each with those of its words that ``sung_lines`` gives it.

    A last system of settings alone may be missing: it stands over the music that it is for.
    """
    return tuple(
        tuple(
            replace(system, words=tuple(system.words[number] for number in numbers))
            for system, numbers in zip(section, own, strict=False)
        )
        for section, own in zip(systems, lines, strict=True)
    )
