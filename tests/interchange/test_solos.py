"""Solos over a section of the sheet, in the languages in which sheets are often written.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_VERSE = "Kettle\n\n{}\nG   D\nHolla mento\nEm  C\nrisa vento\n\n"


@each(
    ("verse", "line", "name", "cues"),
    [
        ("Strophe 1", "Mundharmonika-Solo wie Strophe 1", "Mundharmonika-Solo", ["wie Strophe 1"]),
        ("Strophe 1", "Posaunensolo über die Strophe", "Posaunensolo", []),
        ("Couplet 1", "Solo harmonica sur couplet 1", "Solo harmonica", []),
        ("Estrofa 1", "Requinto sobre la estrofa", "Requinto", []),
        ("Strofa 1", "Assolo di chitarra sugli accordi della strofa", "Assolo di chitarra", []),
        ("Parte 1", "Solo (flauta) na Parte 1", "Solo", ["flauta"]),
        ("Parte 1", "Solo de sanfona na Parte 1", "Solo de sanfona", []),
        ("Couplet 1", "Trekzaksolo op couplet", "Trekzaksolo", []),
        ("Vers 1", "Dragspelssolo som vers 1", "Dragspelssolo", []),
        ("Vers 1", "Felesolo over vers 1", "Felesolo", []),
        ("Zwrotka 1", "Solówka na zwrotce 1 (harmonijka)", "Solówka", ["harmonijka"]),
        ("Zwrotka 1", "Solo jak zwrotka 1", "Solo", []),
        ("Verse 1", "Oboe solo over verse 1", "Oboe solo", []),
    ],
)
def test_a_solo_has_the_music_it_is_played_over(
    verse: str, line: str, name: str, cues: list[str]
) -> None:
    """A solo, also one named with its player in one word, has the music of the section that is
    named behind it, in whatever form of its name."""
    solo = parts_of(taken(f"{_VERSE.format(verse)}{line}\n").chart)[-1]
    assert (solo.name, solo.music, solo.words) == (name, ["G", "D", "Em", "C"], "")
    assert solo.cues == cues


_PARTS = "Lampa\n\n{0}\n| G | C |\n\n{1}\n| D | Em |\n\nCoda\n| G | G |\n\n"


@each(
    ("first", "second", "order"),
    [
        ("A-Teil", "B-Teil", "Ablauf: A-Teil 2x, B-Teil, Solo (Tenor) über A-Teil, B-Teil, Coda"),
        (
            "Strofa",
            "Inciso",
            "Giri: strofa 2 volte, inciso, assolo (sax) sulla strofa, inciso, coda",
        ),
        (
            "Thème A",
            "Thème B",
            "Structure : Thème A x2, Thème B, Solo (violon) sur Thème A, Thème B, Coda",
        ),
        ("Estrofa", "Coro", "Orden: estrofa x2, coro, solo acordeón en la estrofa, coro, coda"),
        (
            "Zwrotka",
            "Refren",
            "Kolejność: zwrotka 2x, refren, solo (skrzypce) jak zwrotka, refren, coda",
        ),
    ],
)
def test_a_solo_within_an_order(first: str, second: str, order: str) -> None:
    """A solo that says who plays it is a step of an order as any other."""
    sheet = f"{_PARTS.format(first, second)}{order}\n"
    names = names_of_parts(sheet)
    assert [names[0], names[1], names[3], names[4]] == [f"{first} x2", second, second, "Coda"]
    assert parts_of(taken(sheet).chart)[2].music == parts_of(taken(sheet).chart)[0].music


def test_a_solo_over_what_is_played_later() -> None:
    """A solo over a section that an order plays only later has its music all the same."""
    sheet = "Lampa\n\nA\n| G |\n\nB\n| D |\n\nC\n| Em |\n\nForm: A, solo over B, B, C, A\n"
    assert [(one.name, one.played) for one in parts_of(taken(sheet).chart)] == [
        ("A", ["G"]), ("Solo", ["D"]), ("B", ["D"]), ("C", ["Em"]), ("A", ["G"]),
    ]  # fmt: skip
