"""Quotes in the song's language, and words that run from right to left."""

from dataclasses import fields, replace

import pytest

from chartkit.arrange.arrangement import Arrangement
from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Glyph, Stroke, Text
from chartkit.layout.metrics import Typesetter
from chartkit.layout.quotes import with_typographic_quotes
from chartkit.layout.set_texts import in_visual_order, with_set_texts
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.layout.geometry import BoxMetrics


@each(
    ("language", "shown"),
    [
        ("en", "she said “go home”, don’t ’tis"),
        ("de", "she said „go home“, don’t ’tis"),
        ("de-AT", "she said „go home“, don’t ’tis"),
        ("sv", "she said ”go home”, don’t ’tis"),
        ("fr", "she said «go home», don’t ’tis"),
        ("xx", "she said “go home”, don’t ’tis"),
    ],
)
def test_quotes_are_those_of_the_language(language: str, shown: str) -> None:
    """Straight quotes become the language's own (Unicode CLDR, from memory), a single one inside
    or before a word an apostrophe."""
    assert with_typographic_quotes("she said \"go home\", don't 'tis", language) == shown


def test_what_is_typed_with_true_quotes_stays() -> None:
    """Curly signs are left as they are."""
    assert with_typographic_quotes("“so”", "de") == "“so”"


def test_words_and_cues_have_true_quotes() -> None:
    """The page shows them; what is printed under the chords is the word that was typed."""
    text = 'key: C\nlanguage: de\n\n| C |\n: | "na los", sing\'s |\n'
    (page,) = laid_out(arranged(text), PageLook(), Fonts()).pages
    words = [i.plain for i in page.items if isinstance(i, Text) and i.role == "words"]
    assert words == ["„na los“, sing’s"]


def test_right_to_left_words_are_in_drawn_order() -> None:
    """Hebrew letters are drawn from the last to the first, Latin ones among them as they are."""
    assert in_visual_order("שלום abc") == "abc םולש"


def test_letters_that_join_are_counted_as_missing() -> None:
    """Arabic set letter by letter would be wrong, so its letters are named as those without."""
    document = laid_out(arranged("key: C\n\n| C |\n: | مرحبا |\n"), PageLook(), Fonts())
    assert document.missing == frozenset("مرحبا")


def test_lines_that_run_from_right_to_left_go_on_from_the_right() -> None:
    """On a page of words the bars of a Hebrew line stand from right to left, and a line that is
    broken begins with its first words."""
    text = "key: C\n\n== A\n| C | F |\n: | אחת שתיים | שלוש |\n"
    look = PageLook(show="words")
    (page,) = laid_out(arranged(text, look=look), look, BoxMetrics()).pages
    words = [i.plain for i in page.items if isinstance(i, Text) and i.role == "words"]
    assert words == [in_visual_order("אחת שתיים שלוש")]
    lines = Fitter(Typesetter(BoxMetrics())).wrapped(
        in_visual_order("אחת שתיים שלוש"), "words", 2, 9
    )
    assert lines == [in_visual_order("אחת שתיים"), in_visual_order("שלוש")]


def test_lines_that_run_from_right_to_left_begin_at_one_place() -> None:
    """Lines of Hebrew words end at the right margin, where a reader looks for their beginning, on a
    page of words and where they stand without bars."""
    for text, look in (
        (
            "| C | F |\n: | אחת שתיים | שלוש |\n| C | F |\n: | אחת | שלוש |\n",
            PageLook(show="words"),
        ),
        (": אחת שתיים שלוש\n: אחת\n", PageLook()),
    ):
        (page,) = laid_out(arranged(f"key: C\n\n== A\n{text}", look=look), look, BoxMetrics()).pages
        words = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
        ends = {round(i.x + i.width, 1) for i in words}
        assert len(words) == 2 and words[0].x < words[1].x
        assert len(ends) == 1 and ends.pop() > page.width * 0.9


def test_a_hebrew_heading_stands_at_the_right() -> None:
    """Over its lines of words, with the hairline before it."""
    look = PageLook(show="words")
    song = arranged("key: C\n\n== בית\n| C | F |\n: | אחת שתיים | שלוש |\n", look=look)
    (page,) = laid_out(song, look, BoxMetrics()).pages
    name, line = (
        next(i for i in page.items if isinstance(i, Text) and i.role == role)
        for role in ("heading", "words")
    )
    rule = next(i for i in page.items if isinstance(i, Stroke) and i.y0 > name.y - 20)
    assert name.x + name.width == pytest.approx(line.x + line.width)
    assert rule.x0 < rule.x1 < name.x


def test_a_fermata_in_hebrew_stands_over_the_last_word() -> None:
    """That is the one at the left."""
    text = "key: C\n\n== A\n| C | F @fermata |\n: | אחת שתיים | שלוש |\n"
    look = PageLook(show="words")
    (page,) = laid_out(arranged(text, look=look), look, BoxMetrics()).pages
    (line,) = [i for i in page.items if isinstance(i, Text) and i.role == "words"]
    (sign,) = [i for i in page.items if isinstance(i, Glyph)]
    assert line.x < sign.x < line.x + line.width / 3


def test_the_number_of_a_hebrew_verse_stands_at_the_right() -> None:
    """A page of words is read from there: the number comes first."""
    text = "key: C\n\n== A\n| C | F |\n1: | אחת | שלוש |\n2: | שתיים | ארבע |\n"
    look = PageLook(show="words")
    (page,) = laid_out(arranged(text, look=look), look, BoxMetrics()).pages
    words = [i.plain for i in page.items if isinstance(i, Text) and i.role == "words"]
    assert words == [f"{in_visual_order('אחת שלוש')} .1", f"{in_visual_order('שתיים ארבע')} .2"]


def test_every_text_of_a_song_is_set() -> None:
    """Each text of an arrangement has its true quotes, the feel and the instrument as well; the
    language is a tag."""
    song = arranged("title: A\nkey: C\n\n== A\n| C |\n")
    texts = [one.name for one in fields(Arrangement) if one.type is str and one.name != "language"]
    assert {"title", "feel", "instrument"} <= set(texts)
    for name in texts:
        song = replace(song, **{name: '"lazy"'})  # type: ignore[arg-type]
    done = with_set_texts(song)
    assert {name: getattr(done, name) for name in texts} == dict.fromkeys(texts, "“lazy”")


def test_a_feel_in_the_song_is_set() -> None:
    """At the head and where it changes, it has the quotes of the song's language."""
    text = 'key: C\nfeel: "lazy" swing\n\n== A\n| C |\nfeel: "stiff"\n| F |\n'
    (page,) = laid_out(arranged(text), PageLook(), Fonts()).pages
    shown = " ".join(i.plain for i in page.items if isinstance(i, Text))
    assert "“lazy” swing" in shown and "“stiff”" in shown and '"' not in shown
