"""Sections that share music after a change of key or meter: every way out says both again."""

from collections.abc import Iterator

import pytest
from hypothesis import example, given, settings
from music21 import converter, stream

from chartkit.arrange.view import View
from chartkit.chart.keys import written_key
from chartkit.chart.model import Chart, Meter, SettingRow
from chartkit.chart.playing_order import playing_order
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import all_systems, section_systems
from chartkit.chart.written_order import written_order
from chartkit.interchange.musicxml.write import musicxml_bytes
from chartkit.interchange.text.write import sheet_text
from chartkit.theory.key import Key
from tests.charts import arranged, chart_of
from tests.interchange.reading import body, taken
from tests.strategies import charts

BOTH = """key: C major
meter: 4/4

== Verse
| C | F |

== Bridge
key: E major
meter: 3/4
| E | A |

== Verse 2 as Verse

== End
| B | E |
"""
WRITTEN_OUT = """== Verse
| C | F |
== Bridge
key: E major
meter: 3/4
| E | A |
== Verse 2
key: C major
meter: 4/4
| C | F |
== End
key: E major
meter: 3/4
| B | E |"""


def test_the_page_shows_both_where_they_go_back() -> None:
    """A shared section is headed by its own key and meter, and so is the one after it."""
    song = arranged(BOTH, View())
    said = [[one.text for one in section.systems[0].above] for section in song.sections]
    signs = [str(section.systems[0].bars[0].bar.meter) for section in song.sections]
    assert said == [[], ["E major"], ["C major"], ["E major"]]
    assert signs == ["None", "3/4", "4/4", "3/4"]


def test_a_page_with_shapes_names_the_shapes_key() -> None:
    """With a capo the key that comes back is said for both lines."""
    song = arranged(BOTH.replace("meter: 4/4", "capo: 2"), View())
    (said,) = song.sections[2].systems[0].above
    assert said.text == "B♭ major shapes, sounds C major"


def test_a_meter_that_ends_its_own_section_is_taken_back() -> None:
    """Music that ends in another meter than it began in shows its first one when played again;
    where nothing differs nothing is said."""
    song = arranged("== A\n| 4/4 C | 3/4 F |\n\n== B as A\n\n== C\n| G |\n", View())
    bars = [bar for section in song.sections for bar in section.systems[0].bars]
    assert [str(bar.bar.meter) for bar in bars] == ["4/4", "3/4", "4/4", "3/4", "None"]
    song = arranged("== A\n| C |\n\n== B\n| F |\n\n== C as A\n", View())
    assert all(not section.systems[0].above for section in song.sections)


def test_through_musicxml_and_text() -> None:
    """What is read back from either has each section in its own key and meter."""
    chart = chart_of(BOTH)
    assert body(taken(musicxml_bytes(chart)).chart).replace("\n\n", "\n") == WRITTEN_OUT
    back = taken(sheet_text(chart)).chart
    played = [(bar.key, bar.meter) for bar in playing_order(back).bars]
    assert played == [(bar.key, bar.meter) for bar in playing_order(chart).bars]


def test_another_program_finds_every_measure_full() -> None:
    """music21 reads four beats under 4/4 and three under 3/4, and each section's signature."""
    score = converter.parse(musicxml_bytes(chart_of(BOTH)), format="musicxml")
    measures = list(score.parts[0].getElementsByClass(stream.Measure))
    assert [m.duration.quarterLength for m in measures] == [4, 4, 3, 3, 4, 4, 3, 3]
    signs = [m.timeSignature and m.timeSignature.ratioString for m in measures]
    assert signs == ["4/4", None, "3/4", None, "4/4", None, "3/4", None]
    sharps = [m.keySignature and m.keySignature.sharps for m in measures]
    assert sharps == [0, None, 4, None, 0, None, 4, None]


def read_from_the_top(chart: Chart) -> Iterator[tuple[Key, Meter]]:
    """The key and meter of every bar for one who reads the page from top to bottom."""
    now, counted = written_key(chart), chart.meter
    for systems in restated_systems(chart):
        for system in systems:
            for row in system.above:
                if isinstance(row, SettingRow) and isinstance(row.value, Key):
                    now = row.value
                elif isinstance(row, SettingRow) and isinstance(row.value, Meter):
                    counted = row.value
            for bar in () if system.music is None else system.music.bars:
                counted = bar.meter or counted
                yield now, counted


@settings(max_examples=30, deadline=None)
@given(charts(rhythm=True))
def test_the_page_says_what_the_playing_order_counts(chart: Chart) -> None:
    """Reading the page from the top gives every bar in time the key and meter that it is played
    in."""
    heard = [(bar.key or written_key(chart), bar.meter) for bar in written_order(chart)]
    free = [bar.written.length == 0 for bar in written_order(chart)]
    for read, played, free_bar in zip(read_from_the_top(chart), heard, free, strict=True):
        assert read[0] == played[0]
        assert free_bar or read[1] == played[1]


@pytest.mark.parametrize("row", ["N.C. C~\n| C |", "C / | F |"])
def test_a_section_that_begins_freely_shows_its_meter_later(row: str) -> None:
    """A meter is said where bars begin to be counted, not over a row in free time."""
    text = f"== A\n{row}\n\n== B\nmeter: 3/4\n| F |\n\n== C as A\n"
    systems = restated_systems(chart_of(text))[2]
    meters = [
        [str(above.value) for above in s.above if isinstance(above, SettingRow)] for s in systems
    ]
    assert meters[-1] == ["4/4"]
    assert sum(map(len, meters)) == 1


REPEATED_NAMES = """== A
| C |
== a
| F |
== B as A
== B as B
: | la |
== C as b
"""


@settings(max_examples=30, deadline=None)
@given(charts(rhythm=True))
@example(chart_of(REPEATED_NAMES))
def test_all_sections_at_once_are_the_sections_one_by_one(chart: Chart) -> None:
    """The music that each section shares is the same, whether asked for one or for all."""
    one_by_one = tuple(section_systems(chart, i) for i in range(len(chart.sections)))
    assert all_systems(chart) == one_by_one
