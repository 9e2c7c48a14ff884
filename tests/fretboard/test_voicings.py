"""Every voicing sounds its chord, is fingered as a hand can, and none is overlooked."""

from dataclasses import replace
from functools import cache
from itertools import product
from math import inf

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from chartkit.fretboard.board import COST_MARGIN, Fretboard
from chartkit.fretboard.fingering import Fingerer, fingers_on_strings
from chartkit.fretboard.hand import Hand
from chartkit.fretboard.instrument import Instrument
from chartkit.fretboard.instruments import BANJO, GUITAR, KNOWN, MANDOLIN, UKULELE
from chartkit.fretboard.patterns import chord_patterns
from chartkit.fretboard.search import KNOWN_MARGIN
from chartkit.fretboard.tones import tones_of
from chartkit.fretboard.voicing import Voicing
from chartkit.fretboard.weights import FEATURES, FINGERING_FEATURES, Weights, weight_tuple
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.chord import Chord
from chartkit.theory.note import note_name, pitch_class_of
from chartkit.theory.quality import TABLE
from chartkit.theory.shape_text import parse_shape, shape_text
from tests.by_mir_eval import encoded
from tests.each import each
from tests.fretboard.hand_rules import fingers_fault, legal_fingers, pattern_fault, playable

QUALITIES = tuple(row.quality for row in TABLE)
BASSES = (None, 4, 1, -3, 2)
"""No bass, then the major third, fifth, minor third and ninth above the root."""


@cache
def heard_by_mir_eval(chord: Chord) -> tuple[set[int], set[int]]:
    """The chord's pitch classes and those it may leave out, as mir_eval reads its degrees."""
    root = note_name(chord.root)

    def classes(degrees: tuple[str, ...]) -> set[int]:
        label = f"{root}:({','.join(d for d in degrees)})"
        number, bitmap, _ = encoded(label)
        return {(number + i) % 12 for i, bit in enumerate(bitmap) if bit}

    every = classes(chord.quality.degrees)
    if not chord.quality.omissible:
        return every, set()
    kept = tuple(d for d in chord.quality.degrees if d not in chord.quality.omissible)
    return every, every - classes(kept)


def some_chords() -> list[Chord]:
    """Each quality on two roots, and a third of them over a bass."""
    chords = []
    for i, quality in enumerate(QUALITIES):
        root = i * 5 % 12 - 5
        chords += [Chord(root, quality), Chord(root + 1, quality)]
        bass = BASSES[i % len(BASSES)]
        if bass is not None:
            chords.append(Chord(root, quality, root + bass))
    return chords


@cache
def wide_board(capo: int) -> Fretboard:
    """A guitar's board that keeps forty voicings of a chord; those under a capo come from the nut,
    as they do in the program."""
    nut = wide_board(0) if capo else None
    return Fretboard(GUITAR, capo, most=40, cost_margin=inf, nut=nut)


@pytest.mark.parametrize("capo", [0, 4])
def test_voicings_sound_exactly_the_chord(capo: int) -> None:
    """What sounds is the chord and nothing else, lacking only what may be left out."""
    board = wide_board(capo)
    offered = 0
    for chord in some_chords():
        every, omissible = heard_by_mir_eval(chord)
        bass = pitch_class_of(chord.root if chord.bass is None else chord.bass)
        for voicing in board.voicings(chord):
            sounding = [p - capo for p in voicing.pitches if p is not None]
            classes = {pitch % 12 for pitch in sounding}
            assert classes <= every | {bass}, (str(chord), str(voicing))
            assert every - omissible - {bass} <= classes, (str(chord), str(voicing))
            assert sounding[0] % 12 == bass, (str(chord), str(voicing))
            offered += 1
    assert offered > 2500


@pytest.mark.parametrize("instrument", [UKULELE, MANDOLIN, BANJO])
def test_small_instruments_sound_the_chord(instrument: Instrument) -> None:
    """Small instruments sound the chord too; its root is missing only where no pattern has it, or
    where the chord has more tones than four strings."""
    board = Fretboard(instrument, most=40, cost_margin=inf)
    for chord in some_chords():
        every, omissible = heard_by_mir_eval(chord)
        asked = set(chord.pitch_classes)
        needed = asked - omissible
        whole = chord_patterns(instrument, tones_of(chord))
        spared = set() if whole and len(asked) <= 4 else {pitch_class_of(chord.root)}
        for voicing in board.voicings(chord):
            classes = {pitch % 12 for pitch in voicing.pitches if pitch is not None}
            assert classes <= asked | every
            assert needed - classes <= spared, (str(chord), str(voicing))


