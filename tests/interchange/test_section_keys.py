"""Sections in another key than the song: the key stands above them where their chords lie in it.

How it is said is common practice, no source.
"""

from chartkit.chart.model import Chart, SettingRow
from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_SONG = """Glasshouse
Key: A

Verse
A                D
Every gate is open on the lane
E                A
Every gate is open on the lane

Chorus
D                A
Grow, grow, little vine
E                A
Grow till the morning comes

"""
_HIGHER = "E                B\nGrow, grow, little vine\nF#               B\nGrow till the morning\n"


def _keys(chart: Chart) -> list[tuple[str, str]]:
    """The key rows of the sections, each with the name of its section."""
    return [
        (section.name, str(row.value))
        for section in chart.sections
        for row in section.rows
        if isinstance(row, SettingRow) and row.name == "key"
    ]


@each(
    ("heading", "name"),
    [
        ("Chorus (in B)", "Chorus (in B)"),
        ("Final Chorus - key change up to B", "Final Chorus"),
        ("Last Chorus - up to B major", "Last Chorus"),
        ("[Last ch, up a step -> B]", "Last ch"),
        ("[Last Chorus] in B", "Last Chorus"),
        ("After verse 3: key change to B, chorus again", "Chorus"),
    ],
)
def test_a_section_said_to_be_in_another_key(heading: str, name: str) -> None:
    """The key that its heading says stands above its chords, if they lie in it."""
    assert _keys(taken(f"{_SONG}{heading}\n{_HIGHER}").chart) == [(name, "B major")]


def test_the_key_of_the_song_comes_back() -> None:
    """The next section with chords of its own is in the key of the song again, if they are."""
    outro = "\nOutro\nA     D     E     A\n"
    chart = taken(f"{_SONG}Last Chorus - up to B major\n{_HIGHER}{outro}").chart
    assert _keys(chart) == [("Last Chorus", "B major"), ("Outro", "A major")]
    outro = "\nOutro\nB     E     F#    B\n"
    chart = taken(f"{_SONG}Last Chorus - up to B major\n{_HIGHER}{outro}").chart
    assert _keys(chart) == [("Last Chorus", "B major")]


@each("heading", ["Chorus (in G)", "Chorus - walk up to the E", "Chorus - in a whisper"])
def test_a_key_that_the_chords_are_not_in(heading: str) -> None:
    """A key that the chords do not lie in is not written above them."""
    assert _keys(taken(f"{_SONG}{heading}\n{_HIGHER}").chart) == []


_LIFTED = """The Orchard Wall
Key: F

Verse
F           Dm         Bb         C
My father built a wall around the orchard

Chorus
Ab              Eb/G
Over the wall, over the wall
Fm              Db       Eb
Apples come down in the fall

Last chorus (up a tone)

Outro: Bb  F/A  Gm  Eb  Bb
"""


def test_a_chorus_raised_out_of_another_key() -> None:
    """A chorus in another key than the song, written out a tone higher, is not in the song's key
    a tone higher; it keeps its own name."""
    chart = taken(_LIFTED).chart
    assert _keys(chart) == []
    assert [section.name for section in chart.sections][-2:] == ["Last chorus", "Outro"]


def test_a_key_change_between_two_choruses_belongs_to_the_second() -> None:
    """A remark apart from a bare name is said of the next section, whose chords are written out a
    tone higher; names in parentheses with remarks stay names."""
    text = (
        "Moth\n\n(Verse)\nC   G\nMoth, moth\n\n(Chorus)\nF   G\nLamp, lamp\n\n(Chorus)\n\n"
        "(Key change - up a tone)\n\n(Last chorus)\nG   A\nLamp, lamp\n\n"
        "(Outro - repeat and fade)\nG   D\nBurning low\n"
    )
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["Verse", "Chorus", "Chorus", "Last chorus", "Outro"]
    assert [one.music for one in parts[2:]] == [["F", "G"], ["G", "A"], ["G", "D"]]
    assert parts[3].cues == ["Key change - up a tone"]
    assert parts[4].cues == ["repeat and fade"]
