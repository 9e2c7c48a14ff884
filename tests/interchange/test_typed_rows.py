"""Lines of words that are numbered, with chords in parentheses or behind them, and instruments that
play the music of a section.

The ways to type them are common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import Part, parts_of

_LINES = (
    "The station clock at Appleford is always three behind",
    "The ladies on the platform say it doesn't really mind",
    "It ticked me off to college and it ticked me back again",
)


def _numbered(first: int) -> str:
    rows = (f"   C              F\n{first + at}  {line}\n" for at, line in enumerate(_LINES))
    return "".join(rows)


def test_numbers_of_lines_of_words_are_not_sung() -> None:
    """Lines of words may be numbered through where rows of chords and names between are not."""
    text = f"Clock\n\nVerse One\n{_numbered(1)}\nVerse Two\n{_numbered(4)}"
    for part in parts_of(taken(text).chart):
        assert part.words == "".join(c for c in "".join(_LINES).lower() if c.isalnum())


def test_numbers_of_verses_stay() -> None:
    """Where only the first line of each stanza has a number, and all have their chords, it is the
    verse's name."""
    stanza = (
        "C        G        Am      F\n{n}. Every gate is open on the lane\n"
        + "G    C\nCome along\n"
    )
    text = "Gates\n\n" + "\n".join(stanza.format(n=n) for n in range(1, 8))
    assert [one.name for one in taken(text).chart.sections] == [f"{n}." for n in range(1, 8)]


def _part(lines: str) -> Part:
    (part,) = parts_of(taken(f"Moth Song\n\nVerse\n{lines}\n").chart)
    return part


@each(
    ("lines", "music"),
    [
        ("(g)you won me in a (d)plastic bag\n(em)carried me and (c)never told me why", "G D Em C"),
        ("(Am)Fill it up and close the lid", "Am"),
        ("(A)Fill it up and close the lid", "A"),
        ("Tide out (G) tide in (D)\nI never have shown you how (A) (D)", "G D A D"),
        ("Come on then, come on (A) (D)\nAnd the lark (G) in the sky (D)", "A D G D"),
        ("We walked to the coast       G\nTo somewhere on the coast    A", "G A"),
        ("We walked to the coast       G\nTo somewhere on the coast    Am", "G Am"),
    ],
)
def test_chords_among_and_behind_words(lines: str, music: str) -> None:
    """Small letters are chords where several lines have them in parentheses; a lone A is one where
    it touches a word or stands far behind the words."""
    part = _part(lines)
    assert " ".join(part.music).replace("(", "").replace(")", "") == music
    assert part.words.isalpha()


@each(
    "lines",
    [
        "C      G\nI am what I am (Am)",
        "C      G\nOh (a) lot of (a) time",
    ],
)
def test_letters_in_parentheses_may_be_words(lines: str) -> None:
    """A letter in parentheses under chords of their own is no further chord of the row."""
    assert _part(lines).music[:2] == ["C", "G"]


_SONG = f"{_numbered(1)}\nChorus\nG  D\nLamp, lamp\n\n"


@each(
    ("typed", "name", "music"),
    [
        ("Banjo (verse)", "Banjo", "C F C F C F"),
        ("Fiddle (chorus)", "Fiddle", "G D"),
        ("Banjo: verse chords", "Banjo", "C F C F C F"),
        ("Fiddle - chorus chords", "Fiddle", "G D"),
        ("Bass solo (same, one chorus)", "Bass solo", "G D"),
        ("Guitar solo (same as verse, louder)", "Guitar solo", "C F C F C F"),
        ("Outro - riff again, last one ring out\nC  F", "Outro", "C F"),
    ],
)
def test_who_plays_the_music_of_a_section(typed: str, name: str, music: str) -> None:
    """An instrument beside a section's name plays that one's music, without its words."""
    part = parts_of(taken(f"Clock\n\nVerse\n{_SONG}{typed}\n").chart)[-1]
    assert part.name == name
    assert " ".join(part.music) == music
    assert part.words == ""


