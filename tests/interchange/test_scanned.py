"""Pages that went through a scanner: specks of the paper, an "m" in two strokes."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import parts_of

_VERSES = (
    "The Inn on the Moor\nKey: C\n\n"
    "   C                   G\n1. The inn is full of light tonight,\n"
    "   {chord}          C\n   the landlord counts his keys.\n\n"
    "Refrain:\n   F         C\n   Pour in, pour in, my friend\n{speck}\n"
    "2. The miller lost, the blacksmith won,\n   the chimney tells the breeze.\n"
)


@each("speck", [" .   '", "'", "  ,  .  '", " ·", "~", ""])
def test_specks(speck: str) -> None:
    """A line of single dots and commas is an empty one, so that the next verse begins below it."""
    result = taken(_VERSES.format(chord="Am", speck=speck))
    parts = parts_of(result.chart)
    assert [part.words[:8] for part in parts] == ["theinnis", "pourinpo", "themille"]
    assert ("specks" in codes(result)) == bool(speck)


@each(("typed", "read"), [("Arn", "Am"), ("Drn7", "Dm7"), ("F#rn", "F#m"), ("Am", "Am")])
def test_an_m_in_two_strokes(typed: str, read: str) -> None:
    """It is read as an "m" in a row of chords, and reported."""
    first = parts_of(taken(_VERSES.format(chord=typed, speck="")).chart)[0]
    assert first.music == ["C", "G", read, "C"]
