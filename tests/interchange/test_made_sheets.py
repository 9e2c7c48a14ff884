"""Sheets put together at random from habits of typing, compared with the songs they stand for."""

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.interchange.made_sheets import faults_of, made
from tests.interchange.typed_sheets import silent

KEPT = 120
"""Sheets that every run reads."""


def test_made_sheets_are_read_as_they_were_made() -> None:
    """Sections, chords, words, repeats and head of all of them are right."""
    assert {seed: found for seed in range(KEPT) if (found := faults_of(seed))} == {}


@settings(max_examples=10, deadline=None)
@given(st.integers(KEPT, 2**32 - 1))
def test_no_made_sheet_is_wrong_in_silence(seed: int) -> None:
    """Where a section is not the one that was made, a finding stands at its lines."""
    assert not faults_of(seed) or silent(made(seed)) == []


def test_a_seed_makes_one_sheet() -> None:
    """The same seed makes the same sheet, another one another."""
    assert made(3) == made(3)
    assert made(3).text != made(4).text
