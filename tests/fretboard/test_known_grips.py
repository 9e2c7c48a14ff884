"""The table of known grips: every entry sounds its chord and can be fingered."""

import pytest

from chartkit.fretboard.board import Fretboard
from chartkit.fretboard.grip_library import grips_for, half_steps_below_guitar, tuning_note
from chartkit.fretboard.grip_tables import KnownGrip, grips_in_table
from chartkit.fretboard.instruments import GUITAR, KNOWN, UKULELE, instrument_named
from chartkit.fretboard.known_grips import known_grips
from chartkit.fretboard.retuned_grips import (
    DROP_D_TABLE,
    dadgad_grips,
    double_drop_d_grips,
    drop_d_grips,
    open_chord_grips,
)
from chartkit.fretboard.store import shared_boards
from chartkit.fretboard.tones import tones_of
from chartkit.fretboard.ukulele_grips import ukulele_grips
from chartkit.syntax.symbol import read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.shape_text import shape_text
from tests.each import each
from tests.fretboard.hand_rules import fingers_fault, pattern_fault

OPEN = (40, 45, 50, 55, 59, 64)


def chord(symbol: str) -> Chord:
    """The chord of a symbol."""
    parsed = read_symbol(symbol)
    assert isinstance(parsed, Chord)
    return parsed


def test_the_table_is_large() -> None:
    """More than 500 different grips, a good part of them movable."""
    grips = known_grips()
    assert len({grip.frets for grip in grips}) >= 500
    assert sum(grip.movable for grip in grips) >= 150


def test_every_grip_sounds_its_chord() -> None:
    """All tones that the chord needs, none that it has not, and its bass lowest."""
    for grip in known_grips():
        label = f"{grip.chord} {shape_text(grip.frets)}"
        tones = tones_of(grip.chord)
        sounding = [o + f for o, f in zip(OPEN, grip.frets, strict=True) if f is not None]
        classes = {pitch % 12 for pitch in sounding}
        assert classes <= tones.allowed | {tones.bass}, label
        assert tones.required <= classes, label
        assert sounding[0] == min(sounding), label
        assert sounding[0] % 12 == tones.bass, label


def test_every_grip_can_be_fingered_somewhere() -> None:
    """The hand rules, a sixth wider than for other shapes, pass at the nut or up the neck."""
    board = Fretboard(GUITAR)
    for grip in known_grips():
        assert not pattern_fault(grip.frets, 5), shape_text(grip.frets)
        faults = []
        for up in range(8) if grip.movable else (0,):
            frets = tuple(fret if fret is None else fret + up for fret in grip.frets)
            fingers = board.voicing_of(moved(grip.chord, up), frets).fingers
            faults.append(fingers_fault(frets, fingers, 0, 1.18))
        assert "" in faults, (shape_text(grip.frets), faults)


def moved(asked: Chord, up: int) -> Chord:
    """The chord so many half steps up, as seven fifths each."""
    bass = None if asked.bass is None else asked.bass + 7 * up
    return Chord(asked.root + 7 * up, asked.quality, bass)


def test_movable_grips_are_written_at_the_first_fret() -> None:
    """A grip that slides has no open string, and its lowest finger lies at fret 1."""
    for grip in known_grips():
        if grip.movable:
            assert min(f for f in grip.frets if f is not None) == 1, shape_text(grip.frets)


def test_a_movable_grip_slides_to_every_fret() -> None:
    """The barre form of F is that of G flat a fret higher, and E's open shape a fret lower."""
    for symbol, shape in (("F", "133211"), ("Gb", "244322"), ("B", "799877"), ("E", "022100")):
        strengths = grips_for(GUITAR, tones_of(chord(symbol)))
        assert shape in {shape_text(frets) for frets in strengths}


