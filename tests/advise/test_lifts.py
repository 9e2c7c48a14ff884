"""Lifts that a chart doesn't name are heard by the adviser."""

from itertools import pairwise

from chartkit.advise.ranking import rank_song
from chartkit.advise.song import song_of
from tests.charts import chart_of
from tests.each import each

VERSE = "| {0} | {9}m | {5} | {7} |"
CHORUS = "| {5} | {7} | {0} | {9}m |"
NOTES = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")


def bars(pattern: str, tonic: int) -> str:
    """A line of bars in the major key of a pitch class."""
    return pattern.format(*(NOTES[(tonic + step) % 12] for step in range(12)))


def lifted(verses: int, up: int, tonic: int = 7, row: str = "") -> str:
    """A song of verses and a chorus, its last chorus lifted."""
    sections = [("Verse", VERSE, tonic)] * verses + [("Chorus", CHORUS, tonic)]
    text = f"key: {NOTES[tonic]}\ntempo: 90\n"
    for number, (name, pattern, at) in enumerate(sections):
        text += f"\n== {name} {number + 1}\n{bars(pattern, at)}\n"
    return text + f"\n== Last Chorus\n{row}{bars(CHORUS, tonic + up)}\n"


@each("verses", [1, 2, 3])
@each("up", [1, 2, 3])
@each("tonic", [0, 7, 9])
def test_a_lift_is_a_key_of_its_own(verses: int, up: int, tonic: int) -> None:
    """However many verses come first, with and without a row for the key."""
    keys = song_of(chart_of(lifted(verses, up, tonic))).keys
    named = f"key: {NOTES[(tonic + up) % 12]}\n"
    assert keys == song_of(chart_of(lifted(verses, up, tonic, named))).keys
    assert [(b.tonic - a.tonic) * 7 % 12 for a, b in pairwise(keys)] == [up]


def test_a_lift_onto_barres_is_told() -> None:
    """G lifted to A flat: the last chorus has no open shape without a capo, and a move helps."""
    advice = rank_song(song_of(chart_of(lifted(2, 1))))
    assert advice.modulations is not None
    assert "Last Chorus" in advice.modulations.dead_text
    assert advice.modulations.moves[0].to_capo.raised == 1


@each(
    "text",
    [
        "key: C\n== V\n| C | Am | F | G |\n== C\n| F | G | C | Am |\n== V2\n| C | Am | F | G |",
        "key: D\n== V\n| D | C | D | C |\n== C\n| E | D | E | D |",
        "key: Am\n== V\n| Am | G | F | E |\n== C\n| Dm | C | Bb | A |",
    ],
)
def test_what_is_no_lift(text: str) -> None:
    """Other chords of the key, two chords that step up, and a section a fourth higher."""
    assert len(song_of(chart_of(text)).keys) == 1


def test_a_song_comes_back_from_a_lift() -> None:
    """A section that returns at its first pitch ends the lift; a new one stays in it."""
    up, new, back = "| D | Bm | G | A |", "| A | G | A | G |", "| C | Am | F | G |"
    text = f"key: C\n== V\n{back}\n== B\n{up}\n== N\n{new}\n== V2\n{back}\n"
    song = song_of(chart_of(text))
    assert [passage.area for passage in song.key_passages] == [0, 1, 0]
    assert song.key_passages[1].sections == ("B", "N")
