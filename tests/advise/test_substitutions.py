"""Everyday substitutions: offered where they help, sounding what they say, never forced."""

import pytest

from chartkit.advise.ranking import rank_song
from chartkit.advise.settings import AdviceSettings
from chartkit.advise.substitutions import Substitution, substitutions_for
from chartkit.theory.capo import NO_CAPO
from tests.advise.songs import song


def offers(text: str) -> tuple[Substitution, ...]:
    """What is offered for a song."""
    return substitutions_for(rank_song(song(text)))


def pairs(offer: Substitution) -> dict[str, str]:
    """Each chord and what is played for it."""
    return {str(old): str(new) for old, new, _ in offer.chords}


def test_b7_for_b_in_e() -> None:
    """B7 is offered for B in E, with its shape, and the ranking itself keeps B."""
    text = "key: E\n| E | A | E | B |"
    (offer,) = offers(text)
    assert offer.option == NO_CAPO
    assert pairs(offer) == {"B": "B7"}
    assert offer.text == "Without a capo, playing B7 x21202 for B, no barre is left."
    best = rank_song(song(text)).best
    assert best is not None
    assert "B" in {str(use.shape) for use in best.shapes}


def test_colours_over_ringing_strings() -> None:
    """In E with B and C sharp minor the ringing shapes are offered beside the place at 2."""
    offered = offers("key: E\n| E | B | C#m | A |")
    without = next(offer for offer in offered if offer.option == NO_CAPO)
    assert pairs(without) == {"B": "B7", "C#m": "C#m7"}
    shapes = {str(new): str(voicing) for _, new, voicing in without.chords}
    assert shapes["C#m7"] == "x46600"


def test_another_place_must_be_good_then() -> None:
    """B flat 2 for B flat would still leave a song in B flat hard without a capo, so only the place
    that comes first is spoken of; in E the ringing shapes make no capo good."""
    flat = offers("key: Bb\n| Bb | F/A | Gm | Eb | Bb | F/A | Eb | F | Dm | Bb |")
    assert NO_CAPO not in {offer.option for offer in flat}
    (without,) = [o for o in offers("key: E\n| E | B | C#m | A |") if o.option == NO_CAPO]
    assert without.good


def test_slash_basses_left_to_the_bass() -> None:
    """Where slash basses alone ask for a capo, leaving them out is offered, without a
    capo."""
    (first, *_) = offers("key: A\n| A | E/G# | F#m | F#m/E | D | A/C# | Bm7 | E |")
    assert first.option == NO_CAPO
    assert pairs(first) == {"E/G#": "E", "F#m/E": "F#m", "A/C#": "A"}
    assert first.text.startswith("Leave the slash basses (E/G♯, F♯m/E and A/C♯) to the bass player")


def test_triads_for_sevenths() -> None:
    """A song that is good nowhere for its colours alone is offered plainer chords, with which it
    is; one that is good is left alone."""
    text = "key: B\n| Bmaj7 | Emaj9 | G#m9 | F#7sus4 |\n| Emaj7 | C#m9 | Bmaj9 | F#13 |"
    advice = rank_song(song(text), settings=AdviceSettings(highest_capo=3, most_down=0))
    assert not advice.good
    (plain,) = substitutions_for(advice)
    assert plain.good and plain.text.startswith("With plainer chords (A for Amaj7, D for Dmaj9 …)")
    flat = "key: Bb\n| Bbmaj7 | Ebmaj9 | Gm9 | F7sus4 |\n| Ebmaj7 | Cm9 | Bbmaj9 | F13 |"
    advice = rank_song(song(flat), settings=AdviceSettings(highest_capo=3, most_down=0))
    assert advice.good and not substitutions_for(advice)


@pytest.mark.parametrize("bars", ["| G | C | D | G |", "| G | Em7 | Cadd9 | D |"])
def test_nothing_is_offered_where_nothing_is_gained(bars: str) -> None:
    """A song of open shapes is left alone."""
    assert offers(f"key: G\n{bars}") == ()


def test_drop_d_under_a_song_in_d_minor() -> None:
    """D minor, C and A minor gain a low D; a song with low G chords, or in G, does not."""
    (offer,) = offers("key: Dm\n| Dm | C | Dm | Am | Dm | C | Am | Dm |")
    assert offer.option == NO_CAPO
    assert offer.text.startswith(
        "With the lowest string tuned down to D and no capo, a low D rings"
    )
    assert not any("tuned down to D" in o.text for o in offers("key: D\n| D | G | A | D |"))
    assert not any("tuned down to D" in o.text for o in offers("key: G\n| G | C | D | G |"))


def test_what_is_offered_keeps_the_root() -> None:
    """Whatever stands in has the root of what it stands in for, and at most three are offered."""
    for text in (
        "key: E\n| E | B | C#m | A |",
        "key: D\n| D | F#m | Bm | G |",
        "key: Ab\n| Ab | Fm | Db | Eb |",
        "key: B\n| B | E | F# | G#m |",
        "key: F#m\n| F#m | Bm | C# | F#m |",
    ):
        offered = offers(text)
        assert len(offered) <= 3
        for offer in offered:
            assert all(old.root == new.root and old != new for old, new, _ in offer.chords)


def test_jazz_keeps_its_colours() -> None:
    """A standard is never offered in triads."""
    text = "key: Bb\n| Bbmaj7 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 | Fm7 Bb7 | Ebmaj7 Ab7 |"
    offered = substitutions_for(rank_song(song(text)))
    assert not [offer for offer in offered if "plainer" in offer.text]