@each(
    ("heading", "name", "said"),
    [
        ('Vamp - repeat until she says "Oh, the hats!"', "Vamp", "repeat until she says"),
        ("Sung part - everyone stops the dance and claps", "Sung part", "everyone stops"),
        ("[STOP] drums fill 2 bars, then up a step", "STOP", "drums fill 2 bars"),
        ("[BREAK] hands only", "BREAK", "hands only"),
        ("Intro: piano alone while the curtain goes up and the lights come on", "Intro", "piano"),
    ],
)
def test_a_long_remark_behind_a_name(heading: str, name: str, said: str) -> None:
    """What stands over chords behind a name is said of the section, however long it is."""
    text = (
        "Hats\n\n[Verse 1]\n| Eb | Bb7 |\nI sent a hat to Lady Flask and one to Lord Malone\n\n"
        "[Chorus] with a wink\n| Ab | Eb |\nOh, a ribbon here, a ribbon there\n\n[Verse 2]\n"
        "| Eb | Bb7 |\nThe Queen adored the cherries so she ate them off her phone\n\n"
        f"{heading}\n| D | A |\n"
    )
    part = parts_of(taken(text).chart)[-1]
    assert (part.name, part.played) == (name, ["D", "A"])
    assert said in " ".join(part.cues)


@each(
    ("line", "music", "sung"),
    [
        ("Play verse once through, whistle if you can", "C F C F C F", False),
        ("Hum a verse", "C F C F C F", False),
        ("Play the chorus", "G D", True),
    ],
)
def test_a_section_that_the_band_is_asked_to_play(line: str, music: str, sung: bool) -> None:
    """A line alone that asks for an earlier section is that section: a verse without words."""
    part = parts_of(taken(f"Clock\n\nVerse\n{_SONG}{line}\n").chart)[-1]
    assert " ".join(part.music) == music
    assert (part.words != "") == sung


def test_a_sentence_behind_a_name_is_a_cue() -> None:
    """A sentence in parentheses behind a name is said of the section, and no part of its name."""
    text = "Clock\n\nBridge (half time feel, just piano first 4 bars)\nC  F\nMoth, come in\n"
    (section,) = taken(text).chart.sections
    assert section.name == "Bridge"
    assert "half time feel" in " ".join(parts_of(taken(text).chart)[0].cues)


def test_a_section_of_which_nothing_is_known_is_reported() -> None:
    """A name with a remark and nothing under it has a finding at its line."""
    text = f"Clock\n\nVerse\n{_SONG}[Gong] (drones once)\n\nVerse\n{_SONG}"
    empty = [one for one in taken(text).findings if one.code == "section-empty"]
    assert [one.message.split('"')[1] for one in empty] == ["Gong (drones once)"]


def test_chords_in_the_column_of_the_others() -> None:
    """A long line leaves one blank before the chords at its right: their column tells them from
    words (common practice, no source)."""
    words = ["Lamp on the water now", "moth at the window there", "a ring in the saucer tonight"]
    lines = [*words, "every lamp on the lane that burns"]
    width = len(lines[-1]) + 1
    typed = "\n".join(f"{line:{width}}G C" for line in lines)
    (part,) = parts_of(taken(f"Moth\n\nVerse\n{typed}\n").chart)
    assert part.music == ["G", "C"] * len(lines)
    assert part.words == "".join(lines).replace(" ", "").casefold()


