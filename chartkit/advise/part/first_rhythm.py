"""The first guitar's strokes in a bar, as its chart writes them or as a guess."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Meter
from chartkit.chart.signs import plain_slashes

FirstHand = Literal["strummed", "picked", "sparse"]


@dataclass(frozen=True, slots=True)
class FirstRhythm:
    """The share of bars in which the first guitar strikes at each tick, and whether that is known:
    written in the chart or said by the player.

    ``strikes`` maps ticks from the bar's start to a share, 0 to 1.
    """

    strikes: dict[int, float]
    beats: int
    known: bool

    @property
    def strokes_a_beat(self) -> float:
        """How often it strikes in a beat, as a mean."""
        return sum(self.strikes.values()) / max(1, self.beats)


def struck_onsets(bar: Bar) -> tuple[int, ...]:
    """The places where a bar is struck as written: chords, and slashes if its beats are written."""
    onsets = {strike.onset for strike in bar.strikes if strike.chord is not None}
    onsets |= set(bar.slashes)
    if bar.beats_written:
        onsets |= set(plain_slashes(bar))
    return tuple(sorted(onsets))


def first_rhythm(bars: Sequence[Bar], meter: Meter, hand: FirstHand | None) -> FirstRhythm:
    """The first guitar's strokes over some bars in one meter.

    ``hand`` says how it plays, whatever its chart writes; None takes what is written or, if most
    bars say nothing, eighths as they are usually strummed.
    """
    played = [bar for bar in bars if bar.length == meter.beats * TICKS_PER_BEAT and bar.strikes]
    written = 2 * sum(bar.beats_written for bar in played) > len(played)
    if hand is None and written:
        return FirstRhythm(_shares([struck_onsets(bar) for bar in played]), meter.beats, known=True)
    usual = _usual(hand or "strummed", meter)
    each = [
        struck_onsets(bar) if hand == "sparse" else (*usual, *struck_onsets(bar)) for bar in played
    ]
    return FirstRhythm(_shares(each or [usual]), meter.beats, hand is not None)


def _shares(bars: Sequence[tuple[int, ...]]) -> dict[int, float]:
    strikes: dict[int, float] = {}
    for onsets in bars:
        for onset in set(onsets):
            strikes[onset] = strikes.get(onset, 0.0) + 1 / len(bars)
    return strikes


def _usual(hand: FirstHand, meter: Meter) -> tuple[int, ...]:
    """The strokes if nothing is written (common practice, no source): strummed, down on each
    beat and up after all but the first; picked, every eighth."""
    split = TICKS_PER_BEAT // 3 if meter.compound else TICKS_PER_BEAT // 2
    every = range(0, meter.beats * TICKS_PER_BEAT, split)
    if hand == "picked":
        return tuple(every)
    if hand == "sparse":
        return (0,)
    return tuple(onset for onset in every if onset % TICKS_PER_BEAT == 0 or onset > TICKS_PER_BEAT)
