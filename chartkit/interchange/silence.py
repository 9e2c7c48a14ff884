"""Ties of silence: a file can tie slashes after N.C., a rest or a stopped chord; a chart cannot
hold what does not sound."""

from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike


def silent_after(strike: Strike) -> bool:
    """Whether nothing sounds after a strike: N.C., or a chord stopped that does not ring."""
    return strike.chord is None or (strike.stopped and not strike.ringing)


def without_held_silence(bar: Bar, silent: bool) -> tuple[Bar, bool]:
    """The bar with no beat that begins with a hold of silence, and whether it ends in silence;
    ``silent`` says whether it begins in it.

    Such a beat has a slash instead.  Inside a beat a hold stays: it only makes a part longer.
    """
    holds: list[int] = []
    slashes = list(bar.slashes)
    strikes = {strike.onset: strike for strike in bar.strikes}
    for onset in sorted({*strikes, *bar.holds, *bar.slashes}):
        if onset in strikes:
            silent = silent_after(strikes[onset])
        elif onset in bar.slashes:
            silent = False
        elif silent and onset % TICKS_PER_BEAT == 0:
            slashes += [onset] * _split(bar, onset)
        else:
            holds.append(onset)
    ends_silent = bool(bar.rest) or (silent and bool(bar.length))
    if len(holds) == len(bar.holds):
        return bar, ends_silent
    return replace(bar, holds=tuple(holds), slashes=tuple(sorted(slashes))), ends_silent


def _split(bar: Bar, beat: int) -> bool:
    """Whether something else stands in the beat that begins there."""
    onsets = (*(strike.onset for strike in bar.strikes), *bar.holds, *bar.slashes)
    return any(beat < onset < beat + TICKS_PER_BEAT for onset in onsets)


def without_first_holds(bar: Bar) -> Bar:
    """The first bar of a song in which anything is struck, with nothing held before that: beats
    before it are plain, and a hold in its own beat is a slash."""
    first = bar.strikes[0].onset if bar.strikes else bar.length
    if not any(hold < first for hold in bar.holds):
        return bar
    beat = first // TICKS_PER_BEAT * TICKS_PER_BEAT
    slashes = {at for at in (*bar.slashes, *bar.holds) if beat <= at < first}
    return replace(
        bar,
        holds=tuple(hold for hold in bar.holds if hold > first),
        slashes=tuple(sorted(slashes | {at for at in bar.slashes if at > first})),
    )
