"""A singer's night: every song in a key that suits the voice, and the set file that says so."""

from pathlib import Path

import pytest

from chartkit.book.night import Night, UnknownSong
from chartkit.book.set_file import read_set
from chartkit.book.sung_night import NoSinger, SungSong, keys_to_write, singer_of, sung_night
from chartkit.book.write_set import keyed_text
from chartkit.diagnostics import Source
from tests.book.sets import chart, night_of, set_text
from tests.each import each

GUITAR = '\n[[players]]\nname = "Bo"\nreads = "both"\ninstrument = "guitar"\n'


def song(title: str, key: str, sung: str = "") -> str:
    """A song on three chords of its key with a sung range, if any."""
    low_high = f"range: {sung}\n" if sung else ""
    chords = {"C": "| C | F | G | C |", "G": "| G | C | D | G |", "E": "| E | A | B | E |"}[key]
    return f"title: {title}\nkey: {key}\n{low_high}\n== Verse\n{chords}\n"


TEXTS = {
    "low.chart": song("Low Tide", "C", "C4-C5"),
    "high.chart": song("High Water", "G", "G4-G5"),
    "dumb.chart": song("Without Words", "E"),
}
SONGS = [f'chart = "{name}"' for name in TEXTS]


def night(singer: str) -> Night:
    """The three songs with a singer of whom the set file says something."""
    players = f'\n[[players]]\nname = "Ada"\nreads = "words"\n{singer}\n{GUITAR}'
    return night_of(TEXTS, set_text(SONGS, players), plan=False)


def songs_for(singer: str) -> dict[str, SungSong]:
    """What comes of each song, by its title."""
    read = night(singer)
    return {one.title: one for one in sung_night(read, singer_of(read.set_list))}


def test_a_song_that_fits_stays_and_one_too_high_moves() -> None:
    """With a range of C4 to C5 at ease, the low song stays in C, and the high one, a fifth
    higher, moves down to within the voice."""
    sung = songs_for('range = "C4-E5"')
    assert not sung["Low Tide"].move
    assert sung["Low Tide"].verdict == "fine where it is"
    high = sung["High Water"]
    assert high.move
    assert high.verdict == "3 half steps too high"
    assert high.best is not None
    assert high.best.load is not None
    assert high.best.margin_above >= 0
    assert sung["Without Words"].best is None


def test_a_song_beyond_the_voice_that_no_key_suits_better_is_not_called_fine() -> None:
    """A song of two octaves for a voice of one and a half: it stays, and it is said how far it goes
    beyond the voice."""
    texts = {"wide.chart": chart("Wide").replace("tempo:", "range: F3-D5\ntempo:")}
    players = f'\n[[players]]\nname = "Ada"\nreads = "words"\nrange = "G3-C5"\n{GUITAR}'
    wide = night_of(texts, set_text(['chart = "wide.chart"'], players), plan=False)
    (song,) = sung_night(wide, singer_of(wide.set_list))
    assert not song.move
    assert song.verdict == "4 too wide; no better key"


def test_a_song_for_another_voice_is_judged_an_octave_away() -> None:
    """A song that suits the voice better an octave from where it is written is judged there: what
    is said of it and its load speak of the same notes."""
    high = songs_for('range = "C3-E4"')["High Water"]
    assert high.now is not None
    assert high.now.semitones == -12
    assert high.now.margin_above == -3
    assert high.best is not None
    assert high.half_steps == high.best.semitones + 12 < 0
    assert high.verdict == "3 too high, octave down"


def test_a_song_that_sat_well_gives_the_voice() -> None:
    """Where no range is given, a song that sat well in a key says what the voice can do, and that
    song goes to that key."""
    sung = songs_for('sat_well = { "High Water" = "D" }')
    assert sung["High Water"].best is not None
    assert str(sung["High Water"].best.key) == "D major"
    assert sung["High Water"].move
    assert sung["Low Tide"].now is not None
    assert sung["Low Tide"].now.load is not None


def test_keys_go_into_the_set_file() -> None:
    """The new keys stand in the set file; read again, no song needs to move."""
    read = night('range = "Bb3-D5"')
    keys = keys_to_write(sung_night(read, singer_of(read.set_list)))
    assert set(keys) == {1}
    players = f'\n[[players]]\nname = "Ada"\nreads = "words"\nrange = "Bb3-D5"\n{GUITAR}'
    source = Source(set_text(SONGS, players), "night.toml")
    text = keyed_text(source, Path("/nowhere"), read.set_list, keys)
    again = night_of(TEXTS, text, plan=False)
    assert not keys_to_write(sung_night(again, singer_of(again.set_list)))


@each(
    ("singer", "raised"),
    [
        ("", NoSinger),
        ('sat_well = { Nothing = "D" }', UnknownSong),
        ('sat_well = { "Without Words" = "D" }', NoSinger),
    ],
)
def test_a_voice_that_nobody_knows(singer: str, raised: type[Exception]) -> None:
    """Without a range or a song that sat well there is nothing to go by, and that is said."""
    with pytest.raises(raised):
        songs_for(singer)


def test_ranges_and_keys_that_are_none() -> None:
    """A range or a key that is none is a mistake with its place."""
    for line, code in (('range = "high"', "bad-value"), ('sat_well = { A = "H" }', "bad-key")):
        players = f'\n[[players]]\nname = "Ada"\nreads = "words"\n{line}\n'
        reading = read_set(Source(set_text(SONGS, players), "s.toml"), Path("/nowhere"))
        assert [one.code for one in reading.diagnostics] == [code]
        assert all(one.hints for one in reading.diagnostics)
