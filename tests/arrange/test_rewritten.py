"""A chart written again in another key: what moves, and what stays letter for letter."""

from chartkit.arrange.key_areas import song_areas
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.rewrite import moved_chart, rewritten_chart
from chartkit.arrange.view import View
from chartkit.syntax.write import chart_text
from chartkit.theory.capo import Capo
from chartkit.theory.key import parse_key
from tests.arrange.test_arrange import names
from tests.charts import arranged, bars, chart_of
from tests.each import each

WRITTEN = """\
# for the Friday
title: Low Tide
key: D major
tempo: 96
# as sung

== Verse
"softly"
| D | G/B N.C. |
: O | low | tide / |
tempo: 80
meter: 3/4
# it turns
key: E major
| E | A |
"""
MOVED = """\
# for the Friday
title: Low Tide
key: C major
tempo: 96
chords: shapes
capo: 2
# as sung

== Verse
"softly"
| C | F/A N.C. |
: O | low | tide / |
tempo: 80
meter: 3/4
# it turns
key: D major
| D | G |
"""


def as_text(text: str, view: View, as_shapes: bool) -> list[str]:
    """The rows of the chart written again, blanks aside."""
    rows = chart_text(rewritten_chart(chart_of(text), view, as_shapes)).splitlines()
    return [" ".join(row.split()) for row in rows]


def test_only_chords_and_keys_move() -> None:
    """Titles, words, cues, comments, tempi and meters stay where they are, letter for letter.

    Keys move with the chords in every area, and what is new stands after the last setting.
    """
    assert as_text(WRITTEN, View(capo=Capo(2)), True) == MOVED.splitlines()


def test_shapes_written_as_what_sounds_say_so() -> None:
    """A chart of shapes rewritten as sounding says that it is; one that was sounding need not."""
    shapes = bars("| C | F |", key="C", chords="shapes", capo="2")
    assert "chords: sounding" in as_text(shapes, View(), False)
    assert not any("chords" in row for row in as_text(WRITTEN, View(by=3), False))


def test_a_chart_without_settings_names_its_key_first() -> None:
    """Where nothing is set the key comes before all else, a comment at the top included."""
    assert as_text("# from the notebook\n\n| C | F | G7 | C |\n", View(by=2), False)[:2] == [
        "key: D major",
        "# from the notebook",
    ]


def test_the_adviser_hears_what_sounds() -> None:
    """Whatever capo the chart names, its sounding chords are what is asked about."""
    chart = moved_chart(chart_of(bars("| D | A7 |", key="D", capo="2")), View(capo=Capo(5), by=2))
    song = arranged(chart_text(chart), look=PageLook(show="sounding"))
    assert names(song, 0) == ["E", "B7"]


@each(
    ("key", "sung"),
    [("Ab", "Eb3-C5"), ("Gb", "Db4-Bb5"), ("G", "D4-B5"), ("F", "C4-A5"), ("Bb", "F3-D5")],
)
def test_a_tune_goes_the_shorter_way_to_a_key(key: str, sung: str) -> None:
    """Up to six half steps it goes up, beyond that down."""
    chart = chart_of(bars("| Db |", key="Db", range="Ab3-F5"))
    there = rewritten_chart(chart, View(key=parse_key(key)), as_shapes=False)
    assert str(there.setting("range")) == sung


@each(
    ("row", "moved"),
    [("| C | F | G |", "F♯"), ("| C | E7 | A7 | D7 |", "G♭"), ("| C | Am | D7 | G7 |", "G♭")],
)
def test_a_moved_song_is_spelled_by_its_own_chords(row: str, moved: str) -> None:
    """Six half steps up from C, F sharp or G flat prints fewer signs; where even, G flat."""
    for text in (bars(row, key="C"), bars(row, key="C", chords="shapes", capo="6")):
        view = View(by=6) if "shapes" not in text else View()
        song = arranged(text, view, PageLook(show="sounding"))
        assert names(song, 0)[0] == moved


@each("view", [View(), View(by=12), View(by=-12), View(key=parse_key("D"))])
def test_shapes_that_stay_are_not_respelled(view: View) -> None:
    """Asked for the key it sounds in, or for an octave, a chart of shapes keeps its shapes."""
    chart = chart_of("key: C#\nchords: shapes\ncapo: 1\n\n| C# | F#/A# |\n")
    area = song_areas(chart, view)[parse_key("C#")]
    assert (area.shape, area.sounding) == (parse_key("C#"), parse_key("D"))


def test_the_other_name_of_a_key_is_another_key() -> None:
    """A song in F sharp asked for in G flat is spelled in flats, shapes without a capo too."""
    song = arranged(
        bars("| F# | B |", key="F#"), View(key=parse_key("Gb")), PageLook(show="shapes")
    )
    assert names(song, 0) == ["G♭", "C♭"]
