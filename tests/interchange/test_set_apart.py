"""Chords and remarks behind any sign that a sheet uses for them."""

from chartkit.interchange.intake_result import IntakeResult
from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import parts_of

BEHIND = """\
Bowl By The Window

Verse 1
There is one left in the bowl and it is looking at me{0}C G{1}
It has been there since the Sunday that you left{0}Am F{1}
I moved it to the window and I moved it to the tea{0}C G{1}
I sang to it and still it is not deaf{0}Am F{1}
"""
LED = """\
Paper Satellite
key: C#m

Verse 1
C#m  A  E  B
{0}kick on one and three
I folded up a satellite and set it on the sill
It listens to the neighbours and it never will be still

Chorus
A  B  C#m  E
{0}wide and loud
Come in, come in, come in, over
Come in from the cold
"""
SIGNS = ["|", "||", "...", ";", "->", "=>", "→", "//", "*", "~", "=", "/", "--", "—", ":", "•"]
LEADING = [">", ">>", "//", "#", "~", "!", "--", "-", "@", "=>", "•", "+"]


def _said_and_sung(result: IntakeResult) -> tuple[list[str], str]:
    """All cues, and the letters of all words."""
    parts = parts_of(result.chart)
    return [cue for part in parts for cue in part.cues], "".join(part.words for part in parts)


@each("sign", SIGNS)
def test_chords_behind_any_sign_are_those_behind_a_gap(sign: str) -> None:
    """A sign between words and chords, on several lines, is read as a gap is, and reported."""
    wanted, result = taken(BEHIND.format("    ", "")), taken(BEHIND.format(f" {sign} ", ""))
    assert body(result.chart) == body(wanted.chart)
    assert "C " in body(result.chart).split("looking")[0]
    assert any(one.code == "chords-behind-a-sign" for one in result.findings)


@each("brackets", ["[]", "<>", "{}"])
def test_chords_in_any_brackets_at_the_end_are_those_behind_a_gap(brackets: str) -> None:
    """Brackets around the chords at the ends of lines are read as a gap before them."""
    wanted = taken(BEHIND.format("    ", ""))
    result = taken(BEHIND.format(f" {brackets[0]}", brackets[1]))
    assert body(result.chart) == body(wanted.chart)


@each("sign", LEADING)
def test_lines_behind_a_sign_under_chords_are_remarks(sign: str) -> None:
    """Several lines right under chords that begin with one sign are said, and the others sung."""
    result = taken(LED.format(f"{sign} "))
    cues, words = _said_and_sung(result)
    assert cues == ["kick on one and three", "wide and loud"]
    assert "kick" not in words and "satellite" in words and "fromthecold" in words
    assert any(one.code == "remark-by-sign" for one in result.findings)


@each("sign", ["-", "–", "—"])
def test_what_people_say_in_a_song_is_sung(sign: str) -> None:
    """Lines of a dialogue, each behind a dash, are words: they stand under other words too."""
    text = (
        "Two At The Door\nkey: G\n\nVerse 1\nG           D\n{0} Who is it knocking at my door\n"
        "{0} It is the wind and nothing more\nC           G\n{0} Then let it in and shut the door\n"
    )
    cues, words = _said_and_sung(taken(text.format(sign)))
    assert cues == [] and "knocking" in words and "nothingmore" in words


def test_a_remark_behind_chords_and_a_semicolon_is_a_cue() -> None:
    """What stands behind chords and a sign, on several lines, is said to the players."""
    text = (
        "The Hatstand\nkey: G\n\nIntro: G D Em C ; riff alone\nVerse: G D Em C ; palm mute\n"
        "Chorus: C D G Em ; open it up\n"
    )
    cues, _ = _said_and_sung(taken(text))
    assert cues == ["riff alone", "palm mute", "open it up"]


@each("sign", ["\t", "     ", " | "])
def test_chords_before_words(sign: str) -> None:
    """Chords at the left of most lines of words stand over them, at no places of their own; the
    sheet's form is common practice, no source."""
    rows = {"C G": "There is one left in the bowl", "Am F": "And it looks at me alone"}
    rows |= {"C Em": "It has been there since the Sunday", "G": "Since the day you left"}
    typed = "\n".join(f"{chords}{sign}{words}" for chords, words in rows.items())
    result = taken(f"Bowl\n\nVerse 1\n{typed}\n")
    part = parts_of(result.chart)[0]
    assert part.music == ["C", "G", "Am", "F", "C", "Em", "G"]
    assert part.words.startswith("thereisoneleftinthebowlandit")
    assert "chords-before-words" in {one.code for one in result.findings}


def test_remarks_behind_chords_are_no_words() -> None:
    """What is said to the players behind a gap is not sung, and a few such lines are no habit."""
    text = "Bowl\n\nVerse 1\nC G    softly, no drums\nAm F    let it all ring\nC G   build slowly\n"
    assert "chords-before-words" not in {one.code for one in taken(text).findings}


_BEFORE = """\
Bowl By The Window

Verse 1
Am{0}there is one left in the bowl and it is looking at me
F{0}it has been there since the sunday that you left
C{0}up is down
G/B{0}I sang to it and still it is not deaf
"""


@each("sign", [" > ", " -> ", " → ", " => ", " : ", ": ", " - ", " – ", " / ", " = ", " >> ", ">"])
def test_chords_before_any_sign_stand_over_the_words(sign: str) -> None:
    """A sign between chords and the words behind them, on several lines, is read as a gap is, also
    before words that sound as if said."""
    (part,) = parts_of(taken(_BEFORE.format(sign)).chart)
    assert part.music == ["Am", "F", "C", "G/B"]
    assert "upisdown" in part.words
    assert part.cues == []


def test_letters_of_parts_before_words_are_no_chords() -> None:
    """A letter and a colon before each line may name a part: no chord is made of it."""
    text = (
        "Moth\n\nA: the kettle is cold\nB: the cat is away\nC: the clock has a tick\n\nG C\nMoth\n"
    )
    assert "chords-before-words" not in {one.code for one in taken(text).findings}


@each("first", ["(Am) and he", "(Em) then he", "(A) man who", "  (Am)and he"])
def test_a_chord_that_is_a_word_too_begins_a_line(first: str) -> None:
    """Where other lines have chords in parentheses, (A), (Am) and (Em) at the start of a line are
    chords, and nobody sings them."""
    others = "".join(f"({one}) there is one left in the bowl\n" for one in ("F", "G", "Dm"))
    (part,) = parts_of(taken(f"Bowl\n\nVerse\n{others}{first} is looking at me\n").chart)
    assert part.music[:3] == ["F", "G", "Dm"]
    assert part.music[3:] == [first.strip()[1:].split(")")[0]]
    assert "am" not in part.words[-22:]
