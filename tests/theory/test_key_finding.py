"""The key that chords or sounding notes suggest, against music21 and Python's statistics."""

import random
from statistics import correlation as pearson

import pytest
from music21.analysis.discrete import KrumhanslKessler

from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key, parse_key
from chartkit.theory.key_estimate import (
    MAJOR_PROFILE,
    MINOR_PROFILE,
    correlation,
    key_by_profile,
    likely_key,
    share_outside,
)
from chartkit.theory.note import pitch_class_of
from tests.advise.songs import MAJOR_KEYS, MINOR_KEYS
from tests.each import each

BLUES = "A7 D7 A7 A7 D7 D7 A7 A7 E7 D7 A7 {} "
"""Twelve bars (common practice)."""


def test_profiles_are_those_music21_has() -> None:
    """Krumhansl's and Kessler's figures, as music21 gives them."""
    assert tuple(KrumhanslKessler().getWeights("major")) == MAJOR_PROFILE
    assert tuple(KrumhanslKessler().getWeights("minor")) == MINOR_PROFILE


def test_the_correlation_is_pearsons() -> None:
    """Against Python's own correlation, for every key and random weights."""
    draw = random.Random(7)
    for _ in range(20):
        weights = [draw.random() for _ in range(12)]
        for mode, profile in (("major", MAJOR_PROFILE), ("minor", MINOR_PROFILE)):
            for tonic in range(12):
                turned = [profile[(i - tonic) % 12] for i in range(12)]
                expected = pearson(weights, turned)
                assert correlation(weights, tonic, mode) == pytest.approx(expected, abs=1e-12)


@each("name", [*MAJOR_KEYS, *MINOR_KEYS])
def test_a_profile_itself_names_its_key(name: str) -> None:
    """Notes that sound just as long as a key's profile says name that key, fully."""
    key = parse_key(name)
    profile = MINOR_PROFILE if key.mode == "minor" else MAJOR_PROFILE
    weights = [profile[(i - pitch_class_of(key.tonic)) % 12] for i in range(12)]
    key_heard, fit = key_by_profile(weights)
    assert (key_heard, fit) == (key, pytest.approx(1.0))


def test_equal_weights_name_no_key() -> None:
    """If every note sounds equally long, or none sounds, the fit is 0 and the key C."""
    assert key_by_profile([1.0] * 12) == (Key(0), 0.0)
    assert key_by_profile([0.0] * 12) == (Key(0), 0.0)


def test_the_share_outside_a_scale() -> None:
    """The black keys are outside C; a sixth of the time is a sixth."""
    assert share_outside([1.0 if i in (1, 3, 6, 8, 10) else 0.0 for i in range(12)], Key(0)) == 1
    assert share_outside([5.0, 1.0, *[0.0] * 10], Key(0)) == pytest.approx(1 / 6)
    assert share_outside([0.0] * 12, Key(0)) == 0


@each(
    ("row", "key"),
    [
        ("", "C"),
        ("C F G7 C", "C"),
        ("Db Bbm7 Gb Ab Db", "Db"),
        ("C# A#m F# G# C#", "Db"),
        ("F# B C#7 F#", "F#"),
        ("D#m G#m A#7 D#m", "D#m"),
        ("Ebm Abm Bb7 Ebm", "Ebm"),
        ("Gb Cb Db7 Gb", "Gb"),
        ("Am Dm E7 Am", "Am"),
        ("Em Am B7 Em", "Em"),
        ("F G Am", "Am"),
        ("G C D", "G"),
        ("B E F#7 B", "B"),
        ("Bm Em F#7 Bm", "Bm"),
        # home at the end weighs more than at the start, and a seventh is not home
        ("Am F G C", "C"),
        ("G D7 G D7", "G"),
        ("C/E F", "F"),
        # the tonic's own third tells minor from major
        ("Am D E7 D Am", "Am"),
        ("A D E7 D A", "A"),
        ("D E7 Am", "Am"),
        # a third or a fifth outside the scale is one too many
        ("Gm7 Am7 C7", "F"),
        ("Em7b5 Dm C7", "F"),
        ("F7 Em C5", "C"),
        ("F7 C G7", "C"),
        # a thirteenth may sound the whole scale of its key
        ("G Cmaj13", "C"),
        # sevenths from outside the key: a vamp, a blues to its end and round again, a tag
        ("E7 A7 B7 E7", "E"),
        (BLUES.format("A7"), "A"),
        (BLUES.format("E7") * 3, "A"),
        ("C A7 D7 G7 C", "C"),
        ("Am7 Dm7 Am7 Am7 F7 E7 Am7", "Am"),
    ],
)
def test_likely_keys_of_usual_rows(row: str, key: str) -> None:
    """Common practice, no source: these rows are heard in these keys."""
    chords = [chord for name in row.split() if isinstance(chord := read_symbol(name), Chord)]
    assert len(chords) == len(row.split())
    assert likely_key(chords) == parse_key(key)


@each(
    ("chords", "key"),
    [
        ("E5 A5 B5 E5", "E major"),
        ("E5 A5 B5 A5 B5 E5", "E major"),
        ("A5 G5 F5 A5", "A minor"),
        ("Bb5 Eb5 F5 Bb5", "Bb major"),
    ],
)
def test_a_power_chord_is_a_tonic(chords: str, key: str) -> None:
    """A row that begins and ends on E5 is in E: its third is missing, not another."""
    row = [chord for name in chords.split() if isinstance(chord := read_symbol(name), Chord)]
    assert likely_key(row) == parse_key(key)
