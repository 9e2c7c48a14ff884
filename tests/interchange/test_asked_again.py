"""Sections that ask for the music of another by its number, or behind a verb."""

import pytest

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_LIST = """The Moth

1. Intro
G - C

2. Verse 1
G - D
Moth, moth
Come to the lamp

3. Chorus
C - D
Away, away
Till day

4. Verse 2
G - D
Stay, stay
Out of the damp

5. Chorus
{again}

6. Ending
G
"""


@each(
    "again",
    ["same as 3", "Same as no. 3.", "(as 3)", "like #3", "repeat 3", "wie 3", "como 3", "comme 3"],
)
def test_a_section_by_its_number_in_a_list(again: str) -> None:
    """A section that is said to be as an earlier number of the list is that section, words and
    all."""
    parts = parts_of(taken(_LIST.format(again=again)).chart)
    names = [part.name for part in parts]
    assert names == ["Intro", "Verse 1", "Chorus", "Verse 2", "Chorus", "Ending"]
    assert (parts[4].words, parts[4].music) == (parts[2].words, parts[2].music)


_VERSES = """A Traça

1ª quadra
Am E7
Vem, traça, vem
Que a luz é tua

2ª quadra
Dm Am
Vai, traça, vai
Que a noite é crua

{third}
Fica, traça, fica
Na minha rua
"""


@each(
    "third",
    [
        *("3ª quadra (como a 1ª)", "3ª quadra - igual à 1ª", "3ª quadra (como a primeira)"),
        *("3ª quadra (same as 1)", "3ª quadra (acordes da 1ª)"),
    ],
)
def test_a_verse_by_the_number_of_another(third: str) -> None:
    """A number alone means the verse of that number, not the last one."""
    parts = parts_of(taken(_VERSES.format(third=third)).chart)
    assert parts[2].name.startswith("3ª quadra")
    assert parts[2].music == ["Am", "E7"]


@each("verb", ["Repete", "Volta à", "Repeat", "Repetir", "Back to", "Wdh."])
@pytest.mark.parametrize("remark", ["", " (outra letra)"])
def test_a_verb_before_an_earlier_name(verb: str, remark: str) -> None:
    """A section asked for again with lines of its own has the name of the earlier one."""
    head = (
        "A Traça\n\nPrimeira Parte\nAm    E7\nVem, traça, vem\n\nSegunda Parte\nDm   Am\nVai, vai\n"
    )
    text = f"{head}\n{verb} Primeira Parte{remark}:\nAm    E7\nFica, traça, fica\n"
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Primeira Parte", "Segunda Parte", "Primeira Parte"]
    assert parts[2].words == "ficatraçafica"


@each("last", ["B", "B (softly)", "B:"])
def test_a_letter_between_letters_with_figures(last: str) -> None:
    """Between A1 and A2 a B alone over bars is a part and no chord."""
    first = "A1\n| C | F |\nMoth, moth\nCome to the lamp\n"
    text = f"The Moth\n\n{first}\n{last}\n| G | C |\nAway, away\n\nA2\n| C | F |\nStay, stay\n"
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["A1", "B", "A2"]
    assert parts[1].music == ["|", "G", "|", "C", "|"][:-1] or parts[1].music[:2] == ["|", "G"]


def test_single_letters_behind_words() -> None:
    """Where chords stand behind words, an A behind a gap or a tab is one too."""
    for gap in ("\t", "    ", " \t"):
        lines = [("One for the lamp", "D"), ("Two for the moth", "A"), ("Three for the damp", "D")]
        lines += [("Four for the cloth", "A"), ("Five for the thread", "G"), ("Six for bed", "D")]
        text = "\n".join(f"{words}{gap}{chord}" for words, chord in lines)
        (part,) = parts_of(taken(f"The Moth\n\nVerse\n{text}\n").chart)
        assert part.music == ["D", "A", "D", "A", "G", "D"]
        assert part.words.startswith("oneforthelamptwoforthemoththree")


_ASKED = """Lied

1. Strophe
C     G
Every gate is open on the lane

2nd Chorus (everybody in)
F   G
Home again

Riff (C G) x2

"""


@each(
    ("line", "name", "times", "cue"),
    [
        ("2nd Chorus again, louder", "2nd Chorus", 1, "louder"),
        ("2nd Chorus again, big stop before the last D", "2nd Chorus", 1, "big stop before"),
        ("1. Strophe nochmal, leiser", "1. Strophe", 1, "leiser"),
        ("Riff again, just the once, stop dead", "Riff", 1, "just the once"),
        ("Riff, nur einmal", "Riff", 1, "nur einmal"),
        ("Riff again, louder", "Riff", 2, "louder"),
    ],
)
def test_one_of_several_is_asked_for(line: str, name: str, times: int, cue: str) -> None:
    """A name with its number first is asked for again as any other is; what is played twice is
    played once where the words say so."""
    last = parts_of(taken(f"{_ASKED}{line}\n").chart)[-1]
    assert (last.name, last.times) == (name, times)
    assert cue in " ".join(last.cues)


def test_a_row_of_any_name_above_another_with_a_remark() -> None:
    """What stands before a colon and chords names a section also above a row that says more."""
    text = (
        "Aisle\n\nDoors open:  C  G/B  Am7  Fmaj7   x2\nMaids:  C  Em  F  G\n"
        "Vicar:  Am  F  C/E  G   x4  (watch him)\nAt the front:  F  G  C   (slow, let it ring)\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Doors open", "Maids", "Vicar", "At the front"]
    assert (parts[2].times, parts[2].cues) == (4, ["watch him"])


def test_a_word_far_behind_the_last_chords() -> None:
    """A word that is no chord, far behind the chords of an ending, is said of them."""
    last = parts_of(taken(f"{_ASKED}2nd Chorus\n\nFinish: Am  E7  Am   plink\n").chart)[-1]
    assert (last.name, last.music, last.cues) == ("Finish", ["Am", "E7", "Am"], ["plink"])


def test_chords_one_blank_behind_the_longest_line() -> None:
    """A tab is one blank wide behind a line that ends right before its stop."""
    text = (
        "Song\n\nChorus\nRoof garden, roof garden\tG\tA\nNobody owns the sky\tBm\tD\n"
        "Roof garden, roof garden\tG\tA\nOnly the birds know why\tF#7\tBm\n"
    )
    assert parts_of(taken(text).chart)[0].music[-2:] == ["F#7", "Bm"]
