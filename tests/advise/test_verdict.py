"""What the verdict and the reasons claim, held against the table they stand beside."""

import re

import pytest

from chartkit.advise.good_places import is_good
from chartkit.advise.ranked import RankedOption
from chartkit.advise.ranking import Advice, rank_song
from chartkit.advise.reasons import chord_name
from chartkit.advise.settings import AdviceSettings
from chartkit.theory.note import pitch_class_of
from tests.advise.players_places import PlayersSong, by_another_writer, players_songs
from tests.advise.songs import song

SONGS = (*players_songs()[::4], *by_another_writer()[::2])
SETTINGS = (AdviceSettings(), AdviceSettings(highest_capo=2, most_down=0))


def by_name(one: PlayersSong) -> str:
    """The song's style and key."""
    return f"{one.style} {one.key}"


def looks_easy(option: RankedOption) -> bool:
    """Whether a player who reads the table would call the row easy: barres at most 10%, effort at
    most 0.6, as printed."""
    return round(option.measures.barres, 2) <= 0.1 and round(option.measures.effort, 1) < 0.6


@pytest.mark.parametrize("settings", SETTINGS, ids=("all places", "low places"))
@pytest.mark.parametrize("one", SONGS, ids=by_name)
def test_no_song_is_called_hard_beside_an_easy_place(
    one: PlayersSong, settings: AdviceSettings
) -> None:
    """If the verdict says that a song is easy nowhere, no place of the table is; and an easier
    place that it names has fewer barres or less effort than the first."""
    advice = rank_song(one.song, settings=settings)
    best = advice.options[0]
    if "not easy anywhere" in advice.verdict:
        assert not any(is_good(option) or looks_easy(option) for option in advice.options)
    named = re.search(r"Easier on the hand: ([^(]+) \(", advice.verdict)
    if named is not None:
        easier = next(o for o in advice.options if str(o.option) == named[1])
        assert easier.measures.effort < best.measures.effort or (
            easier.measures.barres < best.measures.barres
        )


def test_a_song_with_an_easy_place_is_told_of_it() -> None:
    """E flat minor is easy in E minor shapes on a guitar tuned down, and the verdict says so in
    place of calling the song hard everywhere."""
    neon = song("key: Ebm\n| Ebm | B | Gb | Db |\n| Ebm | B | Abm7 | Bb7 |")
    verdict = rank_song(neon).verdict
    assert verdict.startswith("This song plays best with capo 1: ")
    assert "Easier on the hand: tuned down 1 (Em shapes)" in verdict


def home_shapes_closed(option: RankedOption) -> bool:
    """Whether the home chord itself, over its own root, is mostly not on an open shape."""
    tonic = pitch_class_of(option.shape_keys[0].tonic)
    home = [
        use
        for use in option.shapes
        if use.voicing is not None
        and use.shape.bass is None
        and pitch_class_of(use.shape.root) == tonic
    ]
    longest = max(home, key=lambda use: use.share)
    return longest.voicing is not None and not longest.voicing.in_open_position


def reasons_on_home(advice: Advice) -> list[tuple[RankedOption, str]]:
    """The options whose reason calls the home chord closed, with the chord that it names."""
    pattern = re.compile(r"the home chord (\S+) \S+ is not an open shape")
    found = ((option, pattern.search(option.reason)) for option in advice.options)
    return [(option, match[1]) for option, match in found if match is not None]


@pytest.mark.parametrize("one", SONGS, ids=by_name)
def test_the_home_chord_named_is_the_home_chord(one: PlayersSong) -> None:
    """If a reason says that the home chord is no open shape, it stands on the tonic, and that is
    true of its shape."""
    for option, name in reasons_on_home(rank_song(one.song)):
        tonic = pitch_class_of(option.shape_keys[0].tonic)
        use = next(use for use in option.shapes if chord_name(use.shape) == name)
        assert pitch_class_of(use.shape.root) == tonic
        assert use.voicing is not None
        assert not use.voicing.in_open_position
        assert home_shapes_closed(option)


def test_a_home_chord_over_its_third_is_named_as_such() -> None:
    """B flat that begins over D: in A shapes A is open and A/C♯ is not, and no reason calls that
    one the home chord."""
    two_rows = song("key: Bb\n| Bb/D | Eb | F | Bb |\n| Gm | Eb | F7 | Bb |")
    reason = next(o.reason for o in rank_song(two_rows).options if o.option.fret == 1)
    assert "the home chord is not always an open shape (A/C♯ x4222x)" in reason


def test_shapes_at_the_third_fret_are_not_up_the_neck() -> None:
    """G minor 355333 and Gm7 353333 are barres at the third fret and no more."""
    from_the_third = song("key: Dm\n| Gm | Gm7 | Gm | Gm7 |")
    advice = rank_song(from_the_third, settings=AdviceSettings(highest_capo=0, most_down=0))
    assert advice.difficulty is not None
    assert [one.why for one in advice.difficulty.practise] == ["a barre", "a barre"]


ROW = "| Bb | Gm | Eb | F |\n| Dm | Gm | Cm7 | F7 |"
UP_A_TONE = "| C | Am | F | G |\n| Em | Am | Dm7 | G7 |"


def test_a_lift_may_take_the_capo_with_it() -> None:
    """A last chorus a tone higher goes on in the same shapes if the capo moves two frets up in the
    gap, which is said where it spares barres, though no key is closed."""
    lifted = song(f"key: Bb\ntempo: 60\n\n== Chorus x3\n{ROW}\n\n== Last Chorus\n{UP_A_TONE}")
    verdict = rank_song(lifted).verdict
    assert verdict.startswith("Capo 3: G shapes")
    assert "With the same shapes in C major (Last Chorus): move to capo 5 before Last" in verdict
    assert "some 6 seconds, 6 beats at this tempo" in verdict


def test_a_lift_that_is_as_easy_leaves_the_capo() -> None:
    """From G to A all shapes stay open, and no move is worth a word."""
    easy = song(
        "key: G\n\n== A\n| G | C | D | G |\n| C | G | D | G |\n\n"
        "== B\nkey: A\n| A | D | E | A |\n| D | A | E | A |"
    )
    assert "move to capo" not in rank_song(easy).verdict
