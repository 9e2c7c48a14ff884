"""Chord symbols as players write them."""

from hypothesis import given
from hypothesis import strategies as st

from chartkit.syntax.symbol import NotAChord, chord_or_none, read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.note import note_name, parse_note
from chartkit.theory.quality import BY_SPELLING
from tests.each import each
from tests.strategies import CHANGES, chords

SPELLINGS = {
    "1 3 5": "C CM Cmaj Cma Cmajor",
    "1 b3 5": "Cm Cmi Cmin C-",
    "1 3 5 7": "Cmaj7 Cma7 CM7 CMaj7 C△7 C△ CMA7 CΔ C∆7",
    "1 3 5 b7": "C7",
    "1 3 5 b7 9": "C9",
    "1 3 5 b7 9 11": "C11",
    "1 3 5 b7 9 11 13": "C13",
    "1 b3 5 b7": "Cm7 Cmi7 Cmin7 C-7",
    "1 b3 5 b7 9": "Cm9 Cmi9 C-9",
    "1 b3 5 b7 9 11": "Cm11",
    "1 b3 5 b7 9 11 13": "Cm13",
    "1 b3 5 7": "Cm(maj7) CmM7 Cm/maj7 C-△7 CmiMa7",
    "1 3 5 6": "C6 CM6",
    "1 b3 5 6": "Cm6 C-6",
    "1 3 5 6 9": "C6/9 C69",
    "1 b3 5 6 9": "Cm6/9 Cm69",
    "1 b3 b5": "Cdim C° Co Cmb5 Cm(b5)",
    "1 b3 b5 bb7": "Cdim7 C°7 Co7",
    "1 b3 b5 b7": "Cm7b5 Cø Cø7 C-7b5 Cm7(b5) Cmi7b5",
    "1 3 #5": "Caug C+ C(#5)",
    "1 3 #5 b7": "Caug7 C7#5 C7+ C+7 C7(#5) C7+5",
    "1 11 5": "Csus Csus4",
    "1 9 5": "Csus2",
    "1 11 5 b7": "C7sus C7sus4",
    "1 11 5 b7 9": "C9sus C9sus4",
    "1 11 5 b7 9 13": "C13sus C13sus4",
    "1 3 5 9": "Cadd2 Cadd9 C2 C(add9)",
    "1 3 5 11": "Cadd11 Cadd4",
    "1 b3 5 9": "Cmadd9 Cm(add9)",
    "1 5": "C5 C(no3) Cno3 Comit3",
    "1 3": "C(no5) Cno5",
    "1 3 b5 b7": "C7b5 C7(b5) C7-5",
    "1 3 5 b7 b9": "C7b9 C7(b9) C7-9",
    "1 3 5 b7 #9": "C7#9 C7(#9) C7+9",
    "1 3 5 b7 #11": "C7#11 C7(#11) C7+11",
    "1 3 5 b7 b13": "C7b13 C7(b13) C7-13",
    "1 3 5 b7 b9 #11": "C7b9#11 C7(b9,#11) C7(b9#11) C7b9,#11 C7(#11,b9) C7(b9)(#11)",
    "1 3 #5 b7 #9": "C7#5#9 C7(#5,#9) C+7#9 Caug7(#9)",
    "1 3 b5 b7 b9": "C7b5b9 C7(b5,b9)",
    "1 3 5 b7 b9 b13": "C7b9b13 C7(b9,b13)",
    "1 3 5 b7 b9 13": "C7b9,13 C7(b9,13)",
    "1 3 b5 #5 b7 b9 #9": "Calt C7alt C7(alt)",
    "1 11 5 b7 b9": "C7b9sus4 C7sus4b9 C7sus4(b9) C7sus(b9)",
    "1 3 5 7 #11": "Cmaj7#11 Cmaj7(#11) CM7#11",
    "1 3 5 7 9": "Cmaj9 CM9",
    "1 3 5 7 9 11": "Cmaj11",
    "1 3 5 7 9 11 13": "Cmaj13",
}
"""Tones to the spellings that the language promises to accept, and the commonest of 20,030
printed chord symbols (7, m7, m, Maj7, dim, 6, 9, dim7, m6, 7b9, +, m7b5, 7+, 7#5, mi7, 7b5,
7sus, 13, m9).  Tones: common practice, no source, but for 11 and 13, which keep their third
and eleventh as the W3C MusicXML 4.0 schema defines them."""


@each("degrees", SPELLINGS)
def test_promised_spellings_have_their_tones(degrees: str) -> None:
    """Each spelling the language promises is accepted and has the tones players mean."""
    for symbol in SPELLINGS[degrees].split():
        parsed = read_symbol(symbol)
        assert isinstance(parsed, Chord), (symbol, parsed)
        assert set(parsed.quality.degrees) == set(degrees.split()), symbol


@each("degrees", SPELLINGS)
def test_typographic_accidentals_are_read_alike(degrees: str) -> None:
    """♭ and ♯ mean what b and # mean, in root, quality and bass."""
    for symbol in SPELLINGS[degrees].split():
        typed = symbol.replace("b", "♭").replace("#", "♯").replace("su♭", "sub")
        typed = typed.replace("C", "D♭", 1) + "/A♭"
        plain = "Db" + symbol[1:] + "/Ab"
        assert read_symbol(typed) == read_symbol(plain), typed


