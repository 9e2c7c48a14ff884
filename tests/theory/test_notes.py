"""Places on the line of fifths against themselves and against music21."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import interval, pitch

from chartkit.theory.key import MODES, parse_key, spellings
from chartkit.theory.note import (
    SEMITONE_PLACES,
    accidentals_of,
    letter_of,
    note_name,
    notes_of_pitch_class,
    parse_note,
    pitch_class_of,
    typographic_name,
    without_double_accidental,
)
from chartkit.theory.pitch import Pitch, parse_pitch, parse_range, transposed_pitch
from chartkit.theory.shape_text import parse_shape, shape_text
from chartkit.theory.transposition import semitones_between
from tests.each import each
from tests.strategies import notes, printed_notes

LETTERS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}


def music21_name(note: int) -> str:
    """A note as music21 writes it: flats are minus signs."""
    return note_name(note).replace("b", "-")


def every_root() -> list[int]:
    """Every note with at most a double accidental, F double flat to B double sharp."""
    return list(range(-15, 20))


@given(notes())
def test_a_name_parses_back_to_its_place(note: int) -> None:
    """Writing a note with at most a double accidental and parsing it restores the place."""
    assert parse_note(note_name(note)) == note


@given(notes())
def test_pitch_class_is_letter_plus_accidentals(note: int) -> None:
    """7n mod 12 is what counting half steps from the letter gives."""
    assert pitch_class_of(note) == (LETTERS[letter_of(note)] + accidentals_of(note)) % 12


@each(
    ("typed", "plain"),
    [("B♭", "Bb"), ("F♯", "F#"), ("E♭♭", "Ebb"), ("C𝄪", "C##"), ("A𝄫", "Abb"), ("G♯♯", "G##")],
)
def test_typographic_accidentals_mean_the_plain_ones(typed: str, plain: str) -> None:
    """♭ ♯ and their doubles may be pasted in."""
    assert parse_note(typed) == parse_note(plain)


@each("text", ["", "H", "c", "Cbbb", "C###", "C#b", "C ", "Cb#", "ｃ"])
def test_what_is_not_a_note_is_refused(text: str) -> None:
    """Anything but a capital A-G with at most a double accidental raises ValueError."""
    with pytest.raises(ValueError, match="not a note name"):
        parse_note(text)


@each(("name", "signed"), [("C", "C"), ("Bb", "B♭"), ("F#", "F♯"), ("Bbb", "B♭♭"), ("G##", "G♯♯")])
def test_signs_are_true_signs_where_words_are_read(name: str, signed: str) -> None:
    """A note in a sentence carries ♭ and ♯, and its letter stays a letter."""
    assert typographic_name(parse_note(name)) == signed


@given(st.integers(-60, 60))
def test_folding_keeps_the_sound_and_leaves_no_double(note: int) -> None:
    """A folded note sounds the same and has at most one accidental."""
    simple = without_double_accidental(note)
    assert pitch_class_of(simple) == pitch_class_of(note)
    assert abs(accidentals_of(simple)) <= 1


@given(printed_notes())
def test_folding_leaves_single_accidentals_alone(note: int) -> None:
    """C flat, F flat, B sharp and E sharp stay as the writer spelt them."""
    assert without_double_accidental(note) == note


def test_a_double_flat_root_in_g_flat_becomes_the_natural() -> None:
    """In G flat the flat seven of the flat seven, B double flat, is printed A.

    Source: among 112,307 chord roots of a research corpus none is double.
    """
    assert note_name(without_double_accidental(parse_note("Bbb"))) == "A"
    assert note_name(without_double_accidental(parse_note("F##"))) == "G"


@given(st.integers(0, 11))
def test_spellings_of_a_pitch_class_are_twelve_fifths_apart(pitch_class: int) -> None:
    """Every spelling in a stretch is found, flattest first, and sounds that pitch class."""
    notes = notes_of_pitch_class(pitch_class, -15, 19)
    assert {pitch_class_of(note) for note in notes} == {pitch_class}
    assert {b - a for a, b in pairwise(notes)} == {12}
    assert len(notes) == len([n for n in every_root() if pitch_class_of(n) == pitch_class])


def test_adding_places_spells_as_music21_transposes() -> None:
    """The interval between two tonics, added to any root, gives music21's spelling.

    Source: music21 ``Interval(pitch, pitch)`` and ``Pitch.transpose``; all pairs of the 15
    major tonics times every root of at most one accidental.
    """
    tonics = range(-7, 8)
    wrong = []
    for old in tonics:
        for new in tonics:
            step = interval.Interval(
                pitch.Pitch(music21_name(old) + "4"), pitch.Pitch(music21_name(new) + "4")
            )
            for root in range(-8, 13):
                moved = pitch.Pitch(music21_name(root) + "4").transpose(step)
                if abs(accidentals_of(root + new - old)) > 4:
                    continue
                if moved.name != music21_name(root + new - old):
                    wrong.append((old, new, root, moved.name))
    assert not wrong


@given(printed_notes(), st.integers(0, 8))
def test_midi_numbers_are_those_of_music21(note: int, octave: int) -> None:
    """A pitch has the MIDI number music21 gives it, B sharp and C flat included."""
    ours = Pitch(note, octave)
    assert ours.midi == pitch.Pitch(f"{music21_name(note)}{octave}").midi


@given(printed_notes(), st.integers(1, 7), st.integers(-7, 7), st.integers(-7, 7))
def test_pitches_move_as_music21_moves_them(note: int, octave: int, old: int, new: int) -> None:
    """A pitch moved by the interval of two tonics is music21's, octave included."""
    low, high = Pitch(old, 4), Pitch(new, 4)
    step = interval.Interval(
        pitch.Pitch(f"{music21_name(old)}4"), pitch.Pitch(f"{music21_name(new)}4")
    )
    moved = transposed_pitch(Pitch(note, octave), new - old, high.midi - low.midi)
    theirs = pitch.Pitch(f"{music21_name(note)}{octave}").transpose(step)
    assert moved.midi == Pitch(note, octave).midi + high.midi - low.midi
    assert str(moved).replace("b", "-") == theirs.nameWithOctave