NEVER_FIRST = {
    "F6": "10021x",
    "B6": "x21102",
    "F#m6": "201222",
    "Bbm6": "x13023",
    "F9": "10101x",
    "Cm9": "x30343",
    "Fmaj9": "132213",
    "Ebmaj9": "x60066",
    "Abmaj9": "411113",
    "Bbadd9": "x10x11",
    "Badd9": "x21x22",
    "F#sus2": "xx4122",
    "Edim": "0123x3",
    "Gdim": "31x023",
    "Abdim": "42010x",
    "G#dim": "xx6797",
    "Fdim7": "123131",
    "F#dim7": "234242",
    "Gdim7": "312020",
    "Abdim7": "456464",
    "Fm7b5": "123141",
    "Gm7b5": "345363",
    "Abm7b5": "456474",
    "F7#5": "10122x",
    "F#7#5": "210330",
    "Ab7#5": "474554",
    "F6/9": "100011",
    "F#/A#": "6x467x",
    "C#7#9": "x43100",
    "F#7#9": "212222",
    "G7#9": "310001",
    "Ab7#9": "434444",
    "A7#9": "x02523",
    "C#13": "x43304",
    "D13": "xx0412",
    "Bb13": "x10034",
    "Bb/Ab": "453336",
    "E7#9": "020103",
    "Eb7b9": "xx1020",
    "Eb6/9": "xx1011",
    "Cm/Bb": "xx8888",
    "Eb/Db": "x-x-11-12-11-11",
    "Bbm/Db": "x-x-11-10-11-9",
    "Eb7/G": "3x1023",
    "Ebmaj7/G": "310043",
    "Ebmaj7/Bb": "x10043",
    "Bdim/D": "x-x-12-10-12-10",
    "Gm/F#": "210033",
    "Abm/G": "32110x",
    "Ebm(add9)": "x-6-8-10-7-6",
    "Ab7b5": "xx6778",
    "Abmaj7#11": "xx6788",
    "Absus2": "xx6896",
    "Fm11": "x8889x",
    "Badd11": "x21x00",
    "Ebadd11": "xx1044",
    "Dm/G": "xx5765",
    "Eadd9/G#": "424400",
    "Aadd9/E": "042200",
    "Dbadd9/F": "141121",
    "Dbsus4/Ab": "xx6674",
}
"""Shapes that no player plays, all first before grips were known (common practice, no source)."""


@each("symbol", NEVER_FIRST)
def test_what_nobody_plays_is_not_first(symbol: str) -> None:
    """A shape that a player would not believe does not come first."""
    first = shared_boards().board(GUITAR).voicings(chord(symbol))[0]
    assert str(first) != NEVER_FIRST[symbol]


OVER_A_BASS = (
    "Db/B x2x121",
    "Eb/Db x4x343",
    "Db/C x3x121 x33121",
    "A/G# 4x222x 402220",
    "Fmaj7/G 3x3210",
    "F#7/A# 6x465x",
    "Ebmaj7/G 3x133x",
    "F#maj7/A# 6x466x",
    "Bbm/Db x4332x",
    "Cm/Bb x11013",
    "Ebm/Db x4x342",
    "Gm/F# xx4333",
    "Fm/E xx2111",
    "Eb7/Bb x11323",
    "Ab7/Eb xx1112",
    "Cm7/G 335343",
    "Bm/D xx0432 x5443x",
    "F#9sus4 2x2100",
    "Dmaj7/E 000222",
    "Bb/Ab 4x333x",
    "Ab/Gb 2x111x",
    "C#m/F# 2x212x",
    "Eadd9/G# 4x2102",
    "Aadd9/C# x42200",
    "Gadd9/B x20203",
    "Ebadd9/G 3x3343",
    "Asus4/E 002230",
    "Absus4/Eb x66644",
)
"""Grips over another bass, a chord and what players take (common practice, no source)."""


@each("entry", OVER_A_BASS)
def test_grips_over_a_bass_come_first(entry: str) -> None:
    """First inversions, sevenths in the bass, and lines that walk down."""
    symbol, *shapes = entry.split()
    assert str(shared_boards().board(GUITAR).voicings(chord(symbol))[0]) in shapes


