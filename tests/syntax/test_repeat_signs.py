"""Signs that lead nowhere: repeat signs in a row of words, a coda that is only a name."""

import pytest

from chartkit.chart.model import MusicRow, WordsRow
from chartkit.diagnostics import Source
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.each import each

MUSIC = "|: C | F :|\n"


def sung(words: str) -> tuple[list[str], list[str]]:
    """What is sung in each bar, and the codes of what the reader said."""
    reading = read_chart(Source(f"key: C\n\n{MUSIC}{words}\n"))
    row = next(r for r in reading.chart.sections[0].rows if isinstance(r, WordsRow))
    texts = [" ".join(s.text for s in cell) for cell in row.cells[1:]]
    return texts, [one.code for one in reading.diagnostics]


@each("words", [":|: one | two :|", ": |: one | two :|", ": | one | two :|", ": |: one | two |"])
def test_repeat_signs_are_not_sung(words: str) -> None:
    """The colon of a repeat sign is stepped over, each with a warning."""
    texts, codes = sung(words)
    assert texts == ["one", "two"]
    assert set(codes) == {"repeat-sign-in-words"}
    assert len(codes) == words.count(":|") + words.count("|:") - words.startswith(":|")


@each(
    ("words", "texts"),
    [
        (": | he said: | two |", ["he said:", "two"]),
        (": | he said:| two |", ["he said:", "two"]),
        (": | elle dit : | deux |", ["elle dit :", "deux"]),
        (": | one | :two |", ["one", ":two"]),
        (": | one |:two |", ["one", ":two"]),
    ],
)
def test_a_colon_that_is_sung_stays(words: str, texts: list[str]) -> None:
    """A colon at a word, or apart from the bar line, is sung and not warned of."""
    assert sung(words) == (texts, [])


def test_a_bar_of_nothing_but_the_sign_is_empty() -> None:
    """A repeat sign alone in its bar leaves the bar without words."""
    assert sung(": | one | :|") == (["one", ""], ["repeat-sign-in-words"])


def test_a_coda_without_a_jump_is_a_name() -> None:
    """A coda sign that the song simply plays on to is no mistake; with a jump and no way to it,
    it is."""
    for rows, codes in (("| C | F | @coda G |", []), ("| C | F @D.C. | @coda G |", ["no-coda"])):
        assert [d.code for d in read_chart(Source(f"key: C\n\n{rows}\n")).diagnostics] == codes


@pytest.mark.parametrize(
    ("rows", "same"),
    [
        ("|: C | F\n:| G | C |", "|: C | F :|\n| G | C |"),
        ("|: C | F\n: | la | lo\n:| G | C |", "|: C | F :|\n: | la | lo\n| G | C |"),
        ("|: C | F |\n:|: G | C :|", "|: C | F :|\n|: G | C :|"),
        ("|: C | F |\n:|| G | C |", "|: C | F :|\n| G | C |"),
        ("|: C | F\n:| x3 | G | C |", "|: C | F :| x3\n| G | C |"),
        ("|: C | F\n:| x3", "|: C | F :| x3"),
        ("|: C | F\n:|  # and again", "|: C | F :|"),
        ("|: C | F\n||\n| G :|", "|: C | F ||\n| G :|"),
        ("|: C | F\n:| E | Am |", "|: C | F :|\n| E | Am |"),
        ("|: C | F\n:| Bb / / / | % |", "|: C | F :|\n| Bb / / / | % |"),
    ],
)
def test_a_closing_sign_that_begins_a_row_closes_the_row_above(rows: str, same: str) -> None:
    """The repeat closes where the row above ends, chords stay chords, and tidy keeps them so.

    Common practice, no source.
    """
    reading, meant = read_chart(Source(f"== A\n{rows}\n")), read_chart(Source(f"== A\n{same}\n"))
    assert reading.chart == meant.chart
    assert reading.diagnostics == ()
    assert read_chart(Source(chart_text(reading.chart))).chart == meant.chart


@pytest.mark.parametrize("words", [":| A | day |", ":| A | |", ":| Go | Do- |", ":| G-men | a |"])
def test_words_that_look_like_chords_stay_words(words: str) -> None:
    """A word that is spelled as a chord is, or one among other words, is sung without a warning."""
    reading = read_chart(Source(f"== A\n| C | F |\n{words}\n"))
    assert [type(row) for row in reading.chart.sections[0].rows] == [MusicRow, WordsRow]
    assert reading.diagnostics == ()


def test_a_slip_among_the_chords_after_the_sign_is_reported() -> None:
    """A misspelled chord does not make words of its row."""
    reading = read_chart(Source("== A\n|: C | F\n:| G | Cfoo | Dm |\n"))
    assert [one.code for one in reading.diagnostics] == ["unknown-quality"]
