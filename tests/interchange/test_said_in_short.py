"""What musicians say of a song in few words: how it ends, what is played again, and the chords that
are for all of it.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import MILL_POND, Part, parts_of

_STANZAS = "Verse 1\nmoth on the window pane\nbanging its head again\n\nChorus\ncome in, come in\n"


def _behind(text: str) -> list[Part]:
    """The sections that a line below a small song becomes, after its verse and chorus."""
    return parts_of(taken(f"{MILL_POND}{text}\n").chart)[2:]


@each(
    ("line", "row", "said"),
    [
        ("close on Dm9, long fermata", "Dm9", "long fermata"),
        ("Finir sur F, C (ralentir)", "F C", "ralentir"),
        ("Chiudere su A, D", "A D", ""),
        ("finish on C then G", "C G", ""),
        ("land on G and let it ring", "G", "let it ring"),
        ("Ends on a long C", "C", "long"),
        ("Schluss auf C, dann G", "C G", ""),
    ],
)
def test_a_song_ends_on_the_chords_that_a_sentence_names(line: str, row: str, said: str) -> None:
    """The last line is a section of its own with these chords, whatever verb says so."""
    (end,) = _behind(line)
    assert (end.music, end.words) == (row.split(), "")
    assert said in " ".join(end.cues)


@each(
    ("line", "row"),
    [
        ("Outro: G C G C, last one G", "G C G C G"),
        ("outro G C G C ... last one G", "G C G C G"),
        ("Final: Dm E, terminar em Am", "Dm E Am"),
        ("Outro: G C G C - end on a big G", "G C G C G"),
    ],
)
def test_a_row_ends_on_the_chord_named_behind_it(line: str, row: str) -> None:
    """The chord on which a row ends is its last."""
    (outro,) = _behind(line)
    assert outro.music == row.split()


@each(
    ("line", "times", "said"),
    [
        ("2 x chorus - hushed", 2, "hushed"),
        ("2x chorus, glowing", 2, "glowing"),
        ("Double Chorus, big", 2, "big"),
        ("Chorus again 8va", 1, "8va"),
        ("Chorus again with banjo", 1, "with banjo"),
    ],
)
def test_a_section_is_asked_for_with_a_count_and_a_remark(line: str, times: int, said: str) -> None:
    """A count before a name, or "again" behind it, asks for the section whatever is said of it."""
    (chorus,) = _behind(line)
    assert (chorus.times, chorus.music) == (times, ["C", "G"])
    assert said in " ".join(chorus.cues)


@each(
    "line", ["Break [Am E Am E] 4x, palmas", "Break: (Am E Am E) x4, soft", "Break [Am E Am E] x4"]
)
def test_chords_in_brackets_behind_a_name_are_its_row(line: str) -> None:
    """One pair of brackets behind a section's name holds its chords, in whatever signs."""
    (part,) = _behind(line)
    assert (part.times, part.music, part.words) == (4, ["Am", "E", "Am", "E"], "")


@each(
    "line",
    [
        "Back to the verse, finish: E7 F7 E7 (hit!)",
        "Verse rpt.  Ending = E7 F7 E7 (hit!)",
        "Verse again, ending: E7 F7 E7 (hit!)",
    ],
)
def test_an_ending_behind_a_section_asked_for_is_a_section(line: str) -> None:
    """The section keeps its own music, and the ending follows."""
    verse, end = _behind(line)
    assert (verse.music, end.music) == (["G", "C"], ["E7", "F7", "E7"])
    assert "hit" in " ".join(end.cues)


@each(
    "line",
    [
        "Am F C G throughout",
        "(loop Am F C G for everything)",
        "cały czas: Am F C G",
        "Chords for everything: Am F C G",
        "the whole song is Am F C G round and round",
        "Loop: Am F C G",
    ],
)
@each("below", [False, True])
def test_the_only_chords_are_those_of_every_section(line: str, below: bool) -> None:
    """Chords that stand once, above or below words in named sections, are for all of these."""
    text = f"Moth\n\n{_STANZAS}\n{line}\n" if below else f"Moth\n{line}\n\n{_STANZAS}"
    result = taken(text)
    assert [part.music for part in parts_of(result.chart)] == [["Am", "F", "C", "G"]] * 2
    assert any(one.code == "chords-throughout" for one in result.findings)


@each("line", ["Intro: Am F C G", "Outro: Am F C G", "End on Am, F"])
def test_chords_with_a_name_are_those_of_that_section(line: str) -> None:
    """The only chords of a sheet stay with the section that they name."""
    parts = parts_of(taken(f"Moth\n\n{_STANZAS}\n{line}\n").chart)
    assert [bool(part.music) for part in parts] == [False, False, True]


@each(
    ("again", "said"),
    [("Refr. som förut, mycket svagt", "mycket svagt"), ("Refr. x2, tyst", "tyst"), ("Refr.", "")],
)
def test_a_name_cut_short_is_asked_for_without_an_empty_line(again: str, said: str) -> None:
    """A name cut short, full stop and all, asks for its section right under words too."""
    sheet = "Mås\n\nVers 1\nD      A\nMåsen han sitter\nRefr.\nG     D\nSkrik, min mås\nVers 2\n"
    parts = parts_of(taken(f"{sheet}Katten hon väntar\n{again}\n").chart)
    assert [part.name for part in parts] == ["Vers 1", "Refr.", "Vers 2", "Refr."]
    assert said in " ".join(parts[-1].cues)
    assert "refr" not in parts[2].words


def test_numbers_of_stanzas_as_ordinals() -> None:
    """Ordinals with a colon over stanzas number the verses; a refrain asked for after each stands
    behind every one."""
    sheet = (
        "Ferry\n\nFirst:\nG      C\nThe ferry leaves\n\nSecond:\nThe cat sits down\n\n"
        "Chorus after each:\nC   G\nOver and home\n"
    )
    names = [part.name for part in parts_of(taken(sheet).chart)]
    assert names == ["1.", "Chorus", "2.", "Chorus"]


@each(
    ("head", "title", "key", "writer"),
    [
        ("LANTERNS (key of C) by Florrie Quance", "LANTERNS", "C major", "Florrie Quance"),
        ("CHALK & CHEESE in key C", "CHALK & CHEESE", "C major", ""),
        ("Cartas\nTono: C    Letra y música: Ana Quiles", "Cartas", "C major", "Ana Quiles"),
        ("ok typed it out for u x\nmoth song - key C", "moth song", "C major", ""),
    ],
)
def test_settings_and_writers_beside_a_title(head: str, title: str, key: str, writer: str) -> None:
    """What stands behind a title is taken from it, also with a writer behind that."""
    chart = taken(f"{head}\n\nVerse\nC     G\nmoth on the pane\n").chart
    assert [chart.text(name) for name in ("title", "key", "writer")] == [title, key, writer]
