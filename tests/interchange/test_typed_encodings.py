"""Texts with what should not be in them: control characters, a missing mark of their encoding."""

import pytest

from chartkit.interchange.intake_result import Refused
from chartkit.interchange.recognise import format_of
from tests.each import each
from tests.interchange.reading import body, codes, taken

_SHEET = "Song\n\nVerse\nC   G\nla  la\n"


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_its_mark(encoding: str) -> None:
    """It is read, and reported."""
    result = taken(_SHEET.encode(encoding))
    assert body(result.chart) == body(taken(_SHEET).chart)
    assert "encoding" in codes(result)


@each(
    ("stray", "said"),
    [("\0", "U+0000"), ("\x07", "U+0007"), ("\x1b[31m", "U+001B"), ("\x7f", "U+007F")],
)
def test_a_stray_control_character_is_left_out_and_named(stray: str, said: str) -> None:
    """The text is read without it; its code and place are reported."""
    result = taken(_SHEET.replace("G", f"G{stray}"))
    assert body(result.chart) == body(taken(_SHEET).chart)
    (finding,) = [f for f in result.findings if f.code == "control-character"]
    assert said in finding.message
    assert (finding.certainty, finding.place) == ("left-out", "4:6")


def test_many_zeros_are_no_text() -> None:
    """Content that is no text is still refused."""
    with pytest.raises(Refused, match="cannot read this kind of file"):
        taken(b"\x01\x00\x02\x03\x00\x00\x05\x06\x00\x07" * 20)


def test_json_that_is_no_chart_is_said_to_be_none() -> None:
    """The message says what is missing, not that a chart has no music."""
    with pytest.raises(Refused, match='not a chart: it has no "sections"'):
        taken('{"a": 1}')


@pytest.mark.parametrize("first", ["<Intro>", "<< Low Lamp >>", "<b>", "<3 Mo", "<Intro> </b>"])
def test_angle_marks_around_names_are_text(first: str) -> None:
    """What begins with a name in angle marks is a typed sheet, not XML."""
    assert format_of(f"{first}\nC  G  Am  F\n".encode()) == "text"
    assert format_of(f"{first}\nC  G  Am  F\n".encode("utf-16")) == "text"


@pytest.mark.parametrize(
    "text",
    [
        "<?xml version='1.0'?><note/>",
        "<!DOCTYPE score-partwise>",
        "<score-partwise><part>",
        "<mx:score-timewise>",
        "<note>low tide</note>\n",
    ],
)
def test_xml_is_known_without_its_declaration(text: str) -> None:
    """A declaration, the root of a score, or a root that is closed at the end."""
    assert format_of(text.encode()) == "musicxml"
    assert format_of(text.encode("utf-16")) == "musicxml"


def test_a_web_page_is_refused() -> None:
    """A page has its text beside much else."""
    with pytest.raises(Refused, match="web page"):
        format_of(b"<html><body>C G Am F")


@each("end", ["\u2028", "\u2029", "\x0b", "\x0c", "\x85"])
def test_line_ends_of_word_processors(end: str) -> None:
    """Lines that end without a newline are lines, and findings count them; a sign beside a newline
    ends no line of its own."""
    result = taken(_SHEET.replace("\n", end))
    assert body(result.chart) == body(taken(_SHEET).chart)
    assert result.source_text.splitlines() == _SHEET.splitlines()
    assert taken(_SHEET.replace("\n\n", "\n\x0c\n")).source_text.count("\n") == 5
