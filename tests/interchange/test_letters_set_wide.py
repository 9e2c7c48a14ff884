"""What a scan makes of printed pages; common practice of programs that read them, no source."""

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_VERSE = "Verse\nF        Bb\nThere is a moth in the hall\n"


@each(
    ("line", "title"),
    [
        ("T H E   O L D   R O A D", "THE OLD ROAD"),
        ("D e r  M o n d", "Der Mond"),
        ("L A   M O U E T T E", "LA MOUETTE"),
    ],
)
def test_letters_set_wide(line: str, title: str) -> None:
    """They are closed up to words where wider gaps part these."""
    result = taken(f"{line}\nKey: F\n\n{_VERSE}")
    assert result.chart.text("title") == title
    assert "wide-letters" in codes(result)


def test_a_name_set_wide() -> None:
    """A section's name is one without wider gaps too."""
    assert names_of_parts(f"{_VERSE}\nC H O R U S\nF     C\nhome again\n") == ["Verse", "CHORUS"]


@each(
    "line",
    ["A  B  C  D", "A D A E", "V C V C B", "I  V  V  C  V  C", "O, I a m", "x  x  x  x  x  x"],
)
def test_other_letters_stay(line: str) -> None:
    """Rows of chords, lines of form and words are no letters set wide."""
    assert "wide-letters" not in codes(taken(f"Moth\n\n{_VERSE}\n{line}\n"))


@each(
    ("row", "music"),
    [
        ("Interlude  l F l Bb l C7 l F l", "| F | Bb | C7 | F |"),
        ("Interlude: I F I Bb C7 I F I", "| F | Bb C7 | F |"),
        ("Interlude ! F ! % ! C7 !", "| F | % | C7 |"),
        ("Interlude ¦ F ¦ Bb ¦ C7 ¦  quiet", "| F | Bb | C7"),
    ],
)
def test_bar_lines_read_as_letters(row: str, music: str) -> None:
    """One sign between all chords, which begins and ends them, is the bar line."""
    result = taken(f"Moth\n\n{_VERSE}\n{row}\n")
    assert music in body(result.chart).replace(" / ", " ")
    assert "scanned-bar-lines" in codes(result)


@each("words", ["I am what I am I", "I Am I", "l a l a l", "If I B I or F I"])
def test_words_keep_their_letters(words: str) -> None:
    """Words with the letter I are sung."""
    chart = taken(f"Moth\n\n{_VERSE}Bb      F\n{words}\n").chart
    assert parts_of(chart)[0].words.endswith("".join(words.casefold().split()))
