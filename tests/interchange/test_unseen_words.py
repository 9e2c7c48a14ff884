"""Names that nobody uses are known by how they stand in the sheet."""

import pytest

from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of
from tests.interchange.unseen_words import one_name, survivors

_SURVIVE = 0.6
"""Of the known sheets with an invented name for one kind of section, so many are still right;
0.57 were before names were found by evidence."""


def test_invented_names_survive() -> None:
    """Most sheets in which one section has an invented name become the same chart."""
    every = [right for _, right in survivors(one_name, step=5)]
    assert sum(every) >= _SURVIVE * len(every)


_ROW, _WORDS = "C        G        Am      F\n", "Every gate is open on the lane\n"
_STANZA = (_ROW + _WORDS) * 2


def _names(text: str) -> list[str]:
    return [
        f"{part.name} x{part.times}" if part.times > 1 else part.name
        for part in parts_of(taken(text).chart)
    ]


@pytest.mark.parametrize("signs", ["({})", "--- {} ---", "*{}*", "{}:", "== {}"])
def test_the_signs_of_the_other_names(signs: str) -> None:
    """A line in the signs that the sheet has around its other names is a name."""
    typed = [signs.format(name) for name in ("Verse 1", "Lantern", "Verse 2", "Lantern x2")]
    text = "\n".join(f"{name}\n{_STANZA}" for name in typed[:3]) + f"\n{typed[3]}\n"
    assert _names(text) == ["Verse 1", "Lantern", "Verse 2", "Lantern x2"]


def test_numbers_count_on() -> None:
    """What stands apart and counts on names sections, also where they stand over words."""
    text = f"Chorus\n{_STANZA}\nLantern 1\n{_STANZA}\nLantern 2\n{_WORDS * 2}\nChorus\n"
    assert _names(text) == ["Chorus", "Lantern 1", "Lantern 2", "Chorus"]


@pytest.mark.parametrize("words", ["Stop the band", "Going home", "Oh no"])
def test_words_under_chords_stay_words(words: str) -> None:
    """A short line of words under chords names nothing, though it begins as names do."""
    text = f"Verse 1\n{_ROW}{words}\n\nChorus\n{_STANZA}\nVerse 2\n{_ROW}{words}\n"
    assert _names(text) == ["Verse 1", "Chorus", "Verse 2"]


def test_a_title_is_no_section() -> None:
    """The title stands above the song in the letters of the names, and is none."""
    text = f"LANTERN\n\nVERSE 1\n{_STANZA}\nCHORUS\n{_STANZA}"
    assert _names(text) == ["VERSE 1", "CHORUS"]
