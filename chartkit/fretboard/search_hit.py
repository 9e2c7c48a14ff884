"""One hit of the search for voicings."""

from dataclasses import dataclass

from chartkit.fretboard.fingering import Fingering
from chartkit.fretboard.sounding import SoundFeatures
from chartkit.theory.shape_text import Frets


@dataclass(frozen=True, slots=True)
class SearchHit:
    """A playable pattern: its whole cost, its fingering, and the features of its sound."""

    cost: float
    frets: Frets
    fingering: Fingering
    sound: SoundFeatures

    @property
    def order(self) -> tuple[float, tuple[int, ...]]:
        """Cheapest first; of equal ones the one whose first differing fret is lower."""
        return round(self.cost, 9), tuple(99 if fret is None else fret for fret in self.frets)
