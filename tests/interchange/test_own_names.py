"""Names that only one sheet has are used in its lines of form as all others are."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import MILL_POND, parts_of

_SHEET = """\
{above}
Verse 1
G        D
Down the lane I walk
Em       C
all alone again

{name}
Am       Bm
higher and higher still
C        D
till we see the sun

Chorus
G   C   D   G
Sing it out my friend

{below}
"""


def _read(name: str, below: str = "", above: str = "") -> list[str]:
    """The sections of a sheet, each with its count and its chords."""
    result = taken(_SHEET.format(name=name, below=below, above=above))
    assert {"roadmap", "section-by-place", "section-again"} & codes(result)
    return [
        f"{part.name}{f' x{part.times}' * (part.times > 1)}: {' '.join(part.music)}"
        for part in parts_of(result.chart)
    ]


_LIFT = "Am Bm C D"
_VERSE = "Verse 1: G D Em C"


@each("name", ["Lift", "Lift Off", "LIFT"])
@each(
    ("line", "played"),
    [
        ("{} x2", ["{} x2: " + _LIFT]),
        ("Back to {}", ["{}: " + _LIFT]),
        ("Verse 1 - {} - Verse 1", [_VERSE, "{}: " + _LIFT, _VERSE]),
        ("Bridge (same as {})", ["Bridge: " + _LIFT]),
        ("Outro: {} twice", ["Outro x2: " + _LIFT]),
        ("Solo over {} chords", ["Solo: " + _LIFT]),
        ("Repeat {}, then Chorus x2", ["{}: " + _LIFT, "Chorus x2: G C D G"]),
    ],
)
def test_below_the_song(name: str, line: str, played: list[str]) -> None:
    """A line of form under the song plays again what stands over chords above."""
    sections = _read(name, f"{name}\n\n{line.format(name)}")
    assert sections[4:] == [one.format(name) for one in played]


@each("name", ["Lift", "Lift Off"])
@each("label", ["Form: ", "Order: ", ""])
def test_in_the_order_above(name: str, label: str) -> None:
    """A line that lists all sections makes names of those that nobody else uses."""
    sections = _read(name, above=f"Moth\n{label}Verse 1, {name}, Chorus, {name}, Chorus\n")
    assert [one.split(":")[0] for one in sections] == ["Verse 1", name, "Chorus", name, "Chorus"]


@each("words", ["Lift your head up high", "Lift and carry me", "Oh lift"])
def test_words_that_begin_with_the_name_are_sung(words: str) -> None:
    """A name of the sheet is a word elsewhere."""
    text = _SHEET.format(name="Lift", below=f"Lift\n\nVerse 2\n{words}\nover the sea", above="")
    last = parts_of(taken(text).chart)[-1]
    assert last.name == "Verse 2"
    assert last.words == f"{words} over the sea".replace(" ", "").casefold()


@each("sign", [" >> ", " -> ", " -- ", " ~ ", ": ", " - ", "  "])
def test_the_sign_behind_the_other_names(sign: str) -> None:
    """A name before the sign that parts the sheet's other names from their chords."""
    rows = ["Verse 1", "Lift", "Chorus", "Drop"]
    text = "Moth\n\n" + "\n\n".join(f"{name}{sign}| C | F | G |" for name in rows)
    parts = parts_of(taken(f"{text}\n\nVerse 1\nLift\nDrop x2\n").chart)
    assert [part.name for part in parts] == [*rows, "Verse 1", "Lift", "Drop"]
    assert {" ".join(part.music) for part in parts} == {"| C | F | G"}


@each("sign", [" - ", " -- ", ": ", " – "])
def test_remarks_behind_the_sign(sign: str) -> None:
    """What stands there in place of chords is said to the players."""
    said = ["drums only", "snare build, riser from bar three", "NO FILLS", "everything"]
    names = ["INTRO", "VERSE", "LIFT", "DROP"]
    pairs = zip(names, said, strict=True)
    text = "\n\n".join(f"{name}{sign}{more}\n| C | F |" for name, more in pairs)
    parts = parts_of(taken(f"Moth\n\n{text}\n").chart)
    assert [part.name for part in parts] == names
    assert [part.cues for part in parts] == [[one] for one in said]


def test_brackets_around_what_is_said() -> None:
    """In a sheet whose names have no brackets these stand around remarks."""
    text = "Moth\n\nVerse 1\nC     G\nMoth, moth\n[kettle]\nF     C\nlamp\n\nChorus\nF   C\nfly\n"
    parts = parts_of(taken(text).chart)
    assert [(part.name, part.cues) for part in parts] == [("Verse 1", ["kettle"]), ("Chorus", [])]


def test_a_table_with_heads_over_its_columns() -> None:
    """Each row is a section, with its count and its remark."""
    text = (
        "Moth\n\nPart      Akkorde     Mal   Bemerkungen\nIntro     C  F        2     keys alone\n"
        "Gondel    Am G        1     build\nRefrain   F  C  G     4\n"
    )
    parts = parts_of(taken(text).chart)
    assert [(part.name, part.times) for part in parts] == [
        ("Intro", 2),
        ("Gondel", 1),
        ("Refrain", 4),
    ]
    assert [part.cues for part in parts] == [["keys alone"], ["build"], []]


@each("word", ["Letter", "Rehearsal letter", "Buchstabe", "Lettera"])
def test_rehearsal_letters_with_a_word(word: str) -> None:
    """Letters beyond those of parts, with a remark."""
    rows = "\n\n".join(f"{word} {letter} (bows)\n| F | C |" for letter in "ABEF")
    parts = parts_of(taken(f"Moth\n\n{rows}\n").chart)
    assert [(part.name, part.cues) for part in parts] == [
        (f"{word} {letter}", ["bows"]) for letter in "ABEF"
    ]


