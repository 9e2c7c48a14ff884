"""A line under chords is sung or said to the players, by the habits of the sheet."""

import pytest

from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_ROW, _WORDS = "C        G        Am      F\n", "Every gate is open on the lane\n"
_STANZA = (_ROW + _WORDS) * 2
_SONG = f"Verse 1\n{_STANZA}\nChorus\n{_STANZA}\n"


@pytest.mark.parametrize(
    "said",
    ["(hold the last one)", "(tous ensemble, net)", "solo voz y palmas", "guitars: very quiet."],
)
def test_what_is_said_at_the_end(said: str) -> None:
    """Small letters, nothing else sung in the section, a section that is played: it is said."""
    last = parts_of(taken(f"{_SONG}Outro\nC  G  C\n{said}\n").chart)[-1]
    assert last.words == ""
    assert said.strip("()") in " ".join(last.cues)


@pytest.mark.parametrize(
    "sung", ["(ooh, ooh)", "(Every gate is open on the lane)", "Nobody is home", "I went home"]
)
def test_what_is_sung_at_the_end(sung: str) -> None:
    """Vocal syllables, lines that are sung elsewhere, and lines like the others are sung."""
    last = parts_of(taken(f"{_SONG}Outro\n{_ROW}{sung}\n").chart)[-1]
    assert last.words == "".join(c for c in sung.casefold() if c.isalnum())


def test_a_remark_between_a_name_and_its_chords() -> None:
    """What stands in parentheses between a name and its chords is a remark, whatever it names."""
    text = f"{_SONG}Solos\n(piano, then trade fours)\n| C | G | C | F |\n"
    last = parts_of(taken(text).chart)[-1]
    assert (last.name, last.cues) == ("Solos", ["piano, then trade fours"])
