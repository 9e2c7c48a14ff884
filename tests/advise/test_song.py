"""A chart as the adviser sees it."""

from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.advise.song import moved_song
from tests.advise.songs import MAJOR_KEYS, progression, song


def durations(text: str) -> str:
    """The held chords of a song as text: chord and beats."""
    return " ".join(f"{s.chord}:{s.beats:g}" for s in song(text).held_chords)


def test_stretches_join_and_follow_the_playing_order() -> None:
    """The same chord struck again is one held chord; repeats are played out."""
    assert durations("| C | C | F G | C |") == "C:8 F:2 G:2 C:4"
    assert durations("|: C |1. F :|2. G |") == "C:4 F:4 C:4 G:4"


def test_time_of_each_chord() -> None:
    """Beats count as written: slashes, shared beats, stops of one beat, free time of four."""
    assert durations("| C / / F |") == "C:3 F:1"
    assert durations("| C,F G / / |") == "C:0.5 F:0.5 G:3"
    assert durations("| C | / F / / |") == "C:5 F:3"
    assert durations("| C! | F |") == "C:1 F:4"
    assert durations("C F\n| G |") == "C:4 F:4 G:4"
    assert durations("meter: 6/8\n| C | F G |") == "C:2 F:1 G:1"


def test_silence_is_left_out() -> None:
    """N.C. takes no time and stands between no two chords."""
    assert durations("| C | N.C. | C | F |") == "C:8 F:4"
    assert song("| N.C. |").held_chords == ()


def test_shapes_are_raised_to_what_sounds() -> None:
    """A chart of shapes sounds its capo higher, spelled in the sounding key."""
    text = "key: G\nchords: shapes\ncapo: 4\n| G | C | D |"
    asked = song(text)
    assert [str(s.chord) for s in asked.held_chords] == ["B", "E", "F#"]
    assert str(asked.keys[0]) == "B major"


def test_key_areas_follow_the_changes_of_key() -> None:
    """Each key is an area, and the same key again is the same area."""
    text = "key: D\n== A\n| D | A |\n== B\nkey: F\n| F | C |\n== A2 as A"
    asked = song(text)
    assert [str(key) for key in asked.keys] == ["D major", "F major"]
    assert [held.area for held in asked.held_chords] == [0, 0, 1, 1, 0, 0]
    assert asked.area_beats(0) == 16


def test_a_chart_without_a_key_takes_the_likeliest() -> None:
    """Without a key the song is in the one its chords make likeliest."""
    assert str(song("| Em | D | C | Em |").keys[0]) == "E minor"
    assert str(song("| Ab | Db | Eb | Ab |").keys[0]) == "Ab major"


@settings(deadline=None)
@given(st.integers(-11, 11), st.sampled_from(MAJOR_KEYS))
def test_moving_a_song_moves_every_chord(semitones: int, key: str) -> None:
    """A moved song sounds that many half steps higher, chord for chord and beat for beat."""
    before = progression("I-IV-V-vi", key)
    after = moved_song(before, semitones)
    for one, other in zip(before.held_chords, after.held_chords, strict=True):
        moved = {(pitch + semitones) % 12 for pitch in one.chord.pitch_classes}
        assert moved == other.chord.pitch_classes
        assert one.beats == other.beats


def test_holds_and_slashes_go_on_with_the_chord() -> None:
    """A chord held or struck again is one held chord; a rest is silence."""
    assert durations("| C,/ / / _,F | _ / G / |") == "C:3.5 F:2.5 G:2"
    assert durations("| C | rest 4 | F |") == "C:4 F:4"