@given(chords())
def test_what_a_chord_prints_parses_back(chord: Chord) -> None:
    """The printed form of any chord, bass and all, is that chord."""
    assert read_symbol(str(chord)) == chord


@each(
    ("symbol", "root", "quality", "bass"),
    [
        ("C#5", "C#", "5", None),
        ("Db5", "Db", "5", None),
        ("C(#5)", "C", "aug", None),
        ("Bbb5", "Bb", "(b5)", None),
        ("Bb7b5", "Bb", "7(b5)", None),
        ("Bbb7", "Bbb", "7", None),
        ("Ebb", "Ebb", "", None),
        ("F##m", "F##", "m", None),
        ("C6/9/E", "C", "6/9", "E"),
        ("Cm/maj7/G", "C", "m(maj7)", "G"),
        ("C/E", "C", "", "E"),
        ("C2/E", "C", "2", "E"),
        ("Bb/D", "Bb", "", "D"),
        ("Abdim7/Gb", "Ab", "dim7", "Gb"),
        ("A7/C#", "A", "7", "C#"),
        ("E7alt", "E", "7alt", None),
        ("C+", "C", "aug", None),
        ("G#ø", "G#", "m7(b5)", None),
        ("B♭△7/D", "Bb", "maj7", "D"),
        ("D/F♯", "D", "", "F#"),
        ("Dadd9", "D", "add9", None),
        ("Edim", "E", "dim", None),
        ("Asus", "A", "sus4", None),
        ("Gadd9/B", "G", "add9", "B"),
    ],
)
def test_root_quality_and_bass_are_told_apart(
    symbol: str, root: str, quality: str, bass: str | None
) -> None:
    """Accidentals go to the root first; a bass is only a note name after the last slash."""
    parsed = read_symbol(symbol)
    assert isinstance(parsed, Chord), parsed
    assert note_name(parsed.root) == root
    assert parsed.quality.text == quality
    assert parsed.bass == (None if bass is None else parse_note(bass))


@each(
    "symbol",
    [
        "",
        "H",
        "c",
        "Cx",
        "C7b8",
        "Cmaj77",
        "C/",
        "C/H",
        "C/e",
        "C//E",
        "C7(b9",
        "C7b9)",
        "C()",
        "C(,b9)",
        "C7(b9,,b13)",
        "Csus3",
        "Cadd",
        "Cno",
        "C no3",
        "Cbbb",
        "C###",
        "C6/8",
        "C/E/G",
    ],
)
def test_what_is_not_a_chord_is_reported(symbol: str) -> None:
    """Anything else is explained, with a place inside the symbol, never guessed at."""
    refusal = read_symbol(symbol)
    assert isinstance(refusal, NotAChord)
    assert 0 <= refusal.start <= refusal.end <= len(symbol)
    assert refusal.message


@each(
    ("written", "meant"),
    [
        ("Gmaj77", "maj7"),
        ("Gmj7", "maj7"),
        ("Gmayj7", "maj7"),
        ("Gsuss4", "sus4"),
        ("Gdmi7", "dim7"),
        ("Gm7b55", "m7b5"),
        ("Gminn7", "min7"),
        ("Gaug77", "aug7"),
    ],
)
def test_a_slip_of_the_pen_is_understood(written: str, meant: str) -> None:
    """One letter too many, too few, wrong or in the wrong place leads to the right hint."""
    refusal = read_symbol(written)
    assert isinstance(refusal, NotAChord)
    assert refusal.hints == (f'did you mean "{meant}"?',)


@given(st.sampled_from(sorted(SPELLINGS)), st.integers(-8, 12))
def test_tones_move_with_their_root(degrees: str, root: int) -> None:
    """A quality has the same tones above every root."""
    symbol = SPELLINGS[degrees].split()[-1]
    home = read_symbol("C" + symbol[1:])
    name = note_name(root)
    bare = symbol[1:]
    if bare[:1] in "#b" and bare:
        return  # the accidental would go to the root
    moved = read_symbol(name + bare)
    assert isinstance(home, Chord) and isinstance(moved, Chord)
    assert [tone - root for tone in moved.tones] == list(home.tones)


_ROOTS = ("C", "Bb", "F#", "E♭")


def test_no_chord_is_taken_for_a_word() -> None:
    """What is sorted out by its first letters is no symbol: every spelling with every change is
    the chord that it is when it is read in full."""
    for number, spelling in enumerate(sorted(BY_SPELLING)):
        for change in ("", f"({CHANGES[number % len(CHANGES)]})", CHANGES[-number % len(CHANGES)]):
            symbol = _ROOTS[number % len(_ROOTS)] + spelling + change
            read = read_symbol(symbol)
            assert chord_or_none(symbol) == (read if isinstance(read, Chord) else None)
    for symbol in ("Cmajor7", "Cminor", "Cminor/major7", "CMinor7"):
        assert chord_or_none(symbol) == read_symbol(symbol)


@each("word", ["guitar", "Guitar", "Gently", "Bass", "Drums", "Amen", "Every", "Fade", "Coda", ""])
def test_words_are_no_chords(word: str) -> None:
    """A word that begins with the letter of a note is none, unless it reads as a chord."""
    assert chord_or_none(word) is None
