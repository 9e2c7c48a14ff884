"""Chords that a sheet gives once, above all sections, by a line that says they are for all.

The words are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_BARS = "| E7 | A7 | E7 | E7 |\n| B7 | A7 | E7 | B7 |\n"
_WORDS = "Canal don't go no faster than a man can push a pram\nIt don't know where I am\n"


@each(
    "label",
    [
        "The changes, all the way through:",
        "Changes:",
        "Chords (the same all through):",
        "Progression for every verse:",
        "Akkorde durchgehend:",
    ],
)
def test_changes_given_once(label: str) -> None:
    """All sections without chords of their own have those, also where one has others."""
    text = (
        f"Canal Water Blues\nin E\n\n{label}\n{_BARS}\nHARP INTRO - the changes once\n\n"
        f"VERSE 1\n{_WORDS}\nHARP SOLO - the changes, twice\n\nVERSE 2\n{_WORDS}\n"
        f"END\n| B7 | E7 |\n"
    )
    parts = parts_of(taken(text).chart)
    changes = ["E7", "A7", "E7", "E7", "B7", "A7", "E7", "B7"]
    assert [(part.name, part.times, part.played) for part in parts] == [
        ("HARP INTRO", 1, changes),
        ("VERSE 1", 1, changes),
        ("HARP SOLO", 2, changes),
        ("VERSE 2", 1, changes),
        ("END", 1, ["B7", "E7"]),
    ]


@each(
    "said",
    [
        "Am F C G throughout (once round per line)",
        "Am F C G all the way through, one time through each line",
        "Am F C G durchgehend, eine Runde pro Zeile",
        "Am F C G (une fois par ligne)",
    ],
)
def test_chords_played_over_each_line(said: str) -> None:
    """Each line of words has all chords, spread over it by syllables; a setting under them is the
    song's."""
    text = f"Paper Boat\n{said}\nTempo: 84\n\nVerse 1\n{_WORDS}\nChorus\n{_WORDS}\nVerse 1\n"
    result = taken(text)
    parts = parts_of(result.chart)
    assert [part.music for part in parts[:2]] == [["Am", "F", "C", "G"] * 2] * 2
    assert parts[0].words == parts[1].words != ""
    assert not parts[0].cues and str(result.chart.text("tempo")) == "84"


def test_chords_behind_a_name_played_over_each_line() -> None:
    """So it is where they stand behind the name over the words."""
    text = f"Paper Boat\n\nVerse (G C, once per line)\n{_WORDS}"
    parts = parts_of(taken(text).chart)
    assert [part.music for part in parts] == [["G", "C"] * 2]


def test_chords_played_twice_over_each_line() -> None:
    """The first time has no words: how they fall on two rounds nobody says."""
    text = f"Paper Boat\n\nG Em C throughout, twice per line\n\nVerse\n{_WORDS}\nChorus\n{_WORDS}"
    parts = parts_of(taken(text).chart)
    assert [part.music for part in parts] == [["G", "Em", "C"] * 4] * 2
