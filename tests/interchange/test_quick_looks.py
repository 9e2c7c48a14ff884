"""Quick looks pass over no text that the pattern behind them fits."""

import pkgutil
import re
from functools import lru_cache
from importlib import import_module

import chartkit.interchange.text as text_room
from chartkit.chart.marks import Mark
from chartkit.chart.section_words import KIND_OF
from chartkit.interchange.instructions import Direction, add_instruction
from chartkit.interchange.text.kinds.line_kinds import Chords
from chartkit.interchange.text.kinds.sheet_lines import SheetLines
from chartkit.interchange.text.kinds.unnamed_lines import kind_of
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.names.headings import heading_among_signs, names_nothing
from chartkit.interchange.text.quick_looks import BeginsWithWord, has_any, same_word, words_in
from chartkit.interchange.text.rows.cues import marks_of
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.section_lines.named_lines import NamedLines
from chartkit.interchange.text.song_form.solos import BETWEEN_PLAYER_AND_SECTION, PLAYER_OVER
from chartkit.interchange.text.vocabulary.facts import facts_among_words, facts_and_rest, facts_of
from chartkit.interchange.text.vocabulary.form_words import FINISH, OF_FINISH
from chartkit.interchange.text.vocabulary.note_names import SheetNoteNames
from chartkit.interchange.text.vocabulary.section_names import (
    FULL_NAME,
    key_of_words,
    may_have_full_name,
    may_name_a_section,
    section_key,
)
from chartkit.interchange.text.vocabulary.times_played import ANY_TIMES, may_have_count
from chartkit.syntax.symbol import chord_or_none
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


def test_lines_without_signs_that_are_passed_over_are_no_headings() -> None:
    """What is taken for words or chords at a quick look is no heading at a long one."""
    passed = [text for text in _lines() if names_nothing(text)]
    assert len(passed) > len(_lines()) // 3
    for text in (*passed, *filter(names_nothing, map(str.upper, passed))):
        assert heading_among_signs(text) is None, text


def test_rows_that_are_chords_alone_name_no_section() -> None:
    """The readers of lines that name sections find nothing on them, nor do those of other lines."""
    tokens = TokenReader(chord_or_none, SheetNoteNames())
    rows = [text for text in _lines() if tokens.is_chords(text)]
    texts = ["Verse", *rows, "Am  G", "A  B", "D  C", "Ab", "E  E", "do  re", "B gtr"]
    sheet = SheetLines([Line(at, text) for at, text in enumerate(texts)], tokens)
    bare = [at for at in range(len(texts)) if sheet.is_bare_row(at)]
    assert len(bare) > len(rows) // 3
    named = NamedLines(sheet, [])
    for at in bare:
        line, row = sheet.lines[at], sheet.rows[at]
        assert row is not None
        assert not named.read(at, line), line
        assert kind_of(sheet, line, row) == Chords(row), line


def test_each_ending_in_other_words_has_one_of_its_words() -> None:
    """What finishes a song is looked for wherever the pattern for it fits."""
    said = ("finish on A", "and so it ENDS on G", "hör auf, wir hören auf auf C", "Bridge, out: A")
    for text in (*_lines(), *said):
        if FINISH.search(text) is not None:
            assert has_any(same_word(text), OF_FINISH), text


def test_each_player_over_a_section_has_a_word_between_them() -> None:
    """The long look is taken wherever the pattern fits."""
    said = ("Sax em cima do verso", "Geige über Strophe", "Sax sull'intro", "Gtr in verse")
    for text in (*_lines(), *said):
        if PLAYER_OVER.fullmatch(text) is not None:
            assert not BETWEEN_PLAYER_AND_SECTION.isdisjoint(words_in(text)), text


def test_each_fact_has_a_figure_or_a_word_of_facts() -> None:
    """Words such as "stone" are no facts, and no fact is passed over with them."""
    toned = [text for text in _lines() if "ton" in text.casefold() and len(text) < 120]
    assert not facts_of("Roll the stone away, stones")
    for text in (*toned, "Tonart: C", "Halbton tiefer", "ton: Ré", "Stonart: C"):
        assert facts_and_rest(text)[0] == facts_among_words(text)[0], text


@each("text", ["D.S. al Coda", "(Fine)", "$", "⊕", "to Ø", "D.C.", "To Coda", "Fermata"])
def test_short_marks_are_found_by_a_quick_look(text: str) -> None:
    """Marks are found whatever stands for their signs."""
    assert marks_of(text) == _marks_at_length(text) != (), text


def test_lines_that_are_no_marks_at_a_quick_look_are_none() -> None:
    """No mark that somebody typed is passed over."""
    for text in _lines():
        if len(text) <= 40:
            assert marks_of(text) == _marks_at_length(text), text


def _marks_at_length(text: str) -> tuple[Mark, ...]:
    said = Direction()
    add_instruction(text.strip("() "), said)
    return () if said.words else tuple(said.marks)


@each("text", ["letter B", "LETTER B, twice", "Buchstabe C", "back to rehearsal letter D"])
def test_letters_name_sections(text: str) -> None:
    """A letter behind the word for it may name a section."""
    assert may_name_a_section(text)


def test_words_for_letters_alone_name_no_section() -> None:
    """Songs sing of letters."""
    assert not may_name_a_section("Never a letter from the harbour")
    assert not may_name_a_section("La lettre à la mer")


def test_single_words_mean_what_any_name_means() -> None:
    """The meaning of one word as a section's name is that of all patterns for names."""
    words = {word for line in _lines() for word in re.findall(r"[^\W\d_]+", line)}
    odd = ("Geigensolo", "IV", "ix", "V", "one", "KITA", "KıTA", "Straße", "refr", "final", "x")
    for word in (*words, *odd):
        assert section_key(word) == key_of_words(word), word


def test_each_count_has_a_figure_or_a_word_of_counts() -> None:
    """No count is passed over."""
    count = re.compile(rf"(?<!\w)(?:{ANY_TIMES})", re.IGNORECASE)
    for text in (*_lines(), "play it twice", "QUATRE FOIS", "neljä kertaa", "x 4"):
        if count.search(text) is not None:
            assert may_have_count(text), text
