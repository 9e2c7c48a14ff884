"""The rhythm figures of a second guitar, by name.

Every rhythm guitarist knows them (common practice, no source; the two-and-four
chop and off-beat eighths are in any handbook of rhythm guitar, from memory).  A figure is counted
by the pulse: in 6/8 that is the dotted beat.
"""

from dataclasses import dataclass
from typing import Literal

from chartkit.chart.model import TICKS_PER_BEAT, Meter

FigureName = Literal[
    "let ring",
    "halves",
    "quarters",
    "two and four",
    "off-beats",
    "picked eighths",
    "eighths",
    "answer",
    "lift",
]
HALF_BEAT = TICKS_PER_BEAT // 2


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure in one meter.

    ``onsets`` are ticks from the bar's start; ``short`` says that each stroke is stopped at
    once and silence follows, else it sounds until the next; ``split`` is the ticks of a part of
    a beat where beats are split.
    """

    name: FigureName
    onsets: tuple[int, ...]
    short: bool
    split: int

    def strokes_a_beat(self, beats: int) -> float:
        """How often it strikes in a beat."""
        return len(self.onsets) / beats


def figure_in(name: FigureName, meter: Meter) -> Figure | None:
    """The figure in that meter; None where the meter has no such figure."""
    beats = meter.beats
    split = TICKS_PER_BEAT // 3 if meter.compound else HALF_BEAT
    onsets = _beats_struck(name, beats) or _inside_beats(name, beats, split)
    if not onsets:
        return None
    return Figure(name, tuple(onsets), name in ("two and four", "off-beats"), split)


def _beats_struck(name: FigureName, beats: int) -> list[int]:
    if name == "let ring":
        return [0]
    if name == "halves" and beats % 2 == 0 and beats > 1:
        return [beat * TICKS_PER_BEAT for beat in range(0, beats, max(1, beats // 2))]
    if name == "quarters" and beats > 1:
        return [beat * TICKS_PER_BEAT for beat in range(beats)]
    if name == "two and four" and beats > 1:
        chopped = range(1, beats) if beats == 3 else range(1, beats, 2)
        return [beat * TICKS_PER_BEAT for beat in chopped]
    return []


def _inside_beats(name: FigureName, beats: int, split: int) -> list[int]:
    starts = range(0, beats * TICKS_PER_BEAT, TICKS_PER_BEAT)
    if name == "off-beats":
        return [start + TICKS_PER_BEAT - split for start in starts]
    if name in ("picked eighths", "eighths"):
        return [start + part for start in starts for part in range(0, TICKS_PER_BEAT, split)]
    if name == "lift" and beats > 1:
        half = (beats + 1) // 2 * TICKS_PER_BEAT
        return [0, *range(half, beats * TICKS_PER_BEAT, TICKS_PER_BEAT)]
    if name == "answer" and beats > 1:
        half = (beats + 1) // 2 * TICKS_PER_BEAT
        whole = beats * TICKS_PER_BEAT
        return [half, *range(half + TICKS_PER_BEAT, whole, split)]
    return []


FASTEST_CHORDS = 6.0
"""Strums a second that a hand keeps up for a whole song (assumption)."""
FASTEST_PICKED = 8.0
"""Plucked notes a second (assumption)."""


def playable_at(figure: Figure, beats: int, tempo: int) -> bool:
    """Whether a hand can keep the figure up at the tempo, in beats per minute."""
    a_second = figure.strokes_a_beat(beats) * tempo / 60
    limit = FASTEST_PICKED if figure.name == "picked eighths" else FASTEST_CHORDS
    return a_second <= limit
