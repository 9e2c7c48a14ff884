"""The one home of the weights that price a voicing.

The cost of a voicing is the sum of weight times feature over the fields below; each field
is one feature, and ``FEATURES`` fixes their order.  The weights were fitted to common
shapes as beginners' books print them (written down from memory), by making the usual shape
the cheapest of all playable ones; they are an index of habit and comfort, not a
measurement.  With the known grips they put all 121 such shapes first.
``tests/benchmarks/fit_weights.py`` fits again, without known grips: it lands close by but not
on the same figures, because which finger goes where changes as the weights do.

Set by judgement rather than fitted: ``known_grip`` and ``unfamiliar``, so that what players know
comes before what only the search finds; ``first_fret_barre``, so that the F barre just comes before
xx3211; ``mud`` and ``low_tensions``; ``thumb``; ``overfill_mm``; the price of each string under a
barre; ``index_lean``, so low that F/A x03211 and Dm7 xx0211 lean the index finger over two strings
and drop D's E5 over three as players do; ``away_from_nut``, more than a little finger;
``weak_barre``; ``inner_mutes`` and ``high_mutes``, above the fit, so that an honest barre comes
before a shape with gaps; and floors, so that what is harder is never priced as easier.
"""

from dataclasses import astuple, dataclass, fields


@dataclass(frozen=True, slots=True)
class Weights:
    """The weight of each feature; every field says what the feature counts."""

    # ---- what the fretting hand does
    fingers: float = 0.12
    """Fingers pressed down."""
    four_fingers: float = 0.20
    """1 when all four are."""
    little_finger: float = 0.40
    """1 when the little finger is one of them."""
    strain: float = 2.13
    """((distance - comfortable) / (largest - comfortable))² summed over finger pairs."""
    overfill_mm: float = 0.06
    """Millimetres by which three fingertips overfill one fret."""
    away_from_nut: float = 0.50
    """Frets by which the hand lies higher than an open shape asks."""
    index_lean: float = 0.05
    """Strings past the first when the index finger leans over the two or three highest played."""
    index_barre: float = 0.87
    """1 when it covers several otherwise."""
    barre_strings: float = 0.05
    """Strings under that barre."""
    first_fret_barre: float = 1.4
    """1 when a barre of any finger lies at the first fret."""
    part_barre: float = 0.99
    """Other fingers that cover several strings."""
    part_barre_strings: float = 0.10
    """Strings under them."""
    weak_barre: float = 0.50
    """Those of them by the middle or the little finger."""
    crowded_barre: float = 1.77
    """1 when another finger shares a barre's fret, or a string is damped under it."""
    thumb: float = 0.60
    """1 when the thumb presses the lowest string."""
    # ---- how far it lies from what players know
    span: float = 1.52
    """Frets from the lowest finger to the highest."""
    position: float = 1.62
    """Frets by which the lowest finger lies above the first."""
    past_fourth: float = 0.63
    """1 when a finger lies past the fourth fret."""
    movable_form: float = -3.31
    """1 for an easy open shape slid up behind a barre, where no grips are known."""
    known_grip: float = -8.0
    """The strength of a grip that players know (``known_grips``), 0 to 1."""
    unfamiliar: float = 6.0
    """1 for any other shape of a chord for which grips are known."""
    # ---- what it leaves to the picking hand
    inner_mutes: float = 3.40
    """Muted strings between played ones."""
    untouched_mutes: float = 0.60
    """Those with no finger on the next lower string to damp them."""
    low_mutes: float = 0.29
    """Muted strings below the bass."""
    high_mutes: float = 2.40
    """Muted strings above the highest played one."""
    idle_strings: float = 1.32
    """Muted strings that could have sounded a chord tone in reach."""
    # ---- what sounds
    open_strings: float = -0.15
    """Open strings that sound."""
    open_between: float = 0.10
    """Open strings between two fretted ones."""
    mud: float = 0.40
    """Half steps by which intervals lie below their limits (``low_intervals``), summed."""
    low_tensions: float = 1.0
    """Ninths, elevenths and thirteenths below the third; a sharp ninth there counts 4."""
    unisons: float = 1.63
    """Pitches that sound twice."""
    doubled_third: float = 0.10
    """Thirds beyond the first."""
    doubled_colours: float = 1.07
    """Tones that are no root, third or fifth and sound more than once."""
    omitted: float = 0.62
    """Penalties of the tones left out."""
    bass_octaves: float = 0.64
    """Octaves by which the bass lies above the lowest place for it; four times as many in a known
    grip on the highest four strings past the fourth fret."""
    wide_intervals: float = 0.68
    """Neighbouring tones more than a sixth apart."""
    lone_bass: float = 0.50
    """1 when the bass lies more than a ninth below the rest."""


FEATURES: tuple[str, ...] = tuple(field.name for field in fields(Weights))
"""The names of the features in order."""

FINGERING_FEATURES = FEATURES[: FEATURES.index("span")]
"""Those that depend on which finger goes where, which make up a voicing's effort."""

SOUND_FEATURES = FEATURES[FEATURES.index("span") :]
"""The others: where the pattern lies, and what sounds."""


def weight_tuple(weights: Weights) -> tuple[float, ...]:
    """The weights in the order of ``FEATURES``, which is the order of the fields of ``Weights``."""
    return astuple(weights)
