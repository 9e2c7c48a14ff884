"""Keys, signatures, modes, transposition of keys, capos."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import key as music21_key
from music21 import roman

from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord, moved_chord, simple_chord
from chartkit.theory.chord_parts import scale_degree
from chartkit.theory.key import MODES, Key, parse_key
from chartkit.theory.note import accidentals_of, note_name, parse_note, pitch_class_of
from chartkit.theory.transposition import key_moved_by, semitones_between
from tests.each import each
from tests.strategies import ALL_KEYS, MAJOR_AND_MINOR, chords, keys

CAPOS = range(-5, 12)

MAJOR = ("Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#")
MINOR = ("Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#")
"""The 15 major and 15 minor keys from seven flats to seven sharps: the circle of fifths as
every theory book prints it."""


@each("signs", range(-7, 8))
def test_signatures_run_through_the_circle_of_fifths(signs: int) -> None:
    """Each major and minor key has the signature of the circle of fifths."""
    assert parse_key(MAJOR[signs + 7]).signature == signs
    assert parse_key(MINOR[signs + 7] + "m").signature == signs


@pytest.mark.parametrize("mode", MODES)
def test_scales_and_signatures_are_those_of_music21(mode: str) -> None:
    """The seven notes of each key in each mode, spelled, and its signature.

    Source: music21 ``key.Key(tonic, mode)``.
    """
    for key in (one for one in ALL_KEYS if one.mode == mode):
        theirs = music21_key.Key(note_name(key.tonic).replace("b", "-"), key.mode)
        names = [p.name.replace("-", "b") for p in theirs.getPitches()][:7]
        assert [note_name(note) for note in key.scale] == names, key
        assert theirs.sharps == key.signature, key


def test_a_scale_uses_each_letter_once() -> None:
    """No key has two notes on one letter, and none needs a double accidental."""
    for key in ALL_KEYS:
        assert sorted(note_name(note)[0] for note in key.scale) == list("ABCDEFG"), key
        assert max(abs(accidentals_of(note)) for note in key.scale) <= 1, key


@given(keys())
def test_a_key_parses_back(key: Key) -> None:
    """The name a key prints parses to the key."""
    assert parse_key(str(key)) == key


@each(
    ("text", "name"),
    [
        ("Db", "Db major"),
        ("Db major", "Db major"),
        ("DbM", "Db major"),
        ("Db maj", "Db major"),
        ("Bbm", "Bb minor"),
        ("Bb min", "Bb minor"),
        ("F♯ minor", "F# minor"),
        ("D Dorian", "D dorian"),
        ("A aeolian", "A minor"),
        ("C ionian", "C major"),
        ("G MIXOLYDIAN", "G mixolydian"),
        (" E  ", "E major"),
        ("A Minor", "A minor"),
    ],
)
def test_keys_may_be_written_as_players_write_them(text: str, name: str) -> None:
    """Bare letters are major, m is minor, modes by name, in any case."""
    assert str(parse_key(text)) == name


@each(
    ("text", "simple"),
    [
        ("G# major", "Ab major"),
        ("D#", "Eb major"),
        ("Fb", "E major"),
        ("Dbm", "C# minor"),
        ("E# minor", "F minor"),
        ("Gbm", "F# minor"),
        ("B## major", "Db major"),
        ("A##", "B major"),
        ("Cbb minor", "Bb minor"),
    ],
)
def test_a_key_with_more_than_seven_signs_names_the_simple_one(text: str, simple: str) -> None:
    """The message says which key to write instead, of two the one with fewer signs."""
    with pytest.raises(ValueError, match=f"write {simple}"):
        parse_key(text)


COMMON_NUMERALS = {
    "major": (
        "I",
        "ii",
        "iii",
        "IV",
        "V",
        "vi",
        "bII",
        "bIII",
        "bVI",
        "bVII",
        "II",
        "III",
        "VI",
        "VII",
        "#iv",
        "iv",
        "v",
    ),
    "minor": ("i", "III", "iv", "v", "V", "IV", "bII"),
}
DEGREE = {"I": 1, "II": 2, "III": 3, "IV": 4, "V": 5, "VI": 6, "VII": 7}


@each("key", MAJOR_AND_MINOR, ids=str)
def test_degrees_of_roots_are_those_of_music21_numerals(key: Key) -> None:
    """The root of each common numeral has that numeral's degree and alteration in the key.

    Source: music21 ``roman.RomanNumeral``; minor-mode VI and VII are left out because
    music21 reads them by case, see its documentation.
    """
    theirs = music21_key.Key(note_name(key.tonic).replace("b", "-"), key.mode)
    wrong = []
    for numeral in COMMON_NUMERALS[key.mode]:
        root = parse_note(roman.RomanNumeral(numeral, theirs).root().name.replace("-", "b"))
        plain = numeral.lstrip("b#")
        shift = numeral.count("#") - numeral.count("b")
        if abs(accidentals_of(root)) > 1:
            continue  # such a root is folded before it is numbered
        if scale_degree(root, key) != (DEGREE[plain.upper()], shift):
            wrong.append((numeral, note_name(root), scale_degree(root, key)))
    assert not wrong


def test_scale_notes_are_degrees_one_to_seven() -> None:
    """Each note of a key's own scale is its plain degree."""
    for key in ALL_KEYS:
        degrees = [scale_degree(note, key) for note in key.scale]
        assert degrees == [(n, 0) for n in range(1, 8)], key


