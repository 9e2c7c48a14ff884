"""Which verse each section sings where it is written out: chart out as MusicXML and as text."""

from io import BytesIO
from xml.etree import ElementTree

import pytest

from chartkit.chart.model import Chart, WordsRow
from chartkit.chart.sung_lines import sung_lines
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from tests.charts import chart_of
from tests.interchange.reading import taken

BELLS = """key: C major
meter: 4/4

== Verse
   | C    | F     |
1: | one  | bell  |
2: | two  | tides |
3: | three | years |

== Refrain
  | G   | C    |
: | ring | on |

== Verse

== Refrain

== Verse
"""
TWICE, FOUR_TIMES = BELLS.rsplit("== Refrain", 1)[0], BELLS + "\n== Refrain\n\n== Verse\n"
IN_ANOTHER_KEY = BELLS.rstrip("\n") + "\nkey: D major\n"


@pytest.mark.parametrize(
    ("text", "sung"),
    [
        (BELLS, [(0,), (0,), (1,), (0,), (2,)]),
        (TWICE, [(0,), (0,), (1, 2)]),  # the third verse stays where the section comes last
        (FOUR_TIMES, [(0,), (0,), (1,), (0,), (2,), (0,), (2,)]),
        (IN_ANOTHER_KEY, [(0,), (0,), (1,), (0,), (2,)]),
        (BELLS.replace("|\n1:", ":|\n1:", 1), [(0, 1), (0,), (2,), (0,), (2,)]),
        (BELLS.split("== Refrain", 1)[0], [(0, 1, 2)]),  # a hymn
    ],
    ids=["each once", "too few", "once more", "another key", "a repeat inside", "alone"],
)
def test_each_section_sings_its_verse(text: str, sung: list[tuple[int, ...]]) -> None:
    """The first time the first line, the second time the second; no line is lost."""
    assert [rows[0] for rows in sung_lines(chart_of(text))] == sung


def _syllables(chart: Chart) -> list[tuple[str, str]]:
    """The number and the text of every lyric of the score, in order."""
    tree = ElementTree.parse(BytesIO(musicxml_bytes(chart)))
    return [(lyric.get("number", ""), lyric.findtext("text") or "") for lyric in tree.iter("lyric")]


def test_a_score_has_each_verse_once() -> None:
    """Verse 2 stands under its own music alone, as its second verse; a refrain comes each time."""
    assert _syllables(chart_of(BELLS)) == [
        ("1", "one"), ("1", "bell"), ("1", "ring"), ("1", "on"),
        ("2", "two"), ("2", "tides"), ("1", "ring"), ("1", "on"),
        ("3", "three"), ("3", "years"),
    ]  # fmt: skip


def test_a_text_has_each_verse_once() -> None:
    """The text is read back with three sections of one verse each, by their numbers."""
    text = sheet_text(chart_of(BELLS))
    assert [line.split() for line in text.splitlines() if line[:1].isdecimal()] == [
        ["1.", "one", "bell"], ["2.", "two", "tides"], ["3.", "three", "years"],
    ]  # fmt: skip
    back = taken(text).chart
    assert [section.name for section in back.sections] == [
        "Verse", "Refrain", "Verse", "Refrain", "Verse",
    ]  # fmt: skip
    rows = (row for section in back.sections for row in section.rows)
    numbers = [row.verse for row in rows if isinstance(row, WordsRow)]
    assert numbers == [1, None, 2, None, 3]


def test_a_change_behind_the_last_music_is_exported_once() -> None:
    """A key and a meter behind a section's last row stand over the next music in both formats."""
    chart = chart_of(
        "title: Bells\nkey: G major\n\n== Verse\n| G | D |\n: one | bell |\n"
        "key: A major\nmeter: 3/4\n"
        "\n== Last Verse\n| A | E |\n: two | tides |\n"
    )
    lines = [line.strip() for line in sheet_text(chart).splitlines()]
    assert lines.index("== Last Verse") < lines.index("(Key: A major)")
    assert sum("A major" in line for line in lines) == 1
    assert _syllables(chart) == [("1", "one"), ("1", "bell"), ("1", "two"), ("1", "tides")]
    tree = ElementTree.parse(BytesIO(musicxml_bytes(chart)))
    assert [key.findtext("fifths") for key in tree.iter("key")] == ["1", "3"]
    assert [time.findtext("beats") for time in tree.iter("time")] == ["4", "3"]
