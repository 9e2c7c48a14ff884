"""The meaning of a simply written root, and the choice between two spellings of a key.

Ours, no source, except for the counts that the modules name.
"""

from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord, accidental_count, simple_chord
from chartkit.theory.key import MODES, Key, parse_key, spellings
from chartkit.theory.quality import quality_with
from chartkit.theory.respelling import intended_chord
from chartkit.theory.transposition import key_moved_by
from tests.each import each


def chord(text: str) -> Chord:
    """The chord of a symbol."""
    parsed = read_symbol(text)
    assert isinstance(parsed, Chord)
    return parsed


@each(
    ("key", "written", "meant"),
    [
        # the flat six and its kin, with the bass that belongs to them
        ("Db", "A", "Bbb"),
        ("Db", "A/C#", "Bbb/Db"),
        ("Db", "A/E", "Bbb/Fb"),
        ("Db", "A/Ab", "Bbb/Ab"),
        ("Db", "F#m", "Gbm"),
        ("Gb", "D/F#", "Ebb/Gb"),
        ("B", "Eb/G", "D#/F##"),
        ("Db", "A7(b5)", "Bbb7(b5)"),
        ("Db", "A/Eb", "Bbb/Eb"),
        # a bass that sounds a tone of its chord, whatever the root
        ("F#", "C#/F", "C#/E#"),
        ("C", "E/Ab", "E/G#"),
        ("Gb", "Ebm/F#", "Ebm/Gb"),
        ("Ab", "Ab7/F#", "Ab7/Gb"),
        ("C", "Cdim7/A", "Cdim7/A"),
        ("C", "C/Ab", "C/Ab"),
        # against the key's own signs, if only one
        ("G", "Dbdim7", "C#dim7"),
        ("F", "F#", "Gb"),
        ("F", "F#/A#", "Gb/Bb"),
        ("G", "Gb", "F#"),
        ("G", "Gb/Bb", "F#/A#"),
        # what is meant as it stands
        ("C", "F#dim", "F#dim"),
        ("C", "G#", "G#"),
        ("C", "Gbdim7", "Gbdim7"),
        ("G", "C#m7b5", "C#m7b5"),
        ("D", "Abdim7", "G#dim7"),
        ("Eb", "Bdim7", "Bdim7"),
        # the less plain of two names is chosen on purpose
        ("C", "Cb", "Cb"),
        ("Gb", "Abb", "Abb"),
        # a note of the key's own scale
        ("B locrian", "Fdim", "Fdim"),
        ("F# locrian", "Cdim", "Cdim"),
        ("F lydian", "B", "B"),
    ],
)
def test_roots_are_read_as_they_are_meant(key: str, written: str, meant: str) -> None:
    """A spelling changes only if the writer can hardly have meant it, and its bass with it."""
    assert intended_chord(chord(written), parse_key(key)) == chord(meant)


@each(
    ("key", "steps", "moved"),
    [
        ("C", 6, "Gb"),
        ("G", -1, "F#"),
        ("F", 1, "Gb"),
        ("D", 4, "F#"),
        ("Bb", -4, "Gb"),
        ("Am", 6, "Ebm"),
        ("Em", -1, "D#m"),
        ("Dm", 1, "Ebm"),
        ("Bm", 4, "D#m"),
    ],
)
def test_open_spellings_stay_on_the_side_of_the_key(key: str, steps: int, moved: str) -> None:
    """Without chords to decide it, sharps stay sharps; a key with no signs goes to flats."""
    assert key_moved_by(parse_key(key), steps) == parse_key(moved)


@each("mode", MODES)
def test_each_mode_has_fifteen_keys(mode: str) -> None:
    """Seven flats to seven sharps, for every mode, each once."""
    keys = [key for pitch_class in range(12) for key in spellings(pitch_class, mode)]
    assert sorted(key.signature for key in keys) == list(range(-7, 8))
    assert len(set(keys)) == len(keys)
    assert all(isinstance(key, Key) for key in keys)


@each(
    ("written", "printed"),
    [
        ("Bbb", "A"),
        ("Bbb/Fb", "A/E"),
        ("C/Ebb", "C/D"),
        ("C/F##", "C/G"),
        ("F##m/A#", "Gm/Bb"),
        ("Db/F", "Db/F"),
        ("Cb/Eb", "Cb/Eb"),
        ("Ebb/Gb", "D/F#"),
    ],
)
def test_double_accidentals_are_folded(written: str, printed: str) -> None:
    """A double root takes its bass with it; a double bass folds alone."""
    assert simple_chord(chord(written)) == chord(printed)


@each(("symbol", "count"), [("C", 0), ("C/E", 0), ("Db/F", 1), ("Eb/Bb", 2), ("Bbb/Db", 3)])
def test_accidentals_of_root_and_bass_are_counted(symbol: str, count: int) -> None:
    """Doubles count twice, and where there is no bass there is nothing to count."""
    assert accidental_count(chord(symbol)) == count


@each(
    ("degrees", "printed"),
    [
        ("1 3 5 b7 b9", "7(b9)"),
        ("1 3 b7 9", "9(no5)"),
        ("1 3 5 b7 11 13", "13(no9)"),
        ("1 3 b7 b9", "7(b9,no5)"),
        ("1 11 b7 b9", "7sus4(b9,no5)"),
        ("1 b3 5 b7 11", "m7(11)"),
        ("1 5", "5"),
        ("1 3 5 9", "add9"),
        ("1 3 5 7", "maj7"),
        ("1 3 5 b7 9 #11 13", "13(#11)"),
        ("1 b3 3 5", None),
        ("3 5", None),
        ("1 x", None),
        ("1 3 5 #5 b7 b9", None),
        ("1 3 5 #5 b7", None),
        ("1 5 b7", "7(no3)"),
        ("1 5 7 9", "maj7(sus2)"),
    ],
)
def test_the_quality_with_just_these_tones(degrees: str, printed: str | None) -> None:
    """Tones that a symbol can say have one; both thirds, no root or no degree have none.

    Common practice, no source.
    """
    quality = quality_with(frozenset(degrees.split()))
    assert (quality and quality.text) == printed
    if printed is not None:
        assert set(chord("C" + printed).quality.degrees) == set(degrees.split())
