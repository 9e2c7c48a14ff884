"""Ties of silence: a file can tie slashes after N.C., a rest or a stopped chord; a chart cannot
hold what does not sound."""

from dataclasses import replace
from typing import Literal

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Strike
from chartkit.chart.signs import has_signs, plain_slashes, written_signs

Silence = Literal["", "stop", "rest", "none"]
"""Why nothing sounds: a chord was stopped, a rest or a muted stroke came, or N.C.; empty where
something does.  A slash ends a rest, a slash inside a beat a stop too, only a chord N.C."""


def silence_after(strike: Strike) -> Silence:
    """The silence that a strike leaves: that of N.C., or of a stopped chord that does not ring."""
    if strike.chord is None:
        return "none"
    return "stop" if strike.stopped and not strike.ringing else ""


def without_held_silence(bar: Bar, silence: Silence) -> tuple[Bar, Silence]:
    """The bar with no beat that begins with a hold of silence, and the silence it ends in;
    ``silence`` is that in which it begins.

    Such a beat has a slash instead.  Inside a beat a hold stays: it only makes a part longer.
    """
    if bar.strikes and not (bar.strikes[0].onset or has_signs(bar)):
        return bar, silence_after(bar.strikes[-1]) if bar.length else ""
    holds: list[int] = []
    slashes = list(bar.slashes)
    strikes = {strike.onset: strike for strike in bar.strikes}
    unstruck = {*bar.silences, *bar.mutes}
    for onset in _onsets(bar):
        if onset in strikes:
            silence = silence_after(strikes[onset])
        elif onset in unstruck:
            silence = "rest"
        elif onset not in bar.holds:
            silence = _after_slash(silence, onset in bar.slashes)
        elif silence and onset % TICKS_PER_BEAT == 0:
            slashes += [onset] * _split(bar, onset)
            silence = _after_slash(silence, _split(bar, onset))
        else:
            holds.append(onset)
    if bar.rest:
        silence = "rest"
    ends = silence if bar.length else ""
    if len(holds) == len(bar.holds):
        return bar, ends
    return replace(bar, holds=tuple(holds), slashes=tuple(sorted(slashes))), ends


def _after_slash(silence: Silence, split: bool) -> Silence:
    return "" if silence == "rest" or (split and silence == "stop") else silence


def _onsets(bar: Bar) -> list[int]:
    """Where something begins in a bar, the slashes that follow by themselves included."""
    struck = (strike.onset for strike in bar.strikes)
    plain = plain_slashes(bar) if bar.beats_written else ()
    return sorted({*struck, *written_signs(bar), *plain})


def _split(bar: Bar, beat: int) -> bool:
    """Whether something else stands in the beat that begins there."""
    return any(beat < onset < beat + TICKS_PER_BEAT for onset in _onsets(bar))


def without_first_holds(bar: Bar) -> Bar:
    """The first bar of a song in which anything is struck, without holds before the first stroke.

    The beats before it become plain.  In a beat that is split, by a rest, a muted stroke or the
    first stroke itself, a hold becomes a slash.
    """
    first = bar.strikes[0].onset if bar.strikes else bar.length
    if not any(hold < first for hold in bar.holds):
        return bar
    split = {onset // TICKS_PER_BEAT for onset in (*bar.silences, *bar.mutes)}
    split.add(first // TICKS_PER_BEAT)
    before = (onset for onset in (*bar.slashes, *bar.holds) if onset < first)
    slashes = {onset for onset in before if onset // TICKS_PER_BEAT in split}
    return replace(
        bar,
        holds=tuple(hold for hold in bar.holds if hold > first),
        slashes=tuple(sorted(slashes | {onset for onset in bar.slashes if onset > first})),
    )