@pytest.mark.parametrize("capo", [0, 3, 7])
def test_fingerings_keep_the_hand_rules(capo: int) -> None:
    """Every voicing passes the hand rules at the nut, as the tests state them on their own.

    A known grip may stretch a little further and over five frets: players do.
    """
    board = wide_board(capo)
    for chord in some_chords()[::2]:
        for voicing in board.voicings(chord):
            known = "known_grip" in voicing.explained
            reach, window = (1.18, 5) if known else (1.0, 4)
            assert not pattern_fault(voicing.frets, window), str(voicing)
            assert not fingers_fault(voicing.frets, voicing.fingers, 0, reach), str(voicing)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.sampled_from([None, 0, 0, 1, 1, 2, 2, 3, 4]), min_size=6, max_size=6),
    st.sampled_from([0, 3, 8]),
)
def test_playable_is_what_brute_force_finds(frets: list[int | None], capo: int) -> None:
    """A pattern has a fingering exactly when some assignment of fingers keeps the rules."""
    pattern = tuple(frets)
    fingerer = Fingerer(GUITAR, capo, Hand(), weight_tuple(Weights())[: len(FINGERING_FEATURES)])
    assert (fingerer.cheapest(pattern) is not None) == playable(pattern, capo)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.sampled_from([None, 0, 1, 1, 2, 2, 3, 4]), min_size=6, max_size=6),
    st.sampled_from([0, 5]),
)
def test_fingerings_are_all_that_brute_force_finds(frets: list[int | None], capo: int) -> None:
    """Every assignment of fingers that keeps the rules is there, once, and no other one is."""
    pattern = tuple(frets)
    assume(0 < sum(bool(fret) for fret in pattern) < 6)
    fingerer = Fingerer(GUITAR, capo, Hand(), weight_tuple(Weights())[: len(FINGERING_FEATURES)])
    fingerings = [fingers_on_strings(pattern, one) for one in fingerer.fingerings(pattern)]
    assert sorted(fingerings) == sorted(legal_fingers(pattern, capo))


@each("name", ["C", "Am7", "D/F#", "E5", "G7", "Bbmaj7", "A7(b9)"])
def test_no_pattern_is_overlooked(name: str) -> None:
    """The search finds exactly the patterns that trying every fret up to the fifth finds."""
    chord = chord_or_none(name)
    assert isinstance(chord, Chord)
    tones = tones_of(chord)
    opened = (40, 45, 50, 55, 59, 64)
    bass = pitch_class_of(chord.root if chord.bass is None else chord.bass)
    allowed = set(chord.pitch_classes)
    needed = allowed - {tone for tone, _ in tones.optional}
    fewest = 3 if len(chord.quality.degrees) == 2 else 4
    choices = [
        [None, *(fret for fret in range(6) if (pitch + fret) % 12 in allowed)] for pitch in opened
    ]
    expected = set()
    for frets in product(*choices):
        sounding = [p + f for p, f in zip(opened, frets, strict=True) if f is not None]
        classes = [pitch % 12 for pitch in sounding]
        if len(sounding) >= fewest and classes[0] == bass and needed <= set(classes):
            foreign = chord.bass is not None and tones.foreign_bass
            if not pattern_fault(frets) and not (foreign and bass in classes[1:]):
                expected.add(frets)
    patterns = {f for f in chord_patterns(GUITAR, tones) if max(x or 0 for x in f) <= 5}
    assert patterns == expected


def gap_of(voicing: Voicing) -> float:
    """How far behind the first a voicing may lie: known grips further."""
    return KNOWN_MARGIN if "known_grip" in voicing.explained else COST_MARGIN


@pytest.mark.parametrize("name", ["C", "F#m7", "Bb", "E7(#9)", "G/B"])
def test_the_cheapest_are_the_cheapest_of_all(name: str) -> None:
    """Pruning changes nothing: those kept are the cheapest of every voicing."""
    chord = chord_or_none(name)
    everything = Fretboard(GUITAR, most=100_000, cost_margin=inf).voicings(chord)
    kept = Fretboard(GUITAR).voicings(chord)
    near = [v.frets for v in everything if v.cost <= everything[0].cost + gap_of(v)][:12]
    assert len(everything) > 20
    assert [voicing.frets for voicing in kept] == near
    costs = [round(voicing.cost, 9) for voicing in everything]
    assert costs == sorted(costs)


def test_cost_is_weights_times_features() -> None:
    """A voicing's cost is the weighted sum of its features, its effort the hand's part."""
    weights = weight_tuple(Weights())
    for voicing in Fretboard(GUITAR).voicings(chord_or_none("F")):
        products = [w * f for w, f in zip(weights, voicing.features, strict=True)]
        assert voicing.cost == pytest.approx(sum(products))
        hand = products[: FEATURES.index("span")]
        assert voicing.effort == pytest.approx(sum(hand))


