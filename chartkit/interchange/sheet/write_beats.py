"""The beats of a bar as they are typed: chords with the signs around them."""

from collections.abc import Iterator
from typing import NamedTuple

from chartkit.arrange.arrangement import ArrangedBar, ArrangedStrike
from chartkit.chart.model import TICKS_PER_BEAT, Bar
from chartkit.chart.signs import SLASH, written_signs


class WrittenBeat(NamedTuple):
    """A beat as it is typed: each chord with the signs that stand before and after it, None
    for signs alone."""

    onset: int
    parts: tuple[tuple[ArrangedStrike | None, str, str], ...]


def beats_of(arranged: ArrangedBar, free: bool) -> Iterator[WrittenBeat]:
    """The written places of a bar with what is struck in each.

    What shares a beat is parted by commas; a slash is the chord again, "_" a hold, "r" a rest,
    "x" a muted stroke.
    """
    bar: Bar = arranged.bar
    if free or not bar.beats_written:
        for i, strike in enumerate(arranged.strikes):
            yield WrittenBeat(i if free else strike.onset, ((strike, "", ""),))
        return
    signs: dict[int, ArrangedStrike | str] = {**written_signs(bar)}
    signs |= {strike.onset: strike for strike in arranged.strikes}
    for at in range(0, bar.length, TICKS_PER_BEAT):
        inside = [signs[tick] for tick in range(at, at + TICKS_PER_BEAT) if tick in signs]
        yield WrittenBeat(at, tuple(_typed(inside or [SLASH])))


def _typed(signs: list[ArrangedStrike | str]) -> Iterator[tuple[ArrangedStrike | None, str, str]]:
    """The signs of a beat gathered around its chords."""
    first = next((i for i, sign in enumerate(signs) if not isinstance(sign, str)), len(signs))
    before = ",".join(str(sign) for sign in signs[:first])
    if first == len(signs):
        yield None, before, ""
        return
    lead = before and before + ","
    starts = [i for i, sign in enumerate(signs) if not isinstance(sign, str)]
    for start, end in zip(starts, [*starts[1:], len(signs)], strict=True):
        strike = signs[start]
        assert not isinstance(strike, str)
        after = "".join(f",{sign}" for sign in signs[start + 1 : end])
        yield strike, lead, after + "," * (end < len(signs))
        lead = ""
