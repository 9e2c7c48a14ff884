"""A bare heading with an earlier section's name plays that section again, words and all.

Common practice, no source: a lead sheet that names its chorus a second time means the same one.
"""

from dataclasses import replace
from itertools import pairwise

from hypothesis import given, settings

from chartkit.chart.model import Bar, Chart, CueRow, MusicRow, Row, Section, Strike, WordsRow
from chartkit.chart.playing_order import PlayedBar, playing_order
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import all_systems, is_bare, plays_again
from tests.charts import chart_of
from tests.strategies import charts

SONG = "== Verse\n| C | F |\n: | low | tide |\n\n== Chorus\n|: G :|\n: | la |\n\n"


def _played(bars: tuple[PlayedBar, ...]) -> list[object]:
    return [(bar.strikes, bar.length) for bar in bars]


def _written_out(chart: Chart) -> Chart:
    """The chart with the rows of sections played again copied under their headings; each is
    given a name of its own, so that none is bare."""
    rows_of: dict[str, tuple[Row, ...]] = {}
    sections: list[Section] = []
    for i, section in enumerate(chart.sections):
        if is_bare(section):
            cues = tuple(row for row in section.rows if isinstance(row, CueRow))
            section = replace(section, rows=(*cues, *rows_of.get(section.name, ())))
        rows_of[section.name] = section.rows
        sections.append(replace(section, name=f"{section.name} {i}"))
    return replace(chart, sections=tuple(sections))


def _plain(chart: Chart) -> Chart:
    """The chart without marks and without verses under others, and with an empty bar for each
    simile."""

    def bar_of(bar: Bar) -> Bar:
        empty = bar.simile and Bar((Strike(None, 0, bar.length),), bar.length)
        return empty or replace(bar, marks=())

    def plain(row: Row) -> Row:
        if not isinstance(row, MusicRow):
            return row
        return replace(row, bars=tuple(map(bar_of, row.bars)))

    def without_stacks(rows: tuple[Row, ...]) -> tuple[Row, ...]:
        words = [isinstance(row, WordsRow) for row in rows]
        under = (own and above for above, own in pairwise((False, *words)))
        return tuple(row for row, stacked in zip(rows, under, strict=True) if not stacked)

    sections = (
        replace(one, rows=tuple(map(plain, without_stacks(one.rows)))) for one in chart.sections
    )
    return replace(chart, sections=tuple(sections))


def test_again_with_words() -> None:
    """A second bare "Chorus" has the first one's bars and words; "as" alone has its bars only."""
    chart = chart_of(f"{SONG}== Chorus x2\n\n== Out as Chorus\n")
    _, chorus, again, out = all_systems(chart)
    assert again == chorus
    assert out[0].music == chorus[0].music and out[0].words == ()
    assert plays_again(chart) == ("", "", "Chorus", "Chorus")
    assert len(playing_order(chart).bars) == 2 + 2 + 2 * 2 + 2


def test_the_last_of_that_name_is_played() -> None:
    """Of several sections with one name the last before it is meant, ignoring case; a chain of bare
    headings leads back to it."""
    chart = chart_of("== A\n| C |\n\n== A\n| F |\n: | x |\n\n== a\n\n== A\n")
    assert all_systems(chart)[3] == all_systems(chart)[2] == all_systems(chart)[1]


def test_a_verse_under_other_music_is_played_again_with_its_words() -> None:
    """Verse 2 has the music of the first; named again, it comes with its own words."""
    chart = chart_of(f"{SONG}== Verse 2 as Verse\n: | high | tide |\n\n== Verse 2\n")
    assert all_systems(chart)[3] == all_systems(chart)[2]
    assert all_systems(chart)[3][0].words[0].cells[1][0].text == "high"


def test_a_cue_may_stand_under_it() -> None:
    """Remarks under the heading stand above the first row of the section."""
    chart = chart_of(f'{SONG}== Chorus\n"softly"\n')
    first = all_systems(chart)[2][0]
    assert first.above == (CueRow("softly"),)
    assert first.music == all_systems(chart)[1][0].music


def test_a_section_in_another_key_is_played_again_in_its_own() -> None:
    """Its key is restated if another came between."""
    chart = chart_of("key: C\n== A\n| C |\n\n== B\nkey: D\n| D |\n\n== A\n\n== B\n")
    keys = [[str(row.value) for row in systems[0].above] for systems in restated_systems(chart)]
    assert keys == [[], ["D major"], ["C major"], ["D major"]]


@given(charts(alone=True))
@settings(max_examples=15, deadline=None)
def test_again_is_as_written_out(chart: Chart) -> None:
    """Any chart is played, bar by bar, like the one in which those sections are written out.

    Similes are left aside, for a sign copied to another place repeats other bars; so are
    navigation, which is not copied, and verses, of which a section that comes again sings the next.
    """
    chart = _plain(chart)
    whole = _written_out(chart)
    assert _played(playing_order(chart).bars) == _played(playing_order(whole).bars)
