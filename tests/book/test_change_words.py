"""What to change between songs, in words."""

from chartkit.advise.set_steps import Offer, SetStep
from chartkit.book.change_words import night_setting, setting_words, time_words, to_do
from chartkit.book.set_list import Player, StageGuitar
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.retuning import song_tuning
from chartkit.theory.capo import Capo
from tests.each import each

ONE = Player("Bo", guitars=(StageGuitar("guitar", GUITAR),))
TWO = Player("Bo", guitars=(StageGuitar("cedar", GUITAR), StageGuitar("blue", GUITAR, 1)))


def instructions(player: Player, *steps: tuple[int, int, int] | None, **more: bool) -> list[str]:
    """What is said before each song, given guitar, capo and half steps down; None sits out."""
    planned_steps = [
        one and SetStep(Offer(one[0], Capo(one[1], one[2]), 0.0), 1.0) for one in steps
    ]
    straight = [more.get("straight", False)] * len(steps)
    dues = to_do(player, planned_steps, straight, more.get("helper", False))
    return ["-" if due is None else " ".join(due.sentences) for due in dues]


def test_a_capo_is_put_on_moved_and_taken_off_by_frets() -> None:
    """Frets are numbers, where it is now and where it goes; a song sat out changes nothing."""
    assert instructions(ONE, (0, 2, 0), (0, 5, 0), None, (0, 5, 0), (0, 0, 0), (0, 1, 0)) == [
        "Capo on fret 2.",
        "Move the capo from 2 to 5.",
        "-",
        "",
        "Take the capo off (it is on 5).",
        "Capo on fret 1.",
    ]


def test_a_short_capo_is_another_thing_than_a_capo() -> None:
    """One is taken off and the other put on; over as many strings it is moved, and only the frets
    are named where it stays over the same ones."""
    inner, top = (3, 4, 5), (1, 2, 3)
    capos = (
        Capo(2, 0, inner),
        Capo(4, 0, inner),
        Capo(4, 0, top),
        Capo(5),
        Capo(2, 0, inner),
        Capo(),
    )
    steps = [SetStep(Offer(0, capo, 0.0), 1.0) for capo in capos]
    dues = to_do(ONE, steps, [False] * len(steps))
    assert [" ".join(due.sentences) for due in dues] == [
        "Short capo on fret 2 over strings 5 to 3.",
        "Move the short capo from 2 to 4.",
        "Move the short capo to 4 over strings 3 to 1 (it is on 4 over strings 5 to 3).",
        "Take the short capo off (it is on 4). Capo on fret 5.",
        "Take the capo off (it is on 5). Short capo on fret 2 over strings 5 to 3.",
        "Take the short capo off (it is on 2).",
    ]


def test_the_capo_comes_off_before_strings_are_tuned() -> None:
    """Tuning goes with the capo off, then the capo goes on again; back up ends at standing
    pitch, never above."""
    assert instructions(ONE, (0, 2, 0), (0, 2, 1), (0, 0, 2), (0, 0, 0)) == [
        "Capo on fret 2.",
        "Take the capo off. Tune every string down a half step. Check the tuning. Capo on fret 2.",
        "Take the capo off. Tune every string down another half step, to a whole step down. "
        "Check the tuning.",
        "Tune every string up a whole step to normal tuning. Check the tuning.",
    ]


def test_strings_that_are_down_already_have_their_final_pitch_named() -> None:
    """From one half step down to two is not said in the words of none to one: a player who has
    lost count hears where the strings end."""
    assert instructions(ONE, (0, 0, 0), (0, 0, 1), (0, 0, 2), (0, 0, 4), (0, 0, 3))[1:] == [
        "Tune every string down a half step. Check the tuning.",
        "Tune every string down another half step, to a whole step down. Check the tuning.",
        "Tune every string down another whole step, to two whole steps down. Check the tuning.",
        "Tune every string up a half step, to a step and a half down. Check the tuning.",
    ]