@given(printed_notes(), st.integers(-3, 11), st.integers(-4, 4))
def test_octaves_change_the_octave_alone(note: int, octave: int, octaves: int) -> None:
    """Moved by whole octaves a pitch keeps its name, at both ends of what is heard too."""
    moved = transposed_pitch(Pitch(note, octave), 0, 12 * octaves)
    assert moved == Pitch(note, octave + octaves)


@each(("text", "midi"), [("C4", 60), ("B#3", 60), ("Cb4", 59), ("A♭3", 56)])
def test_octaves_belong_to_the_letter(text: str, midi: int) -> None:
    """Scientific pitch notation: C4 is 60 and B sharp 3 sounds the same."""
    assert parse_pitch(text).midi == midi


@each("text", ["Ab3", "Ab3-", "-F5", "F5-Ab3", "Ab3-H4", "Ab3 F5", "Ab to F"])
def test_what_is_not_a_range_is_refused(text: str) -> None:
    """A range is two notes with octaves, the lower first."""
    with pytest.raises(ValueError, match=r"not a|above"):
        parse_range(text)


def test_a_tune_on_one_note_has_a_range() -> None:
    """The lowest and the highest note may be the same, however each is spelled."""
    assert str(parse_range("C4-C4")) == "C4-C4"
    assert str(parse_range("C4-B#3")) == "C4-B#3"


@each("text", ["Ab3-F5", "A♭3–F5", "Ab3 - F5"])
def test_a_range_may_be_typed_with_a_dash_and_blanks(text: str) -> None:
    """The long dash and blanks around it are read."""
    assert str(parse_range(text)) == "Ab3-F5"


@each("mode", MODES)
def test_two_spellings_of_a_key_add_to_twelve_signs(mode: str) -> None:
    """The signatures of enharmonic keys add to twelve.

    Source: M. Gardner, *Essentials of Music Theory* (the sum rule).
    """
    for pitch_class in range(12):
        notes = spellings(pitch_class, mode)
        assert 1 <= len(notes) <= 2, pitch_class
        if len(notes) == 2:
            assert sum(abs(key.signature) for key in notes) == 12, pitch_class


@each("semitones", range(12))
def test_usual_intervals_are_those_music21_names(semitones: int) -> None:
    """Each number of half steps up from C is spelled as music21's interval of that size.

    Six may be an augmented fourth or a diminished fifth; ours is the fourth.
    """
    usual = "A4" if semitones == 6 else interval.Interval(semitones).directedName
    spelled = pitch.Pitch("C4").transpose(interval.Interval(usual))
    assert note_name(SEMITONE_PLACES[semitones]) == spelled.name.replace("-", "b")


@each(("old", "new", "steps"), [("C", "C", 0), ("B", "C", 1), ("C", "B", 11), ("Gb", "F#", 0)])
def test_half_steps_between_keys_go_up(old: str, new: str, steps: int) -> None:
    """The way up from one tonic to another is 0 to 11 half steps."""
    assert semitones_between(parse_key(old), parse_key(new)) == steps


@each(
    ("frets", "text"),
    [
        ((None, 3, 2, 0, 1, 0), "x32010"),
        ((None, 10, 12, 12, 11, None), "x-10-12-12-11-x"),
        ((9, 9, 9, 9, 9, 10), "9-9-9-9-9-10"),
        ((0, 0, 0, 3), "0003"),
    ],
)
def test_shapes_are_written_with_hyphens_past_fret_nine(
    frets: tuple[int | None, ...], text: str
) -> None:
    """Common practice, no source: one digit a string, hyphens where a fret has two."""
    assert shape_text(frets) == text
    assert parse_shape(text) == frets
