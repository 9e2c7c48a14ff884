"""How a sheet calls its notes is told by its words and by which chords go together."""

from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import parts_of

_FLAT = "F      C7\nHinauf zum Dach\nB      F\nHinab zum Bach\n"
_LINES = "Táta chodil na čaj\na do práce\n"


@each(
    "above",
    [
        "Der Falter\n\nStrophe 1",
        "Der Falter\n(Worte und Weise: Ada Pell)\n\n1.",
        "Der Falter\nText und Musik: Ada Pell\n\n1.",
        "Liebe Leute, das Lied von neulich. 3/4-Takt, F-Dur, ruhig.\n\nDer Falter\n\n1.",
        "Der Falter\nF-Dur\n\n[A]",
        "Der Falter\n3/4-Takt\n\nKehrreim:",
        "Perhonen\nF-duuri\n\nSäkeistö 1",
    ],
)
def test_b_between_flat_chords(above: str) -> None:
    """In a sheet of a language that says H, B among F and C is B flat (common practice)."""
    assert "Bb F" in body(taken(f"{above}\n{_FLAT}").chart)


@each("above", ["The Moth\n\nVerse 1", "Der Falter\n\nStrophe 1"])
def test_b_between_sharp_chords(above: str) -> None:
    """Elsewhere, or among E and F sharp minor, B is B."""
    chart = taken(f"{above}\nE      B\nDown the hill\nF#m    B\nTo the mill\n").chart
    assert "E B" in body(chart)


@each("chords", ["Emi H7", "Ami H7", "C#mi H", "Emi7 H7"])
def test_mi_for_minor_beside_h(chords: str) -> None:
    """Czech and Slovak sheets write "mi" for minor and H for B (common practice)."""
    first, last = (chord.replace("mi", "m").replace("H", "B") for chord in chords.split())
    text = f"Motýl\n\n1. {chords.replace(' ', '       ')}\n   Táta chodil na čaj\n"
    assert f"{first} {last}" in body(taken(text).chart)


@each(
    ("line", "key"),
    [
        ("d-molli", "D minor"),
        ("D-duuri, tempo 116", "D major"),
        ("sävellaji: a-molli", "A minor"),
        ("Tonacja: a-mol", "A minor"),
        ("Tónina: h mollová", "B minor"),
    ],
)
def test_keys_in_northern_and_eastern_words(line: str, key: str) -> None:
    """Finnish, Polish and Czech words for major and minor."""
    chart = taken(f"Perhonen\n{line}\n\nVerse 1\nDm   A7\nMoth, moth\n").chart
    assert str(chart.setting("key")) == key


@each(
    ("line", "name"),
    [("R: R:", "R"), ("Ref. Ref.", "Ref"), ("Refrén, Refrén", "Refrén"), ("R: / R:", "R")],
)
def test_a_name_said_twice(line: str, name: str) -> None:
    """A name twice on one line is that section twice."""
    text = f"Motýl\n\n1. C      G\n   Táta chodil\n\n{name}: F      C\n   Hola hej\n\n{line}\n"
    names = [section.name.strip(".") for section in taken(text).chart.sections]
    assert names[1:] == [name, name, name]


@each(
    "line",
    [
        "(DO) Rema, (SOL) rema, (LAm) marinero",
        "(Do)Rema la (Sol)barca, la (Lam)barca",
        "(Do) Rema (Sol) rema (Lam) rema",
    ],
)
def test_syllables_in_parentheses_among_the_words(line: str) -> None:
    """Notes by their syllables stand in parentheses among the words as letters do, and words that
    begin with a syllable stay words."""
    text = f"El barco\n\nEstrofa\n{line}\n{line}\n"
    part = parts_of(taken(text).chart)[0]
    assert part.music == ["C", "G", "Am"] * 2
    assert part.words.startswith("rema")
