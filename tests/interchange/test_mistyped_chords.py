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
    ],
)
def test_the_chord_that_was_meant(typed: str, meant: str) -> None:
    """Even where most chords of a row have slips, it stays a row, and each slip is reported."""
    result = taken(f"Moth\n\nVerse\nC        F\nThere is a moth\n{typed}     Gg\nup in the hall\n")
    rows = [line for line in body(result.chart).splitlines() if line[:1] not in (":", "=")]
    assert rows == ["C F", f"{meant} G"]
    assert "mistyped-chord" in codes(result)


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
