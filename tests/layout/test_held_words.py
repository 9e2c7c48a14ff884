"""Fermatas on pages of words alone."""

import pytest

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Glyph, Page, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.outlines import glyph_aspect
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, sized
from tests.each import each
from tests.layout.geometry import off_page, overlapping

METRICS = Fonts()
WORDS = PageLook(show="words")


def held(page: Page) -> list[str]:
    """The words over whose middle a fermata stands, from the top."""
    fitter, found = Fitter(Typesetter(METRICS)), []
    signs = [i for i in page.items if isinstance(i, Glyph)]
    for line in (i for i in page.items if isinstance(i, Text) and i.role == "words"):
        size, x = line.pieces[0].size, line.x
        over = [i for i in signs if 0.8 < (line.y - i.y) / size < 1.4]
        for word in line.plain.split(" "):
            middle = x + fitter.width(word, "words", size) / 2
            ends = (i.x + i.height * glyph_aspect("fermata") / 2 for i in over)
            found += [word for end in ends if abs(end - middle) < 0.1 * size]
            x += fitter.width(f"{word} ", "words", size)
    assert len(found) == len(signs)
    return found


@pytest.mark.parametrize("size", [0.85, 1.0, 1.5])
def test_a_fermata_is_its_sign_over_the_word_it_holds(size: float) -> None:
    """No word stands in the line that is not sung; the sign is read aloud, and it stays on the
    page where the line fills it."""
    text = f"key: C\n\n| C | F |\n: | {'low tide home ' * 9} | home; |\n".replace(
        "| F |", "| F @hold |"
    )
    look = sized(size, show="words")
    (page,) = laid_out(arranged(text, look=look), look, METRICS).pages
    assert "hold" not in " ".join(i.plain for i in page.items if isinstance(i, Text))
    (sign,) = [i for i in page.items if isinstance(i, Glyph)]
    last = [i for i in page.items if isinstance(i, Text) and i.role == "words"][-1]
    assert last.plain.endswith("home;") and last.x < sign.x < last.x + last.width
    assert last.y - 1.4 * last.pieces[0].size < sign.y < last.y - 0.8 * last.pieces[0].size
    assert [i.spoken for i in page.items if isinstance(i, Text) and i.spoken] == ["hold"]
    assert off_page(page) == overlapping(page) == []


@each(
    "row, words, under",
    [
        ("| D | G @hold | A |", "| came down to | the morning | boat |", ["the"]),
        ("| D | G @hold | A |", "I | came down to | the morning | boat |", ["the"]),
        ("| D | G | A D@hold |", "| so | long | good- / bye |", ["goodbye"]),
        ("| D | G @hold | A |", "| low | lan- | terns |", ["lanterns"]),
        ("| D | G @hold | A |", "| low | _ | tide |", ["low"]),
        ("| D | G @hold | A@hold |", "| low | tide | again |", ["tide", "again"]),
        ("| D | / / G@hold / | A |", "| low | and high / tide | again |", ["tide"]),
        ("| D | G@hold / / / | A |", "| low | and high tide | again |", ["and"]),
        ("| D | rest 1 @hold | A |", "| low | | tide |", ["low"]),
        ("D G @hold A", "low / and high / tide", ["and"]),
    ],
)
def test_a_fermata_stands_over_the_first_word_of_its_chord(
    row: str, words: str, under: list[str]
) -> None:
    """Or over the word that is still sung there; behind the number of a verse as well."""
    for verses in (f": {words}", f"1: {words}\n2: {words}"):
        chart = f"key: D\nmeter: 4/4\n\n== Verse\n{row}\n{verses}\n"
        (page,) = laid_out(arranged(chart, look=WORDS), WORDS, METRICS).pages
        assert held(page) in (under, under * 2)


def test_a_pick_up_from_the_row_above_moves_no_fermata() -> None:
    """The line begins with words that are typed in the bar before it, and the sign stays over the
    word of its chord."""
    text = (
        "key: D\n\n== Verse\n| D | G |\n: | low tide, | all home, and the |\n"
        "| D | G @hold |\n: | lanterns are | out, |\n| D | G |\n: | all of us, | home. |\n"
    )
    (page,) = laid_out(arranged(text, look=WORDS), WORDS, METRICS).pages
    lines = [i.plain for i in page.items if isinstance(i, Text) and i.role == "words"]
    assert lines[1] == "and the lanterns are out,"
    assert held(page) == ["out,"]


@each("words", ["low tide home " * 9, "low tide, " * 14])
def test_a_fermata_stands_over_its_word_where_the_line_is_broken(words: str) -> None:
    """On the printed line that has the word; the sign has room there, off the line above."""
    text = f"key: C\n\n| C | F @hold | G |\n: | {words} | ever, | {words} |\n"
    look = sized(1.5, show="words")
    (page,) = laid_out(arranged(text, look=look), look, METRICS).pages
    assert held(page) == ["ever,"]
    assert overlapping(page) == []
