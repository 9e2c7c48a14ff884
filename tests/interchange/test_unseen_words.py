"""Names that nobody uses are known by how they stand in the sheet."""

from tests.each import each
from tests.interchange.typed_sheets import ROW, STANZA, WORDS, names_of_parts
from tests.interchange.unseen_words import one_name, survivors

_SURVIVE = 0.6
"""Of the known sheets with an invented name for one kind of section, so many are still right;
0.57 were before names were found by evidence."""


def test_invented_names_survive() -> None:
    """Most sheets in which one section has an invented name become the same chart."""
    every = [right for _, right in survivors(one_name, step=5)]
    assert sum(every) >= _SURVIVE * len(every)


@each("signs", ["({})", "--- {} ---", "*{}*", "{}:", "== {}"])
def test_the_signs_of_the_other_names(signs: str) -> None:
    """A line in the signs that the sheet has around its other names is a name."""
    typed = [signs.format(name) for name in ("Verse 1", "Lantern", "Verse 2", "Lantern x2")]
    text = "\n".join(f"{name}\n{STANZA}" for name in typed[:3]) + f"\n{typed[3]}\n"
    assert names_of_parts(text) == ["Verse 1", "Lantern", "Verse 2", "Lantern x2"]


def test_numbers_count_on() -> None:
    """What stands apart and counts on names sections, also where they stand over words."""
    text = f"Chorus\n{STANZA}\nLantern 1\n{STANZA}\nLantern 2\n{WORDS * 2}\nChorus\n"
    assert names_of_parts(text) == ["Chorus", "Lantern 1", "Lantern 2", "Chorus"]


@each("words", ["Stop the band", "Going home", "Oh no"])
def test_words_under_chords_stay_words(words: str) -> None:
    """A short line of words under chords names nothing, though it begins as names do."""
    text = f"Verse 1\n{ROW}{words}\n\nChorus\n{STANZA}\nVerse 2\n{ROW}{words}\n"
    assert names_of_parts(text) == ["Verse 1", "Chorus", "Verse 2"]


def test_a_title_is_no_section() -> None:
    """The title stands above the song in the letters of the names, and is none."""
    text = f"LANTERN\n\nVERSE 1\n{STANZA}\nCHORUS\n{STANZA}"
    assert names_of_parts(text) == ["VERSE 1", "CHORUS"]


@each("name", ["Lantern", "All hands", "Lift"])
def test_names_that_no_empty_line_sets_off(name: str) -> None:
    """A line too many between words and chords is a name, where every row has one line of words."""
    text = f"Verse 1\n{STANZA}{name}\n{STANZA}Chorus\n{STANZA}Verse 2\n{STANZA}{name}\nChorus\n"
    assert names_of_parts(text) == ["Verse 1", name, "Chorus", "Verse 2", name, "Chorus"]
