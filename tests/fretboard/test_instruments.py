"""Instruments as data, tunings as notes, and a player's own shapes."""

from itertools import pairwise

import pytest

from chartkit.fretboard.hand import fret_places_mm, fret_widths_mm, string_gaps_mm
from chartkit.fretboard.instruments import BANJO, GUITAR, KNOWN, TWELVE_STRING, instrument_named
from chartkit.fretboard.player_shape import shape_problems
from chartkit.fretboard.store import shared_boards
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.shape_text import parse_shape
from tests.each import each


def test_named_instruments_are_found_by_name() -> None:
    """Every instrument answers to its name in any case, and names are unique."""
    for instrument in KNOWN:
        assert instrument_named(instrument.name.upper()) == instrument
    assert len({instrument.name for instrument in KNOWN}) == len(KNOWN) == 12


TUNINGS = {
    "guitar": "E2 A2 D3 G3 B3 E4",
    "drop D": "D2 A2 D3 G3 B3 E4",
    "open G": "D2 G2 D3 G3 B3 D4",
    "open D": "D2 A2 D3 F#3 A3 D4",
    "DADGAD": "D2 A2 D3 G3 A3 D4",
    "ukulele": "G4 C4 E4 A4",
    "baritone ukulele": "D3 G3 B3 E4",
    "mandolin": "G3 D4 A4 E5",
    "banjo": "G4 D3 G3 B3 D4",
}


@each("name", TUNINGS)
def test_tunings(name: str) -> None:
    """The named tunings are those in common use, bass side first."""
    assert instrument_named(name).tuning == TUNINGS[name]


def test_baritone_is_a_fourth_below_the_guitar() -> None:
    """The baritone guitar is tuned like the guitar, a fourth lower, on a longer scale."""
    baritone = instrument_named("baritone")
    pairs = zip(baritone.open_pitches, GUITAR.open_pitches, strict=True)
    assert {high - low for low, high in pairs} == {5}
    assert baritone.scale_mm > GUITAR.scale_mm


def test_courses_and_drones() -> None:
    """The twelve-string pairs its four low strings an octave up; the banjo has one drone."""
    octaves = [
        string.paired.midi - string.pitch.midi if string.paired else 0
        for string in TWELVE_STRING.strings
    ]
    assert octaves == [12, 12, 12, 12, 0, 0]
    assert [string.drone for string in BANJO.strings] == [True, False, False, False, False]


def test_any_tuning_given_as_notes() -> None:
    """A tuning written as notes is an instrument with those strings."""
    own = instrument_named("C2 G2 C3 G3 C4 E4")
    assert own.tuning == "C2 G2 C3 G3 C4 E4"
    assert own.bass_counts
    assert not instrument_named("G3 D4 A4 E5").bass_counts


@each(
    ("text", "name"),
    [
        ("acoustic guitar", "guitar"),
        ("12-string guitar", "twelve-string"),
        ("Tenor Ukulele", "ukulele"),
        ("Baritone guitar", "baritone"),
    ],
)
def test_other_names_of_instruments(text: str, name: str) -> None:
    """Usual names mean the instrument whose strings they have (common practice, no source)."""
    assert instrument_named(text).name == name


@each(
    ("text", "words"),
    [
        ("sitar", "is not an instrument"),
        ("", "is not an instrument"),
        ("D A D G B E", 'did you mean "drop D"'),
        ("dadgbd", 'did you mean "double drop D"'),
        ("mandoline", 'did you mean "mandolin"'),
        ("E2 A2", "3 to 12 strings"),
        ("E2 A2 X3", "not a note with an octave"),
        (" ".join(["E2"] * 13), "3 to 12 strings"),
    ],
)
def test_what_is_no_instrument(text: str, words: str) -> None:
    """A wrong name or tuning is refused in plain words."""
    with pytest.raises(ValueError, match=words):
        instrument_named(text)


