"""Fingerings: the fingers players use, and those no hand would."""

import pytest

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.fingering import Fingerer
from chartkit.fretboard.hand import THUMB, Hand
from chartkit.fretboard.instrument import under_capo
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.player_shape import shape_problems
from chartkit.fretboard.store import shared_boards
from chartkit.fretboard.weights import FINGERING_FEATURES, Weights, weight_tuple
from chartkit.syntax.symbol import chord_or_none
from chartkit.theory.capo import Capo, parse_capo
from chartkit.theory.chord import Chord, moved_chord, with_plain_root
from chartkit.theory.shape_text import parse_shape, shape_text
from tests.each import each
from tests.fretboard.players_grips import expected_grips

USUAL = {
    "F/A": ("x03211", "003211"),
    "F/C": ("x33211", "034211"),
    "Csus4": ("x33011", "034011"),
    "Dm7": ("xx0211", "000211"),
    "F": ("xx3211", "003211"),
    "C7": ("x32310", "032410"),
    "C/G": ("332010", "342010"),
    "D7": ("xx0212", "000213"),
    "Gm": ("355333", "134111"),
    "F#m": ("244222", "134111"),
    "Am7": ("x02010", "002010"),
    "G7": ("320001", "320001"),
    "Cm": ("x35543", "013421"),
    "Bm": ("x24432", "013421"),
    "C9": ("x32330", "021340"),
}
"""Shapes and their fingers from memory, common practice, no source."""


@each("name", USUAL)
def test_fingers_are_the_usual_ones(name: str) -> None:
    """A shape that books print comes out with the fingers books print for it."""
    shape, fingers = USUAL[name]
    fingering = shared_boards().board(GUITAR).voicing_of(chord_or_none(name), parse_shape(shape))
    assert "".join(map(str, fingering.fingers)) == fingers


THUMBED = {"F": ("1x3211", "T03211"), "D/F#": ("2x0232", "T00132"), "Gm": ("3x5333", "T03111")}
"""Shapes with the thumb on the lowest string (common practice, no source)."""


@each("name", THUMBED)
def test_the_thumb_reaches_over_the_neck(name: str) -> None:
    """A hand that uses the thumb presses the lowest string with it, and no other hand does."""
    shape, fingers = THUMBED[name]
    frets, asked = parse_shape(shape), chord_or_none(name)
    assert asked is not None
    over = Fretboard(GUITAR, hand=Hand(thumb=True)).voicing_of(asked, frets)
    assert "".join("T" if f == THUMB else str(f) for f in over.fingers) == fingers
    usual = Fretboard(GUITAR).voicing_of(asked, frets)
    assert THUMB not in usual.fingers
    assert over.effort <= usual.effort or not any(usual.fingers)


def test_the_thumb_stays_with_the_hand() -> None:
    """The thumb reaches no further than a fret from the lowest finger, and presses a fret."""
    weights = weight_tuple(Weights())[: len(FINGERING_FEATURES)]
    fingerer = Fingerer(GUITAR, 0, Hand(thumb=True), weights)
    assert fingerer.over_the_neck(parse_shape("5x3211")) is None
    assert fingerer.over_the_neck(parse_shape("0x3211")) is None
    assert fingerer.over_the_neck(parse_shape("2x0232")) is not None


CONTORTED = {
    "101111": "a ring finger flat in the index finger's own fret",
    "1011x1": "four fingers in one fret",
    "120101": "the little finger between two fingers one fret lower",
    "x10331": "a finger under another's part barre",
    "x13021": "the middle finger around the ring and the little finger",
}


@each("shape", CONTORTED)
def test_contorted_patterns_have_no_fingering(shape: str) -> None:
    """A pattern whose only fingerings cross or crowd the hand is unplayable."""
    weights = weight_tuple(Weights())[: len(FINGERING_FEATURES)]
    fingerings = Fingerer(GUITAR, 0, Hand(), weights).fingerings(parse_shape(shape))
    assert list(fingerings) == [], CONTORTED[shape]


FIRST_AND_NOT = {
    "B": ("x24442", "x21x02"),
    "C#m": ("x46654", "x4x120"),
    "C#7": ("x46464", "x4310x"),
    "F#m7": ("242222", "202220"),
    "Bb": ("x13331", "x10331"),
    "F#m": ("244222", "2x4222"),
}


@each("name", FIRST_AND_NOT)
def test_an_honest_barre_comes_before_gaps(name: str) -> None:
    """A full barre stands clearly before a shape with muted strings or an open one between."""
    usual, odd = FIRST_AND_NOT[name]
    costs = {str(v): v.cost for v in Fretboard(GUITAR).voicings(chord_or_none(name))}
    assert min(costs, key=lambda shape: costs[shape]) == usual
    assert costs.get(odd, float("inf")) > costs[usual] + 1.5


def natural_eleventh(chord: Chord) -> int:
    """The pitch class of a chord's natural eleventh."""
    return (chord.root * 7 + 5) % 12


@each("text", ["13", "maj13", "13(b9)"])
def test_thirteenths_leave_out_the_eleventh(text: str) -> None:
    """No voicing of a thirteenth with a major third sounds the natural eleventh."""
    offered = 0
    for root in ("A", "Bb", "C", "D", "E", "F", "G", "Ab"):
        chord = chord_or_none(root + text)
        for voicing in shared_boards().board(GUITAR).voicings(chord):
            classes = {pitch % 12 for pitch in voicing.pitches if pitch is not None}
            assert natural_eleventh(chord) not in classes, (str(chord), str(voicing))
            offered += 1
    assert offered > 8


