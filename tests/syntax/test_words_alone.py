"""Words without music: they say nothing of chords, are printed as they stand, and are never
played.

That a stanza without chords above it means "chords not given", and N.C. "nobody plays", is
common practice, no source.
"""

from chartkit.chart.playing_order import playing_order
from chartkit.chart.systems import all_systems
from chartkit.diagnostics import Source, has_errors
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.charts import chart_of
from tests.each import each

SPOKEN = "== Spoken\n: We walked along the river,\n: and nobody / said a word.\n"


def test_words_alone_are_no_mistake() -> None:
    """A section of words alone, between sections of music, is read without a word."""
    reading = read_chart(Source("== A\n| C |\n: | la |\n\n== Spoken\n: We walked,\n: we ran.\n"))
    assert reading.diagnostics == ()
    (music,), (stanza,) = all_systems(reading.chart)
    assert music.music is not None and stanza.music is None
    assert [row.cells[0][0].text for row in stanza.words] == ["We walked,", "we ran."]


def test_words_alone_are_not_played() -> None:
    """They add no bar to the playing order, as little as they add N.C."""
    with_words = chart_of("== A\n| C | F |\n\n: spoken\n\n== Spoken\n: We walked,\n\n== B\n| G |\n")
    without = chart_of("== A\n| C | F |\n\n== B\n| G |\n")
    assert [bar.strikes for bar in playing_order(with_words).bars] == [
        bar.strikes for bar in playing_order(without).bars
    ]


@each(
    ("rows", "stanzas"),
    [
        ("| C |\n: | la |\n: | lo |", [(True, 2)]),
        ("| C |\n: | la |\n\n: spoken\n: on", [(True, 1), (False, 2)]),
        ("| C |\n\n: | la |", [(True, 1)]),
        (": one\n\n: two\n| C |\n: | la |", [(False, 1), (False, 1), (True, 1)]),
        ('| C |\n"softly"\n: spoken', [(True, 0), (False, 1)]),
        ("| C |\n: | la |\n# a comment\n: | lo |", [(True, 2)]),
        (": one\n# a comment\n: two", [(False, 2)]),
    ],
)
def test_what_stands_alone(rows: str, stanzas: list[tuple[bool, int]]) -> None:
    """Right under music words belong to it; a blank or a cue parts those without bar lines from
    it, and comments part nothing."""
    (systems,) = all_systems(chart_of(f"== A\n{rows}\n\n== B\n| C |\n"))[:1]
    assert [(one.music is not None, len(one.words)) for one in systems] == stanzas


def test_slashes_in_words_alone_are_reported() -> None:
    """A slash has nothing to divide, and is reported; typed with a backslash it is printed."""
    assert has_errors(read_chart(Source(f"{SPOKEN}\n== A\n| C |\n")).diagnostics)
    reading = read_chart(Source(SPOKEN.replace("/", "\\/") + "\n== A\n| C |\n"))
    assert not has_errors(reading.diagnostics)
    assert all_systems(reading.chart)[0][0].words[1].cells[0][0].text.count("/") == 1


def test_the_written_form() -> None:
    """Tidy leaves words alone as they are: one row to a line, without bar lines."""
    text = "== A\n  | C  |\n: | la |\n\n: spoken, and\n: then \\/ sung\n\n== B\n\n== A\n"
    assert chart_text(chart_of(text)) == text
