"""A list of songs, or a greeting, above the one song that is written out."""

import pytest

from tests.each import each
from tests.interchange.reading import body, codes, taken

_SONG = "Verse 1\nC   G\nMoth, moth\nF   C\nCome to the lamp\n"
_BODY = body(taken(f"The Moth\n\n{_SONG}").chart)
_LISTS = [
    "SATURDAY - SET 1\n\n1. Paper Tide (G)\n2. Wee Sister (D, capo 2)\n3. NEW ONE, see below",
    "1) Paper Tide\n2) Wee Sister\n3) The Moth\n4) Rope",
    "Friday at the Anchor\n1 - Paper Tide - G\n2 - Wee Sister - Am\n3 - The Moth - C",
    "1. Paper Tide\n2. Wee Sister\n3. The Moth",
    "Programm\n1: Papierflut\n2: Kleine Schwester\n3: Die Motte (neu)",
]


@each("listed", _LISTS)
@pytest.mark.parametrize("title", ["The Moth", "Song 3: The Moth", "THE MOTH\nC major"])
def test_a_list_of_songs_above_one(listed: str, title: str) -> None:
    """The titles of other songs, their keys and capos are reported, and are none of the song's."""
    for rule in ("\n", "\n------------\n\n"):
        result = taken(f"{listed}\n{rule}{title}\n\n{_SONG}")
        assert result.chart.text("title").title() == "The Moth"
        assert result.chart.text("capo") == ""
        assert body(result.chart) == _BODY
        assert "set-list" in codes(result)


@each(
    "above",
    [
        "The Moth\n\n1. Verse\n2. Chorus\n3. Verse",
        "The Moth\n1. capo 2\n2. tempo 92\n3. in C",
    ],
)
def test_other_lists_stay(above: str) -> None:
    """A list of sections or of settings is no list of songs."""
    assert "set-list" not in codes(taken(f"{above}\n\n{_SONG}"))


@each("title", ["MORNING MERCY", "Evening Bells", "BROTHERS OF ROPE", "Dear Harbour"])
def test_a_title_like_a_greeting(title: str) -> None:
    """Behind a greeting a line with a word of the day or of people is the title."""
    for greeting in ("Good evening family \N{WAVING HAND SIGN}", "Hi all,", "Hello everyone!"):
        result = taken(f"{greeting}\nThis is for Sunday, please learn it.\n\n{title}\n\n{_SONG}")
        assert result.chart.text("title") == title


def test_the_last_song_of_a_list_is_written_out() -> None:
    """Where no title stands between the list and the music, the last song of it is the one."""
    text = "SET 2\n\n1. Paper Tide\n2. Wee Sister\n3. NEW ONE: The Moth\n   key C\n\n"
    result = taken(text + _SONG)
    assert result.chart.text("title") == "The Moth"
    assert "set-list" in codes(result)