@pytest.mark.parametrize("text", ["11", "maj11"])
def test_elevenths_leave_out_the_third(text: str) -> None:
    """An eleventh chord sounds its eleventh and never the major third below it."""
    for root in ("A", "C", "D", "G"):
        chord = chord_or_none(root + text)
        voicings = shared_boards().board(GUITAR).voicings(chord)
        assert voicings
        for voicing in voicings:
            classes = {pitch % 12 for pitch in voicing.pitches if pitch is not None}
            assert (chord.root * 7 + 4) % 12 not in classes, (str(chord), str(voicing))
            assert natural_eleventh(chord) in classes


def test_usual_thirteenths() -> None:
    """A13 and C13 come first as players finger them."""
    first = {
        name: shape_text(shared_boards().board(GUITAR).voicings(chord_or_none(name))[0].frets)
        for name in ("A13", "C13", "F13")
    }
    assert first == {"A13": "x02022", "C13": "x32335", "F13": "1x123x"}


def test_the_eleventh_is_still_a_tone_of_the_chord() -> None:
    """A player's own thirteenth with the eleventh in it is not called wrong."""
    assert shape_problems(GUITAR, chord_or_none("A13"), parse_shape("x00022")) == ()


def test_an_added_eleventh_sounds_with_the_third() -> None:
    """Where a symbol asks for both the eleventh and the third, both sound."""
    for voicing in shared_boards().board(GUITAR).voicings(chord_or_none("Cadd11")):
        classes = {pitch % 12 for pitch in voicing.pitches if pitch is not None}
        assert {4, 5} <= classes


def test_no_finger_lies_flat_under_an_open_string() -> None:
    """A flat finger lies across all strings on its treble side, so such shapes need a finger for
    each string or another shape: Aadd9 x02420 with 1-3-2, A/C sharp x4222x."""
    board = Fretboard(GUITAR)
    shown = {}
    for name in ("Aadd9", "Dmaj9", "E/G#", "A/C#", "A/B", "Dm9"):
        chord = chord_or_none(name)
        assert isinstance(chord, Chord)
        first = board.voicings(chord)[0]
        shown[name] = shape_text(first.frets), first.fingers
    assert shown["Aadd9"] == ("x02420", (0, 0, 1, 3, 2, 0))
    assert shown["Dmaj9"] == ("x54220", (0, 4, 3, 1, 2, 0))
    assert shown["E/G#"] == ("422100", (4, 2, 3, 1, 0, 0))
    assert [shown[name][0] for name in ("A/C#", "A/B", "Dm9")] == ["x4222x", "x2222x", "x5355x"]


def grips_and_fingers(kept_apart: bool) -> tuple[int, int, int]:
    """Of one half of the players' grips how many there are, and of how many the first grip, and
    the first grip with its fingers, is one that they take."""
    boards: dict[str, Fretboard] = {}
    total = grips = fingers = 0
    for line in expected_grips():
        if line.kept_apart == kept_apart:
            board = boards.setdefault(line.setting, board_for(line.setting))
            asked = chord_or_none(line.symbol)
            assert asked is not None
            first = board.voicings(shape_chord(asked, board.capo))[0]
            total += 1
            grips += first.frets in line.grips
            fingers += first.fingers in line.grips.get(first.frets, ())
    return total, grips, fingers


def board_for(setting: str) -> Fretboard:
    """The fretboard of a heading: an instrument, and a capo or a tuning after a comma."""
    name, _, rest = setting.partition(", ")
    instrument = instrument_named(rest if rest == "drop D" else NAMES.get(name, name))
    capo = parse_capo(rest.removeprefix("capo ")) if rest.startswith("capo") else Capo(0)
    return Fretboard(under_capo(instrument, capo), capo.fret)


NAMES = {"seven strings": "B1 E2 A2 D3 G3 B3 E4"}


def shape_chord(sounding: Chord, capo: int) -> Chord:
    """The shape chord under a capo for a sounding chord."""
    fifths = (-7 * capo + 6) % 12 - 6
    return with_plain_root(moved_chord(sounding, fifths))


@pytest.mark.parametrize("kept_apart", [False, True])
def test_players_take_the_first_grips_and_fingers(kept_apart: bool) -> None:
    """Of some 227 grips from memory of practice nine in ten come first, with accepted fingers."""
    total, grips, fingers = grips_and_fingers(kept_apart)
    assert total > 110
    assert grips >= 0.92 * total
    assert fingers >= 0.91 * total


@each("kind", ["m9", "m7", "9", "13", "maj7", "dim7", "7(#5)"])
def test_a_grip_that_slides_keeps_its_fingers(kind: str) -> None:
    """One closed grip has the same fingers wherever it lies past the first fret."""
    fingers: dict[tuple[int | None, ...], set[tuple[int, ...]]] = {}
    for root in ("F#", "G", "Ab", "A", "Bb", "B", "C", "Db"):
        asked = chord_or_none(root + kind)
        assert isinstance(asked, Chord)
        for voicing in shared_boards().board(GUITAR).voicings(asked):
            fretted = [fret for fret in voicing.frets if fret is not None]
            if min(fretted) > 1:
                form = tuple(f if f is None else f - min(fretted) for f in voicing.frets)
                fingers.setdefault(form, set()).add(voicing.fingers)
    assert fingers
    assert {form: ways for form, ways in fingers.items() if len(ways) > 1} == {}
