"""On a road map, signs that repeat bars with a rhythm of their own.

A drummer who sees a count keeps time.  So a sign that repeats hits stays a sign after them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.arrange.arrangement import ArrangedBar, ArrangedSection, ArrangedSystem
from chartkit.chart.model import TICKS_PER_BEAT, BarLine


def with_hits_repeated(sections: Sequence[ArrangedSection]) -> Iterator[ArrangedSection]:
    """The sections with their signs marked where they repeat bars with a rhythm of their own.

    A sign for two bars of which one is steady has nothing to stand after, since steady bars are
    counted together: both bars are written again.
    """
    earlier: list[ArrangedBar] = []
    for section in sections:
        yield replace(
            section, systems=tuple(_system(system, earlier) for system in section.systems)
        )


def _system(system: ArrangedSystem, earlier: list[ArrangedBar]) -> ArrangedSystem:
    """The system; ``earlier`` holds all bars so far, what signs stand for, and grows."""
    bars, lines = list[ArrangedBar](), list(system.bar_lines[:1])
    for number, arranged in enumerate(system.bars):
        shown = _shown(arranged, earlier)
        bars += shown
        if system.bar_lines:
            lines += [*(BarLine() for _ in shown[1:]), system.bar_lines[number + 1]]
    return replace(system, bars=tuple(bars), bar_lines=tuple(lines))


def _shown(arranged: ArrangedBar, earlier: list[ArrangedBar]) -> list[ArrangedBar]:
    simile = arranged.bar.simile
    if not simile:
        earlier.append(arranged)
        return [arranged]
    repeated = earlier[-simile:]
    earlier += repeated
    own = [not plays_on(bar) for bar in repeated]
    if not any(own):
        return [arranged]
    if all(own):
        return [replace(arranged, repeats_hits=True)]
    return [_again(bar, i, arranged) for i, bar in enumerate(repeated)]


def _again(one: ArrangedBar, number: int, sign: ArrangedBar) -> ArrangedBar:
    """A bar written again in place of a sign, the first or second of two, with what stands at the
    sign."""
    first, bar = number == 0, sign.bar
    place = "start" if first else "end"
    marks = (
        *(mark for mark in one.bar.marks if mark.place == "beat"),
        *(mark for mark in bar.marks if mark.place == place),
    )
    return replace(
        one,
        bar=replace(
            one.bar,
            cues=bar.cues if first else (),
            marks=marks,
            meter=bar.meter if first else None,
            span=bar.span,
        ),
        tied=sign.tied and not first,
        opens=sign.opens and first,
    )


def plays_on(arranged: ArrangedBar) -> bool:
    """Whether the bar is played as steadily as those around it, whatever marks it has."""
    bar = arranged.bar
    rhythm = bar.silences or bar.mutes or any(onset % TICKS_PER_BEAT for onset in bar.slashes)
    split = any(strike.onset % TICKS_PER_BEAT for strike in arranged.strikes)
    special = any(
        strike.pushed or strike.stopped or None in strike.names for strike in arranged.strikes
    )
    held = any(mark.place == "beat" for mark in bar.marks)
    special = special or arranged.repeats_hits
    return not (rhythm or split or special or held or bar.rest or bar.pickup)
