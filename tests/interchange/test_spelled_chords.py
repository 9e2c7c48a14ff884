"""Chords in words become symbols; the words are common practice, no source."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import parts_of


@each(
    ("said", "music"),
    [
        ("D minor, D minor, G, A seven", "Dm Dm G A7"),
        ("E minor C G D over F sharp", "Em C G D/F#"),
        ("C major seven, F sharp minor seven flat five, B flat", "Cmaj7 F#m7b5 Bb"),
        ("d-Moll, g-Moll, A sieben, d-Moll", "Dm Gm A7 Dm"),
        ("La menor, Re menor, Mi siete", "Am Dm E7"),
        ("F, C, G minor seven, A7", "F C Gm7 A7"),
    ],
)
def test_chords_in_words(said: str, music: str) -> None:
    """A line of nothing else is a row of chords, alone or behind a section's name."""
    for sheet in (f"Moth\n\nVerse\n{said}\n", f"Moth\n\nVerse: {said}\n"):
        result = taken(sheet)
        (part,) = parts_of(result.chart)
        assert [one.replace("(", "").replace(")", "") for one in part.music] == music.split()
        assert "chords-in-words" in codes(result)


@each(
    "sung", ["A minor thing, a major thing", "Seven over eight and then home", "Be flat, be sharp"]
)
def test_words_that_are_no_chords(sung: str) -> None:
    """A line with any other word stays as it is."""
    result = taken(f"Moth\n\nVerse\nC     G     C\n{sung}\n")
    assert "chords-in-words" not in codes(result)
    assert parts_of(result.chart)[0].words != ""