@each(
    ("behind", "name"),
    [
        *(("to start", "Intro"), ("to begin", "Intro"), ("for the intro", "Intro")),
        *(("zum Anfang", "Intro"), ("pour commencer", "Intro"), ("(to start)", "Intro")),
        *(("to finish", "Outro"), ("- to end", "Outro"), ("per finire", "Outro")),
    ],
)
@each("row", ["C F C", "(C) (F) (C)", "C - F - C", "| C | F | C |"])
def test_chords_with_their_place_in_the_song(behind: str, name: str, row: str) -> None:
    """A row that stands apart with its place behind it is the intro or the outro."""
    verse = f"Verse\n{_SONG}"
    line = f"{row} {behind}\n"
    text = f"{line}\n{verse}" if name == "Intro" else f"{verse}\n{line}"
    parts = parts_of(taken(f"Clock\n\n{text}").chart)
    part = parts[0 if name == "Intro" else -1]
    assert part.name == name
    assert [one for one in part.music if one != "|"] == ["C", "F", "C"]
    assert part.cues == []


@each(
    ("said", "times"),
    [
        *(
            ("same, last line 3 times", 3),
            ("same, last line twice", 2),
            ("same but last line x2", 2),
        ),
        *(
            ("as before, last line 2x", 2),
            ("wie oben, letzte Zeile 3x", 3),
            ("idem, dernière ligne bis", 2),
        ),
    ],
)
def test_the_same_with_its_last_line_again(said: str, times: int) -> None:
    """A remark below a name that asks for the same and for its last line again."""
    song = "Chorus\nG  C\nMoth at the lamp\nD  G\nCome away\n\n"
    part = parts_of(taken(f"Clock\n\n{song}Verse\nC  F\nStay, stay\n\nChorus\n{said}\n").chart)[-1]
    assert part.music == ["G", "C", *["D", "G"] * times]


@each(
    "tail", ["x3    all in", "x3 (all in)", "x3, all in", "3x all in", "all in x3", "(all in) x3"]
)
def test_a_count_beside_a_remark_behind_bars(tail: str) -> None:
    """In any order the count is the row's and the remark is a cue; behind a name it is the
    section's."""
    alone = _part(f"| G | A | {tail}\n| D | D |")
    assert (alone.played[:6], alone.cues) == (["G", "A"] * 3, ["all in"])
    (named,) = parts_of(taken(f"Moth Song\n\nChorus: | G | A |   {tail}\n").chart)
    assert (named.times, named.played, named.cues) == (3, ["G", "A"], ["all in"])


@each("row", ["|: G | A :| x3   all in", "|: G | A :| (all in) x3", "|: G | A :| x3"])
def test_a_count_behind_a_repeat_is_the_repeats(row: str) -> None:
    """With a remark and with a name before the row too: the section is played once."""
    for name in ("Intro\n", "Intro: ", "Intro   "):
        text = f"Moth Song\n\n{name}{row}\nVerse: | D |\nChorus: | C |\n"
        first = parts_of(taken(text).chart)[0]
        assert (first.times, first.played) == (1, ["G", "A"] * 3)


def test_words_that_could_be_chords_are_sung_where_words_are_due() -> None:
    """Under a row of chords, where all other rows have words under them, a line of chords with a
    word among them is words."""
    text = (
        "Gone\n\nVerse\nAb          Db\nGone is the light\nEb      Ab\nAb Ab gone\n"
        "Db      Ab\nAm I a fool to stay\n"
    )
    (part,) = parts_of(taken(text).chart)
    assert part.music == ["Ab", "Db", "Eb", "Ab", "Db", "Ab"]
    assert "ababgone" in part.words


def test_a_numbered_verse_behind_a_refrain() -> None:
    """It is sung to the music of the first numbered verse, and not to the refrain."""
    text = (
        "Old Mill\n\nC          G\n1. The mill is old, the mill is grey\nG7         C\n"
        "The miller's daughter went away\n\nF          C\n   Turn, turn, turn the wheel\n"
        "G          C\n   Turn the old mill wheel\n\n"
        "2. The mill is dark, the mill is cold\nThe miller's daughter will be old\n\n"
        "3. The mill is gone, the mill is sand\nThe miller's daughter has a band\n"
    )
    written = [row.split(":")[0] for row in body(taken(text).chart).splitlines() if ":" in row]
    assert written == ["1", "2", "3", "1", "2", "3", "", ""]
