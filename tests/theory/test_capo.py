"""A capo and a lower tuning as one value."""

import pytest

from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, NO_CAPO, Capo, parse_capo


@pytest.mark.parametrize("number", range(-MOST_TUNED_DOWN, HIGHEST_CAPO + 1))
def test_one_number_stands_for_a_capo_or_a_lower_tuning(number: int) -> None:
    """Each number that may be typed comes back from the capo it stands for."""
    capo = parse_capo(str(number))
    assert capo.raised == number
    assert (capo.fret, capo.tuned_down) == ((number, 0) if number >= 0 else (0, -number))


@pytest.mark.parametrize(
    ("capo", "raised", "label"),
    [
        (NO_CAPO, 0, "no capo"),
        (Capo(3), 3, "capo 3"),
        (Capo(tuned_down=1), -1, "tuned down 1"),
        (Capo(2, 1), 1, "tuned down 1, capo 2"),
        (Capo(1, 1), 0, "tuned down 1, capo 1"),
    ],
)
def test_a_capo_raises_and_a_lower_tuning_lowers(capo: Capo, raised: int, label: str) -> None:
    """Each fret raises a half step (equal temperament), and both can go together."""
    assert (capo.raised, str(capo)) == (raised, label)


@pytest.mark.parametrize("text", ["", "two", "1.5", "12", "-6", "٣", "1 2"])
def test_anything_else_is_no_capo(text: str) -> None:
    """What is no number, or out of reach, is refused in words."""
    with pytest.raises(ValueError, match=r"not a fret|out of reach"):
        parse_capo(text)
