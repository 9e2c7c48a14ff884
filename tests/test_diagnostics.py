"""Mistakes as values: places, excerpts, the lines a terminal shows, JSON for editors."""

import json

from hypothesis import given
from hypothesis import strategies as st

from chartkit.diagnostics import Diagnostic, Source, Span, as_json, diagnostic_text, has_errors
from tests.each import each


def lines_shown(text: str, start: int, end: int, *hints: str) -> list[str]:
    """What the terminal shows of a mistake at a stretch of a text."""
    return diagnostic_text(
        Diagnostic("code", "error", Span(start, end), "wrong", hints), Source(text)
    ).split("\n")


@each(
    ("text", "offset", "place"),
    [
        ("", 0, (1, 1)),
        ("ab\ncd", 0, (1, 1)),
        ("ab\ncd", 2, (1, 3)),
        ("ab\ncd", 3, (2, 1)),
        ("ab\r\ncd", 4, (2, 1)),
        ("ab\rcd", 3, (2, 1)),
        ("a\n\nb", 3, (3, 1)),
        ("a\n", 2, (2, 1)),
    ],
)
def test_lines_and_columns_count_from_one(text: str, offset: int, place: tuple[int, int]) -> None:
    """Whatever ends the lines, an offset has its line and its column."""
    assert Source(text).place(offset) == place


@given(st.text(st.sampled_from("ab \r\n")))
def test_lines_put_together_are_the_text(text: str) -> None:
    """The lines start where they say and hold every character but the line ends."""
    source = Source(text)
    lines = list(source.lines())
    for number, (start, line) in enumerate(lines, 1):
        assert text[start : start + len(line)] == line == source.line(number)
    assert "".join(line for _, line in lines) == text.replace("\r", "").replace("\n", "")


def test_the_caret_stands_under_the_fault() -> None:
    """The caret is as long as the fault and begins under it."""
    assert lines_shown("| Db | Gfoo |", 8, 11, "try again") == [
        "chart:1:9: error[code]: wrong",
        "  1 | | Db | Gfoo |",
        "    |         ^^^",
        "  hint: try again",
    ]


def test_the_caret_stands_right_under_wide_and_combining_letters() -> None:
    """Letters two columns wide push the caret on, combining marks do not."""
    wide = lines_shown("語語 x", 3, 4)
    assert wide[2].index("^") - wide[1].index("語") == 5
    combining = lines_shown("e\u0301 x", 3, 4)
    assert combining[2].index("^") - combining[1].index("e") == 2


def test_a_long_line_is_shown_around_the_fault() -> None:
    """Only a window of a long line is shown, and the fault is in it."""
    text = "a" * 5_000 + "X" + "b" * 5_000
    shown_lines = lines_shown(text, 5_000, 5_001)
    assert len(shown_lines[1]) < 130
    assert shown_lines[1][shown_lines[2].index("^")] == "X"
    assert shown_lines[1].count("…") == 2


@each("character", ["\0", "\x1b", "\u202e", "\ud800", "\u2028"])
def test_nothing_that_moves_the_cursor_is_shown(character: str) -> None:
    """Control characters, direction marks and surrogates show as one replacement sign."""
    picture = "\n".join(lines_shown(f"| {character} C |", 2, 3))
    assert character not in picture and "\N{REPLACEMENT CHARACTER}" in picture
    picture.encode("utf-8")


def test_only_errors_are_errors() -> None:
    """A warning does not make a chart unfit."""
    warning = Diagnostic("code", "warning", Span(0, 1), "hm")
    error = Diagnostic("code", "error", Span(0, 1), "no")
    assert not has_errors((warning,)) and has_errors((warning, error))


def test_json_gives_editors_both_ends() -> None:
    """Places count from 1 and the end is the first column after the fault."""
    diagnostic = Diagnostic("code", "error", Span(4, 6), "wrong", ("a hint",))
    answer = as_json(diagnostic, Source("abc\ndef", "a.chart"))
    assert json.loads(json.dumps(answer)) == {
        "file": "a.chart",
        "line": 2,
        "column": 1,
        "end_line": 2,
        "end_column": 3,
        "severity": "error",
        "code": "code",
        "message": "wrong",
        "hints": ["a hint"],
    }
