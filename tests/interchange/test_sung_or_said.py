"""A line under chords is sung or said to the players, by the habits of the sheet."""

from pathlib import Path

from chartkit.interchange.text.vocabulary import sounds_said as sounds_said_module
from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.said_table import learnt, odds_of, own_lines
from tests.interchange.typed_sheets import parts_of

_ROW, _WORDS = "C        G        Am      F\n", "Every gate is open on the lane\n"
_STANZA = (_ROW + _WORDS) * 2
_SONG = f"Verse 1\n{_STANZA}\nChorus\n{_STANZA}\n"


@each(
    "said",
    ["(hold the last one)", "(tous ensemble, net)", "solo voz y palmas", "guitars: very quiet."],
)
def test_what_is_said_at_the_end(said: str) -> None:
    """Small letters, nothing else sung in the section, a section that is played: it is said."""
    last = parts_of(taken(f"{_SONG}Outro\nC  G  C\n{said}\n").chart)[-1]
    assert last.words == ""
    assert said.strip("()") in " ".join(last.cues)


@each("sung", ["(ooh, ooh)", "(Every gate is open on the lane)", "Nobody is home", "I went home"])
def test_what_is_sung_at_the_end(sung: str) -> None:
    """Vocal syllables, lines that are sung elsewhere, and lines like the others are sung."""
    last = parts_of(taken(f"{_SONG}Outro\n{_ROW}{sung}\n").chart)[-1]
    assert last.words == "".join(c for c in sung.casefold() if c.isalnum())


def test_a_remark_between_a_name_and_its_chords() -> None:
    """What stands in parentheses between a name and its chords is a remark, whatever it names."""
    text = f"{_SONG}Solos\n(piano, then trade fours)\n| C | G | C | F |\n"
    last = parts_of(taken(text).chart)[-1]
    assert (last.name, last.cues) == ("Solos", ["piano, then trade fours"])


_SAID = [
    "horns - long notes",
    "stop on F, crash, and run",
    "STOP ON F, THEN RUN",
    "Schluss auf Am, Becken aus",
    "fin sur Sol, net",
    "zadnji refren bez bubnjeva, stop na F",
    "yes pls",
    "Drums: nothing before the second one",
    "wait for the singer to nod",
    "niet te snel hier",
]
_SUNG = [
    "Stop the wheel and crash the car",
    "Am I the last one on the hill",
    "STOP THE WHEEL AND RUN",
    "Hold the door (hold the last of the door)",
    "End of the line and home again",
    "Ende gut und alles aus",
    "Softly now the evening comes",
    "Hold me till the lamps go out",
    "Oh, the drums are in the valley",
    "Ik wacht op jou",
]


@each("place", [0, 1, 2, 3, 4])
@each("said", _SAID)
def test_what_is_said_between_words(said: str, place: int) -> None:
    """Where all words stand right under chords, what sounds as if said is a cue, wherever it
    stands between the others, and a finding says so."""
    at = _SONG.index("Chorus\n")
    stanza = f"Verse 1\n{_STANZA}"
    texts = [
        f"{stanza}{said}\n{_SONG[at - 1 :]}",  # under the last words
        f"{stanza}\n{said}\n\n{_SONG[at:]}",  # between two sections
        f"Verse 1\n{said}\n{_STANZA}\n{_SONG[at:]}",  # under a name
        f"{stanza}{said}\n{_STANZA}\n{_SONG[at:]}",  # between words
        f"{_SONG}Verse 2\n\n{said}\n\nChorus\n",  # under a name alone
    ]
    result = taken(texts[place])
    parts = parts_of(result.chart)
    assert any(said in " ".join(part.cues) for part in parts)
    assert not any(_letters(said) in part.words for part in parts)
    assert any(one.certainty != "sure" for one in result.findings)


@each("sung", _SUNG)
def test_what_is_sung_between_words(sung: str) -> None:
    """Words that speak of playing stay words."""
    parts = parts_of(taken(f"Verse 1\n{_STANZA}{_ROW}{sung}\n\nVerse 2\n{sung}\n{sung}\n").chart)
    assert all(_letters(sung) in part.words for part in parts)


def test_words_before_what_is_said_of_them() -> None:
    """What is said in parentheses behind words, or far behind them, leaves the words sung."""
    text = f"{_SONG}Tag\n{_ROW}Never say I was not warned (x3, louder each time)\n"
    assert parts_of(taken(text).chart)[-1].words == "neversayiwasnotwarned"


_ROWS = "Intro\nC G Am F\n\nVerse\nC G Am F\nC G F C\n\nChorus\nF G C Am\nF G C C\n"


@each("said", ["half time on that", "everyone wave", "stop dead on F", "arrêt net sur Fa"])
def test_the_only_line_under_rows_of_chords(said: str) -> None:
    """In a sheet of rows alone a line that sounds as if said is a cue; any other is sung."""
    part = parts_of(taken(f"{_ROWS}{said}\n").chart)[-1]
    assert (part.words, said in " ".join(part.cues)) == ("", True)
    part = parts_of(taken(f"{_ROWS}nobody walks me home tonight\n").chart)[-1]
    assert part.words == "nobodywalksmehometonight"


def test_a_line_too_many_is_said() -> None:
    """A verse without chords that has a line more than the one before, which sounds as if said,
    has the music of that verse."""
    verse = "Nobody is home\nEverybody went away\n"
    parts = parts_of(taken(f"Verse 1\n{_STANZA}\nVerse 2\nwithout the drums here\n{verse}").chart)
    assert (parts[1].music, parts[1].cues) == (parts[0].music, ["without the drums here"])


