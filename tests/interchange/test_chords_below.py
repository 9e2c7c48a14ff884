"""Sheets with all words first and the chords below them."""

import pytest

from chartkit.chart.model import MusicRow
from tests.interchange.reading import taken_once

_WORDS = (
    "Verse 1\nPeg up the pillow and peg up the sheet\nPeg up the socks from the street\n\n"
    "Chorus\nBlow over, blow over\n\n"
    "Verse 2\nFold up the pillow and fold up the sheet\nFold up the socks for the feet\n\nChorus\n"
)


def _music(text: str) -> list[str]:
    """The chords of each section that has its own."""
    return [
        " ".join(
            str(strike.chord)
            for row in one.rows
            if isinstance(row, MusicRow)
            for bar in row.bars
            for strike in bar.strikes
        )
        for one in taken_once(text).chart.sections
    ]


@pytest.mark.parametrize(
    "chords",
    [
        "CHORDS\nverse:\nG C\nD G\nchorus:\nC G\n",
        "Verse chords:\nG C\nD G\n\nChorus chords:\nC G\n",
        "Chords:\nVERSE    G C\n         D G\nCHORUS   C G\n",
        "Chords for the verse:\nG C\nD G\n\nChords for the chorus:\nC G\n",
        "Akkorde\n\nVerse\nG C\nD G\n\nChorus\nC G\n",
    ],
)
def test_chords_below_all_words_are_those_of_the_sections_above(chords: str) -> None:
    """Each verse has those of the verse, the refrain its own, and no list is played by itself."""
    assert _music(f"Washday\n\n{_WORDS}\n{chords}") == ["G C D G", "C G", "G C D G", ""]


def test_a_last_chord_below_the_list_stays_last() -> None:
    """It is no part of the list."""
    music = _music(f"Washday\n\n{_WORDS}\nChords:\nVerse: G C D G\nChorus: C G\n\nEnd on G\n")
    assert music == ["G C D G", "C G", "G C D G", "", "G"]


def test_a_tag_below_words_without_chords_is_no_list() -> None:
    """Its name stands for no section above."""
    assert _music(f"Washday\n\n{_WORDS}\nTag\nG C D G\n")[-1] == "G C D G"
