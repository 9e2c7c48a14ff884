"""Meters told where a reader of the text would take another: a section that is played again
begins in its own meter, whatever stands before it."""

from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedBar, ArrangedSystem, Arrangement


def with_meters_told(song: Arrangement) -> Arrangement:
    """The song with a meter in each bar that would else be read in the meter before it."""
    running = str(song.meter)
    sections = []
    for section in song.sections:
        systems = []
        for system in section.systems:
            told, running = _told(system, running)
            systems.append(told)
        sections.append(replace(section, systems=tuple(systems)))
    return replace(song, sections=tuple(sections))


def _told(system: ArrangedSystem, running: str) -> tuple[ArrangedSystem, str]:
    announced = [one.text for one in system.above if one.kind == "meter"]
    running = announced[-1] if announced else running
    bars: list[ArrangedBar] = []
    for arranged in system.bars:
        bar, meter = arranged.bar, str(arranged.meter)
        if system.lines and bar.meter is None and meter != running:
            arranged = replace(arranged, bar=replace(bar, meter=arranged.meter))
        running = meter if system.lines else running
        bars.append(arranged)
    return replace(system, bars=tuple(bars)), running
