"""Sheets whose chords stand under the words (common practice, no source)."""

from tests.each import each
from tests.interchange.reading import body, codes, taken

_VERSE = "Verse 1\nDown by the water the lanterns are low\nAm            F\n"
_VERSE += "Nobody's rowing and nobody knows\nC             G\n"
_CHORUS = "Chorus\nCarry me over the water\nF        C\nCarry me home\nG      Am\n"


@each("between", ["\n", ""], ids=["blank", "none"])
@each("note", ["", "(chords are under the words)\n"], ids=["plain", "noted"])
def test_each_row_belongs_to_the_words_above(between: str, note: str) -> None:
    """Where all blocks begin with words and end with chords, these are put above the words."""
    result = taken(f"Low Tide\n{note}\n{_VERSE}{between}{_CHORUS}")
    rows = [row.split() for row in body(result.chart).splitlines()]
    assert rows[1] == ["Am", "F"] and rows[2][:3] == [":", "Down", "by"]
    assert rows[-2] == ["G", "Am"] and rows[-1][:2] == [":", "Carry"]
    assert "chords-under-words" in codes(result)


@each(
    "text",
    [
        "Verse 1\nAm            F\nNobody's rowing\nC             G\nand nobody knows\nAm F\n\n"
        "Chorus\nF        C\nCarry me home\nG      Am\nover the water\nAm F\n",
        "Verse 1\nAm            F\nNobody's rowing\n\nOutro\nAm F\nC G\nAm\n",
        "Giriş\nAm            F\nNobody's rowing\nAm\n\nBölüm\nAm      F\nand nobody knows\nC\n",
    ],
)
def test_chords_above_words_stay_there(text: str) -> None:
    """Chords alone at the end of a section, or first under its name, change nothing."""
    assert "chords-under-words" not in codes(taken(f"Low Tide\n\n{text}"))
