"""Chord symbols that are typed over a score as words, in the ways in which people spell them."""

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.scores import score

ALTERED = {
    "A7(b9,b13)": "A7(b9,b13)",
    "A7(b9,#5)": "A7(#5,b9)",
    "E7(#9,#5)": "E7(#5,#9)",
    "A7 (b9, b13)": "A7(b9,b13)",
    "A7(b9 b13)": "A7(b9,b13)",
    "A7(b9/b13)": "A7(b9,b13)",
    "G7[b9,b13]": "G7(b9,b13)",
    "G7(#9;b13)": "G7(#9,b13)",
    "A7b9,b13": "A7(b9,b13)",
    "C7(9, 13)": "C9(13)",
    "Cm7(b5,11)": "Cm7(b5,11)",
    "Cm(maj7, 9)": "Cm(maj9)",
    "G13(b9,#11)": "G13(b9,#11)",
    "A7(♭9,♯5)": "A7(#5,b9)",
}


def _over_bars(*words: str) -> str:
    return "\n".join(
        f'{"time=4/4 " * (not at)}"{text.replace(" ", "_")}" n16' for at, text in enumerate(words)
    )


@each("typed", sorted(ALTERED))
def test_chords_with_several_alterations(typed: str) -> None:
    """A comma among the alterations of a chord parts no chords."""
    read = taken(score(_over_bars("Dm7", typed, "C")))
    assert body(read.chart) == f"| Dm7 | {ALTERED[typed]} | C |"


def test_a_row_of_chords_with_alterations() -> None:
    """Commas outside parentheses part chords, those inside do not."""
    read = taken(score(_over_bars("Dm7, G7(b9,b13)", "C")))
    assert body(read.chart) == "| Dm7 G7(b9,b13) | C |"


@each("typed", ["A7(foo,bar)", "Solo on A7(b9,b13)", "F#7(soft, low)"])
def test_no_chord_stays_words_in_silence(typed: str) -> None:
    """What looks like a chord and is not read as one is a cue, with a finding."""
    read = taken(score(_over_bars("Dm7", typed, "G7", "C")))
    assert f'"{typed}"' in body(read.chart)
    assert "chord-among-words" in codes(read)


NAMES = {
    ("Em", "H7", "Bb", "F"): "| Em | B7 | Bb | F |",
    ("Em", "H7", "B♭7", "Bbmaj7"): "| Em | B7 | Bb7 | Bbmaj7 |",
    ("Em", "H", "Bbm", "F7"): "| Em | B | Bbm | F7 |",
    ("Em", "Hm7", "Hb", "F"): "| Em | Bm7 | Bb | F |",
    ("Fis", "H7", "Bb", "Em"): "| F# | B7 | Bb | Em |",
    ("Em", "H7", "B", "F"): "| Em | B7 | Bb | F |",
    ("Em", "H7/D#", "Bb/D", "F"): "| Em | B7/D# | Bb/D | F |",
    ("Es", "B7", "As", "Bb"): "| Eb | Bb7 | Ab | Bb |",
    ("Em", "Em/H", "C7", "F"): "| Em | Em/B | C7 | F |",
    ("Es", "Es/B", "As", "Gm/B"): "| Eb | Eb/Bb | Ab | Gm/Bb |",
    ("Em", "B7", "Bb", "F"): "| Em | B7 | Bb | F |",
}


@each("typed", sorted(NAMES))
def test_the_names_of_b(typed: tuple[str, ...]) -> None:
    """H is B natural, and B beside it B flat, but Bb is B flat in any sheet."""
    assert body(taken(score(_over_bars(*typed))).chart) == NAMES[typed]


@each(
    ("marks", "rows"),
    [
        (("Am", "F", "C", "G"), "| Am | F | C | G |"),
        (("Am7", "F", "C"), "| Am7 | F | C |"),
        (("A", "B", "C7"), "== A\n| / / / / |\n== B\n| / / / / |\n== C7\n| / / / / |"),
        (("Am", "F"), "== Am\n| / / / / |\n== F\n| / / / / |"),
    ],
)
def test_chords_in_boxes(marks: tuple[str, ...], rows: str) -> None:
    """Rehearsal marks that are chords, where their letters do not count sections, are chords."""
    source = "\n".join(f"{'time=4/4 ' * (not at)}[{one}] n16" for at, one in enumerate(marks))
    assert body(taken(score(source)).chart).replace("\n\n", "\n") == rows


DO_RE_MI = {
    ("Do", "Lam", "Fa", "SOL7"): "| C | Am | F | G7 |",
    ("La m", "Re-", "Mi7", "La m"): "| Am | Dm | E7 | Am |",
    ("Sib", "Fa/La", "Do7", "Fa#m7"): "| Bb | F/A | C7 | F#m7 |",
    ("Ré", "Sol", "La7", "Mi bemol"): "| D | G | A7 | Eb |",
}


@each("typed", sorted(DO_RE_MI))
def test_chords_by_do_re_mi(typed: tuple[str, ...]) -> None:
    """Chords that are named by do re mi throughout a part are read."""
    assert body(taken(score(_over_bars(*typed))).chart) == DO_RE_MI[typed]


@each("typed", [("La", "Sol", "Mi"), ("Do", "soft", "Lam"), ("Sing la", "Mi", "Re")])
def test_syllables_that_are_no_chords(typed: tuple[str, ...]) -> None:
    """A few such syllables stay words."""
    assert f'"{typed[0]}"' in body(taken(score(_over_bars(*typed))).chart)


@each(
    ("typed", "row"),
    [
        ("C maj 7", "Cmaj7"),
        ("Am!", "Am"),
        ("A7?", "A7"),
        ("Am7>D7", "Am7 D7"),
        ("Am7–D7", "Am7 D7"),
        ("C/G-F/C", "C/G F/C"),
        ("A-7", "Am7"),
        ("N.C. (drums)", '"drums" N.C.'),
        ("N.C. - drums only", '"drums only" N.C.'),
    ],
)
def test_signs_beside_typed_chords(typed: str, row: str) -> None:
    """Signs between and behind chords, and what is said behind N.C., hide no chord."""
    read = taken(score(_over_bars("Dm7", typed, "G7", "C")))
    assert body(read.chart) == f"| Dm7 | {row} | G7 | C |"


@each(
    ("typed", "row"),
    [
        ("C (let ring)", '"let ring" C'),
        ("Fmaj7 (2x)", '"2x" Fmaj7'),
        ("C or Am", '"or Am" C'),
        ("Chord: C", "C"),
        ("C //", "C"),
        ("C////", "C"),
        ("Dm7G7", "Dm7 G7"),
        ("Dm7G7Cmaj7A7", "Dm7 G7 Cmaj7 A7"),
        ("Am7(b5)D7/F#", "Am7(b5) D7/F#"),
        ("Cm (2nd, low)", '"2nd, low" Cm'),
        ("C7 (b9)", "C7(b9)"),
        ("Bass (solo)", '% "Bass (solo)"'),
        ("ABBA", '% "ABBA"'),
    ],
)
def test_chords_beside_other_words(typed: str, row: str) -> None:
    """A chord is struck whatever is typed beside it, and that stays with it."""
    read = taken(score(_over_bars("Dm7", typed, "G7", "C")))
    assert body(read.chart) == f"| Dm7 | {row} | G7 | C |"
