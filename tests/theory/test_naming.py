"""Names as other players write them.

German and syllable names: common practice, no source for the table as a whole; that H is B
natural and B is B flat is explained in any German theory book (from memory).
"""

from chartkit.interchange.text.vocabulary.key_words import key_of
from chartkit.interchange.text.vocabulary.note_names import SheetNoteNames
from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.chord_parts import letter_name, number_name
from chartkit.theory.key import MODES, Key, parse_key
from chartkit.theory.naming import (
    MajorSeventhStyle,
    MinorStyle,
    Naming,
    NoteStyle,
    in_naming,
    key_words,
    short_key,
)
from chartkit.theory.note import parse_note
from tests.each import each


def chord(text: str) -> Chord:
    """The chord of a symbol."""
    parsed = read_symbol(text)
    assert isinstance(parsed, Chord)
    return parsed


@each(
    ("symbol", "notes", "name"),
    [
        ("C", "german", "C"),
        ("B", "german", "H"),
        ("Bb", "german", "B"),
        ("B#", "german", "His"),
        ("Bbb", "german", "Heses"),
        ("Cb", "german", "Ces"),
        ("Fb", "german", "Fes"),
        ("Abb", "german", "Asas"),
        ("Ebb", "german", "Eses"),
        ("F##dim", "german", "Fisisdim"),
        ("E#", "german", "Eis"),
        ("F#m/B", "german", "Fism/H"),
        ("Eb/Bb", "german", "Es/B"),
        ("Absus4", "german", "Assus4"),
        ("Asus4", "german", "Asus4"),
        ("Gb7(#5,b9)", "german", "Ges7(♯5,♭9)"),
        ("C", "syllables", "Do"),
        ("D", "syllables", "Re"),
        ("E", "syllables", "Mi"),
        ("F", "syllables", "Fa"),
        ("G", "syllables", "Sol"),
        ("Ab", "syllables", "La♭"),
        ("B/F#", "syllables", "Si/Fa♯"),
        ("B", "letters", "B"),
    ],
)
def test_roots_and_basses_as_those_players_name_them(
    symbol: str, notes: NoteStyle, name: str
) -> None:
    """In German B is H and B flat is B, sharps add "is" and flats "es" or "s" (German theory
    books, from memory); syllables are fixed, Do is C."""
    assert in_naming(letter_name(chord(symbol)), Naming(notes)).plain() == name


@each(
    ("symbol", "minor", "major", "name"),
    [
        ("Am7", "m", "maj", "Am7"),
        ("Am7", "mi", "maj", "Ami7"),
        ("Am7", "-", "maj", "A-7"),
        ("Am7/G", "small", "maj", "a7/G"),
        ("Amaj7", "small", "MA", "AMA7"),
        ("Am(maj7)", "mi", "MA", "Ami(MA7)"),
        ("Am", "small", "maj", "a"),
        ("Adim", "small", "maj", "Adim"),
        ("Amaj7", "mi", "maj", "Amaj7"),
    ],
)
def test_minor_and_major_as_asked(
    symbol: str, minor: MinorStyle, major: MajorSeventhStyle, name: str
) -> None:
    """Only minor chords change their m, and only major sevenths their maj."""
    assert in_naming(letter_name(chord(symbol)), Naming("letters", minor, major)).plain() == name


def test_a_small_b_is_no_flat_sign() -> None:
    """B flat minor in small German letters is b, as a letter."""
    assert in_naming(letter_name(chord("Bbm7b5")), Naming("german", "small")).plain() == "b7(♭5)"


@each("quality", ["", "m7", "sus4", "maj7", "dim"])
def test_german_names_are_read_back(quality: str) -> None:
    """Intake reads a name from a German player's page as the same chord."""
    for root in (f"{one}{sign}" for one in "CDEFGAB" for sign in ("", "#", "b")):
        printed = in_naming(letter_name(chord(root + quality)), Naming("german")).plain()
        assert SheetNoteNames("german").letters(printed) == root + quality


@each("notes", ["german", "syllables"])
@each(("minor", "shown"), [("m", "2m7/6"), ("small", "2m7/6"), ("mi", "2mi7/6"), ("-", "2-7/6")])
def test_degree_numbers_are_no_notes(notes: NoteStyle, minor: MinorStyle, shown: str) -> None:
    """Numbers keep their numbers, whatever notes are called, and tell minor: none can be small."""
    name = number_name(chord("Dm7/A"), parse_key("C"))
    assert in_naming(name, Naming(notes, minor)).plain() == shown


@each(
    ("key", "notes", "words"),
    [
        ("Bb", "letters", "B♭ major"),
        ("Bb", "german", "B-Dur"),
        ("B", "german", "H-Dur"),
        ("Bm", "german", "h-Moll"),
        ("Bbm", "german", "b-Moll"),
        ("C#m", "german", "cis-Moll"),
        ("D dorian", "german", "D-Dorisch"),
        ("F#m", "syllables", "Fa♯ minor"),
        ("Eb", "german", "Es-Dur"),
    ],
)
def test_keys_in_words(key: str, notes: NoteStyle, words: str) -> None:
    """A key's tonic is named as its chords are; in German its mode too, so that the B flat of
    B-Dur cannot be read as the English B major."""
    assert key_words(parse_key(key), Naming(notes)) == words


_KEYS = [
    key
    for mode in MODES
    for tonic in ("C", "Eb", "Ab", "Bb", "B", "F#")
    if abs((key := Key(parse_note(tonic), mode)).signature) <= 7
]


@each("key", _KEYS, ids=str)
def test_german_keys_are_read_back(key: Key) -> None:
    """A key in German words is read as the key it was."""
    assert key_of(key_words(key, Naming("german"))) == key


@each(
    ("key", "notes", "words"),
    [
        ("Db", "letters", "D♭"),
        ("Cm", "letters", "Cm"),
        ("D dorian", "letters", "D dor."),
        ("Bb", "german", "B-Dur"),
        ("Bm", "german", "h-Moll"),
        ("Bb mixolydian", "german", "B mix."),
        ("F#m", "syllables", "Fa♯m"),
    ],
)
def test_keys_written_small(key: str, notes: NoteStyle, words: str) -> None:
    """In tables the mode is short; the German major says that it is German."""
    assert short_key(parse_key(key), Naming(notes)) == words
