"""Quick looks pass over no text that the pattern behind them fits."""

import pkgutil
import re
from functools import lru_cache
from importlib import import_module

import chartkit.interchange.text as text_room
from chartkit.chart.section_words import KIND_OF
from chartkit.interchange.text.quick_looks import BeginsWithWord, same_word, words_in
from chartkit.interchange.text.vocabulary.section_names import FULL_NAME, may_have_full_name
from tests.each import each
from tests.interchange.typed_sheets import sheets


@lru_cache(maxsize=1)
def _lines() -> list[str]:
    """Lines as people type them, each once."""
    every = (line.strip() for one in sheets() for line in one.text.split("\n"))
    return sorted(set(every))


def _patterns() -> dict[str, BeginsWithWord]:
    """The patterns of the room that are compared by the first word of a text."""
    names = (
        one.name for one in pkgutil.walk_packages(text_room.__path__, f"{text_room.__name__}.")
    )
    return {
        f"{module} {name}": value
        for module in names
        for name, value in vars(import_module(module)).items()
        if isinstance(value, BeginsWithWord)
    }


@each("name, pattern", _patterns().items())
def test_each_line_that_fits_begins_with_a_word_of_the_pattern(
    name: str, pattern: BeginsWithWord
) -> None:
    """Where a pattern fits at the start of a line, in small letters or capitals, it is tried."""
    for line in _lines():
        for text in (line, line.upper()):
            if pattern.compiled.match(text) is not None:
                assert pattern.match(text) is not None, text


def test_each_full_name_has_a_word_of_a_bare_name() -> None:
    """No full name is passed over, whatever stands before or behind it."""
    full = re.compile(FULL_NAME, re.IGNORECASE)
    around = [f"{before}{name}{behind}" for name in KIND_OF for before, behind in _AROUND]
    for text in (*_lines(), *around, *_ODD_NAMES):
        if full.match(text) is not None:
            assert may_have_full_name(text), text


_AROUND = (("", ""), ("the last ", " 2"), ("1st ", "s"), ("", ": C G"))
_ODD_NAMES = ("A party", "B Section", "third partition", "Geigensolo", "LETTER B", "KITA", "KıTA")


@each("first, second", [("İ", "i"), ("ı", "I"), ("ſ", "S"), ("K", "k"), ("Σ", "ς"), ("ß", "ẞ")])
def test_letters_that_patterns_take_for_one_another_are_the_same(first: str, second: str) -> None:
    """So a word is found however it is typed."""
    assert re.fullmatch(first, second, re.IGNORECASE) or re.fullmatch(second, first, re.IGNORECASE)
    assert same_word(first) == same_word(second)
    assert words_in(f"x{first}x") == words_in(f"x{second}x")
