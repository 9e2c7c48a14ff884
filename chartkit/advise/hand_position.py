"""The cost of changing from one voicing to another, and what stays the same."""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot

from chartkit.advise.settings import MovementCosts
from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.hand import FINGERS, fret_places_mm, string_gaps_mm
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.shape_text import Frets

_STRINGS_BITS = 16
_FRET_BITS = 32 * _STRINGS_BITS


@dataclass(frozen=True, slots=True)
class HandPosition:
    """A voicing ready for comparing.

    ``opened`` has a bit for each open string, ``held`` one for each finger on each string
    and fret.  ``fingers`` hold for each finger its place (string, fret, mm along, mm
    across), None where it is free; ``hand_mm`` is where the hand lies, None with no finger
    down.
    """

    opened: int
    held: int
    fingers: tuple[tuple[int, int, float, float] | None, ...]
    hand_mm: float | None


def hand_position(voicing: Voicing, board: Fretboard) -> HandPosition:
    """The hand's position on a voicing of a fretboard, in mm from the nut.

    As for the voicings, distances are those at the nut whatever the capo, so that a song and a
    capo moved together are played alike.
    """
    return _position(voicing.frets, voicing.fingers, board.instrument)


@lru_cache(maxsize=8192)
def _position(frets: Frets, on_strings: tuple[int, ...], instrument: Instrument) -> HandPosition:
    along = fret_places_mm(instrument, 0)
    gaps = string_gaps_mm(instrument, 0)
    opened = held = 0
    fingers: list[tuple[int, int, float, float] | None] = [None] * 5
    for string, (fret, finger) in enumerate(zip(frets, on_strings, strict=True)):
        if fret == 0:
            opened |= 1 << string
        elif fret and finger:
            held |= 1 << (finger * _FRET_BITS + fret * _STRINGS_BITS + string)
            if fingers[finger - 1] is None:
                fingers[finger - 1] = (string, fret, along[fret], string * gaps[fret])
    return HandPosition(opened, held, tuple(fingers), _hand_mm(fingers, along))


def _hand_mm(
    fingers: list[tuple[int, int, float, float] | None], along: tuple[float, ...]
) -> float | None:
    """Where the index finger is or would be: one fret lower for each finger above it.

    The thumb does not count.
    """
    for finger, place in enumerate(fingers[: len(FINGERS)]):
        if place is not None:
            return along[max(1, place[1] - finger)]
    return None


def movement(one: HandPosition, other: HandPosition, costs: MovementCosts) -> float:
    """The cost for the hand of going from one grip to the other.

    Each finger of the new grip costs nothing if it stays, ``placed`` if it was free, and ``moved``
    and its distance if it goes elsewhere; the hand's distance along the neck is added.
    """
    total = 0.0
    for was, now in zip(one.fingers, other.fingers, strict=True):
        if now is None or now == was:
            continue
        if was is None:
            total += costs.placed
        else:
            way = hypot(now[2] - was[2], now[3] - was[3])
            total += costs.moved + costs.moved_per_mm * way
    if one.hand_mm is not None and other.hand_mm is not None:
        total += costs.hand_per_mm * abs(one.hand_mm - other.hand_mm)
    return total
