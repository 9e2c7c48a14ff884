"""A capo and a lower tuning as one value."""

import pytest

from chartkit.theory.capo import HIGHEST_CAPO, MOST_TUNED_DOWN, NO_CAPO, Capo, parse_capo
from tests.each import each


@each("number", range(-MOST_TUNED_DOWN, HIGHEST_CAPO + 1))
def test_one_number_stands_for_a_capo_or_a_lower_tuning(number: int) -> None:
    """Each number that may be typed comes back from the capo it stands for."""
    capo = parse_capo(str(number))
    assert capo.raised == number
    assert (capo.fret, capo.tuned_down) == ((number, 0) if number >= 0 else (0, -number))


@each(
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


@each("text", ["", "two", "1.5", "12", "-6", "٣", "1 2"])
def test_anything_else_is_no_capo(text: str) -> None:
    """Other texts, and numbers out of reach, are refused in plain words."""
    with pytest.raises(ValueError, match=r"not a fret|out of reach"):
        parse_capo(text)


@each(
    ("text", "written", "words"),
    [
        ("2 over strings 5-3", "2 over strings 5-3", "capo 2 over strings 5 to 3"),
        ("2 on strings 3 to 5", "2 over strings 5-3", "capo 2 over strings 5 to 3"),
        ("4 over string 6", "4 over string 6", "capo 4 over string 6"),
        ("3", "3", "capo 3"),
        ("-1", "-1", "tuned down 1"),
    ],
)
def test_capos_over_some_strings(text: str, written: str, words: str) -> None:
    """Strings are named from either side; what is written reads back as the same capo."""
    capo = parse_capo(text)
    assert (capo.written, str(capo)) == (written, words)
    assert parse_capo(capo.written) == capo
    assert capo.raised == int(text.split()[0])


@each("fret_and_strings", ["0 5-3", "12 5-3", "-1 5-3", "2 0-3"])
def test_short_capos_that_cannot_be(fret_and_strings: str) -> None:
    """A short capo sits at a fret, and strings are counted from 1."""
    with pytest.raises(ValueError, match=r"short capo|counted from 1"):
        parse_capo(fret_and_strings.replace(" ", " over strings "))
