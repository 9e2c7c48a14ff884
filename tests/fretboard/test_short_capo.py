"""A capo over some strings: what sounds, which shapes there are, and what it costs to find them."""

from itertools import product

import pytest

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.grip_library import has_known_grips
from chartkit.fretboard.instrument import under_capo
from chartkit.fretboard.instruments import GUITAR, instrument_named
from chartkit.fretboard.patterns import chord_patterns, mutes_damped
from chartkit.fretboard.tones import tones_of
from chartkit.syntax.symbol import read_symbol
from chartkit.theory.capo import Capo, parse_capo
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import Frets
from tests.each import each

SHORT = ("2 over strings 5-3", "2 over strings 5-1", "2 over strings 6-2", "4 over strings 4-2")
CHORDS = ("D", "G", "A7", "Bm7", "Em", "Cadd9", "F#m", "Asus4", "E/G#", "D5")


def chord(symbol: str) -> Chord:
    """The chord of a symbol."""
    parsed = read_symbol(symbol)
    assert isinstance(parsed, Chord)
    return parsed


def sounds(frets: Frets, capo: Capo) -> list[int]:
    """The sounding strings, computed from the nut: an open string is stopped by the capo where
    that lies over it, and any other fret is counted from the capo."""
    pitches = []
    for place, fret in enumerate(frets):
        if fret is not None:
            stopped = capo.fret if fret or capo.covers(len(frets) - place) else 0
            pitches.append(GUITAR.open_pitches[place] + stopped + fret)
    return pitches


@pytest.mark.parametrize(
    ("written", "tuning"),
    [("2 over strings 5-3", "DADGAD"), ("2 over strings 5-1", "drop D")],
)
def test_open_strings_lie_like_a_known_tuning(written: str, tuning: str) -> None:
    """Over strings 5 to 3 at fret 2 the open strings lie as in DADGAD, with the low string left out
    as in drop D, both a whole step up.  Common practice, no source."""
    under = under_capo(GUITAR, parse_capo(written))
    assert under.sounds_open == instrument_named(tuning).open_pitches


def test_a_capo_over_all_strings_is_no_short_one() -> None:
    """It changes nothing about the strings, whether it says so or not."""
    assert under_capo(GUITAR, Capo(3)) == GUITAR
    assert under_capo(GUITAR, parse_capo("3 over strings 6-1")) == GUITAR


@each("written", SHORT)
@each("symbol", CHORDS)
def test_shapes_sound_their_chord(written: str, symbol: str) -> None:
    """Every shape sounds the chord as many half steps up as the capo's fret, its bass lowest."""
    capo, asked = parse_capo(written), chord(symbol)
    board = Fretboard(under_capo(GUITAR, capo), capo.fret)
    tones = tones_of(asked).moved(capo.fret)
    for voicing in board.voicings(asked):
        pitches = sounds(voicing.frets, capo)
        assert [pitch for pitch in voicing.pitches if pitch is not None] == pitches
        classes = {pitch % 12 for pitch in pitches}
        assert tones.required <= classes <= tones.allowed | {tones.bass}, str(voicing)
        assert pitches[0] % 12 == tones.bass, str(voicing)


@pytest.mark.parametrize("written", SHORT[:2])
@pytest.mark.parametrize("symbol", ["D", "G"])
def test_no_pattern_is_missed(written: str, symbol: str) -> None:
    """Up to fret 3 the search has every filling of the strings that the rules allow."""
    capo = parse_capo(written)
    under, tones = under_capo(GUITAR, capo), tones_of(chord(symbol))
    choices: tuple[int | None, ...] = (None, 0, 1, 2, 3)
    wanted = set()
    for frets in product(choices, repeat=6):
        pitches = [pitch - capo.fret for pitch in sounds(frets, capo)]
        if len(pitches) < 4 or pitches[0] % 12 != tones.bass or not mutes_damped(frets):
            continue
        if tones.required <= {pitch % 12 for pitch in pitches} <= tones.allowed:
            wanted.add(frets)
    patterns = {p for p in chord_patterns(under, tones) if max(fret or 0 for fret in p) <= 3}
    assert patterns == wanted
    assert len(wanted) >= 2


def test_grips_stay_where_only_the_low_string_is_left_out() -> None:
    """There players keep their grips, but for those on the low string, and D gains its low D."""
    under = under_capo(GUITAR, parse_capo("2 over strings 5-1"))
    board = Fretboard(under)
    shapes = {name: str(board.voicings(chord(name))[0]) for name in ("D", "G", "A", "Em")}
    assert shapes["D"] == "000232"
    assert shapes["G"] == "320003"
    assert shapes["A"] == "x02220"
    assert shapes["Em"] != "022000"
    assert has_known_grips(under)
    assert not has_known_grips(under_capo(GUITAR, parse_capo("2 over strings 5-3")))
