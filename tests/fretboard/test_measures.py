"""Measures behind the fingerings, worked out afresh from the rule of the twelfth root."""

from math import inf

import pytest

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.fingering import Fingerer
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instruments import GUITAR, UKULELE, instrument_named
from chartkit.fretboard.player_shape import neck_problems, shape_problems, why_unusable
from chartkit.fretboard.tones import Tones, tones_of
from chartkit.fretboard.weights import FINGERING_FEATURES, Weights, weight_tuple
from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.quality import TABLE, QualityRow
from chartkit.theory.shape_text import parse_shape
from tests.each import each


def fret_width_mm(fret: int) -> float:
    """The distance between two frets of a 648 mm scale: each divides the rest by 2^(1/12)."""
    return 648.0 * (2 ** (-(fret - 1) / 12) - 2 ** (-fret / 12))


@each(
    ("shape", "fret", "tips"),
    [
        ("x02220", 2, 3),
        ("xx7779", 7, 3),
        ("x0222x", 2, 3),
        ("0xx999", 9, 3),
        ("x02210", 2, 2),
        ("0022xx", 2, 2),
        ("022100", 2, 2),
    ],
)
@each("finger_mm", [9.0, 13.0, 17.0])
def test_three_fingertips_in_a_fret_need_their_width(
    shape: str, fret: int, tips: int, finger_mm: float
) -> None:
    """What three tips lack is their width beyond the fret's; two never lack room."""
    weights = weight_tuple(Weights())[: len(FINGERING_FEATURES)]
    fingerer = Fingerer(GUITAR, 0, Hand(finger_width_mm=finger_mm), weights)
    overfill = FINGERING_FEATURES.index("overfill_mm")
    without_barre = [
        fingering.features[overfill]
        for fingering in fingerer.fingerings(parse_shape(shape))
        if len(fingering.presses) == sum(fret not in ("x", "0") for fret in shape)
    ]
    assert without_barre
    expected = max(0.0, tips * finger_mm - fret_width_mm(fret)) if tips > 2 else 0.0
    assert without_barre == pytest.approx([expected] * len(without_barre))


def tones(symbol: str) -> Tones:
    """The tones that a voicing of a chord symbol needs."""
    parsed = read_symbol(symbol)
    assert isinstance(parsed, Chord)
    return tones_of(parsed)


@each(
    ("symbol", "optional"),
    [
        ("C", {}),
        ("C7", {7: 1.0}),
        ("C9", {7: 1.0}),
        ("C13", {7: 1.0, 2: 0.5}),
        ("Cmaj7", {7: 1.0}),
        ("C11", {7: 1.0, 2: 0.5}),
        ("C/E", {}),
        ("C7/G", {}),
        ("C2", {4: 0.0, 7: 1.0}),
        ("Cm13", {2: 0.5, 5: 0.0, 7: 1.0}),
        ("Cm11", {2: 0.5, 7: 1.0}),
        ("Cmaj11", {2: 0.5, 7: 1.0}),
    ],
)
def test_what_may_be_left_out_and_how_much_it_is_missed(
    symbol: str, optional: dict[int, float]
) -> None:
    """The fifth may go, a ninth under an upper tone is missed half as much, the bass never goes.

    The third where a second stands in for it, and a minor thirteenth's eleventh, are not missed.
    Common practice, no source.
    """
    assert dict(tones(symbol).optional) == optional


@each("row", TABLE, ids=lambda row: row.quality.text or "major")
def test_a_chord_asks_the_same_wherever_it_stands(row: QualityRow) -> None:
    """What a chord asks, moved up, is what the chord a way up asks: over every bass, every way."""
    for bass in (None, 0, 4, -3, 2):
        home = tones_of(Chord(0, row.quality, bass))
        for fifths in range(-5, 7):
            there = Chord(fifths, row.quality, None if bass is None else bass + fifths)
            assert home.moved(fifths * 7 % 12) == tones_of(there)


@each(
    ("symbol", "third", "fifth"),
    [
        ("C", 4, 7),
        ("Cm", 3, 7),
        ("Cdim", 3, 6),
        ("Caug", 4, 8),
        ("C7b5", 4, 6),
        ("C5", None, 7),
        ("Csus4", None, 7),
        ("C(no5)", 4, None),
        ("C11", None, 7),
        ("Cm11", 3, 7),
    ],
)
def test_which_tones_are_no_colours(symbol: str, third: int | None, fifth: int | None) -> None:
    """The third and the fifth are those of the chord, natural or not, where it sounds them."""
    tone_set = tones(symbol)
    assert (tone_set.root, tone_set.third, tone_set.fifth) == (0, third, fifth)


