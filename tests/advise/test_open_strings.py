"""A riff on the open strings of a tuning, in a song that is moved to another key."""

from chartkit.advise.open_strings import riff_off_open_strings
from chartkit.book.read_song import SongRequest, song_facts
from chartkit.theory.key import parse_key
from tests.charts import chart_of
from tests.each import each

RIFF = "{top}key: D minor\nshape: D5 {shape}\n\n== Riff\n| D5 | F5 | G5 | D5 |\n"


@each(
    ("top", "shape", "key", "hint"),
    [
        # By counting: a capo raises every open string by its fret (no source needed).
        ("instrument: drop D\n", "000xxx", "E minor", "a capo at fret 2 over drop D"),
        ("instrument: drop D\n", "000xxx", "G minor", "a capo at fret 5 over drop D"),
        ("instrument: drop D\n", "000xxx", "B minor", "3 half steps lower than drop D"),
        ("instrument: DADGAD\n", "000xxx", "C# minor", "1 half step lower than DADGAD"),
        ("instrument: drop D\ncapo: 2\n", "000xxx", "E minor", "a capo at fret 4 over drop D"),
        ("instrument: drop D\n", "000xxx", "D minor", ""),
        ("instrument: drop D\n", "x577xx", "E minor", ""),
        ("instrument: drop D\n", "xx023x", "E minor", ""),
        ("", "xx023x", "E minor", ""),
        ("instrument: ukulele\n", "2220", "E minor", ""),
    ],
)
def test_where_a_riff_stays_on_open_strings(top: str, shape: str, key: str, hint: str) -> None:
    """A move off a retuned open string is named, with the capo or the tuning that keeps it there;
    a song that stays, that presses those strings or has no tuning of its own is left alone."""
    chart = chart_of(RIFF.format(top=top, shape=shape))
    warnings = riff_off_open_strings(chart, parse_key(key))
    assert [hint in one.hints[0] for one in warnings] == [True] * bool(hint)


def test_a_night_says_so_at_the_shape() -> None:
    """Reading a song for a set warns at the row of the shape where tonight's key is another."""
    text = RIFF.format(top="instrument: drop D\n", shape="000xxx")
    (message,) = song_facts(SongRequest(text, "riff.chart", "B minor")).messages
    assert message.startswith("riff.chart:3:1: warning[riff-off-open-strings]")
    assert song_facts(SongRequest(text, "riff.chart")).messages == ()
