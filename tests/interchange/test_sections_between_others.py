"""Sections among lines of form: with the music of another, called by a letter, an ordinal or a
figure; and plural names that an order counts."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_SONG = """Lantern Row

{0} 1
Am         E
Lanterns on the water
Dm         Am
Every blanket's drawn in

{1}
F          C
Row me over, row me home

{1}
"""


@each(
    ("verse", "chorus", "line", "name", "times", "cue"),
    [
        ("Verse", "Chorus", "Patter over verse chords (pp, soft)", "Patter", 1, "pp, soft"),
        ("Vs.", "Ref.", "Mouth organ: Vs. 1 chords, twice", "Mouth organ", 2, ""),
        ("Couplet", "Refrain", "Violon seul = couplet, pizz", "Violon seul", 1, "pizz"),
        ("Couplet", "Refrain", "Accordéon seul = couplet", "Accordéon seul", 1, ""),
        ("Strophe", "Refrain", "Geige allein = Strophe, leise", "Geige allein", 1, "leise"),
        ("Estrofa", "Estribillo", "Palmas sobre la estrofa (suave)", "Palmas", 1, "suave"),
    ],
)  # fmt: skip
def test_any_name_with_the_music_of_another(
    verse: str, chorus: str, line: str, name: str, times: int, cue: str
) -> None:
    """A line between others that says whose music is played is a section with that music, by
    whatever name it is called."""
    text = _SONG.format(verse, chorus) + f"{line}\n{chorus} x2\n"
    lent = parts_of(taken(text).chart)[-2]
    assert (lent.name, lent.times, lent.music) == (name, times, ["Am", "E", "Dm", "Am"])
    assert (lent.words, " ".join(lent.cues)) == ("", cue)


def test_solos_in_parentheses_among_others() -> None:
    """A solo in parentheses between sections in parentheses is one of them, no remark."""
    text = _SONG.format("Verse", "Chorus") + "\n(Verse 1)\n(steel solo over verse)\n(Chorus 2x)\n"
    assert names_of_parts(text)[-3:] == ["Verse 1", "steel solo", "Chorus x2"]


def test_sentences_of_several_steps_are_no_name() -> None:
    """A sentence that leads on from one step to the next is read as these steps."""
    text = (
        _SONG.format("Verse", "Chorus") + "\nThen a guitar solo over the verse, then the chorus.\n"
    )
    assert names_of_parts(text)[-2:] == ["guitar solo", "chorus"]


def test_sections_whose_names_count_them() -> None:
    """A section that is called "1st Chorus" is asked for by that, with what is said of it."""
    text = (
        "Lantern Row\n\n1st Chorus\nAb        Db\nRow me over, row me home\n\n2nd Chorus\n"
        "Row me over, row me in\n\nSpecial\nDb      Eb\nHold on, hold on\n\n"
        "1st Chorus, organ only\nSpecial x4\n"
    )
    assert names_of_parts(text) == [
        "1st Chorus",
        "2nd Chorus",
        "Special",
        "1st Chorus",
        "Special x4",
    ]


_PARTS = """Lantern Row

A
| Ebmaj7 | C7 | Fm7 | Bb7 |

B
| Abmaj7 | Abm6 | Gm7 | C7 |
"""


@each(
    ("lines", "names"),
    [
        ("A\npiano solo over A\nA\nTag  | Fm7 | Bb7 |", ["A", "piano solo", "A", "Tag"]),
        ("A\nB\nA", ["A", "B", "A"]),
        ("A again, colla voce\nDance = B\nB - tutti", ["A", "Dance", "B"]),
        ("A\nbass solo over B (brushes only)\nA x2", ["A", "bass solo", "A x2"]),
    ],
)
def test_letters_between_names(lines: str, names: list[str]) -> None:
    """A letter that names a part above is that part again, no chord, where lines that name
    sections stand around it."""
    assert names_of_parts(f"{_PARTS}\n{lines}\n") == ["A", "B", *names]


@each(
    ("one", "other", "third", "order", "names"),
    [
        ("Verses", "Choruses", "Middle 8", "Form: V V C M8 C C", "VVCMCC"),
        ("Verses", "Choruses", "Middle 8", "V1 V2 C V3 C M8 C", "VVCVCMC"),
        ("Strophen", "Refrains", "Mittelteil", "Ablauf: S S R S M R R", "SSRSMRR"),
        ("Couplets", "Refrains", "Ponts", "Ordre : C C R P R R", "CCRPRR"),
    ],
)  # fmt: skip
def test_plural_names_in_an_order(one: str, other: str, third: str, order: str, names: str) -> None:
    """Plural names over grids stand for each section of their kind, which an order names by short
    forms, by numbers, or with a figure of the name."""
    text = (
        f"Lantern Row\n\n{one}\nAm  Am  Dm  Am\nF   E7  Am  E7\n\n{other}\nF  G  C  Am\n\n"
        f"{third}\nDm  G  C  F\n\n{order}\n"
    )
    short = {
        "V": one,
        "S": one,
        "E": one,
        "C": other,
        "R": other,
        "e": other,
        "M": third,
        "P": third,
    }
    if one == "Couplets":
        short |= {"C": one, "R": other}
    assert names_of_parts(text) == [short[letter] for letter in names]


def test_a_name_and_a_remark_right_under_a_row() -> None:
    """A section's name with a remark behind a comma, right under a row and over the next such line,
    is that section again; nobody sings it."""
    text = (
        _SONG.format("Verse", "Chorus")
        + "\nBridge\nAm  Em  F  G\nChorus, pizzicato\nChorus, arco\n"
    )
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts[-3:]] == ["Bridge", "Chorus", "Chorus"]
    assert [" ".join(one.cues) for one in parts[-3:]] == ["", "pizzicato", "arco"]
