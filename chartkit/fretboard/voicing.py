"""A voicing: one way to play one chord, with its fingers and its price."""

from dataclasses import dataclass
from functools import cached_property

from chartkit.fretboard.hand import OPEN_POSITION
from chartkit.fretboard.weights import FEATURES
from chartkit.theory.shape_text import Frets, shape_text

_LEAN = FEATURES.index("index_lean")
_WIDE_BARRE = 3
"""An index finger over at least this many strings counts as a barre (common practice, no
source)."""
_KNOWN_OPEN_POSITION = 5
"""The highest fret of an open-position shape that is a known grip between at least two open strings
(ours): G 520003 in drop D."""
_KNOWN_OPEN_STRINGS = 2
"""The fewest open strings of such a grip (ours)."""
_KNOWN = FEATURES.index("known_grip")


@dataclass(frozen=True)
class Voicing:
    """One way to play a chord.

    ``frets`` are counted from the capo, bass side first, None for a muted string;
    ``fingers`` give the finger on each string, 1 index to 4 little, 5 the thumb, 0 for none;
    ``barre`` is the fret, first and last string under the index finger when it covers several.
    ``pitches`` are the MIDI numbers that sound, None where muted, capo and tuning counted
    in.  ``cost`` is the weighted sum of ``features`` (in the order of ``FEATURES``),
    ``effort`` the part of it that the fretting hand pays.  Both have no unit.
    """

    frets: Frets
    fingers: tuple[int, ...]
    barre: tuple[int, int, int] | None
    pitches: tuple[int | None, ...]
    cost: float
    effort: float
    features: tuple[float, ...]

    def __str__(self) -> str:
        return shape_text(self.frets)

    def sounding(self, pitches: tuple[int | None, ...]) -> "Voicing":
        """A copy of the shape with other pitches, under a capo or on a guitar tuned down."""
        return Voicing(
            frets=self.frets,
            fingers=self.fingers,
            barre=self.barre,
            pitches=pitches,
            cost=self.cost,
            effort=self.effort,
            features=self.features,
        )

    @property
    def explained(self) -> dict[str, float]:
        """The features that are not zero, by name."""
        return {name: value for name, value in zip(FEATURES, self.features, strict=True) if value}

    @cached_property
    def open_strings(self) -> frozenset[int]:
        """The strings that sound open."""
        return frozenset(string for string, fret in enumerate(self.frets) if fret == 0)

    @cached_property
    def stopped(self) -> dict[int, tuple[int, int]]:
        """For each finger in use the string (its lowest) and the fret it presses."""
        stopped: dict[int, tuple[int, int]] = {}
        for string, finger in enumerate(self.fingers):
            if finger:
                stopped.setdefault(finger, (string, self.frets[string] or 0))
        return stopped

    @cached_property
    def inner_mutes(self) -> int:
        """Muted strings between played ones."""
        played = [string for string, fret in enumerate(self.frets) if fret is not None]
        return played[-1] - played[0] + 1 - len(played)

    @cached_property
    def high_mutes(self) -> int:
        """Muted strings above the highest played one."""
        return len(self.frets) - 1 - max(s for s, f in enumerate(self.frets) if f is not None)

    @cached_property
    def has_wide_barre(self) -> bool:
        """Whether the index finger lies flat over three strings or more.

        One that leans over the highest three and has nothing else to do, in Dmaj7 xx0222, does not.
        """
        wide = self.barre is not None and self.barre[2] - self.barre[1] >= _WIDE_BARRE - 1
        return wide and not self.features[_LEAN]

    @cached_property
    def is_one_finger_barre(self) -> bool:
        """Whether a wide barre is all there is to press: C x55555 in open G, which is easy."""
        return self.has_wide_barre and len(self.stopped) == 1

    @cached_property
    def in_open_position(self) -> bool:
        """Whether this is an open-position shape.

        This means: an open string sounds, no finger lies past the fourth fret (the fifth in a known
        grip), and there is no wide barre (common practice, no source).
        """
        known = self.features[_KNOWN] > 0 and len(self.open_strings) >= _KNOWN_OPEN_STRINGS
        last = _KNOWN_OPEN_POSITION if known else OPEN_POSITION
        at_the_nut = max(fret or 0 for fret in self.frets) <= last
        return bool(self.open_strings) and at_the_nut and not self.has_wide_barre
