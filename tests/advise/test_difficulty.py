"""How hard a song is: what counts, and the order of songs of which one is plainly harder."""

from collections.abc import Callable

import pytest

from chartkit.advise.difficulty import BEGINNERS_TWENTY, Difficulty, difficulty_of
from chartkit.advise.ranking import rank_song
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.song import Song
from chartkit.fretboard.grip_tables import chord_of_symbol
from tests.advise.harder_songs import Pair, kept_apart, looked_at
from tests.advise.songs import song
from tests.each import each


def difficulty(text: str) -> Difficulty:
    """The difficulty of a song as it stands, without a capo."""
    asked = song(text)
    advice = rank_song(asked, settings=AdviceSettings(highest_capo=0, most_down=0))
    assert advice.best is not None
    return difficulty_of(asked, advice.best)


HARDER = {
    "a third chord": ("key: G\n| G | D | G | D |", "key: G\n| G | D | C | D |"),
    "a barre": ("key: G\n| G | Em | C | D |", "key: G\n| G | Bm | C | D |"),
    "one hard bar in a long song": (
        "key: G\n|: G | D | Em | C :| x6",
        "key: G\n|: G | D | Em | C :| x6\n| Eb | F#m7b5 | C | D |",
    ),
    "sevenths": ("key: C\n| C | Am | F | G |", "key: C\n| Cmaj7 | Am7 | Fmaj7 | G7 |"),
    "jazz": ("key: C\n| Dm7 | G7 | C | C |", "key: C\n| Dm9 | G7(b9) | Cmaj9 | A7(b9) |"),
    "the same chords twice as fast": (
        "key: C\n| C | Am | F | G |",
        "key: C\n| C / Am / | F / G / | C / Am / | F / G / |",
    ),
    "a faster tempo": ("key: C\ntempo: 70\n| C | F | G |", "key: C\ntempo: 160\n| C | F | G |"),
    "flats": ("key: G\n| G | C | D | G |", "key: Ab\n| Ab | Db | Eb | Ab |"),
    "a chromatic bridge": (
        "key: A\n| A | D | E | A |\n| D | A | E | A |",
        "key: A\n| A | D | E | A |\n| C#m | Cm | Bm | E7 |",
    ),
    "slash basses": (
        "key: C\n| C | Am | F | G | C |",
        "key: C\n| C | C/B | Am | Am/G | F | G |",
    ),
    "a key change": (
        "key: E\n| E | A | B7 | E |",
        "key: E\n| E | A | B7 | E |\nkey: F\n| F | Bb | C7 | F |",
    ),
    "no repetition": (
        "key: G\n| G | C | D | G | G | C | D | G |",
        "key: G\n| G | D | C | Em | D | G | Em | C |",
    ),
    "diminished": ("key: C\n| C | C7 | F | Fm |", "key: C\n| C | C#dim7 | Dm7 | G7(#5) |"),
}


@each("what", HARDER)
def test_what_makes_a_song_harder(what: str) -> None:
    """Of two songs of ours the one that is plainly harder has the higher index."""
    easy, hard = (difficulty(text).index for text in HARDER[what])
    assert easy < hard


def test_order_over_songs() -> None:
    """Five songs from a first lesson to jazz come in their order."""
    songs = (
        "key: A\n| A | E | A | E |",
        "key: G\n| G | C | D | Em |",
        "key: C\n| C | Am | F | G7 |",
        "key: E\n| E | C#m | F#m7 | B7 |",
        "key: Eb\n| Fm7 | Bb7(b9) | Ebmaj7 | C7(#5) | Abm6 | Db9 |",
    )
    indices = [difficulty(text).index for text in songs]
    assert indices == sorted(indices)


@pytest.mark.parametrize("pairs", [looked_at, kept_apart], ids=["looked at", "kept apart"])
def test_pairs_of_which_one_is_plainly_harder(pairs: Callable[[], tuple[Pair, ...]]) -> None:
    """At the best place of each, at least 19 in 20 pairs come in the order that a player says."""
    every = pairs()
    wrong = [pair.why for pair in every if index_of(pair.easier) >= index_of(pair.harder)]
    assert len(wrong) <= len(every) // 20, wrong


def index_of(asked: Song) -> float:
    """The difficulty of a song at the place that the adviser takes."""
    difficulty_read = rank_song(asked).difficulty
    assert difficulty_read is not None
    return difficulty_read.index


def test_a_power_chord_is_part_of_a_known_chord() -> None:
    """E5, A5 and D5 are two fingers of chords that a beginner knows; F sharp 5 is new."""
    assert difficulty("key: E\n| E5 | A5 | D5 | E5 |").unknown_shapes == 0
    assert difficulty("key: E\n| E5 | F#5 | A5 | E5 |").unknown_shapes == 1


def test_what_is_counted() -> None:
    """Distinct shapes, kinds, changes and repetition are those of the song, counted by hand."""
    difficulty_read = difficulty("key: G\ntempo: 120\n| G | Bm | C | G | Bm7 / D / |")
    assert difficulty_read.distinct_shapes == 5
    assert difficulty_read.unknown_shapes == 2
    assert difficulty_read.kinds == 3
    assert difficulty_read.distinct_changes == 5
    assert difficulty_read.repetition == 0
    assert difficulty_read.fastest_beats == 2
    assert difficulty_read.changes_per_minute == pytest.approx(120 * 5 / 20)


def test_spelling_is_no_other_shape() -> None:
    """F sharp and G flat are one shape to learn."""
    assert difficulty("key: B\n| B | F# | Gb | B |").distinct_shapes == 2


def test_there_are_twenty() -> None:
    """A beginner's list holds twenty different chords."""
    assert len(set(BEGINNERS_TWENTY)) == 20


def test_a_players_own_list() -> None:
    """Chords that the player knows are not new, and those that are come first to practise."""
    asked = song("key: G\n| G | Bm | C | F#m |")
    advice = rank_song(asked, settings=AdviceSettings(highest_capo=0, most_down=0))
    assert advice.best is not None
    usual = difficulty_of(asked, advice.best)
    assert usual.unknown_shapes == 2
    assert {str(one.shape) for one in usual.practise} == {"Bm", "F#m"}
    own = difficulty_of(asked, advice.best, [chord_of_symbol("Bm"), chord_of_symbol("F#m")])
    assert own.unknown_shapes == 2
    assert [str(one.shape) for one in own.practise[:2]] in (["G", "C"], ["C", "G"])
    assert difficulty_of(asked, advice.best, [use.shape for use in advice.best.shapes]).index < (
        usual.index
    )


def test_three_to_practise_at_most() -> None:
    """The hardest come first, and never more than three."""
    hard = difficulty("key: Eb\n| Fm7 | Bb7(b9) | Ebmaj7 | C7(#5) | Abm6 | Db9 |")
    assert len(hard.practise) == 3
    assert difficulty("key: G\n| G | C | D |").practise == ()


def test_power_chords_that_slide_are_one_shape() -> None:
    """F5, A flat 5 and B flat 5 are one grip on other frets and strings, whichever is first; the
    open E5 is another."""
    for bars in ("| F5 | Ab5 | Bb5 | F5 |", "| Bb5 | Ab5 | F5 | Bb5 |"):
        riff = difficulty(f"key: F\n{bars}")
        assert (riff.distinct_shapes, riff.unknown_shapes) == (1, 0)
    assert difficulty("key: E\n| E5 | F5 | G#5 |").distinct_shapes == 2
