"""Chords with a slip of the finger in them."""

from tests.each import each
from tests.interchange.reading import body, codes, taken


@each(
    ("typed", "meant"),
    [
        ("Dsu4", "Dsus4"),
        ("Dssu4", "Dsus4"),
        ("G7th", "G7"),
        ("Em7th", "Em7"),
        ("Amm", "Am"),
        ("Cmja7", "Cmaj7"),
        ("Gmaj77", "Gmaj7"),
        ("Bmn", "Bm"),
        ("A7su4", "A7sus4"),
        ("Aamj", "A"),
        ("D/F#", "D/F#"),
        ("Dsu4/F#", "Dsus4/F#"),
        ("C9-", "C7(b9)"),
        ("G13-", "G7(b13)"),
        ("C6-9", "C6/9"),
        ("Dm6-9", "Dm6/9"),
    ],
)
def test_the_chord_that_was_meant(typed: str, meant: str) -> None:
    """Even where most chords of a row have slips, it stays a row, and each slip is reported."""
    result = taken(f"Moth\n\nVerse\nC        F\nThere is a moth\n{typed}     Gg\nup in the hall\n")
    rows = [line for line in body(result.chart).splitlines() if line[:1] not in (":", "=")]
    assert rows == ["C F", f"{meant} G"]
    assert "mistyped-chord" in codes(result)


@each(
    ("typed", "read"),
    [
        ("D7/9-  G7/13-  C7M(9)", "D7(b9) G7(b13) Cmaj9"),
        ("Dm7(5-)  G7(9+)  C7(4)", "Dm7(b5) G7(#9) C7sus4"),
        ("D7(b9/b13)  G4/7/9  C7(M)", "D7(b9,b13) G9sus4 Cmaj7"),
        ("Csus4(7)  C7/5+  F7M/11+", "C7sus4 C7(#5) Fmaj7(#11)"),
        ("C^7  F^9  B-7b5", "Cmaj7 Fmaj9 Bm7(b5)"),
        ("C(2)  G7(4)  Am(2)", 'C "2" G7 "4" Am "2"'),
        ("Dm7(4)  G7(4)  C(2)", 'Dm7 "4" G7 "4" C "2"'),
    ],
)
def test_changes_with_their_sign_behind(typed: str, read: str) -> None:
    """A row as it is typed in Brazil, Italy or Spain is read without a finding; figures that count
    beats beside other chords of the row are no tones."""
    result = taken(f"Moth\n\nVerse\n{typed}\nThere is a moth in the hall\n")
    assert body(result.chart).splitlines()[1] == read
    assert "mistyped-chord" not in codes(result) and "no-chord-known" not in codes(result)


@each(
    ("typed", "code"),
    [
        ("C7(maj9)", "no-chord-known"),
        ("C7(b8)", "no-chord-known"),
        ("Cmaj7(b7)", "no-chord-known"),
        ("C^", "accent-or-triangle"),
    ],
)
def test_a_chord_that_is_not_sure_is_told(typed: str, code: str) -> None:
    """What belongs to a symbol is no remark on a shorter one, and an accent may be a triangle."""
    result = taken(f"Moth\n\nVerse\nF   {typed}   Am\nThere is a moth in the hall\n")
    assert code in codes(result)


@each("line", ["Doo wop", "Bag Boy", "Egg Fuss", "Gus Aus Agu", "Aim Bug", "Boo Coo"])
def test_words_are_no_slips(line: str) -> None:
    """Words in capitals are not taken for chords with slips."""
    result = taken(f"Moth\n\nVerse\nC        F\nThere is a moth\n\nVerse\nG     C\n{line}\n")
    assert "mistyped-chord" not in codes(result)
    assert body(result.chart).splitlines()[-1].replace("/ ", "") == f": {line}"


def test_strange_chords_leave_a_row_its_chords() -> None:
    """What is written as no known chord is a cue with a finding; the others are played."""
    result = taken("Moth\n\nVerse\nC   Gq7   Am   Hx3\nThere is a moth in the hall\n")
    assert body(result.chart).splitlines()[1].split()[0] == "C"
    assert '"Gq7" Am' in body(result.chart) and "no-chord-known" in codes(result)
    assert ": " in body(result.chart) and "Hx3" not in body(result.chart).split(":")[1]
