"""The table of qualities against outside sources and against itself."""

import re
from itertools import combinations

import pytest
from harte.harte import Harte
from hypothesis import given
from music21.harmony import CHORD_TYPES

from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.note import note_name, parse_note, pitch_class_of
from chartkit.theory.quality import (
    BY_SPELLING,
    DEGREE_PLACES,
    TABLE,
    Quality,
    altered_quality,
)
from tests.by_mir_eval import encoded
from tests.each import each
from tests.interchange.schema import musicxml_schema_text
from tests.strategies import CHANGES, qualities

ROOTS = ("C", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B", "C#", "Cb")


def chord(text: str) -> Chord:
    """The chord of a symbol; fails if it is not one."""
    parsed = read_symbol(text)
    assert isinstance(parsed, Chord), parsed
    return parsed


MUSICXML_KINDS = {
    "major": ("", "1 3 5"),
    "minor": ("m", "1 b3 5"),
    "augmented": ("aug", "1 3 #5"),
    "diminished": ("dim", "1 b3 b5"),
    "dominant": ("7", "1 3 5 b7"),
    "major-seventh": ("maj7", "1 3 5 7"),
    "minor-seventh": ("m7", "1 b3 5 b7"),
    "diminished-seventh": ("dim7", "1 b3 b5 bb7"),
    "augmented-seventh": ("7#5", "1 3 #5 b7"),
    "half-diminished": ("m7b5", "1 b3 b5 b7"),
    "major-minor": ("m(maj7)", "1 b3 5 7"),
    "major-sixth": ("6", "1 3 5 6"),
    "minor-sixth": ("m6", "1 b3 5 6"),
    "dominant-ninth": ("9", "1 3 5 b7 9"),
    "major-ninth": ("maj9", "1 3 5 7 9"),
    "minor-ninth": ("m9", "1 b3 5 b7 9"),
    "dominant-11th": ("11", "1 3 5 b7 9 11"),
    "major-11th": ("maj11", "1 3 5 7 9 11"),
    "minor-11th": ("m11", "1 b3 5 b7 9 11"),
    "dominant-13th": ("13", "1 3 5 b7 9 11 13"),
    "major-13th": ("maj13", "1 3 5 7 9 11 13"),
    "minor-13th": ("m13", "1 b3 5 b7 9 11 13"),
    "suspended-second": ("sus2", "1 9 5"),
    "suspended-fourth": ("sus4", "1 11 5"),
    "power": ("5", "1 5"),
    # Functions, a drone and things that are not one quality: no symbol writes them.
    **dict.fromkeys(
        ("Neapolitan", "Italian", "French", "German", "pedal", "Tristan", "other", "none")
    ),
}
"""The 33 values of ``kind`` with the tones that the comments of the schema give them, and how
a chart writes each.  A 2nd or 4th of a suspended chord is named 9 or 11 here.  Source: the
``kind-value`` type of the W3C MusicXML 4.0 schema."""


def test_all_kinds_of_the_schema_are_listed() -> None:
    """The kinds are those that the schema itself lists, which ships inside the package musicxml."""
    kinds = (
        musicxml_schema_text().decode().split('name="kind-value"')[1].split("</xs:simpleType>")[0]
    )
    assert sorted(MUSICXML_KINDS) == sorted(re.findall(r'enumeration value="([\w-]+)"', kinds))


@each("kind", [kind for kind, known in MUSICXML_KINDS.items() if known])
def test_musicxml_kinds_have_the_tones_of_the_schema(kind: str) -> None:
    """Each kind that is a quality is in the table with the schema's tones.

    Source: W3C MusicXML 4.0 schema, ``kind-value``.
    """
    symbol, degrees = MUSICXML_KINDS[kind] or ("", "")
    assert set(chord("C" + symbol).quality.degrees) == set(degrees.split())


HARTE = {
    "": "maj",
    "m": "min",
    "dim": "dim",
    "aug": "aug",
    "maj7": "maj7",
    "m7": "min7",
    "7": "7",
    "dim7": "dim7",
    "m7b5": "hdim7",
    "m(maj7)": "minmaj7",
    "6": "maj6",
    "m6": "min6",
    "9": "9",
    "maj9": "maj9",
    "m9": "min9",
    "sus4": "sus4",
    "sus2": "sus2",
    "11": "11",
    "m11": "min11",
    "13": "13",
    "m13": "min13",
    "maj13": "maj13",
    "5": "(5)",
    "add9": "maj(9)",
    "madd9": "min(9)",
    "7b9": "7(b9)",
    "7#9": "7(#9)",
    "7#11": "7(#11)",
    "7b13": "7(b13)",
    "7#5": "aug(b7)",
    "7b5": "(3,b5,b7)",
    "6/9": "maj6(9)",
    "m6/9": "min6(9)",
    "7sus4": "sus4(b7)",
    "9sus4": "sus4(b7,9)",
    "13sus4": "sus4(b7,9,13)",
    "maj7#11": "maj7(#11)",
    "maj7#5": "aug(7)",
    "m7b5b9": "hdim7(b9)",
    "13b9": "13(*9,b9)",
    "9#11": "9(#11)",
    "dim(maj7)": "dim(7)",
    "dim9": "dim7(9)",
    "ø9": "hdim7(9)",
    "ø11": "hdim7(9,11)",
    "7/13": "7(13)",
    "maj7/9": "maj7(9)",
    "m7/11": "min7(11)",
    "−7": "min7",
    "7M": "maj7",
    "(maj7)": "maj7",
    "7(b9,add9)": "7(b9,9)",
    "7b9b13": "7(b9,b13)",
    "7#9#5": "aug(b7,#9)",
    "add11": "maj(11)",
}
"""Our spelling to a label in the syntax of C. Harte's thesis (2010), as mir_eval and
harte-library read it."""

_MIR_EVAL_REFUSES = {"maj13", "13", "m13", "11", "m11", "13b9"}
"""Qualities for which mir_eval's table has no shorthand, or that it reduces differently from its
own degrees."""

_HARTE_LIBRARY_REFUSES = {"13", "m13", "maj13", "11", "m11", "13b9"}

FOUR_ROOTS = ("C", "F#", "Bb", "Ab")


@each("symbol", [s for s in HARTE if s not in _MIR_EVAL_REFUSES])
def test_pitch_classes_are_those_of_mir_eval(symbol: str) -> None:
    """A quality sounds the pitch classes mir_eval gives its label.

    Source: mir_eval ``chord.encode(label, reduce_extended_chords=True)``.
    """
    for root in FOUR_ROOTS:
        label = f"{root}:{HARTE[symbol]}"
        base, semitones, _ = encoded(label)
        theirs = {(pc + base) % 12 for pc, sounds in enumerate(semitones) if sounds}
        assert chord(root + symbol).pitch_classes == theirs, root


@each("symbol", [s for s in HARTE if s not in _HARTE_LIBRARY_REFUSES])
def test_spelled_tones_are_those_of_harte_library(symbol: str) -> None:
    """A chord's tones carry the letters harte-library spells them with.

    Source: harte-library (built on music21 intervals).
    """
    for root in FOUR_ROOTS:
        theirs = {p.name.replace("-", "b") for p in Harte(f"{root}:{HARTE[symbol]}").pitches}
        assert {note_name(tone) for tone in chord(root + symbol).tones} == theirs, root


@each("degree", DEGREE_PLACES)
def test_a_degree_has_the_size_its_name_says(degree: str) -> None:
    """A degree is the major scale's step of that number, raised or lowered."""
    steps = (0, 2, 4, 5, 7, 9, 11)
    number = int(degree.lstrip("b#"))
    shift = degree.count("#") - degree.count("b")
    assert pitch_class_of(DEGREE_PLACES[degree]) == (steps[(number - 1) % 7] + shift) % 12
    letters = "CDEFGAB"
    assert note_name(DEGREE_PLACES[degree])[0] == letters[(number - 1) % 7]


@each("row", TABLE, ids=lambda row: row.quality.text or "major")
def test_every_spelling_of_the_table_parses_to_its_tones(row: object) -> None:
    """Each accepted spelling, on every root, is the quality of its row."""
    for spelling in row.spellings:  # type: ignore[attr-defined]
        for root in ROOTS:
            if spelling[:1] == "#" and not root.endswith("b"):
                continue  # a root takes its accidental first: C#5 is a power chord
            read = chord(root + spelling)
            assert read.root == parse_note(root), (root, spelling)
            assert read.quality == BY_SPELLING[spelling], (root, spelling)


@each(
    ("written", "printed"),
    [
        ("C7b9", "C7(b9)"),
        ("C7#9b13", "C7(#9,b13)"),
        ("C13b9", "C13(b9)"),
        ("C9#11", "C9(#11)"),
        ("Cmaj7#11", "Cmaj7(#11)"),
        ("C7#5#9", "C7(#5,#9)"),
        ("Cm7b5(11)", "Cm7(b5,11)"),
        ("C7b5b9", "C7(b5,b9)"),
        ("C7b9sus4", "C7sus4(b9)"),
        ("C7(b9,13)", "C7(b9,13)"),
        ("C6/9#11", "C6/9(#11)"),
        ("C(b5)", "C(b5)"),
        ("C13sus4b9", "C13sus4(b9)"),
        ("Cmaj7sus2", "Cmaj7(sus2)"),
        ("C7add6", "C7(add6)"),
        ("Cdim(add9)", "Cdim(add9)"),
        ("C7no5", "C7(no5)"),
        ("Caug7b9", "C7(#5,b9)"),
        ("Cm7b5b9", "Cm7(b5,b9)"),
        ("C7+9", "C7(#9)"),
        ("C7-5+9", "C7(b5,#9)"),
        ("CmM7b5", "Cdim(maj7)"),
        ("C7b9,13", "C7(b9,13)"),
        ("C7(b9 b13)", "C7(b9,b13)"),
        # over a seventh a tension needs no "add", without one it does
        ("Cmaj7add13", "Cmaj7(13)"),
        ("Cdim7add9", "Cdim7(9)"),
        ("Cm7add11", "Cm7(11)"),
        ("C6add11", "C6(add11)"),
        ("Cmadd11", "Cm(add11)"),
    ],
)
def test_altered_chords_print_their_changes_in_parentheses(written: str, printed: str) -> None:
    """Alterations follow the base in parentheses, in the order of their numbers.

    Source: Brandt & Roemer, *Standardized Chord Symbol Notation* (1976), from memory; the
    choice of base among equals is ours.
    """
    assert str(chord(written)) == printed
    assert str(chord(printed)) == printed


def test_no_spelling_stands_for_two_qualities() -> None:
    """Each spelling is listed in one row only."""
    seen: dict[str, str] = {}
    for row in TABLE:
        for spelling in row.spellings:
            assert seen.setdefault(spelling, row.quality.text) == row.quality.text, spelling


def test_no_two_printed_forms_are_the_same() -> None:
    """Each row prints in its own way."""
    texts = [row.quality.text for row in TABLE]
    assert len(texts) == len(set(texts))


@each("row", TABLE, ids=lambda row: row.quality.text or "major")
def test_only_tones_of_the_chord_may_be_left_out(row: object) -> None:
    """Omissible tones are tones, never the root, and two tones always stay."""
    quality: Quality = row.quality  # type: ignore[attr-defined]
    assert set(quality.omissible) < set(quality.degrees)
    assert "1" not in quality.omissible
    assert len(set(quality.degrees) - set(quality.omissible)) >= 2


BASES = [row.quality for row in TABLE]


@pytest.mark.parametrize("count", [1, 2])
def test_every_altered_quality_prints_and_parses(count: int) -> None:
    """Any base with any one or two changes prints a text that parses to the same tones."""
    wrong = []
    for base in BASES:
        for changes in combinations(CHANGES, count):
            quality = altered_quality(base, changes)
            read = read_symbol("C" + quality.text)
            if not isinstance(read, Chord) or read.quality != quality:
                wrong.append((base.text, changes, quality.text))
    assert not wrong[:20]


@pytest.mark.parametrize("root", ["Cb", "Cbb", "Ebb", "B##", "F#"])
def test_a_symbol_prints_and_parses_on_every_kind_of_root(root: str) -> None:
    """The flat of a root is never taken for one of the fifth: C flat, a double flat and a double
    sharp with each altered quality read back as the same chord."""
    place, wrong = parse_note(root), []
    for base in BASES:
        for changes in [(), *((change,) for change in CHANGES)]:
            written = Chord(place, altered_quality(base, changes))
            if read_symbol(str(written)) != written:
                wrong.append(str(written))
    assert wrong == []


def test_a_natural_tension_stays_beside_an_altered_one() -> None:
    """Whichever order they are typed in, C7(9,b9) has both ninths."""
    assert chord("C7(9,b9)").quality == chord("C7(b9,9)").quality
    assert {"9", "b9"} <= set(chord("C7(9,b9)").quality.degrees)


@given(qualities())
def test_a_quality_prints_and_parses(quality: Quality) -> None:
    """Printing and parsing restores text, tones and omissible tones."""
    assert chord("F#" + quality.text).quality == quality


@given(qualities())
def test_tones_are_in_order_and_distinct(quality: Quality) -> None:
    """Tones run from the root up, each once."""
    assert len(set(quality.degrees)) == len(quality.degrees)
    assert set(quality.omissible) <= set(quality.degrees)


@each(
    ("one", "other"),
    [
        ("Cm7b5", "Cø"),
        ("C7sus4(b9)", "C7(b9,sus4)"),
        ("C7#5", "Caug7"),
        ("C7b9#11", "C7#11b9"),
        ("C9(#11)", "C7(9,#11)"),
        ("C(no3)", "C5"),
        ("Cmadd9", "Cm(add9)"),
        ("C6/9", "C69"),
        ("C13(#11)", "C13#11"),
        ("C7(b9,b13)", "C7b13b9"),
        ("Cm(maj7)", "CmM7"),
        ("C+", "Caug"),
        ("C7b5", "C7-5"),
        ("C7+9", "C7#9"),
        ("C△7", "Cmaj7"),
        ("C-7", "Cm7"),
        ("C°", "Cdim"),
    ],
)
def test_one_quality_has_one_printed_form(one: str, other: str) -> None:
    """Different spellings of the same tones are the same chord and print alike."""
    assert chord(one) == chord(other)
    assert str(chord(one)) == str(chord(other))


MINORS = ("m", "mi", "min", "-", "Mi", "Min", "MI", "MIN")
MAJORS = ("maj", "ma", "M", "Maj", "Ma", "MAJ", "MA")
TRIANGLES = ("△", "Δ", "∆")
MINOR_KINDS = (
    "",
    "7",
    "9",
    "11",
    "13",
    "6",
    "6/9",
    "69",
    "6(9)",
    "6add9",
    "b5",
    "(b5)",
    "7b5",
    "7(b5)",
    "7-5",
    "add9",
    "(add9)",
    "add2",
    "(add2)",
    "add11",
    "(add11)",
    "add4",
    "(add4)",
)
MAJOR_KINDS = ("", "6", "6/9", "69", "7", "9", "11", "13", "7#5", "7+", "7sus4", "7sus")
"""Handwriting of minor and major: common practice, no source."""


@each("kind", MINOR_KINDS)
def test_minor_is_minor_however_it_is_written(kind: str) -> None:
    """Each way to write minor goes with each minor quality and means the same."""
    meant = chord("Am" + kind)
    assert "b3" in meant.quality.degrees
    assert [chord(f"A{minor}{kind}") for minor in MINORS] == [meant] * len(MINORS)


@each("kind", MAJOR_KINDS)
def test_major_is_major_however_it_is_written(kind: str) -> None:
    """Each way to write major goes with each major quality and means the same."""
    meant = chord("Amaj" + kind)
    assert [chord(f"A{major}{kind}") for major in MAJORS] == [meant] * len(MAJORS)


@each("number", ["7", "9", "11", "13"])
def test_a_triangle_is_a_major_seventh(number: str) -> None:
    """A triangle, whichever sign is typed for it, is the major seventh, alone or with a number."""
    meant = chord(f"Amaj{number}")
    for triangle in TRIANGLES:
        assert chord(f"A{triangle}{number}") == meant
        assert number != "7" or chord(f"A{triangle}") == meant


@pytest.mark.parametrize("number", ["7", "9"])
def test_minor_and_major_meet_in_one_chord(number: str) -> None:
    """A minor chord with a major seventh is written with any sign for either, in any manner."""
    for minor in MINORS:
        for major in MAJORS + TRIANGLES:
            for written in (f"({major}{number})", f"/{major}{number}", f"{major}{number}"):
                assert chord(f"A{minor}{written}").quality.text == f"m(maj{number})", written


@each(
    ("written", "degrees", "printed"),
    [
        ("C7(maj7)", "1 3 5 b7 7", "C7(maj7)"),
        ("Cm7(maj7)", "1 b3 5 b7 7", "Cm7(maj7)"),
        ("C7(b9,maj7)", "1 3 5 b7 7 b9", "C7(b9,maj7)"),
        ("Cdim7(maj7)", "1 b3 b5 bb7 7", "Cdim7(maj7)"),
        ("C7(b9,add9)", "1 3 5 b7 b9 9", "C9(addb9)"),
        ("C7(#9,add9)", "1 3 5 b7 9 #9", "C9(add#9)"),
        ("C7(b13,add13)", "1 3 5 b7 b13 13", "C7(addb13,add13)"),
    ],
)
def test_no_tone_is_dropped(written: str, degrees: str, printed: str) -> None:
    """A chord has every tone its symbol names: both sevenths, and a natural tension that is added
    to an altered one."""
    assert set(chord(written).quality.degrees) == set(degrees.split())
    assert str(chord(written)) == printed
    assert chord(printed) == chord(written)


MINOR_MAJOR = {
    "Cm9(maj7)": "minor-major-ninth",
    "Cm11(maj7)": "minor-major-11th",
    "Cm13(maj7)": "minor-major-13th",
    "C9(maj7)": "major-ninth",
    "C11(maj7)": "major-11th",
    "C13(maj7)": "major-13th",
}
"""Chords of a ninth and more that name a major seventh, and what music21 calls them."""


@each("written", MINOR_MAJOR)
def test_a_major_seventh_takes_the_place_of_an_implied_one(written: str) -> None:
    """A ninth chord with "maj7" has the major seventh alone.

    Source: music21, ``harmony.CHORD_TYPES``.
    """
    theirs = str(CHORD_TYPES[MINOR_MAJOR[written]][0]).replace("-", "b").split(",")
    assert set(chord(written).quality.degrees) == set(theirs)
    assert chord(str(chord(written))) == chord(written)


@each("written", ["C7(9,maj7)", "C7/9(maj7)", "Cm7(9,maj7)", "C7maj7", "Cm7M7", "C7(7M)"])
def test_both_sevenths_stay_where_both_are_typed(written: str) -> None:
    """A chord that names its seventh keeps it beside the major one, as it is printed too."""
    assert {"b7", "7"} <= set(chord(written).quality.degrees)
    assert chord(str(chord(written))) == chord(written)


OTHER_SIGNS = {
    "dim": "° o º Dim DIM",
    "dim7": "°7 o7 º7 Dim7 DIM7",
    "dim7(9)": "dim9 °9 o9",
    "dim7(9,11)": "dim11 °11 o11",
    "dim(maj7)": "dimmaj7 °maj7 °M7 °△7 dim(M7) o(maj7)",
    "m9(b5)": "ø9 Ø9 ø7/9",
    "m11(b5)": "ø11 Ø11",
    "maj7": "7M j7 (maj7) maj(7) major7 (M7)",
    "m(maj7)": "m7M m#7 m(#7) m+7 -7M minor/major7",
    "m7": "m⁷ ⁻⁷ −7 –7 minor7 m(7) Minor7",
    "7(13)": "7/13 7,13",
    "maj9": "maj⁹ maj7/9 maj7(9) major9",
    "7(b9)": "7/b9 7−9 7/-9",
    "6": "(6)",
    "m6": "m(6)",
    "7(b9,#11)": "7/b9/#11 ⁷⁽b9,#11⁾",
    "9(13)": "7/9/13",
    "aug": "+ Aug AUG +5 (#5)",
    "m7(b5)": "ø ø7 Ø Ø7 ∅ ∅7 dimb7",
    "7(#5)": "7#5 7+ +7 aug7 7aug 7+5",
    "9(#5)": "9#5 9+ +9 aug9 9+5",
    "maj7(#5)": "+maj7 +M7 augmaj7",
    "sus4": "sus Sus Sus4 SUS 4",
    "sus2": "Sus2",
    "sus2sus4": "sus24 sus42 sus4sus2 sus2/4 sus4/2",
    "5": "(no3) no3 omit3",
    "6/9": "69 6(9) 6add9 (6/9)",
    "7": "dom7 (7) ⁷ ₇",
    "9": "7add9 7/9 dom9",
    "7sus4": "7sus sus7 sus47 7Sus 7Sus4 7/sus4",
    "9sus4": "9sus sus9",
    "13sus4": "13sus sus13 7sus13",
    "add9": "(add9) Add9 add2 (add2) 2",
    "add11": "(add11) add4 (add4)",
    "7alt": "alt 7(alt) Alt",
    "": "major",
    "m": "minor",
}
"""Other signs for a quality: common practice, no source."""


@each("plain", OTHER_SIGNS)
def test_other_signs_mean_the_same_tones(plain: str) -> None:
    """A circle, a slashed circle, a plus, an older word: the tones are those of the plain form."""
    for written in OTHER_SIGNS[plain].split():
        assert chord("A" + written).tones == chord("A" + plain).tones, written


def may_go(degrees: set[str]) -> set[str]:
    """The rule in words: the natural fifth of any chord of four tones or more; under an eleventh
    or a thirteenth on a seventh the ninth; the eleventh of a thirteenth; the third of an
    eleventh where it is major."""
    seventh, tall = degrees & {"7", "b7"}, degrees & {"11", "13"}
    third = degrees & {"3", "b3"}
    gone = {"5"} if len(degrees) >= 4 else set()
    if seventh and tall and len(degrees) >= 6:
        gone |= {"9"}
        gone |= {"11"} if "13" in degrees and third else set()
        gone |= {"3"} if "13" not in degrees else set()
    return gone & degrees


LEFT_OUT_OTHERWISE = {
    "sus2sus4": set(),  # without its fifth it would be another chord over another root
    "2": {"3", "5"},  # the second stands in for the third
    "7alt": {"b5", "#5", "b9", "#9"},  # some alteration of each, the player's choice
}


@each("row", TABLE, ids=lambda row: row.quality.text or "major")
def test_what_may_be_left_out_follows_the_rule(row: object) -> None:
    """Which tones players leave out follows one rule but for three chords.

    Common practice, no source.
    """
    quality: Quality = row.quality  # type: ignore[attr-defined]
    rule = LEFT_OUT_OTHERWISE.get(quality.text, may_go(set(quality.degrees)))
    assert set(quality.omissible) == rule


@each(
    "symbol",
    [
        "C7(b9,13)",
        "C9(#11)",
        "Cm7(b5,11)",
        "C7(#5,#9)",
        "C6(add11)",
        "C7sus4(b9)",
        "Cmaj7(sus2)",
        "C13(#11)",
        "Cdim7(9)",
    ],
)
def test_tones_of_an_altered_chord_run_upwards(symbol: str) -> None:
    """Root, third, fifth, seventh, then the tensions by number, whatever the order in writing."""
    numbers = [int(degree.lstrip("b#")) for degree in chord(symbol).quality.degrees]
    assert numbers == sorted(numbers)


@pytest.mark.parametrize(
    ("symbol", "omissible"),
    [
        ("C7(b9)", "5"),
        ("C9(#11)", "5"),
        ("C13(b9)", "5 11"),
        ("C13(#11)", "5 9"),
        ("C7(b5)", ""),
        ("C7(b9,no5)", ""),
        ("Cmaj7(13)", "5"),
        ("C11(b9)", "3 5"),
        ("C(b5)", ""),
    ],
)
def test_an_altered_chord_may_leave_out_what_is_left_of_it(symbol: str, omissible: str) -> None:
    """A changed quality may leave out what its base may, unless that tone has been altered."""
    assert set(chord(symbol).quality.omissible) == set(omissible.split())
