"""Words of a head that give the meter or name another instrument, and counts behind chords over
several lines of words.

The words are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_BARS = "\n\nVerse\n| D | G | A | D |\nMoth, come in and sit by me\n"


@each(
    ("line", "meter"),
    [
        ("(waltz time, key of D)", "3/4"),
        ("tonalité : Ré    valse", "3/4"),
        ("Key of D, a slow waltz", "3/4"),
        ("Tonart D, langsamer Walzer", "3/4"),
        ("Key D. Count it in three.", "3/4"),
        ("(3 beats a bar, key of D)", "3/4"),
        ("tono: Re, tres tiempos por compás", "3/4"),
        ("key of D, not a waltz!", ""),
        ("key of D, three voices", ""),
    ],
)
def test_a_waltz_has_three_beats(line: str, meter: str) -> None:
    """A song that the head calls a waltz, or says to have three beats in a bar, is in 3/4."""
    assert taken(f"Moth Song\n{line}{_BARS}").chart.text("meter") == meter


@each(
    ("line", "key", "capo"),
    [
        ("SLOW. D MAJOR. HARP IN G.", "D major", ""),
        ("in D (G harp, second position). Shuffle, 108.", "D major", ""),
        ("Key of D, harmonica in G", "D major", ""),
        ("(D, 2/4, banjo capo 5 only for me, guitars play open)", "D major", ""),
        ("Key of D, capo 2", "D major", "2"),
        ("Key of D - work it out before Wednesday!", "D major", ""),
    ],
)
def test_another_instrument_has_a_key_of_its_own(line: str, key: str, capo: str) -> None:
    """The key of a harmonica and the capo of a banjo are not the song's."""
    chart = taken(f"Moth Song\n{line}{_BARS}").chart
    assert (chart.text("key"), chart.text("capo")) == (key, capo)


_FOUR = "I built a tower of paper\nI painted the windows all blue\n" * 2


@each(
    ("row", "words", "times", "chords"),
    [
        ("Verse: Am F C G x2", _FOUR, 1, "Am F C G Am F C G"),
        ("* VERSE  Am F C G (x2)", _FOUR, 1, "Am F C G Am F C G"),
        ("Verse - Am, F, C, G, four times", _FOUR, 1, " ".join(["Am F C G"] * 4)),
        ("Verse\nAm F C G (2x)", _FOUR, 1, "Am F C G Am F C G"),
        ("Verse\n| Am | F | C | G | x4", _FOUR, 1, " ".join(["Am F C G"] * 4)),
        ("Verse: Am F C G x3", _FOUR, 3, "Am F C G"),
        ("Verse: Am F C G x2", "Mercy has come for us all\n", 2, "Am F C G"),
        ("Verse: Am F C G x4", "", 4, "Am F C G"),
    ],
)
def test_chords_go_round_under_their_words(row: str, words: str, times: int, chords: str) -> None:
    """Chords with a count go round over words that are sung once, if as many lines of words fall
    to each time; else the whole section is played that often."""
    (part,) = parts_of(taken(f"Moth Song\n\n{row}\n{words}").chart)
    assert part.times == times
    played = part.played or [token for token in part.music if token[0] not in "|%"]
    assert " ".join(played) == chords


@each(
    ("line", "title", "writer"),
    [
        ("Glass Elevator - my copy for Saturday", "Glass Elevator", ""),
        ("glass elevator - for saturday", "glass elevator", ""),
        ("Glass Elevator - Nora Quill", "Glass Elevator", "Nora Quill"),
        ("Glass Elevator - van der Quill", "Glass Elevator", "van der Quill"),
        ("PAPER HARBOUR  /  rhythm chart v3", "PAPER HARBOUR", ""),
        ("PAPER HARBOUR / bass part", "PAPER HARBOUR", ""),
        ("Dusk / Dawn", "Dusk / Dawn", ""),
        ("goldfish (the one i played in maths lol)", "goldfish", ""),
        ("Harbour (the new one)", "Harbour", ""),
        ("Harbour (Don't Wait For Me)", "Harbour (Don't Wait For Me)", ""),
    ],
)
def test_which_copy_of_a_song_it_is(line: str, title: str, writer: str) -> None:
    """What a title's line says of the copy or of which song it is belongs to no name."""
    chart = taken(f"{line}{_BARS}").chart
    assert (chart.text("title"), chart.text("writer")) == (title, writer)
