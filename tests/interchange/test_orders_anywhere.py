"""Orders that stand above the song or before its last chord, and what they add to it."""

from chartkit.chart.model import WordsRow
from tests.interchange.reading import taken_once

_SONG = (
    "V1:\nD             A7\nScrape the barnacles off my knee\n\n"
    "C:\nG             D\nOne two three, the deck rolls round\n\n"
    "V2:\nScrape the barnacles off my hat\n"
)


def _names(text: str) -> list[str]:
    return [
        one.name + (f" x{one.times}" if one.times > 1 else "")
        for one in taken_once(text).chart.sections
    ]


def test_an_order_above_the_song_adds_its_solo_below() -> None:
    """Its solo has the music of the verse below."""
    chart = taken_once(f"Form: V1, C, V2, C, solo over verse chords, C x 2\n\n{_SONG}").chart
    assert [one.name for one in chart.sections] == ["V1", "C", "V2", "C", "Solo", "C"]
    assert [one.same_as for one in chart.sections] == ["", "", "V1", "", "V1", ""]
    assert chart.sections[-1].times == 2


def test_an_order_before_the_last_chord_keeps_it_last() -> None:
    """What the order adds stands before the last chord."""
    text = f"{_SONG}\nOrder: V1, C, V2, C, guitar solo over V1, C\n\nEnd on D\n"
    assert _names(text) == ["V1", "C", "V2", "C", "Guitar solo", "C", "End"]


def test_an_order_below_a_verse_of_words_alone_leaves_it_its_chords() -> None:
    """The order is no line of the verse."""
    chart = taken_once(f"{_SONG}\nOrder: V1, C, V2, C, C\n").chart
    assert [one.same_as for one in chart.sections] == ["", "", "V1", "", ""]


def test_a_line_back_to_the_top_plays_all_above_it_again() -> None:
    """In several languages, and before the last chord."""
    song = _SONG.rpartition("V2")[0]
    for said in ("Back to the top", "(back to the top)", "Zurück zum Anfang", "Retour au début"):
        assert _names(f"{song}{said}\n\nEnd on D\n") == ["V1", "C", "V1", "C", "End"], said


def test_words_under_a_new_verse_are_sung_and_a_farewell_below_is_not() -> None:
    """A blank line may stand under the name."""
    head = _SONG.rpartition("V2")[0]
    chart = taken_once(f"{head}V2:\n\nScrape the barnacles off my hat\n\nbye now\nLou\n").chart
    rows = [row for row in chart.sections[-1].rows if isinstance(row, WordsRow)]
    words = " ".join(part.text for row in rows for cell in row.cells for part in cell)
    assert " ".join(words.split()) == "Scrape the barnacles off my hat"
