"""Rows of numbers that count chords by the degrees of the key, as players in studios write them.

Source of the ways to write them: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import parts_of

HEAD = "Moth\nKey: G\n\nVerse\n1  4  1  5\n"


def _below(row: str) -> str:
    """What becomes of a row under a plain one."""
    return body(taken(f"{HEAD}{row}\n").chart).splitlines()[-1]


@each(
    ("row", "music"),
    [
        ("b7 4 5 5", "F C D D"),
        ("7b  4  5  5", "F C D D"),
        ("1 . 4 5", "G C D"),
        ("6-7 4 1! 5", "Em7 C G! D"),
        ("4 5 1<>", "C D G~"),
        ("4 5 <1>", "C D G~"),
        ("4 5 ◇1", "C D G~"),
        ("5(7) 4maj7 4M7 2-11", "D7 Cmaj7 Cmaj7 Am11"),
        ("5/7 5/b7 #4dim 1", "D/F# D/F C#dim G"),
        ("Outro 4 5 1 1", "C D G G"),
    ],
)
def test_ways_to_write_numbers(row: str, music: str) -> None:
    """Signs of the lowered degree, of beats, stops and diamonds are read in rows of numbers."""
    assert _below(row) == music


@each("row", ["(4 5) 1 1", "[4 5] 1 1", "4_5 1 1", "4,5 1 1"])
def test_numbers_that_share_a_bar(row: str) -> None:
    """Where some numbers share a bar, every other number is one, in all rows of the sheet."""
    result = taken(f"{HEAD}{row}\n")
    assert body(result.chart).splitlines()[-2:] == ["| G | C | G | D |", "| C D | G | G |"]
    assert "numbers-in-bars" in codes(result)


@each("row", ["4 1 5 6-  band in", "4 1 5 6- slow down", "4 1 5 6- (band in)"])
def test_words_behind_numbers_are_said(row: str) -> None:
    """The numbers stay chords, and the words are a cue over them."""
    assert _below(row).startswith("C G D Em ") and _below(row).count('"') == 2


@each(
    ("row", "code"),
    [("4 1 q5 1 5", "unread-number"), ("4 1? 5 5", "unread-sign"), ("4 1> 5 5", "unread-sign")],
)
def test_what_cannot_be_read_is_reported(row: str, code: str) -> None:
    """One odd sign does not cost the row its chords, and has a finding."""
    assert code in codes(taken(f"{HEAD}{row}\n"))
    assert _below(row).startswith("C G ")


@each("line", ["Verse 2  16 bars, guitars in", "1 2 3 4", "Riding 5 more miles to 1 good bed"])
def test_other_figures_are_no_chords(line: str) -> None:
    """Counts of bars, counting in, and figures in a sentence stay what they are."""
    text = body(taken(f"{HEAD}\n{line}\n").chart)
    assert text.splitlines()[1] == "G C G D" and text.count("G C G D") == 1


def test_a_letter_before_numbers_names_a_section() -> None:
    """It could be no chord among numbers; nor is a row that begins with b3 a section's name."""
    result = taken(
        "Moth\nKey: E\n\nV   1  1  4  1\n    b3  b3  5  5\nC   4  5  1  1\nE   4  1  1  1\n"
    )
    assert [section.name for section in result.chart.sections] == ["V", "C", "E"]
    assert body(result.chart).splitlines()[2] == "G G B B"


@each(
    ("row", "music"),
    [
        ("| I | VI7 | II7 V7 | I |", "| G | E7 | A7 D7@24 | G"),
        ("Intro | I | vi | ii | V |", "| G | Em | Am | D"),
        ("Intro: | IVmaj9 | bVII7 | IIIm7b5 | VI7b9 |", "| Cmaj9 | F7 | Bm7(b5) | E7(b9)"),
        ("| Imaj7 | VIm9 | IVm6 | V13 |", "| Gmaj7 | Em9 | Cm6 | D13"),
        ("| I | VI | II | V |", "| G | Em | Am | D"),
        ("| I | VI7 | II | V |   twin fiddles", "| G | E7 | A | D"),
        ("In: | 1 | 4 | 1 | 5 |   acoustic + dobro", "| G | C | G | D"),
        ("O: 4 1", "C G"),
        ("B | 6- | 2- | 4 | 5 |   2/4 bar before the chorus", "| Em | Am | C | D"),
    ],
)
def test_numerals_and_names_cut_short(row: str, music: str) -> None:
    """A large numeral with a seventh is a dominant, and says that the other large ones are major;
    names cut short in the sheet's own way stand before rows of numbers too."""
    parts = parts_of(
        taken(
            f"Moth\nKey: G\n\n{row}\n\nVerse\n{'| 1 | 4 |' if '1' in row else '| I | IV |'}\n"
        ).chart
    )
    assert " ".join(parts[0].music) == music


@each("words", ["I was V I P", "I IV I said", "In 1 4 all", "Oh: I want 1"])
def test_words_beside_numerals_are_sung(words: str) -> None:
    """A line of words with letters that could be numerals stays words."""
    parts = parts_of(taken(f"Moth\nKey: G\n\nVerse\nG       D\n{words}\nC    D\nhome\n").chart)
    assert parts[0].words.endswith("home") and len(parts[0].music) == 4


@each(
    ("sheet", "music"),
    [
        ("Ending\n| I VI7 | II7 V7 | I |\nin A, stinger", "| A F#7@24 | B7 E7@24 | A"),
        ("Bridge (in C)\n| 1 | 4 |\n", "| C | F"),
        ("Chorus (up a whole step to A)\n| 1 | 5 |\n\nTag\n| 4 | 5 |\n", "| D | E"),
        ("Bridge (in C)\n| 1 | 4 |\n\nVerse\n| 4 | 5 |\n", "| C | D"),
    ],
)
def test_numbers_in_the_key_of_their_section(sheet: str, music: str) -> None:
    """Rows count in the key that is said of their section, which stays where the song goes up."""
    parts = parts_of(taken(f"Moth\nKey: G\n\nIntro\n| 1 | 4 |\n\n{sheet}\n").chart)
    assert " ".join(parts[-1].music) == music


@each("name", ["TURN", "Lick", "Steel lick", "DROP 2"])
def test_a_name_before_bars_of_numbers(name: str) -> None:
    """A name that nobody else uses names the bars of numbers behind it."""
    text = f"Moth\nKey: E\n\nVerse | 1 | 4 | 1 | 5 |\n\n{name}  | 1 | 4 |\n\nChorus | 4 | 5 |\n"
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Verse", name, "Chorus"]
    assert " ".join(parts[1].music) == "| E | A"
