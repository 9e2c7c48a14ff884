"""A heading of an earlier section with a key or a meter under it plays that section moved.

Common practice, no source: bands say "last chorus up a tone" and write the chorus once.
"""

import json
from dataclasses import replace

from hypothesis import given, settings

from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.model import BlankRow, Chart, MusicRow, Row, Section, SettingRow
from chartkit.chart.moved_sections import moved_sections, typed_chart
from chartkit.chart.playing_order import playing_order
from chartkit.chart.walk import iter_chords
from chartkit.diagnostics import Source
from chartkit.interchange.chart_json import chart_from_json, chart_json
from chartkit.interchange.midi.sung import VerseWords
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from chartkit.theory.key import Key
from chartkit.theory.transposition import semitones_between
from tests.charts import arranged, chart_of
from tests.each import each
from tests.strategies import charts, integers

SONG = """key: G major
== Chorus
| G | D/F# Em | C#m7b5 C | % |
: | one | two / three | four / five | _ |
"""


def _names(chart: Chart, section: int) -> str:
    return " ".join(map(str, iter_chords((chart.sections[section],))))


def _heard(text: str, section: int) -> list[str]:
    bars = playing_order(chart_of(text)).bars
    return [
        " ".join(str(one.chord) for one in bar.strikes) for bar in bars if bar.section == section
    ]


@each(
    ("heading", "key", "chords"),
    [
        ("Chorus", "A major", ["A", "E/G# F#m", "D#m7(b5) D", "D#m7(b5) D"]),
        ("Chorus", "G major", ["G", "D/F# Em", "C#m7(b5) C", "C#m7(b5) C"]),
        ("Chorus", "Gb major", ["Gb", "Db/F Ebm", "Cm7(b5) B", "Cm7(b5) B"]),
        ("Last Chorus as Chorus", "Bb major", ["Bb", "F/A Gm", "Em7(b5) Eb", "Em7(b5) Eb"]),
    ],
)
def test_chords_move_by_the_interval_of_the_keys(heading: str, key: str, chords: list[str]) -> None:
    """The names are those of the interval between two tonics, from memory; a chord whose root the
    new key has as C flat keeps that name."""
    played = _heard(f"{SONG}== {heading}\nkey: {key}\n", 1)
    if key == "Gb major":
        chords = [name.replace(" B", " Cb") for name in chords]
    assert played == chords


def test_a_cue_and_the_words_come_along() -> None:
    """The moved chorus has the words of the first, and its own cue over its first row."""
    song = arranged(f'{SONG}== Chorus\nkey: A major\n"louder"\n')
    first, second = song.sections
    assert [line.bars for line in second.systems[0].words] == [
        line.bars for line in first.systems[0].words
    ]
    assert [one.text for one in second.systems[0].above] == ["A major", "louder"]


def test_it_holds_for_that_time_alone() -> None:
    """The next bare heading of the name has the key in which the section is written; a section
    under a new name keeps the key it was moved to."""
    ends = "== Chorus\nkey: A major\n== Chorus\n== Last as Chorus\nkey: B major\n== Last\n"
    assert [_heard(SONG + ends, section)[0] for section in range(5)] == ["G", "A", "G", "B", "B"]


def test_the_way_back_is_written() -> None:
    """Key and meter of the section come back where the song has left them, and what follows on its
    own goes on in the key and the meter that the text has there."""
    text = (
        f"{SONG}== Bridge\nkey: Eb major\nmeter: 3/4\n| Eb | Ab |\n"
        "== Chorus\nkey: A major\n== Tag\n| A | D |\n== Chorus\nmeter: 12/8\n"
    )
    bars = playing_order(chart_of(text)).bars
    found = [(bar.section, str(bar.key), str(bar.meter), bar.length // 12) for bar in bars]
    assert found[::2] == [
        (0, "G major", "4/4", 4),
        (0, "G major", "4/4", 4),
        (1, "Eb major", "3/4", 3),
        (2, "A major", "4/4", 4),
        (2, "A major", "4/4", 4),
        (3, "A major", "3/4", 3),
        (4, "G major", "12/8", 4),
        (4, "G major", "12/8", 4),
    ]


def test_chords_share_a_meter_of_other_beats() -> None:
    """One chord fills its bar, three share three beats, as if the bars were typed in that meter."""
    text = "meter: 6/8\n== A\n| C @fermata | rest 2 | F |\n: | la | | lo |\n"
    moved = chart_of(f"{text}== A\nmeter: 3/4\n").sections[1]
    typed = chart_of(f"{text}== B\nmeter: 3/4\n{text.split('== A')[1]}").sections[1]
    rows = [[row for row in one.rows if isinstance(row, MusicRow)] for one in (moved, typed)]
    assert rows[0] == rows[1]


def test_verses_under_one_another_are_sung_on() -> None:
    """The moved verse sings the next line of words, as a bare heading does."""
    text = "key: C\n== Verse\n| C |\n1: | one |\n2: | two |\n== Verse\nkey: D\n"
    chart = chart_of(text)
    bars, words = playing_order(chart).bars, VerseWords(chart)
    assert [[said for _, said, _ in words.in_bar(bar)] for bar in bars] == [["one"], ["two"]]


def test_the_text_keeps_what_was_typed() -> None:
    """Written as text, or as JSON and back, the heading has its key alone."""
    text = f"{SONG}\n== Chorus\nkey: A major\n"
    chart = chart_of(text)
    assert chart_text(chart).endswith("== Chorus\nkey: A major\n")
    again = chart_from_json(json.dumps(chart_json(chart)).encode())
    assert again == chart
    other = rewritten_chart(chart, View(key=Key(-3)), as_shapes=False)
    assert chart_text(other).endswith("== Chorus\nkey: F major\n")


def test_music_that_was_changed_is_written_in_full() -> None:
    """A moved section whose rows are no longer those of its chorus is written with them."""
    chart = chart_of(f"{SONG}\n== Chorus\nkey: A major\n")
    first, moved = chart.sections
    rows = tuple(row for row in moved.rows if not isinstance(row, BlankRow))
    other = chart_of("| A | B |").sections[0].rows
    changed = replace(chart, sections=(first, replace(moved, rows=(*rows[:1], *other))))
    assert "key: A major\n| A | B |" in chart_text(changed)


@settings(max_examples=60)
@given(charts(), integers(-5, 5))
def test_print_and_parse_restores_moved_sections(chart: Chart, interval: int) -> None:
    """A section moved to any key sounds that many half steps away, and is read back as it was."""
    sections = chart.sections[:1]
    rows = tuple(row for row in sections[0].rows if not _changes_key(row))
    rows = rows if isinstance(rows[-1], BlankRow) else (*rows, BlankRow())
    old, new = Key(-(interval // 2)), Key(interval - interval // 2)
    top = (*(row for row in chart.top if not _changes_key(row)), SettingRow("key", old))
    again = Section(sections[0].name, (SettingRow("key", new),))
    made = moved_sections(Chart(top, (replace(sections[0], rows=rows), again))).chart
    steps = semitones_between(old, new)
    homes, moved = (list(iter_chords((one,))) for one in made.sections)
    if interval:
        assert [{(tone + steps) % 12 for tone in one.pitch_classes} for one in homes] == [
            set(one.pitch_classes) for one in moved
        ]
    read = read_chart(Source(chart_text(made))).chart
    assert read == made
    assert typed_chart(read).sections[1].rows == again.rows


def _changes_key(row: Row) -> bool:
    return isinstance(row, SettingRow) and row.name == "key"
