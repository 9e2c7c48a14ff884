"""The measures of one way through a song, and the score they add up to."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from functools import lru_cache

from chartkit.advise.hand_position import HandPosition, movement
from chartkit.advise.settings import MovementCosts, ScoreWeights
from chartkit.fretboard.voicing import Voicing

_HIGH_MUTE = 0.5
"""A muted string above the rest costs half as much as one that must be damped inside (ours)."""
_THIN = 0.5
"""The cost of the missing low strings of a small fretted shape, F xx3211 (ours): nearly as much as
a barre, so that such shapes serve for a chord or two but not for a whole song."""


@dataclass(frozen=True, slots=True)
class Measures:
    """The measures of playing a song, each a mean over time or over the chord changes.

    Over time, 0 to 1: ``open_share`` on open-position shapes, ``ring`` open strings of all
    strings, ``barres`` with three strings or more under the index finger, ``unplayable``
    on chords with no fingering.  Over time, no unit: ``mutes`` inner muted strings, half the
    high ones and small fretted shapes, ``effort`` of the hand, ``oddness`` cost above each
    chord's best voicing.  ``home_closed``: the share, 0 to 1, of the time on chords rooted on
    the key's tonic that is not on open shapes.  ``second_shapes``: how many chords are played
    in more than one shape.  Over changes: ``kept`` strings open in both shapes and ``held``
    strings whose finger stays, of all strings, 0 to 1; ``movement`` of the hand, no unit.
    """

    open_share: float = 0.0
    ring: float = 0.0
    kept: float = 0.0
    held: float = 0.0
    barres: float = 0.0
    mutes: float = 0.0
    effort: float = 0.0
    movement: float = 0.0
    oddness: float = 0.0
    unplayable: float = 0.0
    home_closed: float = 0.0
    second_shapes: float = 0.0


NAMES: tuple[str, ...] = tuple(field.name for field in fields(Measures))
OVER_CHANGES = ("kept", "held", "movement")


def contributions(measures: Measures, weights: ScoreWeights) -> dict[str, float]:
    """The contribution of each measure to the score, by name."""
    weight_of = weights_by_name(weights)
    return {name: weight_of[name] * getattr(measures, name) for name in NAMES}


@lru_cache(maxsize=64)
def weights_by_name(weights: ScoreWeights) -> dict[str, float]:
    """The weight of each measure; not to be changed."""
    return asdict(weights)


def is_thin(voicing: Voicing) -> bool:
    """Whether it is a small fretted shape: nothing open, two strings or more silent below."""
    return not voicing.open_strings and all(fret is None for fret in voicing.frets[:2])


def voicing_measures(voicing: Voicing | None, best_cost: float) -> dict[str, float]:
    """The measures over time of one moment on a voicing; None for an unplayable chord."""
    if voicing is None:
        return {"unplayable": 1.0}
    return {
        "open_share": float(voicing.in_open_position),
        "ring": len(voicing.open_strings) / len(voicing.frets),
        "barres": float(voicing.has_wide_barre),
        "mutes": voicing.inner_mutes + _HIGH_MUTE * voicing.high_mutes + _THIN * is_thin(voicing),
        "effort": voicing.effort,
        "oddness": voicing.cost - best_cost,
    }


def change_measures(
    one: HandPosition, other: HandPosition, strings: int, costs: MovementCosts
) -> tuple[float, float, float]:
    """The measures of one change: ``kept`` and ``held``, the shares from 0 to 1 of all strings that
    stay open or stay under a finger, and ``movement``, a cost without unit (``MovementCosts``)."""
    kept = (one.opened & other.opened).bit_count() / strings
    held = (one.held & other.held).bit_count() / strings
    return kept, held, movement(one, other, costs)


def mean_measures(
    moments: Sequence[tuple[float, dict[str, float]]],
    changes: Sequence[tuple[float, float, float]],
    counted: Mapping[str, float],
) -> Measures:
    """The mean measures by name: moments weighed by their beats, changes equally; with those
    counted over the whole song."""
    sums = {**dict.fromkeys(NAMES, 0.0), **counted}
    beats = sum(weight for weight, _ in moments) or 1.0
    for weight, measured in moments:
        for name, value in measured.items():
            sums[name] += weight * value / beats
    for change in changes:
        for name, value in zip(OVER_CHANGES, change, strict=True):
            sums[name] += value / len(changes)
    return Measures(**sums)
