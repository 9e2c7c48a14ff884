"""Parts of tunes that are called by letters: how often and in which order they are played."""

import re

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import parts_of

_TUNE = "Blue Lamp\nKey: F\n\nA\n| F | D7 |\nB\n| Bb | C7 |\n\n"


@each(
    "line",
    [
        *("SOLOS A A B A", "Solos: A A B A", "Solo - A, A, B, A", "Piano solo over AABA"),
        *("SOLOS (A A B A)", "Sax solo over A A B A", "Solos over the AABA"),
    ],
)
def test_a_solo_over_several_parts(line: str) -> None:
    """A solo over letters has the music of these parts, one after another; they are no chords."""
    result = taken(f"{_TUNE}{line}\n")
    parts = parts_of(result.chart)
    assert len(parts) == 3
    assert [token for token in parts[2].music if token != "|"] == [
        *("F", "D7", "F", "D7", "Bb", "C7", "F", "D7")
    ]
    assert "parts-in-order" in codes(result)


@each(
    "form", ["A x2\nB x2 (quiet)\nA x3", "A 2x\nB 2x (quiet)\nA 3x", "A (x2)\nB x2 (quiet)\nA x3"]
)
def test_parts_with_counts(form: str) -> None:
    """Letters with counts, one a line below their bars, are the parts again."""
    parts = parts_of(taken(f"{_TUNE}{form}\n").chart)
    played = [(part.name, part.times) for part in parts[2:]]
    assert played == [("A", 2), ("B", 2), ("A", 3)]
    assert "quiet" in parts[3].cues


@each("again", ["B\n\nA2", "B again, sung\n\nA2 again, slower", "B (sung)\n\nA2"])
@each("solo", ["Piano solo: A1 and A2", "Solo (piano, on A1 and A2)", "Solo over A1, A2"])
def test_a_solo_over_parts_and_what_comes_after(solo: str, again: str) -> None:
    """A solo over the first parts of a standard, then the bridge and the last part sung again."""
    tune = "Moth\n\n" + "".join(
        f"{name}\n| {chord} | {chord}7 |\nWords of {name.casefold()}\n\n"
        for name, chord in {"A1": "F", "A2": "G", "B": "Bb", "A3": "C"}.items()
    )
    parts = parts_of(taken(f"{tune}{solo}\n\n{again}\n").chart)[4:]
    assert [one.name for one in parts] == [re.split(r":| \(| over", solo)[0], "B", "A2"]
    assert parts[0].music == ["|", "F", "|", "F7", "|", "G", "|", "G7"]
    assert (parts[1].words, parts[2].words) == ("wordsofb", "wordsofa2")


@each("order", ["Forma: A B A C", "Form: A, B, A, C", "Ordning: A B A C"])
def test_an_order_by_the_letters_of_named_parts(order: str) -> None:
    """A letter in the order means the part that is called by it ("Parte A")."""
    named = "".join(f"Parte {name}\n(C)Lamp {name}, (G)lamp\n\n" for name in "ABC")
    names = [one.name for one in parts_of(taken(f"Moth\n\n{named}{order}\n").chart)]
    assert names == ["Parte A", "Parte B", "Parte A", "Parte C"]


@each("name", ["1:a reprisen", "2:a repris", "Repris 1"])
def test_strains_of_dances(name: str) -> None:
    """A "repris" is a part of a dance, whatever its number."""
    other = "Trio" if "1" not in name else "2:a reprisen"
    text = f"Visan\n\n{name}\n| C | G |\n{other}\n| F | C |\n\n{name}\n"
    parts = parts_of(taken(text).chart)
    assert parts[0].name == parts[-1].name == name
    assert parts[-1].music == ["|", "C", "|", "G"]