def test_a_guitar_keeps_what_it_had_when_it_was_put_down() -> None:
    """Changing guitars names both, and only what differs on the one taken up is changed."""
    assert instructions(TWO, (0, 3, 0), (1, 0, 1), (0, 3, 0), (1, 2, 1)) == [
        "Begin on cedar. Capo on fret 3.",
        "Put down cedar, take blue. No capo.",
        "Put down blue, take cedar.",
        "Put down cedar, take blue. Capo on fret 2.",
    ]


def test_a_helper_has_the_other_guitar_ready() -> None:
    """With a helper an idle guitar comes as it is needed; without a pause the words say so."""
    assert instructions(TWO, (0, 3, 0), (1, 2, 1), helper=True)[1] == (
        "Put down cedar, take blue. It comes with the capo on 2."
    )
    assert instructions(TWO, (0, 3, 0), (1, 2, 2), (0, 0, 1), (1, 0, 0), (0, 0, 1), helper=True)[
        1:
    ] == [
        "Put down cedar, take blue. It comes tuned down a whole step, with the capo on 2.",
        "Put down blue, take cedar. It comes tuned down a half step.",
        "Put down cedar, take blue. It comes in normal tuning.",
        "Put down blue, take cedar.",
    ]
    assert (
        instructions(ONE, (0, 0, 0), (0, 2, 0), straight=True)[1]
        == "No pause here. Capo on fret 2."
    )
    assert instructions(ONE, (0, 2, 0), (0, 2, 0), straight=True)[1] == ""


@each(
    ("option", "words"),
    [(Capo(0, 0), "no capo"), (Capo(3, 0), "capo 3"), (Capo(2, 1), "down 1, capo 2")],
)
def test_a_setting_in_short(option: Capo, words: str) -> None:
    """How a guitar stands is said in two words, tuning first."""
    assert setting_words(option) == words


@each(
    ("seconds", "words"),
    [(0, "0 s"), (59.4, "59 s"), (59.6, "1 min"), (130, "2 min 10 s")],
)
def test_times_are_said_as_a_player_says_them(seconds: float, words: str) -> None:
    """Seconds, or minutes and seconds, rounded to whole ones."""
    assert time_words(seconds) == words


def test_strings_tuned_for_a_song_are_named_where_they_end() -> None:
    """Also on a guitar that is a half step down: both outer strings to D flat for double drop D,
    and back to E flat after it."""
    tuned = song_tuning(GUITAR, instrument_named("double drop D"))
    for guitar, down, there, back in ((0, 0, "D", "E"), (1, 1, "D♭", "E♭")):
        offers = (
            Offer(guitar, Capo(0, down), 0.0, (), tuned),
            Offer(guitar, Capo(0, down), 0.0),
        )
        first, then = to_do(TWO, [SetStep(offer, 1.0) for offer in offers], [False, False])
        assert first is not None and then is not None
        assert f"Tune strings 6 and 1 down a whole step, to {there}." in " ".join(first.sentences)
        assert f"Tune strings 6 and 1 up a whole step, back to {back}." in " ".join(then.sentences)


def test_a_guitar_tuned_down_says_no_capo_where_it_has_one_in_another_song() -> None:
    """What changes from "down 1, capo 3" to the next song is the capo, so that is said; of a guitar
    that never has one, nothing is."""
    steps = [
        SetStep(Offer(1, Capo(3, 1), 0.0), 0.0),
        None,
        SetStep(Offer(1, Capo(0, 1), 0.0), 6.0),
    ]
    assert [night_setting(steps, step) for step in steps if step is not None] == [
        "down 1, capo 3",
        "down 1, no capo",
    ]
    other = SetStep(Offer(0, Capo(0, 1), 0.0), 6.0)
    assert night_setting([*steps, other], other) == "down 1"
    drop_d = SetStep(
        Offer(1, Capo(0), 0.0, song_tuning=song_tuning(GUITAR, instrument_named("drop D"))), 9.0
    )
    assert night_setting([*steps, drop_d], drop_d) == "drop D, no capo"
