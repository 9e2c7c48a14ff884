"""How many bars of each section are played each time, with its own repeats and endings."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.arrange.arrangement import ArrangedSection, ArrangedSystem
from chartkit.chart.model import Bar, Chart, MusicRow, Section
from chartkit.chart.playing_order import PlayedBar, playing_order


def bars_written(section: ArrangedSection) -> int:
    """How many bars of a section are written: a rest of eight bars is eight, a pick-up none."""
    return sum(_counted(bar.bar) for system in _timed(section) for bar in system.bars)


def bars_played(sections: Sequence[ArrangedSection]) -> tuple[int, ...]:
    """The bars of each section as they are counted on stage, for one time through it.

    ``|: A | B :|`` is four bars.  If a repeat reaches from one section into another, neither has
    such a number, and the written bars are counted; likewise if the times through a section differ
    in length.
    """
    written = tuple(map(bars_written, sections))
    systems = [_timed(section) for section in sections]
    chart = Chart((), tuple(map(_alone, sections, systems)))
    order = playing_order(chart)
    steps = [played.section for played in order.bars]
    if order.cut_short or any(after < before for before, after in pairwise(steps)):
        return written
    played = [0] * len(sections)
    for bar in order.bars:
        played[bar.section] += _one_bar(bar, systems)
    each = zip(sections, written, played, strict=True)
    return tuple(_each_time(section.times, bars, total) for section, bars, total in each)


def _timed(section: ArrangedSection) -> list[ArrangedSystem]:
    """The rows that stand in time; bars in free time are not counted."""
    return [system for system in section.systems if system.bar_lines and system.bars]


def _alone(section: ArrangedSection, systems: Sequence[ArrangedSystem]) -> Section:
    """The bars of a section without jumps.  It has no name: a section of words alone would
    otherwise be played with the music of another of its name."""
    rows = tuple(
        MusicRow(tuple(_unmarked(bar.bar) for bar in system.bars), system.bar_lines)
        for system in systems
    )
    return Section("", rows, section.times)


def _unmarked(bar: Bar) -> Bar:
    return replace(bar, marks=()) if bar.marks else bar


def _counted(bar: Bar) -> int:
    return 0 if bar.pickup else bar.lasts


def _one_bar(played: PlayedBar, systems: Sequence[Sequence[ArrangedSystem]]) -> int:
    """The number of bars that a bar counts for; a long rest and a sign for two bars are played bar
    by bar."""
    bar = systems[played.section][played.row].bars[played.bar].bar
    return 1 if bar.rest or bar.simile else _counted(bar)


def _each_time(times: int, written: int, total: int) -> int:
    return total // times if total % times == 0 else written