ELSEWHERE = (
    ("drop D", "E7 220100"),
    ("drop D", "D11 000010"),
    ("drop D", "E6/9 xx2122"),
    ("drop D", "Eadd9 224100"),
    ("drop D", "C/E 232010"),
    ("drop D", "C/G xx5553"),
    ("drop D", "Bm/F# xx4432"),
    ("drop D", "F13 3x123x"),
    ("drop D", "G7 5x343x"),
    ("drop D", "Esus4 2x2200"),
    ("drop D", "E6 2x2120"),
    ("DADGAD", "D 000200"),
    ("DADGAD", "Dm 003200"),
    ("DADGAD", "Em7 220000"),
    ("DADGAD", "A x02200"),
    ("DADGAD", "Bm7 x24200"),
    ("DADGAD", "D/F# 400200"),
    ("DADGAD", "G6 5x2020"),
    ("DADGAD", "D/C# x40200"),
    ("C2 G2 C3 F3 G3 C4", "C 000200"),
    ("drop D", "G7#5 5x344x"),
    ("drop D", "F#7sus4 4x242x"),
    ("open G", "C x55555"),
    ("open G", "Am x22212"),
    ("open G", "Cm x55545"),
    ("open G", "Em7 202000"),
    ("open G", "A7 x22225"),
    ("open G", "C/G x02012"),
    ("open G", "F/C x57567"),
    ("F2 Bb2 F3 Bb3 D4 F4", "Eb x55555"),
    ("open D", "G 555555"),
    ("open D", "Em xx2122"),
    ("open D", "Cm x31131"),
    ("open D", "Am x02332"),
    ("open G", "F# xx4324"),
    ("open G", "Fm xx3113"),
    ("open G", "Dsus4 020030"),
    ("drop D", "Gm9 5x3335"),
    ("drop D", "G7#9 5x3436"),
    ("drop D", "G11 5x3535"),
    ("drop D", "Csus4/G xx5563"),
    ("drop D", "Ab6/9 xx6566"),
    ("C2 G2 C3 F3 A3 D4", "C 000232"),
    ("double drop D", "D 000234"),
    ("double drop D", "G 520000"),
    ("double drop D", "A x02222"),
    ("double drop D", "Em7 220002"),
    ("double drop D", "Bm x2443x"),
    ("double drop D", "F xx3213"),
    ("open D", "G/D 020120"),
    ("open D", "A7 x0214x"),
    ("E2 B2 E3 G#3 B3 E4", "A 555555"),
    ("ukulele", "C9 0201"),
    ("ukulele", "D9 2423"),
    ("ukulele", "E9 1222"),
    ("ukulele", "G9 2212"),
    ("ukulele", "A9 0102"),
    ("ukulele", "Cmaj9 0202"),
    ("ukulele", "C7b9 0101"),
    ("mandolin", "C 0230"),
    ("baritone ukulele", "G9 0201"),
    ("baritone ukulele", "G 0003"),
    ("baritone ukulele", "B 4442"),
    ("baritone ukulele", "Bm 0432"),
    ("B1 E2 A2 D3 G3 B3 E4", "B5 022xxxx"),
    ("B1 E2 A2 D3 G3 B3 E4", "C5 133xxxx"),
)


@each(("instrument", "entry"), ELSEWHERE)
def test_first_grips_on_other_instruments(instrument: str, entry: str) -> None:
    """Drop D rests on its low string or presses it two frets higher, double drop D the first string
    too, at any pitch; open strings drone in DADGAD; an open chord slides under a barre, and minor
    chords keep the form of E or A; ninths on four strings leave the root out; seven strings have
    low fifths."""
    symbol, shape = entry.split()
    board = shared_boards().board(instrument_named(instrument))
    assert str(board.voicings(chord(symbol))[0]) == shape


