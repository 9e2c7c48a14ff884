"""The table of low-interval limits."""

from itertools import pairwise

from chartkit.fretboard.low_intervals import LOWEST_LOWER_NOTE, half_steps_too_low, mud
from chartkit.theory.pitch import parse_pitch


def _midi(text: str) -> list[int]:
    return [parse_pitch(word).midi for word in text.split()]


def test_limits_as_remembered() -> None:
    """Each interval's lowest lower note is the one written down from memory, by name."""
    remembered = {
        1: "E3",
        2: "Eb3",
        3: "C3",
        4: "Bb2",
        5: "Bb2",
        6: "Bb2",
        7: "Bb1",
        8: "F2",
        9: "F2",
        10: "F2",
        11: "F2",
        13: "E2",
        14: "Eb2",
        15: "C2",
        16: "Bb1",
    }
    assert {n: parse_pitch(text).midi for n, text in remembered.items()} == LOWEST_LOWER_NOTE


def test_the_wider_of_two_kin_intervals_may_lie_lower() -> None:
    """Minor and major of one name: the wider one's limit is never higher."""
    for narrow, wide in pairwise((1, 2, 3, 4)):
        assert LOWEST_LOWER_NOTE[wide] <= LOWEST_LOWER_NOTE[narrow]


def test_mud_counts_half_steps_below_the_limits() -> None:
    """A third on low G lies three half steps too low; octaves and fifths on low E are clear."""
    assert half_steps_too_low(*_midi("G2 B2")) == 3
    assert mud(_midi("E2 B2 E3")) == 0
    assert mud(_midi("C3 E3 G3")) == 0
    assert mud(_midi("A2 C#3 E3")) == 1
