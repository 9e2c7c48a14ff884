"""The signs of a bar whose beats are written, besides its chords."""

from typing import Literal

from chartkit.chart.model import TICKS_PER_BEAT, Bar

Sign = Literal["/", "_", "r", "x"]
"""A slash (the chord struck again), a hold, a rest, a muted stroke, as each is typed."""
SLASH: Sign = "/"
HOLD: Sign = "_"
SILENCE: Sign = "r"
MUTE: Sign = "x"


def written_signs(bar: Bar) -> dict[int, Sign]:
    """The signs that the bar keeps, by their onsets in ticks."""
    signs: dict[int, Sign] = dict.fromkeys(bar.holds, HOLD)
    signs |= dict.fromkeys(bar.slashes, SLASH)
    signs |= dict.fromkeys(bar.silences, SILENCE)
    return signs | dict.fromkeys(bar.mutes, MUTE)


def plain_slashes(bar: Bar) -> list[int]:
    """The onsets of slashes that follow by themselves: on beats with nothing else in them."""
    onsets = (*(strike.onset for strike in bar.strikes), *written_signs(bar))
    filled = {onset // TICKS_PER_BEAT for onset in onsets}
    beats = range(bar.length // TICKS_PER_BEAT)
    return [beat * TICKS_PER_BEAT for beat in beats if beat not in filled]