FINGERS = (
    ("guitar", "Bbm11", (0, 1, 1, 1, 2, 0)),
    ("guitar", "Fm/E", (0, 0, 2, 1, 1, 1)),
    ("ukulele", "Db", (1, 1, 1, 4)),
    ("ukulele", "Db7", (1, 1, 1, 2)),
    ("ukulele", "Bm", (3, 1, 1, 1)),
)


@each(("instrument", "symbol", "fingers"), FINGERS)
def test_fingers_over_a_barre(instrument: str, symbol: str, fingers: tuple[int, ...]) -> None:
    """A barre at the first fret is one as at any other, and each finger over it has its fret."""
    board = shared_boards().board(instrument_named(instrument))
    assert board.voicings(chord(symbol))[0].fingers == fingers


WORKING = (
    "Gmaj7 3x443x",
    "Gm7 3x333x",
    "Gm7b5 3x332x",
    "G7#5 3x344x",
    "F#7#5 2x233x",
    "F13 1x123x",
    "G7 3x343x",
    "Gdim7 3x232x",
    "G6 3x243x",
    "Gm6 3x233x",
    "Cm7 8x888x",
    "C9 x3233x",
    "C9 x32333",
    "Cm9 x3133x",
    "Cmaj9 x3243x",
    "C7#9 x3234x",
    "C13 x32335",
    "C7b9 x3232x",
    "B7#9 x2123x",
    "Bm7b5 x2323x",
    "D/F# 2x0232",
    "G5 355xxx",
    "A5 577xxx",
    "C5 x355xx",
    "A7 5x565x",
    "Dm9 x5355x",
    "Am7 5x555x",
    "Ebmaj7 xx1333",
)
"""Grips that working players use for jazz, soul and rock (common practice, no source)."""


@each("entry", WORKING)
def test_working_grips_are_offered(entry: str) -> None:
    """Shells, four-string chords and power chords are among the voicings that are kept."""
    symbol, shape = entry.split()
    assert shape in [str(v) for v in shared_boards().board(GUITAR).voicings(chord(symbol))]


QUALITIES = (
    "",
    "m",
    "5",
    "7",
    "maj7",
    "m7",
    "m7b5",
    "dim7",
    "dim",
    "aug",
    "6",
    "m6",
    "9",
    "maj9",
    "m9",
    "13",
    "7b9",
    "7#5",
    "sus4",
    "sus2",
    "7sus4",
    "add9",
    "6/9",
    "11",
    "m(maj7)",
    "maj7#11",
    "9sus4",
)
ROOTS = ("C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")


def test_common_kinds_come_first_as_known_grips() -> None:
    """On 12 roots nearly every common kind of chord has a known grip first."""
    board = shared_boards().board(GUITAR)
    firsts = {
        root + kind: board.voicings(chord(root + kind))[0] for kind in QUALITIES for root in ROOTS
    }
    searched = [name for name, voicing in firsts.items() if "known_grip" not in voicing.explained]
    assert len(searched) <= 4, searched


@each(
    ("symbol", "shape"),
    [
        ("Dm7/F", "1x021x"),
        ("Abm7/B", "x24444"),
        ("A/F#", "242222"),
        ("B/G#", "464444"),
        ("Ebm/C", "x3434x"),
        ("Bbm/G", "3x332x"),
        ("Abdim7/B", "x20101"),
        ("Bb7/Ab", "4x333x"),
    ],
)
def test_a_chord_is_played_as_another_of_its_tones(symbol: str, shape: str) -> None:
    """A slash chord that sounds like a chord with grips of its own is played with those."""
    assert str(shared_boards().board(GUITAR).voicings(chord(symbol))[0]) == shape


def test_unlisted_shapes_do_not_pass_known_ones() -> None:
    """Where grips are known of a rare kind of chord, one of them comes first on every root."""
    board = shared_boards().board(GUITAR)
    for kind in ("9#5", "m6/9", "maj7#5", "9#11", "dim(maj7)", "13b9"):
        for root in ROOTS:
            first = board.voicings(chord(root + kind))[0]
            assert "known_grip" in first.explained, f"{root}{kind} {first}"


