"""What a bar takes from its neighbours: signatures, repeats over a row's end, ties."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedSystem
from chartkit.chart.meters import meter_of_row
from chartkit.chart.model import BarLineKind
from chartkit.chart.systems import System


def with_signature(system: System) -> System:
    """A meter on a row of its own is printed where it begins: in the first bar after it."""
    meters = [m for m in map(meter_of_row, system.above) if m is not None]
    if not meters or system.music is None or system.music.free:
        return system
    first, *others = system.music.bars
    signed = replace(first, meter=first.meter or meters[-1])
    above = tuple(row for row in system.above if meter_of_row(row) is None)
    return replace(system, music=replace(system.music, bars=(signed, *others)), above=above)


def with_ties(systems: tuple[ArrangedSystem, ...]) -> tuple[ArrangedSystem, ...]:
    """The systems with each bar ``tied`` whose last sound is held into the next one."""
    following = [bar for system in systems for bar in system.bars][1:]
    held = iter([*(0 in bar.bar.holds for bar in following), False])
    return tuple(
        replace(system, bars=tuple(replace(bar, tied=next(held)) for bar in system.bars))
        for system in systems
    )


def with_repeats_moved(systems: Sequence[ArrangedSystem]) -> tuple[ArrangedSystem, ...]:
    """The systems; a repeat that begins at the end of a row is printed where it is played: at the
    start of the next one."""
    moved = list(systems)
    for i in range(len(moved) - 1):
        one, other = moved[i], moved[i + 1]
        if not one.bar_lines or not other.bar_lines:
            continue
        closing, opening = one.bar_lines[-1], other.bar_lines[0]
        begins = closing.kind in ("repeat-start", "repeat-both")
        if begins and opening.kind in ("none", "single", "repeat-start"):
            ended: BarLineKind = "repeat-end" if closing.kind == "repeat-both" else "single"
            begun = replace(opening, kind="repeat-start")
            moved[i] = replace(one, bar_lines=(*one.bar_lines[:-1], replace(closing, kind=ended)))
            moved[i + 1] = replace(other, bar_lines=(begun, *other.bar_lines[1:]))
    return tuple(moved)
