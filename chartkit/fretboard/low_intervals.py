"""The low-interval limits: how low an interval may lie before it sounds muddy.

Values from memory of what arranging handbooks teach for a band's chords; handbooks differ from
one another by a half step or two, and no source was looked up.  Pitches are MIDI numbers of
what sounds, capo and tuning counted in.
"""

from collections.abc import Sequence
from itertools import combinations

LOWEST_LOWER_NOTE: dict[int, int] = {
    1: 52,  # minor second: E3
    2: 51,  # major second: E flat 3
    3: 48,  # minor third: C3
    4: 46,  # major third: B flat 2
    5: 46,  # fourth: B flat 2
    6: 46,  # tritone: B flat 2
    7: 34,  # fifth: B flat 1
    8: 41,  # sixths and sevenths: F2
    9: 41,
    10: 41,
    11: 41,
    13: 40,  # minor ninth: E2
    14: 39,  # major ninth: E flat 2
    15: 36,  # minor tenth: C2
    16: 34,  # major tenth: B flat 1
}
"""Half steps of an interval to the lowest pitch its lower note may have; other intervals are
clear anywhere on a guitar."""


def half_steps_too_low(lower: int, upper: int) -> int:
    """By how many half steps an interval lies below its limit; 0 if it is clear."""
    limit = LOWEST_LOWER_NOTE.get(upper - lower)
    return 0 if limit is None else max(0, limit - lower)


def mud(pitches: Sequence[int]) -> int:
    """The half steps below their limits of all pairs of pitches, lowest pitch first, summed."""
    return sum(half_steps_too_low(lower, upper) for lower, upper in combinations(pitches, 2))
