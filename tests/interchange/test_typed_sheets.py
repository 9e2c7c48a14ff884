"""Sheets as people type them become the charts that musicians would make of them."""

import pytest

from tests.interchange.typed_sheets import TypedSheet, differences, sheets

EVERY = sheets("sheets_*")
_TUNED_ON, _KEPT_APART = [*EVERY[::2], *sheets("more_*")], EVERY[1::2]
_KNOWN_SHARE = 0.8
"""How many of the sheets that the reader was never tuned on are wholly right, at least."""


@pytest.mark.parametrize("sheet", _TUNED_ON, ids=lambda one: one.name)
def test_sheet(sheet: TypedSheet) -> None:
    """Sections, chords, words, repeats and the head are those of the expected chart."""
    assert not differences(sheet)


def test_sheets_kept_apart() -> None:
    """Most of the sheets on which nothing was tuned are wholly right too."""
    right = sum(not differences(sheet) for sheet in _KEPT_APART)
    assert right >= _KNOWN_SHARE * len(_KEPT_APART)
