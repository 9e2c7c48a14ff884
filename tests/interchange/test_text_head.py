"""The head of a text for a mail is taken back setting by setting, or what is not is reported."""

import pytest

from chartkit.arrange.view import View
from chartkit.chart.model import REPEATABLE, SETTING_NAMES
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from chartkit.interchange.text.written_head import settings_lost_in_text
from chartkit.syntax.write import chart_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import reads_back, taken

HEAD = """title: Gate in the Wind
writer: words Ada Vale, music Ivo Crane
part: second guitar: three-note chords on the inner strings
key: G major
meter: 4/4
tempo: 97
feel: half-time shuffle (not too fast)
range: A3-E5
capo: 2
instrument: guitar
language: pt-BR
note: second time quiet
note: Range: all of it
note: watch the drummer
note: third verse alone
note: end on the down stroke
note: no solo
shape: F xx3211
shape: C x-3-10-0-1-0

| G | D |
: | so | low |
"""
NAMES = tuple(name for name in SETTING_NAMES if name not in (*REPEATABLE, "chords"))
"""Every setting that stands once; ``chords`` says how the others are written."""


@pytest.mark.parametrize("text", [HEAD, HEAD.replace("capo: 2\n", "")])
def test_every_setting_is_taken_back(text: str) -> None:
    """Settings, own shapes and any number of notes come back, and nothing is reported as lost."""
    chart = chart_of(text)
    assert [name for name in NAMES if chart_of(HEAD).setting(name) is None] == []
    back = taken(sheet_text(chart)).chart
    reads_back(back)
    assert [back.setting(name) for name in NAMES] == [chart.setting(name) for name in NAMES]
    assert [row.value for row in back.shapes()] == [row.value for row in chart.shapes()]
    assert back.notes() == chart.notes()
    assert settings_lost_in_text(chart) == ()


def test_every_setting_comes_back_from_a_score() -> None:
    """MusicXML carries every setting, too."""
    chart = chart_of(HEAD)
    back = taken(musicxml_bytes(chart)).chart
    assert [back.setting(name) for name in NAMES] == [chart.setting(name) for name in NAMES]


def test_the_range_is_that_of_the_key_it_is_sent_in() -> None:
    """In another key the sung range moves along."""
    assert "Range: B3-F#5" in sheet_text(chart_of(HEAD), View(by=2))


@each(
    ("setting", "remark"),
    [
        ("shape: F#7(b9) 2x2312", "the shape F#7(b9) 2x2312"),
        ("instrument: ukulele\nshape: C 0003", "the shape C 0003"),
        ("shape: C x32010\nshape: C x32013", "the shape C x32013"),
        ("feel: " + "slow " * 99 + "drag", "the feel " + "slow " * 99 + "drag"),
        ("capo: best", "that the program chooses the capo"),
    ],
)
def test_what_no_words_can_say_is_reported(setting: str, remark: str) -> None:
    """A setting that the reader of texts would not take back is named."""
    chart = chart_of(f"key: C\n{setting}\n\n| C |\n")
    assert settings_lost_in_text(chart) == (remark,)
    assert str(remark.rpartition(" ")[2]) not in sheet_text(chart)


def test_settings_that_others_name_are_taken() -> None:
    """A sheet typed by another player gives its range and feel; one that names no notes for its
    range keeps the line as a note."""
    result = taken("Hill Song\nFeel: swing\nRange: C4-E5\n\nC    F\none  two\n").chart
    assert (result.text("feel"), result.text("range")) == ("swing", "C4-E5")
    result = taken("Hill Song\nRange: high\n\nC    F\none  two\n").chart
    assert (result.setting("range"), result.notes()) == (None, ("Range: high",))


@each(
    "title",
    [
        "G",
        "Dm",
        "A & B",
        "N.C.",
        "Capo 3",
        "Key: D",
        "Verse",
        "Chorus 2x",
        "4/4",
        "120 bpm",
        "Hi all,",
        "See you at 5pm",
        "3. Moth",
        "Moth (capo 2)",
        "Moth - Ann",
        "by Ann",
        "x2",
        "Slow ballad",
        "Am F C G throughout",
        "end on G",
        "G 320003",
        "From: Bob",
        "Moth!",
    ],
)
def test_titles_that_could_be_something_else(title: str) -> None:
    """A title that reads as chords, a setting, a section or talk comes back as the title, and key
    and capo with it."""
    chart = chart_of(
        f"title: {title}\nkey: D major\ncapo: 2\n\n== Verse\n| D | A |\n: | low | tide |\n"
    )
    back = taken(sheet_text(chart)).chart
    assert [back.text("title"), back.text("key"), back.text("capo")] == [title, "D major", "2"]


def test_a_second_writer_is_kept_as_a_note() -> None:
    """Words that name a writer behind a comma are a note where another line named one."""
    result = taken(
        "Low Moth\nby Ann Lee\nTrad. style, words by Gorm Anstey\n\nVerse\nC  G\nmoth, moth\n"
    )
    assert result.chart.text("writer") == "Ann Lee"
    assert "Gorm Anstey" in chart_text(result.chart)


@each("title", ["Room 12", "Song for a", "b c d", "am Em", "Hold the Line f", "Lantern Road A"])
def test_a_title_like_chords_has_its_label(title: str) -> None:
    """A title that could be read as chords says that it is the title, and comes back."""
    text = sheet_text(chart_of(f"title: {title}\n\n| G | D |\n: so | low |\n"))
    assert text.startswith(f"Title: {title}\n")
    assert taken(text).chart.text("title") == title
