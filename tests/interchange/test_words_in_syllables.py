"""Words typed in syllables become words, dashes between words stay, and verses under one row of
chords become sections where the sheet names them.  Common practice, no source."""

import pytest

from chartkit.interchange.text.rows.typed_syllables import SEAM, SyllablesOfSheet, closed
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken

_LOCK = """Lock Keeper

Verse
G           D
Wa - ter is  ris - ing
"""


@each(
    ("rows", "made"),
    [
        ("C           G\nLan - tern, lan - tern\n", "C G\n: Lantern, / lantern"),
        ("C     G\nLan - tern is out\n", "C G\n: Lan- / tern is out"),
        ("C    F      G\nHal - le - lu - jah\n", "C F G\n: Hal- / le- / lujah"),
        ("C    F   G\nGlo - - - ri - a\n", "C F G\n: Glo- / _ / ria"),
        ("C             G\nLan- tern and can- dle\n", "C G\n: Lantern and / candle"),
        ("C             G\nLan -tern and can -dle\n", "C G\n: Lantern and / candle"),
        ("C              G\nWa - ter____, ri - ver____\n", "C G\n: Water, / river"),
    ],
)
def test_syllables_with_blanks_are_words(rows: str, made: str) -> None:
    """The hyphen stays where the next chord stands over a syllable inside the word."""
    result = taken(_LOCK + rows)
    assert body(result.chart).endswith(made)
    reads_back(result.chart)


@each(
    "line",
    [
        "I loved you - and you knew",
        "The seat was cold - the window sang",
        "One - two - three - four",
        "We are twenty-four, my well-worn friend",
        "La - la - la and home again",
    ],
)
def test_dashes_between_words_stay(line: str) -> None:
    """In a sheet whose other words stand whole."""
    assert f": {line.split()[0]}" in body(taken(f"Dusk\n\nVerse\nC\n{line}\n").chart)
    sheet = SyllablesOfSheet([line, "Nobody told me the window was open and you knew it"])
    assert sheet.with_seams(line, sung=True) == line


@each(
    ("line", "words"),
    [
        ("No - bod - y told me - and no - bod - y will", "Nobody told me - and nobody will"),
        ("Glo - ri - a in ex - cel - sis", "Gloria in excelsis"),
        ("Ma - ña - na tem - pra - no", "Mañana temprano"),
        ("Al - te La - ter - ne", "Alte Laterne"),
        ("last win - ter - you came by", "last winter - you came by"),
        ("twen - ty - five, you and I", "twentyfive, you and I"),
    ],
)
def test_a_sheet_in_syllables_may_have_dashes(line: str, words: str) -> None:
    """What the other words of the sheet are tells the two apart."""
    others = ["Wa - ter is ris - ing and fall - ing", "You and the can - dle", "in the gar - den"]
    assert closed(SyllablesOfSheet([line, *others]).with_seams(line, sung=True)) == words


def test_seams_keep_the_columns() -> None:
    """A line with seams is as long as it was."""
    line = "Hal - le - lu - jah, a- men"
    seamed = SyllablesOfSheet([line]).with_seams(line, sung=True)
    assert len(seamed) == len(line) and seamed.replace(SEAM, "-") == line


def test_verses_without_chords_are_sung_in_words() -> None:
    """Their words are spread over the chords by syllables, of whole words."""
    text = _LOCK + "C           G\nOv - er the  gar - den\n\nVerse 2\n"
    result = taken(
        text + "Can - dles are out in the har - bour\nNo - bod - y comes to the gar - den\n"
    )
    assert "Candles are out" in body(result.chart).replace(" /", "")
    assert "Nobody comes" in body(result.chart).replace(" /", "")


STACK = """The Quarry

VERSE
   G            D
1. Down in the quarry the water is green,
2. Up on the ridge there is nobody seen,
   C      G
1. Down it goes.
2. Up it goes.

CHORUS
D        G
Stone on stone
"""


def test_stacked_verses_stay_where_nothing_names_them() -> None:
    """They are numbered words under one row."""
    assert "2: Up on the" in body(taken(STACK).chart)


