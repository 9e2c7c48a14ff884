"""Lines of form inside songs and at their foot: orders that repeat what is written, sections that a
line leads to, names of any kind before chords; and sung lines that only look so.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import MILL_POND, names_of_parts, parts_of

_SECOND = "Verse 2\nOver the mill the morning clears\nWalk me home again, my dear\n"


@each(
    ("foot", "added"),
    [
        ("order: verse, chorus, verse", ""),
        ("Form: Verse Chorus V2", ""),
        ("FORM = V Ch V2 Ch Solo (V) Ch", "Chorus, Solo, Chorus"),
        ("Form: V1, Ch, V2, Ch, Solo, Ch", "Chorus, Solo, Chorus"),
        ("Order: V, Ch, V2, Ch, Bridge, Ch x2", "Chorus, Bridge, Chorus x2"),
    ],
)
def test_an_order_begins_with_what_is_written(foot: str, added: str) -> None:
    """A labelled order below a song plays what stands there once; what it names more comes behind,
    also a solo among names that no signs part, and a section of which the sheet has no music."""
    sheet = f"{MILL_POND}{_SECOND}"
    names = names_of_parts(f"{sheet}\n{foot}\n")
    assert names == [*names_of_parts(sheet), *filter(None, added.split(", "))]


@each(
    ("name", "line"),
    [
        ("Refrain", "au refrain"),
        ("Estribillo", "al estribillo"),
        ("Estribillo", "vuelve al estribillo"),
        ("Estribillo", "y estribillo"),
        ("Ritornello", "al ritornello"),
        ("Refrein", "naar het refrein"),
        ("Chorus", "(to chorus)"),
    ],
)
def test_a_line_leads_to_a_section(name: str, line: str) -> None:
    """A line that leads to a section and says no more plays it once, also right under words."""
    last = parts_of(taken(f"{MILL_POND.replace('Chorus', name)}{_SECOND}{line}\n").chart)[-1]
    assert (last.name.casefold(), last.times, last.music) == (name.casefold(), 1, ["C", "G"])


@each(
    ("line", "name", "said"),
    [
        ("LINK Em C (x2)", "LINK", []),
        ("8 bars piano: | Em | C |", "Piano", ["8 bars"]),
        ("8 Takte Klavier: | Em | C |", "Klavier", ["8 Takte"]),
    ],
)
def test_names_of_any_kind_before_chords(line: str, name: str, said: list[str]) -> None:
    """A word alone before chords names their section, and so does who plays so many bars; the
    section above keeps its own music."""
    parts = parts_of(taken(f"{MILL_POND}{line}\n\n{_SECOND}").chart)
    assert [one.name for one in parts] == ["Verse", "Chorus", name, "Verse 2"]
    assert (parts[1].music, parts[2].cues) == (["C", "G"], said)


def test_how_a_song_ends_is_said_of_its_last_section() -> None:
    """What tells only how the song ends is a cue of the last section, and no section."""
    last = parts_of(taken(f"{MILL_POND}Chorus\n\n*** big finish ***\n").chart)[-1]
    assert (last.name, last.cues) == ("Chorus", ["big finish"])


@each(
    "words",
    [
        "Back to the chorus of the street I go",
        "Bridge over the river, bridge over the sea",
        "Pont de pierre, pont de bois, pont de rien",
    ],
)
def test_words_of_a_verse_that_begin_with_names(words: str) -> None:
    """A line that begins with a section's name and goes on as words do is sung, among the words of
    a verse."""
    assert words in body(taken(f"{MILL_POND}Verse 2\n{words}\nWalk me home again, my dear\n").chart)


def test_a_song_may_be_called_like_a_section() -> None:
    """A name with which no song begins, alone over the settings, is the title."""
    sheet = MILL_POND.replace("Mill Pond", "Outro\nKey of G")
    assert taken(sheet).chart.text("title") == "Outro"
    assert names_of_parts(sheet) == ["Verse", "Chorus"]


_LETTERS = "Pond Reel\n\nA\n| G7 | C7 |\n\nB\n| Em7 | D7 |\n\nC\n| Am7 | F7 |\n\n"


@each(
    ("foot", "name", "played"),
    [
        ("Head out: A, C", "Head out", ["G7", "C7", "Am7", "F7"]),
        ("Solo trumpet over A B", "Solo trumpet", ["G7", "C7", "Em7", "D7"]),
        ("sax solo on A and B\nC again, then end on G", "sax solo", ["G7", "C7", "Em7", "D7"]),
        ("Form: A, B, C, solo over A B, C", "Solo", ["G7", "C7", "Em7", "D7"]),
    ],
)
def test_a_solo_over_several_letters(foot: str, name: str, played: list[str]) -> None:
    """What is played over several parts that are called by letters has the music of all, and what
    comes behind it is no part of it."""
    part = parts_of(taken(f"{_LETTERS}{foot}\n").chart)[3]
    assert (part.name, part.played) == (name, played)


@each(
    ("line", "name", "times", "cues"),
    [
        ("SOLO 2x CHORUS", "SOLO", 2, []),
        ("Clarinet 16 bars (Chorus)", "Clarinet", 1, ["16 bars"]),
    ],
)
def test_a_count_before_what_a_solo_goes_over(
    line: str, name: str, times: int, cues: list[str]
) -> None:
    """A solo says in any order how long it is and whose music it has."""
    solo = parts_of(taken(f"{MILL_POND}{line}\n").chart)[-1]
    assert (solo.name, solo.times, solo.music, solo.words) == (name, times, ["C", "G"], "")
    assert solo.cues == cues


@each("line", ["solo: em c g d", "Bridge: am em / c d", "break - em d em d"])
def test_chords_in_small_letters_behind_a_name(line: str) -> None:
    """Chords in small letters behind a name are chords, also where all others have capitals."""
    music = parts_of(taken(f"{MILL_POND}{line}\n").chart)[-1].music
    assert [one.casefold() for one in music] == [one for one in line.split()[1:] if one.isalnum()]


@each(
    ("said", "music"),
    [
        ("Mod up a semitone", ["Db", "Ab"]),
        ("Key change up a tone", ["D", "A"]),
        ("Einen Ton höher:", ["D", "A"]),
    ],
)
def test_a_line_between_steps_moves_the_next(said: str, music: list[str]) -> None:
    """A line that says how much higher it goes on, right above a section that comes again, is a
    cue of that one, whose chords are written out there."""
    for gap in ("\n", "\n\n"):
        last = parts_of(taken(f"{MILL_POND}Verse\n\n{said}{gap}Chorus\n").chart)[-1]
        assert (last.name, last.music, last.cues) == ("Chorus", music, [said.strip(":")])


@each("line", ["Chorus first!", "(start with the chorus)"])
def test_a_song_that_begins_with_another_section(line: str) -> None:
    """A line below the song says with which section it begins."""
    names = names_of_parts(f"{MILL_POND}{_SECOND}\n{line}\n")
    assert names == ["Chorus", "Verse", "Chorus", "Verse 2"]


def test_the_name_of_the_last_chord_stands_over_it() -> None:
    """A name of the last chord is one, also where its first word is a known name by itself."""
    last = parts_of(taken(f"{MILL_POND}FINAL CHORD\nG\n").chart)[-1]
    assert (last.name, last.music, last.cues) == ("FINAL CHORD", ["G"], [])


@each("talk", ["À jeudi, n'oubliez pas les clés", "Nos vemos el jueves, llevad las partituras"])
def test_talk_under_a_section_asked_again(talk: str) -> None:
    """What is said to the reader right under the last name, whose words stand above, is not sung
    there."""
    parts = parts_of(taken(f"{MILL_POND}Chorus\n{talk}\n").chart)
    assert (parts[-1].words, parts[-1].cues) == (parts[1].words, [])
