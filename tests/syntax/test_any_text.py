"""Any text at all can be read: no exception, no place outside the text, no long wait."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.diagnostics import Source, as_json, diagnostic_text, has_errors
from chartkit.syntax.reader import Reading, read_chart
from chartkit.syntax.symbol import NotAChord, read_symbol
from tests.each import each

PIECES = (
    "|",
    "||",
    "|:",
    ":|",
    "|1.",
    ":|2.",
    "/",
    "%",
    "%%",
    ",",
    "<",
    "!",
    "~",
    "(",
    ")",
    ":",
    "1:",
    "_",
    "-",
    "\\",
    "#",
    '"',
    "@segno",
    "@coda",
    "@D.S. al coda",
    "al",
    "== ",
    "== A",
    " as ",
    "x2",
    "C",
    "Gm7",
    "F#7(b9,#11)",
    "Db/F",
    "/E",
    "N.C.",
    "H",
    "am",
    "Do",
    "Cfoo",
    "sus",
    "key: ",
    "key: D",
    "meter: 6/8",
    "capo: 3",
    "chords: shapes",
    "title: x",
    "\n",
    "\n",
    "\n",
    "\r",
    " ",
    " ",
    "\t",
    "\0",
    "\ufeff",
    "\u202e",
    "\u200b",
    "\ud800",
    "🎸",
    "é",
    "word",
    "３",
    "²",
)


def checked(text: str) -> Reading:
    """The reading of a text whose every diagnostic lies in the text and can be shown."""
    source = Source(text)
    reading = read_chart(source)
    for diagnostic in reading.diagnostics:
        start, end = diagnostic.span
        assert 0 <= start <= end <= len(text), diagnostic
        assert "\n" not in text[start:end].strip("\n"), diagnostic
        lines = diagnostic_text(diagnostic, source).splitlines()
        assert len(lines) == 3 + len(diagnostic.hints)
        assert as_json(diagnostic, source)["line"] == source.place(start)[0]
    return reading


@given(
    st.lists(st.characters(exclude_categories=["Cs"]) | st.sampled_from("\ud800\udfff")).map(
        "".join
    )
)
@settings(deadline=None)
def test_any_characters_are_read(text: str) -> None:
    """Whatever characters a text is made of, surrogates too, reading returns."""
    checked(text)


@given(st.lists(st.sampled_from(PIECES), max_size=60).map("".join))
@settings(max_examples=200, deadline=None)
def test_any_jumble_of_the_language_is_read(text: str) -> None:
    """Pieces of the language in any order are read to the end."""
    checked(text)


@given(st.lists(st.sampled_from(PIECES), max_size=40).map(" ".join))
@settings(max_examples=200, deadline=None)
def test_any_spaced_jumble_of_the_language_is_read(text: str) -> None:
    """The same with blanks between."""
    checked(text)


@given(st.text(max_size=60))
@settings(deadline=None)
def test_any_text_is_a_symbol_or_reported_why_not(text: str) -> None:
    """Reading a symbol gives a chord or the stretch that is wrong, never an exception."""
    symbol = "C" + text
    read = read_symbol(symbol)
    if isinstance(read, NotAChord):
        assert 0 <= read.start < read.end <= len(symbol)
    else:
        assert read_symbol(str(read)) == read


@each("end", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_is_read(end: str) -> None:
    """Files of any system give the same chart, and places count the lines right."""
    rows = ("key: C", "== A", "| C | F |", ": | one | two |", "| Gfoo |")
    reading = checked(end.join(rows))
    plain = checked("\n".join(rows))
    assert reading.chart == plain.chart
    (wrong,) = reading.diagnostics
    assert Source(end.join(rows)).place(wrong.span.start) == (5, 4)


def test_a_byte_order_mark_is_no_part_of_the_chart() -> None:
    """The mark some editors put before the text is passed over."""
    assert checked("\ufeffkey: D\n| D |").chart == checked("key: D\n| D |").chart


def test_tabs_are_white_space() -> None:
    """A tab parts what a blank parts."""
    assert checked("|\tC\tF\t|\t%\t|").chart == checked("| C F | % |").chart


@each("letter", ["🎸", "שלום", "\u202eabc", "नमस्ते", "e\u0301", "語"])
def test_words_may_be_in_any_script(letter: str) -> None:
    """What is sung may be written in any script, right to left too."""
    reading = checked(f"| C | F |\n: {letter} | {letter} | a |")
    assert not has_errors(reading.diagnostics)


@each("character", ["\0", "\x1b", "\x7f", "\ud800", "\udfff"])
def test_characters_that_no_page_can_hold_are_reported_and_passed_over(character: str) -> None:
    """Control characters and lone surrogates are one mistake, and the row is read all the same."""
    reading = checked(f"| C | {character} F |")
    assert [d.code for d in reading.diagnostics] == ["control-character"]
    assert character not in diagnostic_text(
        reading.diagnostics[0], Source(f"| C | {character} F |")
    )
    (section,) = reading.chart.sections
    assert len(section.rows[0].bars) == 2  # type: ignore[union-attr]


LARGE = {
    "rows": lambda n: "| C | F | G7 | C |\n" * n,
    "one row of bars": lambda n: "| C | F / / / | G7 " * n,
    "one row of words": lambda n: "| C / / D " * n + "|\n:" + " | a / b" * n,
    "stray signs": lambda n: "| C ! ) " * n,
    "unknown symbols": lambda n: "".join(f"| Cx{i} " for i in range(n)),
    "unknown words": lambda n: "| " + "".join(f"q{i} | C | " for i in range(n)),
    "nested parentheses": lambda n: "(" * n + "C" + ")" * n,
    "open parentheses": lambda n: "| (C7 " * n,
    "parentheses at a chord": lambda n: "| C(" + "(" * n,
    "one after the other": lambda n: (
        "== A\n| C |\n== B0 as A\n"
        + "".join(f"== B{i} as B{i - 1}\n: | a |\n" for i in range(1, n))
    ),
    "the same section": lambda n: "== A\n| C |\n" + "== B as A\n: | a |\n" * n,
    "settings again": lambda n: "# c\n" * n + "title: a\n" * n,
    "blank rows": lambda n: "\n" * n,
    "white space in words": lambda n: "| C |\n: | a" + " " * n + "b |",
    "white space and signs": lambda n: "| C |\n: | " + " a   #" * n,
    "backslashes": lambda n: "| C |\n: | " + "\\" * n + "-",
    "quotes": lambda n: '| "a ' * n,
    "letters": lambda n: "C" * n,
    "chords in a beat": lambda n: "| C" + ",C" * n,
    "pushes": lambda n: "| " + "<" * n,
    "marks": lambda n: "| C " + "@fine " * n,
    "marks between lines": lambda n: "| C " + "| @fine " * n,
    "slashes": lambda n: "| C" + "/" * n,
    "new basses": lambda n: "| C" + " /C" * n,
    "verses": lambda n: "| C |\n" + ": | a |\n" * n,
    "empty bars": lambda n: "|" * n,
    "endings": lambda n: "|" + "1." * n,
    "unknown settings": lambda n: "cappo: 2\n" * n,
}
"""Texts that grow with a number, each of a kind that can make a reader slow."""


def events(text: str) -> int:
    """How much the reader works: calls of Python and C functions, counted, not timed."""
    import sys

    count = 0

    def tick(*_: object) -> None:
        nonlocal count
        count += 1

    source = Source(text)
    sys.setprofile(tick)
    try:
        reading = read_chart(source)
        for diagnostic in reading.diagnostics[-3:]:
            diagnostic_text(diagnostic, source)
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize("kind", LARGE)
def test_work_grows_with_length(kind: str) -> None:
    """Four times the text is at most four and a half times the work.

    Calls are counted, so the figure does not hang on the machine; what one call costs inside
    (a regular expression, a copy) is left to the benchmarks.
    """
    small, large = events(LARGE[kind](100)), events(LARGE[kind](400))
    assert large <= 4.5 * small + 500


@pytest.mark.parametrize("kind", LARGE)
def test_large_texts_are_read(kind: str) -> None:
    """Thousands of anything are read to the end without an exception."""
    text = LARGE[kind](1_000)
    source = Source(text)
    for diagnostic in read_chart(source).diagnostics[-3:]:
        assert diagnostic.span.end <= len(text)
        assert len(diagnostic_text(diagnostic, source)) < 1_500


def test_a_line_of_a_megabyte_is_read() -> None:
    """One word of a million letters is one mistake, shown in a line a terminal can hold."""
    text = "| " + "x" * 1_000_000
    reading = checked(text)
    assert len(reading.diagnostics) == 1
    assert len(diagnostic_text(reading.diagnostics[0], Source(text))) < 600


def test_twenty_thousand_rows_are_read() -> None:
    """More rows than any file may have give as many, the last as right as the first."""
    text = "| C |\n" * 20_000 + "| Cfoo |"
    reading = read_chart(Source(text))
    assert len(reading.chart.sections[0].rows) == 20_001
    (wrong,) = reading.diagnostics
    assert Source(text).place(wrong.span.start) == (20_001, 4)


@each("sign", ["²", "①", "½", "٣", "３"])
def test_signs_that_are_no_decimal_digits_are_reported(sign: str) -> None:
    """Digits of other kinds stand where numbers do without harm."""
    rows = ("| C r {} / |", "== {}\n| C |", "== A x{}\n| C |", "tempo: {}\n| C |", "| rest {} |")
    for row in rows:
        checked(row.format(sign) + "\n")