@each(
    "order",
    [
        "Sing: verse 1, chorus, verse 2, chorus",
        "Form: V1 C V2 C",
        "Order: Verse 1 - Chorus - Verse 2 - Chorus",
    ],
)
def test_stacked_verses_that_an_order_names_are_sections(order: str) -> None:
    """The first has the chords, the others its music."""
    for sheet in (f"{STACK}\n{order}\n", STACK.replace("VERSE", f"{order}\n\nVERSE")):
        result = taken(sheet)
        names = [(one.name.title(), one.same_as.title()) for one in result.chart.sections]
        assert names == [("Verse 1", ""), ("Chorus", ""), ("Verse 2", "Verse 1"), ("Chorus", "")]
        assert "stacked-verses" in codes(result)
        assert "Up on the ridge" in body(result.chart).replace(" /", "")
        reads_back(result.chart)


def test_a_heading_asks_for_a_stacked_verse() -> None:
    """Where "Verse 2" stands below with nothing under it, its words stand there."""
    result = taken(STACK + "\nVERSE 2\n\nCHORUS\n")
    assert [one.name for one in result.chart.sections] == ["VERSE 1", "CHORUS", "VERSE 2", "CHORUS"]
    assert result.chart.sections[2].same_as == "VERSE 1"


@each("numbers", ["1-2.", "1.-2.", "1.2.", "1+2.", "1, 2:", "1 & 2."])
def test_numbers_of_what_all_verses_sing_are_not_sung(numbers: str) -> None:
    """They stand before words that come in each verse."""
    sheet = STACK.replace("CHORUS", "INTERLUDE (after verse 1)\n| C | D |\n\nCHORUS")
    sheet = sheet.replace("\nINTER", f"       D   G\n{numbers:7}And over it goes\n\nINTER")
    result = taken(sheet)
    assert "1" not in body(result.chart).replace("VERSE 1", "").replace("verse 1", "")
    assert body(result.chart).replace(" /", "").count("And over it goes") == 2
    assert [one.name.partition(" (")[0] for one in result.chart.sections] == [
        "VERSE 1",
        "INTERLUDE",
        "VERSE 2",
        "CHORUS",
    ]


def test_counting_is_sung() -> None:
    """Figures that a song counts are words."""
    made = body(taken("Dice\n\nC        G\n1, 2, 3, 4 and away we go\n").chart)
    assert made == "C G\n: 1, 2, 3, / 4 and away we go"


@pytest.mark.parametrize("name", ["AMEN", "HOSANNA", "KYRIE"])
def test_a_word_in_capitals_over_its_own_song_is_a_name(name: str) -> None:
    """The first word sung below it is the word itself."""
    sheet = f"Gate Song\n\nC       G\nOpen the gate and in\n\n{name}\n\nC   G\n{name.title()}, oh\n"
    assert f"== {name}\n" in body(taken(sheet).chart)


VERSES = """Toll

Verse 1
A            D
Penny for the bridge
E            A
Penny for the gate
A            E
Nothing for the man

Verse 2
"""


def test_a_shorter_verse_has_the_first_rows() -> None:
    """A finding says so."""
    result = taken(f"{VERSES}Nobody is minding it\nNobody is here\n")
    assert body(result.chart).split("== Verse 2\n")[1].count("E") == 1
    assert "other-count-of-lines" in codes(result)


def test_a_verse_of_twice_as_many_lines_has_the_rows_twice() -> None:
    """Any other number of lines stays without chords, with a finding."""
    lines = [f"Nobody goes by {one}" for one in ("one", "two", "three", "four", "five")]
    twice = body(taken(VERSES + "\n".join([*lines, "Nobody at all"])).chart).split("Verse 2\n")[1]
    assert twice.count(": ") == 6 and twice.count("A D") == 2
    result = taken(VERSES + "\n".join(lines))
    assert "A D" not in body(result.chart).split("Verse 2\n")[1]
    assert "words-without-chords" in codes(result)