def test_who_plays_under_a_name() -> None:
    """A line in parentheses with a colon under a name opens no section."""
    parts = parts_of(taken("Moth\n\nVerse\n(solo: Marcia)\nC    G\nMoth, moth\n").chart)
    assert [(part.name, part.cues) for part in parts] == [("Verse", ["solo: Marcia"])]


def test_verses_counted_from_two() -> None:
    """What stands before them without a name is the first."""
    text = "C     G\nMoth, moth\nAm    F\nlamp, lamp\n\n2. Night, night\nday, day\n"
    refrain = "\nRefrain\nF    C\nfly, fly\n\n"
    verse, again = text.split("\n\n")
    parts = parts_of(taken(f"Moth\n\n{verse}\n{refrain}{again}").chart)
    assert [part.name for part in parts] == ["1.", "Refrain", "2."]


def test_lines_apart_over_bars_alone() -> None:
    """In a sheet of nothing but bars each line over them names a section."""
    blocks = ["Opening", "Walk", "Gondola", "Close"]
    text = "\n\n".join(f"{name}\n| G | D |" for name in blocks)
    assert [part.name for part in parts_of(taken(f"Moth\n\n{text}\n").chart)] == blocks


@each(
    ("first", "name", "below"),
    [
        ("VERSE 1:", "STOP VERSE:", "CHORUS:"),
        ("Verse 1:", "Key-change chorus:", "Chorus:"),
        ("Strophe 1", "Stopp-Strophe:", "Refrain"),
        ("COUPLET 1", "REFRAIN PARLÉ", "REFRAIN"),
        ("VERSE", "AMEN", "REFRAIN"),
        ("VERSE", "RUN-UP", "CHORUS"),
        ("VERSE", "FOOTBALL CHANT", "CHORUS"),
        ("VERSE", "BELL SOLO", "CHORUS"),
        ("First verse:", "Big finish chorus:", "Chorus:"),
    ],
)
def test_a_word_and_a_kind_over_an_empty_line(first: str, name: str, below: str) -> None:
    """A name of a known kind with a colon or in capitals, and any name in capitals among others,
    begins a section also where all names have an empty line under them."""
    rows = "\n\nC              F\nWho has the brush, not me\n\n"
    result = taken(f"Brass\n\n{first}{rows}{name}{rows}{below}{rows}")
    names = [section.name for section in result.chart.sections]
    assert names == [one.rstrip(":") for one in (first, name, below)]


@each("said", ["Play chorus:", "Same chorus:", "Back to the chorus:", "Slowly now", "STOP HERE"])
def test_what_is_said_over_an_empty_line_names_nothing(said: str) -> None:
    """Words that ask for a section or tell how to play begin none."""
    rows = "\n\nC              F\nWho has the brush, not me\n\n"
    result = taken(f"Brass\n\nVERSE{rows}{said}{rows}CHORUS{rows}")
    assert said.strip(":") not in [section.name for section in result.chart.sections]


@each(
    ("line", "name"),
    [
        ("Riff intro: E A (4 times)", "Riff intro"),
        ("Riff intro: | E | A | x4", "Riff intro"),
        ("Riff d'intro : E A (4 fois)", "Riff d'intro"),
        ("Solo outro: E A (4 times)", "Solo outro"),
        ("Vamp outro (E A) x4", "Vamp outro"),
    ],
)
def test_what_is_played_and_where_is_one_name(line: str, name: str) -> None:
    """It names one section, with its chords and how often it is played."""
    result = taken(f"Moth\n\n{line}\n\nVerse\nC   F\nAll of us are here\n")
    first, *others = result.chart.sections
    assert (first.name, first.times) == (name, 4)
    assert [one.name for one in others] == ["Verse"]


def test_two_names_of_sections_stay_two() -> None:
    """A solo before an outro is a section of its own where no chords stand behind the two."""
    result = taken(f"{MILL_POND}Solo, Outro\n")
    assert [one.name for one in result.chart.sections][-2:] == ["Solo", "Outro"]


def test_sevenths_at_the_left_of_rows_are_chords() -> None:
    """A letter with a figure that makes a chord of it counts no part, also where the rows that
    begin so have nothing but blanks behind it."""
    first, second = "Dm            Gm", "A7                Dm"
    rows = f"{first}\nOld the lantern at the gate\n{second}\nNobody is standing late\n"
    refrain = "B           F\nBurn on, burn on\nB           Hdim\nBurn for me\n"
    solo = "SOLO   (fiddle)\n\n| B | F | Gm | A7 |\n"
    result = taken(f"Lantern\n\nVERSE 1\n\n{rows}\nREFRAIN\n\n{refrain}\nREFRAIN\n\n{solo}")
    names = [one.name for one in result.chart.sections]
    assert names == ["VERSE 1", "REFRAIN", "REFRAIN", "SOLO"]


def test_a_name_in_capitals_beside_one_with_a_remark() -> None:
    """What is said in parentheses behind the others is no part of their letters."""
    rows = "\n\nC              F\nWho has the brush, not me\n\n"
    sheet = f"Brass\n\nVERSE{rows}REFRAIN   (after each verse){rows}AMEN\n\nC    F\nA - men.\n"
    assert taken(sheet).chart.sections[2].name == "AMEN"