@each("key", MAJOR_AND_MINOR, ids=str)
def test_the_usual_spelling_has_the_fewest_signs(key: Key) -> None:
    """Wherever a key goes, it has at most six signs, except where it stays as it is."""
    for semitones in range(-11, 12):
        moved = key_moved_by(key, semitones)
        assert semitones_between(key, moved) == semitones % 12, semitones
        assert moved.mode == key.mode, semitones
        assert abs(moved.signature) <= (6 if semitones else 7), semitones


@each("key", MAJOR_AND_MINOR, ids=str)
def test_an_octave_changes_no_key(key: Key) -> None:
    """Octaves up or down leave a key as it is, and thirteen half steps are one."""
    for octaves in (-24, -12, 12, 24):
        assert key_moved_by(key, octaves) == key
        for semitones in range(12):
            assert key_moved_by(key, semitones + octaves) == key_moved_by(key, semitones)


def chords_of(text: str) -> list[Chord]:
    """The chords of a row of symbols."""
    chords = [read_symbol(symbol) for symbol in text.split()]
    assert all(isinstance(chord, Chord) for chord in chords)
    return [chord for chord in chords if isinstance(chord, Chord)]


@each(
    ("song", "key", "semitones", "expected"),
    [
        # G flat would print C flat for the fourth degree: one accidental more.
        ("C F G", "C", 6, "F# major"),
        ("F Bb C7", "F", 1, "F# major"),
        # A borrowed minor four would be C flat minor.
        ("C Fm Bb7 Eb", "C", 6, "F# major"),
        # Applied dominants would be A sharp, D sharp and G sharp.
        ("C E7 A7 D7 G7", "C", 6, "Gb major"),
        ("C Em D7 G7", "C", 6, "Gb major"),
        # i-iv-V7: A sharp 7 against B flat 7 is even; the written key's side decides.
        ("Am Dm E7", "A minor", 6, "Eb minor"),
        ("Em Am B7", "E minor", -1, "D# minor"),
        ("Dm Gm A7", "D minor", 1, "Eb minor"),
        # VI is B against C flat, so sharps print fewer.
        ("Am F C G", "A minor", 6, "D# minor"),
    ],
)
def test_six_signs_are_decided_by_the_songs_own_chords(
    song: str, key: str, semitones: int, expected: str
) -> None:
    """F sharp or G flat, D sharp or E flat minor: whichever prints fewer accidentals.

    The rule is our own; that only these two stay open is the sum rule's (M. Gardner,
    *Essentials of Music Theory*).
    """
    assert str(key_moved_by(parse_key(key), semitones, chords_of(song))) == expected


@given(chords(), st.integers(-14, 14))
def test_there_and_back_restores_every_letter(chord: Chord, interval: int) -> None:
    """Moving by an interval and back by it gives the same chord."""
    assert moved_chord(moved_chord(chord, interval), -interval) == chord


@given(chords(), st.integers(-14, 14))
def test_printing_never_changes_the_sound(chord: Chord, interval: int) -> None:
    """A moved chord, printed without doubles, sounds what the moved chord sounds."""
    moved = moved_chord(chord, interval)
    simple = simple_chord(moved)
    assert simple.pitch_classes == moved.pitch_classes
    assert abs(accidentals_of(simple.root)) <= 1
    assert simple.bass is None or abs(accidentals_of(simple.bass)) <= 1


@each(
    ("chord", "interval", "printed"),
    [
        ("F#m7(b5)", -5, "Gm7(b5)"),
        ("F#dim7", 2, "G#dim7"),
        ("Bb7/Ab", -7, "A7/G"),
        ("Eb/Bb", -7, "D/A"),
        ("Bb", -7, "A"),
        ("C#m7/B#", 7, "Dm7/C#"),
    ],
)
def test_the_written_choice_outside_the_key_survives(
    chord: str, interval: int, printed: str
) -> None:
    """A sharp four stays a sharp four; doubles fold, root and bass in one spelling.

    Common practice, no source.
    """
    written = read_symbol(chord)
    assert isinstance(written, Chord)
    assert str(simple_chord(moved_chord(written, interval))) == printed


SONG = "{0} {0}/{2} {1}m7 {1}7 {2}m {3}maj7 {4}7sus4 {4}7(b9) {5}m7(b5) {6}dim7 {3}m6"