def test_a_sharp_ninth_lies_above_the_third() -> None:
    """No first shape of a seventh chord with a sharp ninth turns it minor from below."""
    for root in ROOTS:
        asked = chord(root + "7#9")
        first = shared_boards().board(GUITAR).voicings(asked)[0]
        above = [(pitch - asked.root * 7) % 12 for pitch in first.pitches if pitch is not None]
        assert above.index(4) < above.index(3), f"{asked} {first}"


def test_every_ukulele_grip_sounds_its_chord() -> None:
    """All tones that the chord needs and none that it has not, on strings tuned G C E A."""
    for tones, grips in ukulele_grips().items():
        for frets in grips:
            pitches = zip(UKULELE.open_pitches, frets, strict=True)
            classes = {(pitch + (fret or 0)) % 12 for pitch, fret in pitches}
            assert tones.required <= classes <= tones.allowed, shape_text(frets)


def test_ukulele_players_first_chords() -> None:
    """The shapes of a first year come first (from memory of beginners' books)."""
    board = Fretboard(UKULELE)
    first = "C 0003 F 2010 G7 0212 Am 2000 Em 0432 Dm 2210 G 0232 D 2220 A 2100 Bb 3211 Bbm 3111"
    pairs = first.split()
    for symbol, shape in zip(pairs[::2], pairs[1::2], strict=True):
        assert str(board.voicings(chord(symbol))[0]) == shape


def test_which_instruments_have_known_grips() -> None:
    """Those whose six highest strings lie as a guitar's do, however deep they are tuned."""
    below = {instrument.name: half_steps_below_guitar(instrument) for instrument in KNOWN}
    assert {name for name, steps in below.items() if steps is not None} == {
        "guitar",
        "baritone",
        "twelve-string",
    }
    assert below["baritone"] == 5
    assert half_steps_below_guitar(instrument_named("B1 E2 A2 D3 G3 B3 E4")) == 0


def test_drop_d_has_its_low_power_chords() -> None:
    """In drop D G5 lies under one finger on the low strings, D and G use the low D string."""
    board = Fretboard(instrument_named("drop D"))
    shapes = {name: str(board.voicings(chord(name))[0]) for name in ("G5", "F5", "D", "G", "A")}
    assert shapes == {"G5": "555xxx", "F5": "333xxx", "D": "000232", "G": "520003", "A": "x02220"}


@pytest.mark.parametrize(("highest", "grips"), [(64, drop_d_grips()), (62, double_drop_d_grips())])
def test_every_drop_d_grip_sounds_its_chord(highest: int, grips: tuple[KnownGrip, ...]) -> None:
    """The tones of each entry, with the lowest string at D, and with both outer ones."""
    opened = (38, *OPEN[1:-1], highest)
    for grip in grips:
        tones = tones_of(grip.chord)
        sounding = [o + f for o, f in zip(opened, grip.frets, strict=True) if f is not None]
        classes = {pitch % 12 for pitch in sounding}
        assert classes <= tones.allowed | {tones.bass}, shape_text(grip.frets)
        assert tones.required <= classes, shape_text(grip.frets)
        assert sounding[0] % 12 == tones.bass, shape_text(grip.frets)


def test_other_tunings_are_said_to_be_little_known() -> None:
    """DADGAD says that players drone there; a guitar, drop D and a ukulele need no such note."""
    assert "drone" in tuning_note(instrument_named("DADGAD"))
    for name in ("guitar", "drop D", "double drop D", "baritone", "ukulele"):
        assert tuning_note(instrument_named(name)) == ""


