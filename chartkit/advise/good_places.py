"""Which places are good to play in, and which are easy on the hand."""

from chartkit.advise.ranked import RankedOption

GOOD_OPEN_SHARE = 0.6
GOOD_BARRES = 0.35
"""An option is good with at least this share of time on open shapes, and at most this on barres
(ours)."""

GOOD_EFFORT = 1.1
GOOD_ODDNESS = 0.4
"""An option is good up to this mean effort and oddness (ours): C, F, G and Am at the nut
come to 0.4 and 0.1, E, A, E and a barred B to 1.0 and 0."""
_ALL_OPEN_SHARE, _ALL_OPEN_EFFORT = 0.9, 1.6
"""With this share of time on easy shapes the mean effort may be so high (ours): in drop D E 222100,
A and B7 x21202 come to 1.2, and a beginner learns them all."""

_EASY_OPEN_SHARE = 0.5
_EASY_EFFORT = 0.6
_EASY_BARRES = 0.1
"""With this share of time on open shapes the rest may be small shapes, if hardly any is a barre and
all are easy: C, F, G and a small F (ours)."""


def is_good(option: RankedOption) -> bool:
    """Whether an option is on open shapes, with few barres, and easy and usual enough.

    Barres of one finger alone count as open shapes: guitars tuned to a chord are played with them.
    """
    measures = option.measures
    one_finger = _one_finger_share(option)
    open_share = measures.open_share + one_finger
    barres = measures.barres - one_finger
    easy = measures.effort <= _EASY_EFFORT and barres <= _EASY_BARRES
    effort = _ALL_OPEN_EFFORT if open_share >= _ALL_OPEN_SHARE else GOOD_EFFORT
    return (
        open_share >= (_EASY_OPEN_SHARE if easy else GOOD_OPEN_SHARE)
        and barres <= GOOD_BARRES
        and measures.effort <= effort
        and measures.oddness <= GOOD_ODDNESS
        and not measures.unplayable
    )


def _one_finger_share(option: RankedOption) -> float:
    """The share of time, 0 to 1, on barres of one finger alone."""
    return sum(
        use.share
        for use in option.shapes
        if use.voicing is not None and use.voicing.is_one_finger_barre
    )


def is_light(option: RankedOption) -> bool:
    """Whether the hand has an easy time, open shapes or not: hardly a barre, and small effort.

    Every good place counts, whose open shapes make up for some effort.
    """
    measures = option.measures
    light = measures.effort <= _EASY_EFFORT and measures.barres <= _EASY_BARRES
    return is_good(option) or (light and not measures.unplayable)