@each("key", MAJOR_AND_MINOR, ids=str)
def test_the_shape_raised_by_the_capo_is_the_sounding_chord(key: Key) -> None:
    """At every capo from -5 to 11, in every key, letter for letter.

    The shape key is the sounding key moved down by the capo; raising each exact shape by the
    interval between the two keys gives the sounding chord again, and the printed shape
    sounds the sounding chord's pitch classes less the capo.
    """
    sounding = chords_of(SONG.format(*[note_name(note) for note in key.scale]))
    for capo in CAPOS:
        shape_key = key_moved_by(key, -capo, sounding)
        interval = shape_key.tonic - key.tonic
        for chord in sounding:
            shape = moved_chord(chord, interval)
            assert str(moved_chord(shape, -interval)) == str(chord), capo
            printed = simple_chord(shape)
            assert {(pc + capo) % 12 for pc in printed.pitch_classes} == chord.pitch_classes, capo
            assert printed.quality == chord.quality, capo
        assert pitch_class_of(shape_key.tonic) == (pitch_class_of(key.tonic) - capo) % 12, capo


@each(
    ("shape", "capo", "sounding"),
    [
        # Facts of the trade: common practice, no published source.
        ("C", 1, "Db"),
        ("G", 1, "Ab"),
        ("G", 2, "A"),
        ("E", 2, "F#"),
        ("A", 2, "B"),
        ("G", 4, "B"),
        ("E", 7, "B"),
        ("D", 9, "B"),
        ("C", -1, "B"),
        ("Am", 1, "Bbm"),
        ("Em", 1, "Fm"),
        ("Em", 2, "F#m"),
        ("Em", 3, "Gm"),
        ("Am", 3, "Cm"),
        ("Am", 4, "C#m"),
        ("Am", 2, "Bm"),
        ("D", 1, "Eb"),
        ("D", 2, "E"),
        ("D", 3, "F"),
        ("G", 3, "Bb"),
        ("C", 3, "Eb"),
        ("C", 5, "F"),
        ("C", 2, "D"),
        ("C", 4, "E"),
        ("A", 1, "Bb"),
        ("G", 0, "G"),
        ("E", -1, "Eb"),
        ("E", -2, "D"),
        ("Am", -1, "Abm"),
    ],
)
def test_facts_of_the_trade(shape: str, capo: int, sounding: str) -> None:
    """Which key sounds when a player puts a capo on these shapes, and back.

    Common practice, no published source.  A flat minor is where A minor tuned down would be
    written by its pitch; its usual spelling is G sharp minor.
    """
    raised = key_moved_by(parse_key(shape), capo)
    assert pitch_class_of(raised.tonic) == pitch_class_of(parse_key(sounding).tonic)
    if sounding not in ("F#", "Abm"):
        assert raised == parse_key(sounding)
    back = key_moved_by(parse_key(sounding), -capo, chords_of(sounding))
    assert back == parse_key(shape)


@pytest.mark.parametrize(
    ("song", "expected"), [("F# B C# D#m", "F# major"), ("F# B E A", "F# major")]
)
def test_e_shapes_at_capo_two_sound_f_sharp(song: str, expected: str) -> None:
    """E shapes at capo 2 sound F sharp when the song's chords leave it open or say so.

    Common practice, no published source.
    """
    shapes = [moved_chord(chord, -2) for chord in chords_of(song)]
    assert str(key_moved_by(parse_key("E"), 2, shapes)) == expected


@each(
    ("pitch_class", "mode", "usual"),
    [
        (1, "major", "Db major"),
        (8, "major", "Ab major"),
        (8, "minor", "G# minor"),
        (11, "major", "B major"),
        (10, "minor", "Bb minor"),
    ],
)
def test_usual_spellings_are_the_counted_ones(pitch_class: int, mode: str, usual: str) -> None:
    """D flat not C sharp, A flat not G sharp, G sharp minor not A flat minor.

    Source: counts in two research corpora (D flat 56 to C sharp 8; A flat 122 to G sharp 2;
    G sharp minor 7 to A flat minor 2).
    """
    start = parse_key("C" if mode == "major" else "Am")
    steps = (pitch_class - pitch_class_of(start.tonic)) % 12
    assert str(key_moved_by(start, steps)) == usual


@each(
    ("words", "signs"),
    [
        ("D flat", "Db"),
        ("C sharp minor", "C#m"),
        ("B-flat minor", "Bbm"),
        ("Eflat", "Eb"),
        ("F Sharp dorian", "F# dorian"),
    ],
)
def test_a_sign_may_be_a_word(words: str, signs: str) -> None:
    """A key spoken with flat or sharp is the key written with the sign."""
    assert parse_key(words) == parse_key(signs)


@each("text", ["D flatter", "flat D", "D flat flat", "G sharp major", "D flatm"])
def test_words_that_name_no_key_are_refused(text: str) -> None:
    """The word stands once, right after the letter, and the key must be one of the thirty."""
    with pytest.raises(ValueError, match=r"not a key|not a mode|signs"):
        parse_key(text)