@each(
    ("tuning", "up"),
    [
        ("E2 B2 E3 G#3 B3 E4", True),
        ("F2 Bb2 Eb3 Ab3 C4 F4", True),
        ("open D", False),
        ("D2 G2 C3 F3 A3 D4", False),
        ("baritone", False),
    ],
)
def test_strings_tuned_up_call_for_caution(tuning: str, up: bool) -> None:
    """Open E and a guitar a half step up strain strings; lower tunings and other instruments in
    their own do not."""
    assert ("can break" in tuning_note(instrument_named(tuning))) == up


def test_seven_strings_have_the_forms_of_six() -> None:
    """With a low B string G is still the open shape, its seventh string damped."""
    seven = Fretboard(instrument_named("B1 E2 A2 D3 G3 B3 E4"))
    shapes = {name: str(seven.voicings(chord(name))[0]) for name in ("G", "Gm7", "C")}
    assert shapes == {"G": "x320003", "Gm7": "x353333", "C": "xx32010"}


def test_only_searched_grips_pay_for_mud() -> None:
    """G 320003 sounds a third on low G and pays nothing for it; an unknown shape does."""
    board = Fretboard(GUITAR, most=100_000, cost_margin=100)
    mud = {str(v): v.explained.get("mud", 0) for v in board.voicings(chord("G"))}
    assert mud["320003"] == 0
    assert max(mud.values()) > 0


_OPEN_DADGAD = (38, 45, 50, 55, 57, 62)
_DRONES = {2, 7, 9}
"""The notes of the open strings of DADGAD: D, G and A."""


def test_only_drones_lie_outside_the_chords_of_dadgad() -> None:
    """A pressed string sounds a tone of the chord; an open one may drone, but not as the bass."""
    for grip in dadgad_grips():
        label = f"{grip.chord} {shape_text(grip.frets)}"
        tones = tones_of(grip.chord)
        played = [
            (opened + fret, fret)
            for opened, fret in zip(_OPEN_DADGAD, grip.frets, strict=True)
            if fret is not None
        ]
        assert played[0][0] % 12 == tones.bass, label
        assert played[0][0] == min(pitch for pitch, _ in played), label
        for pitch, fret in played:
            allowed = tones.allowed | {tones.bass} | (_DRONES if fret == 0 else set())
            assert pitch % 12 in allowed, label


def test_every_grip_of_an_open_chord_sounds_its_chord() -> None:
    """All tones that the chord needs, none that it has not, and its bass lowest."""
    for opened, grips in open_chord_grips().items():
        for grip in grips:
            label = f"{grip.chord} {shape_text(grip.frets)}"
            tones = tones_of(grip.chord)
            sounding = [o + f for o, f in zip(opened, grip.frets, strict=True) if f is not None]
            classes = {pitch % 12 for pitch in sounding}
            assert tones.required <= classes <= tones.allowed | {tones.bass}, label
            assert sounding[0] % 12 == tones.bass, label
            assert sounding[0] == min(sounding), label


@pytest.mark.parametrize(
    ("name", "grips"),
    [
        ("DADGAD", dadgad_grips()),
        *zip(("open G", "open D"), open_chord_grips().values(), strict=True),
    ],
)
def test_grips_of_other_tunings_lie_in_reach(name: str, grips: tuple[KnownGrip, ...]) -> None:
    """The hand model has fingers for each, at its lowest fret."""
    board = Fretboard(instrument_named(name))
    for grip in grips:
        pressed = any(grip.frets)
        fingers = board.voicing_of(grip.chord, grip.frets).fingers
        assert any(fingers) or not pressed, shape_text(grip.frets)


def test_grips_at_the_nut_of_drop_d_lie_in_reach() -> None:
    """The hand model, a sixth wider, has fingers for each that presses a string."""
    board = Fretboard(instrument_named("drop D"))
    for grip in grips_in_table(DROP_D_TABLE, (2, 9, 2, 7, 11, 4)):
        if not grip.movable and any(grip.frets):
            fingers = board.voicing_of(grip.chord, grip.frets).fingers
            assert not fingers_fault(grip.frets, fingers, 0, 1.18), shape_text(grip.frets)
