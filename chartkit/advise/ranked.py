"""The values of a ranked option: its shapes, its measures, its score."""

from dataclasses import dataclass

from chartkit.advise.measures import Measures
from chartkit.fretboard.voicing import Voicing
from chartkit.theory.capo import Capo
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key


@dataclass(frozen=True, slots=True)
class ShapeUse:
    """A shape the song uses: its name, its chord, how it is played and for how long.

    ``voicing`` is None where the instrument cannot sound the chord; ``share`` is the part
    of the song's time spent on it, 0 to 1.
    """

    shape: Chord
    sounding: Chord
    voicing: Voicing | None
    share: float


@dataclass(frozen=True, slots=True)
class RankedOption:
    """One option: its keys, its measures, and the reason for its rank.

    ``shape_keys`` and ``sounding_keys`` follow the song's key areas, ``open_shares`` are the
    shares of time on open shapes in each.  ``shapes`` are in order of appearance,
    ``voicings`` one for each held chord of the song.  ``score`` is an index without unit, the
    sum of the weighted measures minus ``price``, the cost of the capo or the tuning.
    """

    option: Capo
    shape_keys: tuple[Key, ...]
    sounding_keys: tuple[Key, ...]
    shapes: tuple[ShapeUse, ...]
    voicings: tuple[Voicing | None, ...]
    measures: Measures
    open_shares: tuple[float, ...]
    drones: int
    price: float
    score: float
    reason: str = ""