def test_frets_divide_the_string_in_equal_temperament() -> None:
    """The twelfth fret halves the string, and each space is the one before by 2^(-1/12)."""
    widths = fret_widths_mm(GUITAR, 0)
    assert sum(widths[1:13]) == pytest.approx(GUITAR.scale_mm / 2)
    for one, other in pairwise(widths[1:]):
        assert other / one == pytest.approx(2 ** (-1 / 12))


def test_the_capo_is_the_nut() -> None:
    """Fret 1 over a capo at 3 is fret 4 of the neck, for fingers and spaces alike."""
    assert fret_places_mm(GUITAR, 3)[1] == pytest.approx(fret_places_mm(GUITAR, 0)[4])
    assert fret_widths_mm(GUITAR, 3)[1] == pytest.approx(fret_widths_mm(GUITAR, 0)[4])
    assert string_gaps_mm(GUITAR, 3)[1] > string_gaps_mm(GUITAR, 0)[1]


PROBLEMS = [
    ("G", "320003", ()),
    ("G", "3x0003", ()),
    ("G", "32000", ("the shape has 5 strings and the guitar has 6",)),
    ("G", "320002", ("string 1 sounds F#, which is not in G",)),
    ("G", "x20003", ("the lowest string played sounds B, and the bass of G is G",)),
    ("G/B", "x20003", ()),
    ("G7", "320003", ("no string sounds F, which G7 needs",)),
    ("G7", "320001", ()),
    ("C9", "x3233x", ()),
    ("Db", "x46665", ("string 1 sounds A, which is not in Db",)),
    ("Fm7b5", "xx314x", ("no string sounds Cb, which Fm7(b5) needs",)),
    ("C", "xxxxxx", ("every string is muted",)),
    ("C", "x-22-x-x-x-x", ("there is no fret 22: the neck ends at 20",)),
]


@each(("name", "shape", "expected"), PROBLEMS)
def test_own_shapes_are_checked(name: str, shape: str, expected: tuple[str, ...]) -> None:
    """A player's shape must sound its chord on its bass; what is wrong is said in words."""
    assert shape_problems(GUITAR, chord_or_none(name), parse_shape(shape)) == expected


@each(
    ("instrument", "name", "shape"),
    [("ukulele", "C", "0003"), ("mandolin", "C", "0230"), ("banjo", "C", "02012")],
)
def test_small_instruments_have_no_bass_to_miss(instrument: str, name: str, shape: str) -> None:
    """Where the lowest string need not be the bass, a shape over another tone is no mistake."""
    problems = shape_problems(instrument_named(instrument), chord_or_none(name), parse_shape(shape))
    assert problems == ()


def test_every_offered_voicing_passes_as_an_own_shape() -> None:
    """The search's own shapes pass the check of a player's shapes."""
    board = shared_boards().board(GUITAR)
    for name in ("C", "F#m7(b5)", "Bb13", "Ebmaj9", "A7sus4", "D/F#", "C/D", "G5", "Cdim7"):
        for voicing in board.voicings(chord_or_none(name)):
            assert shape_problems(GUITAR, chord_or_none(name), voicing.frets) == ()


def test_own_shape_as_a_voicing() -> None:
    """An own shape is fingered and priced like any other; one past the hand has no fingers."""
    board = shared_boards().board(GUITAR)
    chord = chord_or_none("G")
    offered = board.voicings(chord)[0]
    assert board.voicing_of(chord, offered.frets) == offered
    thumbed = board.voicing_of(chord_or_none("F"), parse_shape("1x3211"))
    assert str(thumbed) == "1x3211"
    far = board.voicing_of(chord, parse_shape("3-x-0-12-12-x"))
    assert set(far.fingers) == {0}


@each("shape", ["32000", "xxxxxx", "x-22-x-x-x-x", "x-15-x-x-x-x"])
def test_what_is_no_voicing(shape: str) -> None:
    """Frets that do not fit the neck over the capo are refused in words."""
    board = shared_boards().board(GUITAR, 6)
    with pytest.raises(ValueError, match="cannot be played"):
        board.voicing_of(chord_or_none("C"), parse_shape(shape))