def test_the_table_of_words() -> None:
    """It is small, and every line of it has a weight and what has it."""
    path = Path(sounds_said_module.__file__).with_name("said_words.txt")
    rows = [line for line in path.read_text().splitlines() if not line.startswith("#")]
    assert path.stat().st_size < 100_000
    assert all(abs(float(row.split(" ")[0])) < 5 and len(row.split(" ")) > 1 for row in rows)


def test_lines_that_no_sheet_has_are_told_apart() -> None:
    """Nine lines in ten of other hands than those that were learnt from; every time the same."""
    lines = own_lines()
    learnt_once, again = (learnt(lines[::2]) for _ in range(2))
    right = [(odds_of(one.text, learnt_once) > 0) == one.said for one in lines[1::2]]
    assert learnt_once == again
    assert sum(right) > 0.8 * len(right)


def _letters(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum())


def test_a_name_with_a_sentence_behind_it() -> None:
    """A section's name that goes on as a sentence is that section again, with a cue."""
    text = f"{_SONG}Chorus softly, everybody sings\n\nVerse 2\n{_STANZA}"
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Verse 1", "Chorus", "Chorus", "Verse 2"]
    assert parts[2].words == parts[1].words
    assert parts[2].cues == ["softly, everybody sings"]


@each("sign", [">", "~", "+"])
def test_a_sign_before_what_is_said(sign: str) -> None:
    """Lines with a sign before them, as no others have it, are said, whatever they say."""
    text = (
        f"Verse 1\nC  G  Am  F\n{sign} velvet and gravel\nEvery gate is open\nEvery ship is in\n\n"
        f"Chorus\nF  G  C\n{sign} the hiss goes on\nNobody is home tonight\nNobody is home\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.words for part in parts] == [
        "everygateisopeneveryshipisin",
        "nobodyishometonightnobodyishome",
    ]
    assert "velvet and gravel" in " ".join(parts[0].cues)


@each("said", ["haitari, säkeistön soinnut", "Kari on his own", "bandoneón y nada más"])
def test_a_line_alone_where_nobody_sings(said: str) -> None:
    """Behind the name of a solo that has no chords a line is said, in any language."""
    solo = parts_of(taken(f"{_SONG}Solo: {said}\n\nVerse 2\n{_STANZA}").chart)[2]
    assert solo.words == ""
    assert said.casefold() in " ".join(solo.cues).casefold()


def test_the_fourth_line_of_a_stanza_is_sung() -> None:
    """A line with words of the trade that completes a stanza of four lines stays with them."""
    text = (
        "Verse: C / G / Am / F\nWho leave the gate by the wide green hill\n"
        "Look how the goat take a walk at will\nWho give the goat the conductor stick\n"
        "Now every tempo is double quick\nChorus: F / C / G / C\nGoat in the bandstand\n"
    )
    assert parts_of(taken(text).chart)[0].words.endswith("noweverytempoisdoublequick")


_GRID = """Barrio Alto

Intro
| Am | G | F | E7 |
{0}

Verso
| Am | Am | Dm | E7 |
| Am | G | F | E7 |
{1}

Coro
|: F | G | Am | Am :| x4
{2}
"""


@each(
    "said",
    [
        ("tumbadoras solas", "mambo de trombones", "sube medio tono al tercero"),
        ("haitari yksin", "kaikki mukaan toisella kerralla", "loppu hiljaa"),
        ("csak hegedű", "lassítva másodszorra", "kétszer"),
        ("Solo metales", "Entra el bajo", "Corte"),
        ("zurna first time", "castanets from third", "hold it"),
    ],
)
def test_single_lines_under_bars_are_said(said: tuple[str, str, str]) -> None:
    """Short lines, each alone in its section, or under rows without words, are said to the players
    in whatever language."""
    result = taken(_GRID.format(*said))
    assert "".join(part.words for part in parts_of(result.chart)) == ""
    told = " ".join(cue for part in parts_of(result.chart) for cue in part.cues)
    assert all(text in told or text == "kétszer" for text in said)


@each(
    "sung",
    [
        (
            "waiting at the window for the rain",
            "marching on",
            "tin soldier where have you been now",
        ),
        ("Row me over, row me home tonight", "Over the water", "Carry the lantern over the water"),
    ],
)
def test_longer_lines_under_bars_are_sung(sung: tuple[str, str, str]) -> None:
    """Lines that have words enough for their bars are sung, though each is alone."""
    first, _, third = parts_of(taken(_GRID.format(*sung)).chart)
    assert first.words and third.words


def test_a_short_line_under_bars_is_reported() -> None:
    """Where it is kept as sung a finding stands at its line."""
    text = "Verse\n| G | C | G | D |\nlow bridge\n| G | C | D | G |\nKeep your head down, Sammy\n"
    places = [one.place for one in taken(text).findings if one.code == "maybe-a-remark"]
    assert places == ["3:1"]


def test_a_word_in_capitals_between_a_row_and_its_words() -> None:
    """A word in capitals that nobody sings, between chords and their words, is said."""
    chorus = f"{_ROW}{_WORDS}{_ROW}WHISPER\nNobody is home\n"
    first = parts_of(taken(f"Verse\n{_STANZA}\nChorus\n{chorus}").chart)[1]
    assert (first.words, first.cues) == ("everygateisopenonthelanenobodyishome", ["WHISPER"])
    shouted = chorus.replace("WHISPER", "HEY")
    first = parts_of(taken(f"Verse\n{_STANZA}\nChorus\n{shouted}").chart)[1]
    assert "hey" in first.words
