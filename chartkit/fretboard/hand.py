"""The hand in millimetres: where fingers press and how far they reach.

Fret n lies at L (1 - 2^(-n/12)) from the nut (equal temperament).  Reaches are assumptions, fitted
together with the weights to shapes that every player knows; they are not based on a published
measurement of a hand.
"""

from dataclasses import dataclass
from functools import cache

from chartkit.fretboard.instrument import Instrument

FINGERS = (1, 2, 3, 4)
"""Index, middle, ring and little finger."""

THUMB = 5
"""The thumb, if it reaches over the neck."""

OPEN_POSITION = 4
"""The highest fret of an open-position shape (common practice, no source)."""
PRESS_BEHIND_FRET = 0.3
"""A finger presses this share of a fret behind it (assumption)."""

Reach = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Hand:
    """A fretting hand.

    ``reaches_mm`` holds, for the finger pairs 1-2, 1-3, 1-4, 2-3, 2-4, 3-4, the distance
    that is comfortable and the largest one.  ``widest`` is how many strings of one fret
    each finger can cover; ``finger_width_mm`` what three fingertips in one fret each need.
    ``thumb`` says whether the thumb reaches over the neck to the lowest string.
    """

    reaches_mm: tuple[Reach, ...] = (
        (40.0, 72.0),
        (72.0, 100.0),
        (98.0, 122.0),
        (38.0, 60.0),
        (70.0, 96.0),
        (38.0, 58.0),
    )
    widest: tuple[int, ...] = (12, 2, 4, 2)
    window_frets: int = 4
    finger_width_mm: float = 13.0
    thumb: bool = False

    def reach(self, finger: int, next_finger: int) -> Reach:
        """The comfortable and largest distance in mm between two fingers, the lower one first."""
        return self.reaches_mm[_PAIR[finger, next_finger]]


_PAIR = {(1, 2): 0, (1, 3): 1, (1, 4): 2, (2, 3): 3, (2, 4): 4, (3, 4): 5}


@cache
def fret_places_mm(instrument: Instrument, capo: int) -> tuple[float, ...]:
    """Where a finger presses for each fret above the capo, in mm from the nut; 0 first."""
    behind = PRESS_BEHIND_FRET
    return tuple(
        instrument.scale_mm * (1 - 2 ** (-(capo + fret - behind) / 12))
        for fret in range(instrument.frets - capo + 1)
    )


@cache
def fret_widths_mm(instrument: Instrument, capo: int) -> tuple[float, ...]:
    """The room between each fret above the capo and the one before it, in mm; 0 first."""
    return tuple(
        instrument.scale_mm * (2 ** (-(capo + fret - 1) / 12) - 2 ** (-(capo + fret) / 12))
        for fret in range(instrument.frets - capo + 1)
    )


@cache
def string_gaps_mm(instrument: Instrument, capo: int) -> tuple[float, ...]:
    """The distance from one string to the next at each fret above the capo, in mm."""
    spread = instrument.bridge_spread_mm - instrument.nut_spread_mm
    return tuple(
        (instrument.nut_spread_mm + spread * place / instrument.scale_mm)
        / (len(instrument.strings) - 1)
        for place in fret_places_mm(instrument, capo)
    )
