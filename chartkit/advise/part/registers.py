"""The registers of a part on the neck: high, middle, low, or both edges.

The four are what a second guitarist chooses from (common practice, no source): high over a low
first part, low under a high one, the edges round a full middle, the middle where the first part
leaves it.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from typing import Literal

from chartkit.fretboard.partial_grips import StringSet

RegisterName = Literal["high", "middle", "low", "edges"]

MOST_STRINGS = 4
MOST_SKIPPED, MOST_SKIPPED_PLUCKED = 1, 3
"""The most inner strings that a grip may leave out. Under a pick a finger damps one, not two; thumb
and fingers can pluck strings further apart (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class RegisterRule:
    """Which strings and frets a part in a register may use.

    ``lowest_string`` and ``highest_string`` count strings from the treble side, 0 first (the
    player's first string); ``highest_fret`` is the last fret, ``easy_fret`` the last one if the
    player did not ask for this register; ``under_the_bass`` allows notes below the first guitar's
    bass; ``spread`` asks for one low string and the top strings, played with thumb and fingers.
    """

    name: RegisterName
    lowest_string: int
    highest_string: int
    highest_fret: int
    easy_fret: int
    under_the_bass: bool = False
    spread: bool = False

    def admits(self, strings: StringSet, all_strings: int) -> bool:
        """Whether a grip on those strings lies in this register."""
        played = [all_strings - 1 - string for string in strings]
        if max(played) > self.lowest_string or min(played) < self.highest_string:
            return False
        skipped = skipped_strings(strings)
        if not self.spread:
            return skipped <= MOST_SKIPPED
        low = sum(string > 2 for string in played)
        return skipped <= MOST_SKIPPED_PLUCKED and low == 1 and min(played) == 0


def skipped_strings(strings: StringSet) -> int:
    """How many strings between those of a set are left out."""
    return strings[-1] - strings[0] + 1 - len(strings)


REGISTERS: tuple[RegisterRule, ...] = (
    RegisterRule(name="high", lowest_string=3, highest_string=0, highest_fret=12, easy_fret=10),
    RegisterRule(name="middle", lowest_string=4, highest_string=1, highest_fret=9, easy_fret=9),
    RegisterRule(
        name="edges", lowest_string=5, highest_string=0, highest_fret=10, easy_fret=9, spread=True
    ),
    RegisterRule(
        name="low",
        lowest_string=6,
        highest_string=2,
        highest_fret=7,
        easy_fret=7,
        under_the_bass=True,
    ),
)
"""The registers in the order in which they are offered at equal cost."""


def within_easy_reach(rule: RegisterRule) -> RegisterRule:
    """The register as it is proposed by default: no fret past ``easy_fret``, since nobody plays at
    the twelfth fret for a whole song."""
    return replace(rule, highest_fret=rule.easy_fret)


@lru_cache(maxsize=64)
def string_sets(rule: RegisterRule, all_strings: int) -> tuple[StringSet, ...]:
    """The sets of two to four strings that lie in the register."""
    return tuple(
        strings
        for size in range(2, min(MOST_STRINGS, all_strings) + 1)
        for strings in combinations(range(all_strings), size)
        if rule.admits(strings, all_strings)
    )
