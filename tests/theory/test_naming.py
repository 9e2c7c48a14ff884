"""Names as other players write them.

German and syllable names: common practice, no source for the table as a whole; that H is B
natural and B is B flat is told in any German theory book (from memory).
"""

import pytest

from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.key import parse_key
from chartkit.theory.naming import Major, Minor, Naming, Notes, key_words, named
from chartkit.theory.printed import letter_name, number_name


def chord(text: str) -> Chord:
    """The chord of a symbol."""
    found = read_symbol(text)
    assert isinstance(found, Chord)
    return found


@pytest.mark.parametrize(
    ("symbol", "notes", "name"),
    [
        ("C", "german", "C"),
        ("B", "german", "H"),
        ("Bb", "german", "B"),
        ("B#", "german", "H♯"),
        ("Bbb", "german", "B♭"),
        ("F#m/B", "german", "F♯m/H"),
        ("Eb/Bb", "german", "E♭/B"),
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
def test_roots_and_basses_as_those_players_name_them(symbol: str, notes: Notes, name: str) -> None:
    """In German B is H and B flat is B; syllables are fixed, Do is C."""
    assert named(letter_name(chord(symbol)), Naming(notes)).plain() == name


@pytest.mark.parametrize(
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
def test_minor_and_major_as_asked(symbol: str, minor: Minor, major: Major, name: str) -> None:
    """Only what is minor changes its m, and only the major seventh its maj."""
    assert named(letter_name(chord(symbol)), Naming("letters", minor, major)).plain() == name


@pytest.mark.parametrize("notes", ["german", "syllables"])
@pytest.mark.parametrize(
    ("minor", "shown"), [("m", "2m7/6"), ("small", "2m7/6"), ("mi", "2mi7/6"), ("-", "2-7/6")]
)
def test_degree_numbers_are_no_notes(notes: Notes, minor: Minor, shown: str) -> None:
    """Numbers keep their numbers, whatever notes are called, and tell minor: none can be small."""
    name = number_name(chord("Dm7/A"), parse_key("C"))
    assert named(name, Naming(notes, minor)).plain() == shown


@pytest.mark.parametrize(
    ("key", "notes", "words"),
    [
        ("Bb", "letters", "B♭ major"),
        ("Bb", "german", "B major"),
        ("Bm", "german", "H minor"),
        ("F#m", "syllables", "Fa♯ minor"),
        ("Eb", "german", "E♭ major"),
    ],
)
def test_keys_in_words(key: str, notes: Notes, words: str) -> None:
    """A key's tonic is named as its chords are."""
    assert key_words(parse_key(key), Naming(notes)) == words