@each(("capo", "fret", "there"), [(0, 20, True), (0, 21, False), (5, 15, True), (5, 16, False)])
def test_the_last_fret_is_on_the_neck(capo: int, fret: int, there: bool) -> None:
    """A shape may use the last fret, capo counted in, and none beyond it."""
    problems = neck_problems(GUITAR, (None, None, None, None, None, fret), capo)
    assert (problems == ()) is there


@each(
    ("instrument", "name", "shape", "count"),
    [
        ("guitar", "C", "x32010", 0),
        ("guitar", "C", "x32033", 0),
        ("guitar", "C", "32010", 1),
        ("DADGAD", "C", "x32010", 2),
        ("DADGAD", "D", "004200", 0),
        ("drop D", "C", "x35553", 0),
        ("drop D", "G", "320003", 1),
        ("drop D", "G", "520003", 0),
    ],
)
def test_when_a_players_own_shape_is_passed_over(
    instrument: str, name: str, shape: str, count: int
) -> None:
    """One that cannot be fingered is, and one that sounds its chord on a guitar and not here.

    Whatever else can be fingered is the player's choice.
    """
    asked = read_symbol(name)
    assert isinstance(asked, Chord)
    reasons = why_unusable(instrument_named(instrument), asked, parse_shape(shape))
    assert isinstance(reasons, tuple)
    assert len(reasons) == count


@each(
    ("symbol", "thin"),
    [("C5", True), ("C5/G", True), ("C5/D", False), ("C7(no3)", False), ("C", False)],
)
def test_only_a_fifth_chord_is_thin(symbol: str, thin: bool) -> None:
    """Two tones are sounded on three strings; a bass besides, or a tone that may go, is more."""
    assert tones(symbol).thin is thin


def test_a_chord_of_more_tones_than_strings_leaves_its_root_to_the_bass() -> None:
    """On a ukulele five required tones are played without the root, which may not be the bass.

    Common practice on small instruments, no source.
    """
    whole = tones("C7(b9,13)")
    assert whole.required == {0, 1, 4, 9, 10}
    rootless = whole.without_root()
    assert rootless.required == {1, 4, 9, 10}
    assert dict(rootless.optional) == {0: 1.0, 7: 1.0}
    assert rootless.bass in rootless.required
    assert tones("C7(b9,13)/E").without_root().bass == 4
    asked = read_symbol("C7(b9,13)")
    assert isinstance(asked, Chord)
    grips = Fretboard(UKULELE).voicings(asked)
    assert grips
    for voicing in grips:
        assert {p % 12 for p in voicing.pitches if p is not None} == {1, 4, 9, 10}


@pytest.mark.parametrize(
    "name", ["C", "F#m7", "Bb", "G/B", "Dm", "A7", "Ebmaj7", "E", "Bm7b5", "Absus4", "F", "C#m"]
)
@pytest.mark.parametrize("capo", [0, 4])
def test_few_are_the_cheapest_of_many(name: str, capo: int) -> None:
    """Asked for one voicing or a few, the search finds just the cheapest of a long list."""
    asked = read_symbol(name)
    assert isinstance(asked, Chord)
    many = Fretboard(GUITAR, capo, most=80, cost_margin=inf).voicings(asked)
    costs = [voicing.cost for voicing in many]
    assert [round(cost, 9) for cost in costs] == sorted(round(cost, 9) for cost in costs)
    for most in (1, 2, 3, 6):
        few = Fretboard(GUITAR, capo, most=most, cost_margin=inf).voicings(asked)
        assert [voicing.frets for voicing in few] == [voicing.frets for voicing in many[:most]]
    near = Fretboard(GUITAR, capo, most=80, cost_margin=1.0).voicings(asked)
    gaps = [20.0 if "known_grip" in v.explained else 1.0 for v in many]
    kept = [v.frets for v, gap in zip(many, gaps, strict=True) if v.cost <= costs[0] + gap]
    assert [v.frets for v in near] == kept


@each(
    ("name", "shape", "problem"),
    [
        ("C", "x32040", "Eb"),
        ("C", "x32020", "Db"),
        ("A", "x0222x", None),
        ("E", "022130", "D"),
        ("Db", "x43122", "Gb"),
        ("G", "320001", "F"),
    ],
)
def test_a_wrong_tone_is_named_as_a_player_would(
    name: str, shape: str, problem: str | None
) -> None:
    """Tones of a shape outside its chord are named by the usual interval over the root."""
    asked = read_symbol(name)
    assert isinstance(asked, Chord)
    problems = " ".join(shape_problems(GUITAR, asked, parse_shape(shape)))
    assert (problem is None) == (not problems), problems
    assert problem is None or f" {problem}" in problems, problems
