"""Which of the verses under a section are sung where the section comes again.

Verses that stand under one another are written once, and a bare heading sings on with the next of
them.  Where every section is written out, each one shows the verses that are its own.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.model import BarLine, Chart
from chartkit.chart.playing_order import playing_order
from chartkit.chart.systems import System, placed_systems
from chartkit.chart.verses import TimesThrough, line_of_time, rows_in_order, turns_of

SungLines = tuple[tuple[tuple[int, ...], ...], ...]
"""For each section and each of its rows of music, in order, the numbers of the lines of words that
are sung there, counted from 0."""


def sung_lines(chart: Chart) -> SungLines:
    """The lines that each section sings of the words under its rows.

    A section whose words no other one sings on with has all of its lines.  A line that is never
    reached (a third verse of a section that comes twice) stays where the section comes last, so
    that nothing is lost.  Where the song is too long to be played through, every section has all.
    """
    systems = [[system for _, _, system in placed] for placed in placed_systems(chart)]
    every = tuple(tuple(tuple(range(len(one.words))) for one in section) for section in systems)
    turns = turns_of(chart)
    shared = {turn for turn, count in Counter(turns).items() if count > 1}
    stacked = {
        number
        for number, section in enumerate(systems)
        if any(len(one.words) > 1 for one in section)
    }
    if not any(turns[number] in shared for number in stacked):
        return every
    order = playing_order(chart)
    if order.cut_short:
        return every
    reached = _reached(chart, systems, stacked)
    _keep_the_rest(reached, turns, systems)
    return tuple(
        tuple(
            tuple(sorted(reached.get((number, row), ()))) if turns[number] in shared else lines
            for row, lines in enumerate(section)
        )
        for number, section in enumerate(every)
    )


def _reached(
    chart: Chart, systems: Sequence[Sequence[System]], stacked: set[int]
) -> dict[tuple[int, int], set[int]]:
    """For each section and row the lines that are sung when the song is played."""
    turns, rows, through = turns_of(chart), rows_in_order(chart), TimesThrough()
    reached: dict[tuple[int, int], set[int]] = {}
    for bar in playing_order(chart).bars:
        row = rows[bar.row_place]
        system = systems[bar.section][row]
        lines = system.music.lines[bar.bar : bar.bar + 2] if system.music else ()
        opening, closing = lines if len(lines) == 2 else (BarLine(), BarLine())
        time = through.at(turns[bar.section], row, bar.bar, opening, closing)
        visits = through.visits(turns[bar.section], row, bar.bar)
        numbers = [words.verse for words in system.words]
        found = (line_of_time(numbers, count, bar.section in stacked) for count in (time, visits))
        reached.setdefault((bar.section, row), set()).update(n for n in found if n is not None)
    return reached


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
        for row, system in enumerate(systems[number]):
            rest = set(range(len(system.words))) - sung.get((turn, row), set())
            reached.setdefault((number, row), set()).update(rest)


def with_own_verses(
    systems: Sequence[tuple[System, ...]], lines: SungLines
) -> tuple[tuple[System, ...], ...]:
    """The systems of all sections, each with those of its words that ``sung_lines`` gives it."""
    return tuple(
        tuple(_with_own_verses(section, iter(own)))
        for section, own in zip(systems, lines, strict=True)
    )


def _with_own_verses(
    section: tuple[System, ...], own: Iterator[tuple[int, ...]]
) -> Iterator[System]:
    for system in section:
        if system.music is None:
            yield system
        else:
            numbers = next(own, tuple(range(len(system.words))))
            yield replace(system, words=tuple(system.words[number] for number in numbers))
