"""A word typed in syllables under one chord, read alike wherever it is printed."""

import pytest

from chartkit.arrange.page_look import PageLook
from chartkit.chart.whole_words import whole_words
from chartkit.interchange.text.write import sheet_text
from chartkit.layout.engrave import laid_out
from chartkit.layout.frames import Text
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged, chart_of

SONG = "key: C\n\n== Chorus\n| C | F | G |\n: | ring, oh | har- bour | bell- |\n"


@pytest.mark.parametrize("show", ["both", "words", "road-map"])
def test_a_page_prints_it_whole(show: str) -> None:
    """The page, the page of words and the road map have "harbour"."""
    look = PageLook(show=show)  # type: ignore[arg-type]
    pages = laid_out(arranged(SONG, look=look), look, Fonts()).pages
    printed = " ".join(one.plain for page in pages for one in page.items if isinstance(one, Text))
    assert "harbour" in printed and "har-" not in printed


def test_a_text_prints_it_whole() -> None:
    """The text has "harbour", and the split at the end of a bar."""
    text = sheet_text(chart_of(SONG))
    assert "harbour" in text and "har-" not in text and "bell-" in text


@pytest.mark.parametrize(
    "text",
    ["two-step", "- and", "one - two", "oh -", "har-", "4 - 5", "Vor- und Nachteile", "in- och ut"],
)
def test_other_hyphens_stay(text: str) -> None:
    """A hyphen inside a word, a dash and a hyphen at an end are printed."""
    assert whole_words(text) == text


@pytest.mark.parametrize(("text", "whole"), [("thous- and", "thousand"), ("ge- sund", "gesund")])
def test_a_syllable_like_another_word_is_joined(text: str, whole: str) -> None:
    """English words that also end others do not part them."""
    assert whole_words(text) == whole
