"""Eighths as a swing or a shuffle has them: the second of a beat comes with the last third of a
triplet (common practice at medium tempos, no source)."""

import re
from fractions import Fraction

from chartkit.chart.model import Meter

_SWUNG = re.compile(r"\b(?:swing\w*|swung|shuffle[ds]?|ternary|ternär)\b", re.IGNORECASE)
_STRAIGHT = re.compile(r"\bstraight\b|\b(?:16|sixteen)\w*|\b(?:no|not|without) ", re.IGNORECASE)
_HALF, _LATE = Fraction(1, 2), Fraction(2, 3)
_OF_TRIPLETS = frozenset((3, 6))


def is_swung(feel: str, meter: Meter) -> bool:
    """Whether a feel in the writer's words asks for swung eighths, in a meter whose quarters have
    two."""
    said = _SWUNG.search(feel) is not None and _STRAIGHT.search(feel) is None
    return said and not meter.compound and meter.unit in (2, 4)


def swung_time(time: Fraction) -> Fraction:
    """Where a place in quarter notes is played; triplets stay as they are written."""
    whole = time // 1
    part = time - whole
    if part.denominator in _OF_TRIPLETS:
        return time
    late = part * _LATE / _HALF if part <= _HALF else _LATE + (part - _HALF) * (1 - _LATE) / _HALF
    return whole + late