def test_letters_in_brackets_beside_names() -> None:
    """They stand for the sections: "SOLO: A" is played over the verse, and is no chord of A."""
    verse, bridge = "| Bb7 | Eb9 | Bb7 | Bb7 |", "| Ebmaj7 | Ab13 | Gm7 | F7 |"
    result = taken(
        f"Moth\nKey: Bb\n\nVERSE (A)\n{verse}\n\nBRIDGE (B)\n{bridge}\n\nSOLO: A\n\nSOLOS: A B\n"
    )
    sections = [(one.name, one.same_as) for one in result.chart.sections]
    assert sections[2:] == [("SOLO", "VERSE"), ("SOLOS", "VERSE"), ("SOLOS", "BRIDGE")]
    assert [one.name for one in result.chart.sections[:2]] == ["VERSE", "BRIDGE"]
    assert "letters-beside-names" in codes(result)


_SUNG = "Moth\n\nA\nFmaj7  G7\nwords of the first\n\nB\nBb   C\nwords of the second\n\n"


@each(
    ("line", "cue"),
    [
        *(
            ("A again", ""),
            ("A again (the sad one)", "the sad one"),
            ("A again, last time", "last"),
        ),
        *(("(A again)", ""), ("Then A again:", ""), ("back to A", ""), ("A once more", "")),
        *(
            ("last A", "last"),
            ("A, second words", "second words"),
            ("A - last verse", "last verse"),
        ),
    ],
)
def test_a_part_again_with_words_of_its_own(line: str, cue: str) -> None:
    """A letter asked for again in words, over words without chords, is that part with its chords;
    nothing of the line is sung."""
    parts = parts_of(taken(f"{_SUNG}{line}\nthe lamp is out\n").chart)
    assert [part.name for part in parts] == [*"ABA"]
    assert (parts[2].music, parts[2].words) == (["Fmaj7", "G7"], "thelampisout")
    assert cue in " ".join(parts[2].cues)


def test_a_bird_is_no_part() -> None:
    """Words that begin with a letter are sung."""
    parts = parts_of(taken(f"{_SUNG}A bird again\nover the wall\n").chart)
    assert [part.name for part in parts] == [*"AB"]


@each(
    "line",
    [
        *("(each section x2)", "all parts twice", "play every part two times"),
        *("Each part is played twice.", "Jeder Teil zweimal", "all sections 2x, unless marked"),
    ],
)
def test_a_count_for_all_sections(line: str) -> None:
    """How often every section is played may be said once, above or below them; a count of their
    own stays."""
    intro, verse = "Intro x4\nE A E B\n\n", "Verse\nE A E E\nA A E B\n\n"
    for sheet in (f"Moth\n\n{line}\n\n{intro}{verse}", f"Moth\n\n{intro}{verse}{line}\n"):
        result = taken(sheet)
        assert [part.times for part in parts_of(result.chart)] == [4, 2]
        assert "roadmap" in codes(result)


def test_letters_before_bar_lines() -> None:
    """Where every other row begins with a bar line, a letter before one is a name, with a figure or
    none, and so is one over the rows that go on from it."""
    text = (
        "Moth\nKey: Eb\n\nIntro | Eb | Ab |\n\nA  | Eb | Cm |\n   | Fm | Bb |\n"
        "A2 | Eb | Cm |\n   | Gm | Bb |\nB (swing)\n   | Abm | Db |\nA3\n   | Eb | Bb |\n"
    )
    names = [part.name for part in parts_of(taken(text).chart)]
    assert names == ["Intro", "A", "A2", "B", "A3"]


def test_a_chord_before_a_bar_line_stays_one() -> None:
    """Where rows begin with a chord, a letter before a bar line is one."""
    text = "Moth\nKey: A\n\nIntro | A | D |\n\nA | D | A | E |\nD | A | E | A |\n"
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Intro"]
    assert [one for one in parts[0].music if one.isalpha()] == [*"ADADAEDAEA"]


def test_letters_over_words_with_chords_among_them() -> None:
    """Letters alone name parts also where chords stand among the words, below an intro with a
    name: the first is no chord, and its lines are no verse."""
    sheet = (
        "Umbrella Song\n\nIntro: (Dm9) (G13)\n\n"
        "A\n(Dm9)You have an umbrella, I (G13)haven't a hat\n\n"
        "B\n(Gm7)I could be shy, I could (C9)hurry on\n\nA again\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [part.name for part in parts] == ["Intro", "A", "B", "A"]
    assert parts[1].music == ["Dm9", "G13"]
