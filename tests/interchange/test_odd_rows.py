"""Rows of chords typed in odd ways, and what stands beside them."""

import pytest

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import Part, parts_of


def _parts(text: str) -> list[Part]:
    return parts_of(taken(f"Moth\n\n{text}\n").chart)


@each(
    ("row", "chords"),
    [
        ("E aug    A min", "Eaug Am"),
        ("C maj7   G 7", "Cmaj7 G7"),
        ("D sus4   F# dim", "Dsus4 F#dim"),
        ("Bb minor   F", "Bbm F"),
    ],
)
def test_qualities_apart_from_their_roots(row: str, chords: str) -> None:
    """A quality with a blank before it belongs to the root."""
    part = _parts(f"Verse\n{row}\nDown the road we go")[0]
    assert part.music == _parts(f"Verse\n{chords}\nDown the road we go")[0].music
    assert part.words == "downtheroadwego"


@each(
    "lines",
    [
        "Am      F\nx02210  133211\nDown the road",
        "Am      F\nDown the road\nx02210  133211",
        "Am      F\nDown the road\nx02210  133211  x32010",
    ],
)
def test_fingerings_under_chords_are_not_sung(lines: str) -> None:
    """They are shapes of the chords above, or a remark where their number differs."""
    result = taken(f"Moth\n\nVerse\n{lines}\n")
    part = parts_of(result.chart)[0]
    assert part.words == "downtheroad"
    assert ("shapes" in codes(result)) is ("x32010" not in lines)
    assert ("remark" in codes(result)) is ("x32010" in lines)


@each("said", ["1st x quiet", "second time hold", "watch the end"])
def test_words_behind_the_last_repeat_sign(said: str) -> None:
    """They are said to the players and make no bar."""
    part = _parts(f"Intro\n|: Am | F :|| {said}")[0]
    assert part.music == ["repeat-start0", "|", "Am", "|", "F", "repeat-end0"]
    assert part.cues == [said]


def test_a_chorus_in_one_line() -> None:
    """Strokes part three lines of four bars where the sheet speaks of twelve bars."""
    part = _parts("12 bar in E\n\nE7 A7 E7 E7 / A7 A7 E7 E7 / B7 A7 E7 B7\n\nVerse\nWoke up")[0]
    assert part.played == ["E7", "A7", "E7", "E7", "A7", "A7", "E7", "E7", "B7", "A7", "E7", "B7"]


@pytest.mark.parametrize("row", ["/Em /C D /G /", "Em/ C D/ G/", "/Em  /C  D  /G"])
def test_strokes_beside_chords_are_bar_lines(row: str) -> None:
    """A stroke right before the chords of each bar, or right behind them, parts the bars."""
    assert _parts(f"Intro\n{row}\n\nVerse\nAm F\nWoke up")[0].played == ["Em", "C D@24", "G"]


def test_bars_far_behind_words() -> None:
    """Bars at the right margin of lines of words stand above them, and none is sung."""
    part = _parts("Verse\nWe scratched the sand     | Am | G |\nThe wind came up     | F | E7 |")[0]
    assert part.played == ["Am", "G", "F", "E7"]
    assert part.words == "wescratchedthesandthewindcameup"


def test_strokes_before_basses_part_no_bars() -> None:
    """A stroke before a bass alone holds the chord before it."""
    assert _parts("C  /B  Am  /G\nWoke up this morning")[0].music == ["C", "C/B", "Am", "Am/G"]


@each("name", ["1er couplet", "2ème couplet", "1ª estrofa", "2:a vers"])
def test_ordinals_in_figures(name: str) -> None:
    """Numbers as languages write them stand before names."""
    assert _parts(f"{name}\nC   G\nla la")[0].name == name


@each("line", ["- Page 2 - Moth - The Band -", "Moth | page 2 of 3", "2/3  p. 4"])
def test_the_head_of_a_page_inside_a_section(line: str) -> None:
    """The number of a page with the title beside it is not sung."""
    result = taken(f"Moth\n\nChorus\nF    C\nSing along\n{line}\nG    C\nall night\n")
    assert ("page-number" in codes(result)) is ("age" in line)


def test_a_count_within_what_an_order_says_of_a_section() -> None:
    """ "A(solo 2x)" is A twice."""
    text = "Form A A B A(solo 2x)\n\nA\n| Dm7 | G7 |\n\nB\n| Em7 | A7 |"
    parts = _parts(text)
    assert [(part.name, part.times) for part in parts] == [("A", 1), ("A", 1), ("B", 1), ("A", 2)]
    assert parts[-1].cues == ["solo"]


@each("line", ["KEY - f", "key: f", "Key = f"])
def test_keys_in_small_letters(line: str) -> None:
    """A key by its name."""
    result = taken(f"Moth\n{line}\n\nVerse\nF    C\nMoth, moth\n")
    assert result.chart.text("key") == "F major"


def test_chords_needed_are_no_key() -> None:
    """A list of the chords of a song says nothing of its key."""
    result = taken("Moth\nChords you need: C, F, G7, Am\n\nVerse\nC    G7\nMoth, moth\n")
    assert result.chart.text("key") == ""


@each("sign", [" ...... ", " - ", " | ", " / ", " – ", " > "])
def test_chords_behind_a_sign_of_the_sheet(sign: str) -> None:
    """What stands behind the same sign in several lines of words is their chords."""
    lines = [("down the road we go", "C  G"), ("slow and low", "Am F"), ("home again", "C G C")]
    text = "\n".join(f"{words}{sign}{chords}" for words, chords in lines)
    result = taken(f"Moth\n\nVerse\n{text}\n")
    part = parts_of(result.chart)[0]
    assert part.music == ["C", "G", "Am", "F", "C", "G", "C"]
    assert part.words == "downtheroadwegoslowandlowhomeagain"
    assert "chords-behind-a-sign" in codes(result)


def test_chords_in_brackets_beside_words_are_no_column() -> None:
    """They belong to the words at their left."""
    text = (
        "la route est longue   (Do  Sol)\nle train s'en va      (Lam  Fa)\non verra bien (Do Sol)"
    )
    part = _parts(f"Couplet\n{text.replace('bien (', 'bien         (')}")[0]
    assert part.music == ["C", "G", "Am", "F", "C", "G"]


@each("row", ["Estrofa (Mim Do Sol Re)", "Estrofa: Mim Do Sol Re", "Estrofa   Mim  Do  Sol  Re"])
def test_syllables_behind_a_name(row: str) -> None:
    """They tell the naming of the notes though no row stands alone."""
    part = _parts(f"{row}\n\nEstribillo (Do Re Mim Mim)")[0]
    assert part.music == ["Em", "C", "G", "D"]


def test_a_row_of_signs_that_nobody_sees_is_no_row_of_numbers() -> None:
    """A mark for the direction of writing alone, beside numbers or blanks, ends no run."""
    sheet = "| C | G |\nKey: Bb\nCoda:3/4-Am7Capo 2\n海&amp;→\u202e1. \x9b\u00a0"
    assert taken(sheet).chart.sections
