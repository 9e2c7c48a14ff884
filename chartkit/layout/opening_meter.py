"""Adds the time signature of the first bar, which a chart gives only in its settings."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedSection, ArrangedSystem


def with_opening_meter(sections: Sequence[ArrangedSection]) -> tuple[ArrangedSection, ...]:
    """The sections with the meter in the first bar that is counted."""
    result = list(sections)
    for s, section in enumerate(sections):
        for i, system in enumerate(section.systems):
            if not system.lines or not system.bars:
                continue
            systems = (*section.systems[:i], _signed(system), *section.systems[i + 1 :])
            result[s] = replace(section, systems=systems)
            return tuple(result)
    return tuple(result)


def _signed(system: ArrangedSystem) -> ArrangedSystem:
    first, *others = system.bars
    if first.bar.meter is not None:
        return system
    signed = replace(first, bar=replace(first.bar, meter=first.meter), opens=True)
    return replace(system, bars=(signed, *others))