def test_reach_shrinks_with_the_capo() -> None:
    """A stretch out of reach at the nut can be played under a high capo, never the reverse."""
    wide = parse_shape("1x4xx4")
    weights = weight_tuple(Weights())[: len(FINGERING_FEATURES)]
    strains = []
    for capo in (0, 3, 6, 9):
        fingering = Fingerer(GUITAR, capo, Hand(), weights).cheapest(wide)
        strains.append(float("inf") if fingering is None else fingering.features[3])
    assert strains == sorted(strains, reverse=True)
    assert strains[0] > strains[-1]


def test_movable_forms_are_the_barre_chords() -> None:
    """Where no grips are known, the derived forms are the open shapes slid up behind a barre.

    With the weight of known grips at 0 a guitar has them too: the E and A shapes, and not C's.
    """
    weights = replace(Weights(), known_grip=0.0)
    board = Fretboard(GUITAR, weights=weights, most=100_000, cost_margin=inf)
    movable = FEATURES.index("movable_form")

    def forms(name: str) -> set[str]:
        return {str(v) for v in board.voicings(chord_or_none(name)) if v.features[movable]}

    assert forms("F") == {"133211", "x-8-10-10-10-8"}
    assert forms("Bm") == {"x24432", "799777"}
    assert forms("F#7") == {"242322", "x-9-11-9-11-9"}
    assert "x32010" not in forms("C")


@each("name", ["G(no3,no5)", "C(no3,no5)", "Bb(no3,no5)"])
def test_a_chord_of_one_note_is_played(name: str) -> None:
    """A root alone has a shape, and nothing else sounds in it."""
    asked = chord_or_none(name)
    assert asked is not None
    voicings = Fretboard(GUITAR).voicings(asked)
    assert voicings
    root = pitch_class_of(asked.root)
    assert all({p % 12 for p in v.pitches if p is not None} == {root} for v in voicings)


@pytest.mark.parametrize("instrument", KNOWN, ids=lambda instrument: instrument.name)
def test_every_instrument_plays_the_common_chords(instrument: Instrument) -> None:
    """Each instrument has a shape for every major, minor and seventh chord."""
    board = Fretboard(instrument)
    for root in range(-5, 7):
        for text in ("", "m", "7"):
            quality = chord_or_none(f"C{text}").quality
            voicings = board.voicings(Chord(root, quality))
            assert voicings, f"{note_name(root)}{text}"
            assert all(len(v.frets) == len(instrument.strings) for v in voicings)


SMALL = {
    "ukulele": {"C": "0003", "F": "2010", "G": "0232", "Am": "2000", "C7": "0001"},
    "mandolin": {"G": "0023", "C": "0230", "D": "2002"},
    "banjo": {"G": "00000", "C": "02012"},
}


@each("name", SMALL)
def test_small_instruments_usual_shapes(name: str) -> None:
    """Weights fitted to the guitar still put small instruments' first shapes first."""
    instrument = next(i for i in KNOWN if i.name == name)
    board = Fretboard(instrument)
    grips = {chord: str(board.voicings(chord_or_none(chord))[0]) for chord in SMALL[name]}
    assert grips == SMALL[name]


def test_the_drone_is_never_fretted() -> None:
    """The banjo's short string sounds open or not at all."""
    for name in ("C", "D7", "F", "Bm", "Eb"):
        for voicing in Fretboard(BANJO).voicings(chord_or_none(name)):
            assert voicing.frets[0] in (None, 0)


def test_capo_and_tuning_move_what_sounds() -> None:
    """The same shape sounds capo half steps higher, or tuned half steps lower."""
    chord = chord_or_none("G")
    at_nut = Fretboard(GUITAR).voicings(chord)[0]
    for capo, down, moved in ((3, 0, 3), (0, 2, -2), (4, 1, 3)):
        voicing = Fretboard(GUITAR, capo, down).voicings(chord)[0]
        assert voicing.frets == at_nut.frets
        pairs = zip(voicing.pitches, at_nut.pitches, strict=True)
        assert {a - b for a, b in pairs if a is not None and b is not None} == {moved}


@given(st.lists(st.one_of(st.none(), st.integers(0, 20)), min_size=3, max_size=12))
def test_shape_text_and_back(frets: list[int | None]) -> None:
    """Printing a shape and reading it gives the same frets."""
    assert parse_shape(shape_text(tuple(frets))) == tuple(frets)


@each("text", ["", "x3201o", "3--2", "x-100-1", "E A", "-"])
def test_what_is_no_shape(text: str) -> None:
    """Anything else is refused in words that show how a shape is written."""
    with pytest.raises(ValueError, match="x32010"):
        parse_shape(text)
