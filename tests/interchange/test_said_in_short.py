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


@each(
    ("head", "title", "key", "capo", "tempo"),
    [
        ("MILL POND capo 3", "MILL POND", "", 3, None),
        ("Mill Pond 120bpm", "Mill Pond", "", None, 120),
        ("MILL POND - C, easy swing", "MILL POND", "C major", None, None),
        ("Mill Pond - C\n(Nan Fairbrother)", "Mill Pond", "C major", None, None),
        ("set 2, no. 4\nMill Pond", "Mill Pond", "", None, None),
    ],
)
def test_settings_right_behind_a_title(
    head: str, title: str, key: str, capo: int | None, tempo: int | None
) -> None:
    """A capo, a tempo or a key behind the words of a title is none of them, and no writer."""
    chart = taken(f"{head}\n\nVerse\nC     G\nmoth on the pane\n").chart
    assert [chart.text(name) for name in ("title", "key")] == [title, key]
    assert chart.text("capo") == (str(capo) if capo else "")
    assert chart.text("tempo") == (str(tempo) if tempo else "")
    assert chart.text("writer") in ("", "Nan Fairbrother")


@each(
    ("line", "name", "row", "said"),
    [
        ("Gtr intro alone  E  A  E  B7", "Gtr intro", "E A E B7", "alone"),
        ("Intro: just steel over A E B7 E", "Intro", "A E B7 E", "just steel"),
        ("OUTRO - strip to piano G#m E B F# ... end on B", "OUTRO", "G#m E B F# B", "piano"),
        ("End: last chord ringing (G6)", "End", "G6", "ringing"),
        ("* FINAL CHORD: Dm, lid closed", "FINAL CHORD", "Dm", "lid closed"),
        ("Final chord G with a big rall", "Final chord", "G", "big rall"),
    ],
)
def test_what_is_said_before_the_chords_of_a_section(
    line: str, name: str, row: str, said: str
) -> None:
    """Words between a section's name and its chords are a cue, and the chords are played."""
    (part,) = _behind(line)
    assert (part.name, part.music, part.words) == (name, row.split(), "")
    assert said in " ".join(part.cues)


@each("said", ["x2", "(x3)", "(twice)"])
def test_counts_behind_words_without_chords(said: str) -> None:
    """How often a line is sung is a cue where the line has no chords above it."""
    sheet = f"Mill\n\nVerse 1\nG    C\nunder the mill\n\nVerse 2\nover the wheel {said}\n"
    part = parts_of(taken(sheet).chart)[1]
    assert part.words == "overthewheel"
    assert said.strip("()") in " ".join(part.cues)


def test_a_letter_is_a_name_among_initials() -> None:
    """A letter alone over chords is a section where the sheet's other names are initials."""
    sheet = (
        "Mill\n\nV1\nAb   Db\nunder the mill\n\nB\nDb   Dbm\nround and round\n\nV2\nover the hill\n"
        "\nPno solo on V1, 1x\nB tutti\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [part.name for part in parts] == ["V1", "B", "V2", "Pno solo", "B"]
    assert parts[-1].cues == ["tutti"]


@each(
    ("head", "title"),
    [
        ("Compadres: esta va de tercera el sábado\nEL CANGREJO", "EL CANGREJO"),
        ("Moi! Tässä uusi biisi\nSAUNAN TAKANA", "SAUNAN TAKANA"),
        ("BOOK NO. 44    THE HAT-CHECK GIRL    KEY C    FOXTROT", "THE HAT-CHECK GIRL"),
        ("[PLASTIC ORCHARD]\nbpm 118 / C", "PLASTIC ORCHARD"),
        (
            "Hi Raff, chart as promised. It sits better so.\n\nGLASSHOUSE\nI: C G/B Am F",
            "GLASSHOUSE",
        ),
    ],
)
def test_titles_among_other_lines(head: str, title: str) -> None:
    """A sentence to the band, a book or brackets do not hide the title below or behind them."""
    chart = taken(f"{head}\nVerse 1\nC     G\nmoth on the pane\n").chart
    assert chart.text("title") == title


@each("label", ["Ablauf", "Form", "Order"])
@each("end", ["", "End: D E A\n"])
def test_an_order_of_letters_is_no_row_of_chords(label: str, end: str) -> None:
    """Letters behind the label of an order name the parts of the sheet."""
    sheet = "Mill\n\nPart A\nA   D\nunder the mill\n\nPart B\nD  A\nround and round\n\n"
    parts = parts_of(taken(f"{sheet}{label}: A B A B A\n{end}").chart)
    names = ["Part A", "Part B", "Part A", "Part B", "Part A"]
    assert [part.name for part in parts] == names + ["End"] * bool(end)


@each(("line", "music"), [("Ending: hold C, pads swell", ["C"]), ("Outro: sit on G, fade", ["G"])])
def test_a_chord_that_is_held_at_the_end(line: str, music: list[str]) -> None:
    """What a band stays on at the end is played."""
    (part,) = _behind(line)
    assert part.music == music


def test_a_paragraph_between_sections_is_no_verse() -> None:
    """Sentences that end within a line are said to the band, where each other block has a name."""
    sheet = (
        "Fridge\n\nVs. 1\nBb    G7\nI came down for milk\n\nAt this point Sid tells the tale. "
        "Keep\ngoing round quietly, and watch him.\n\nChor.\nEb   F\nmoonlight on the fridge\n"
    )
    verse, chorus = parts_of(taken(sheet).chart)
    assert (verse.words, chorus.words) == ("icamedownformilk", "moonlightonthefridge")
    assert "Sid tells the tale" in " ".join(verse.cues)


@each("line", ["Solo - 12 bar in E, 2 x round", "Solo - 12 bar in A"])
def test_a_blues_in_a_key_has_no_chord(line: str) -> None:
    """Bars counted in a key name that key, no chord to be played."""
    (solo,) = _behind(line)
    assert solo.music == []


@each("name", ["Verse grid", "Verse grid, all verses", "Verse chords, all verses"])
def test_a_grid_for_all_verses(name: str) -> None:
    """Bars under the name of their kind are those of each verse with words alone."""
    sheet = f"Mill\n\n{name}:\n| G | C |\n\nVerse 1\nunder the mill\n\nVerse 2\nover the hill\n"
    parts = parts_of(taken(sheet).chart)
    assert [(part.name, part.music) for part in parts] == [
        ("Verse 1", ["|", "G", "|", "C"]),
        ("Verse 2", ["|", "G", "|", "C"]),
    ]


def test_a_letter_in_brackets_goes_on() -> None:
    """A letter that follows on those above is a section, also with a remark behind it."""
    sheet = (
        "Tea\n\n[A]\nG    D\nunder the mill\n\n[B]\nD    G\nround and round\n\n[C] cello joins\n"
        "Em   D\nhere's to the leaves\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [part.name for part in parts] == ["A", "B", "C"]
    assert parts[-1].cues == ["cello joins"]
    behind = (
        "Tea\n\nIntro: Am  G\n\n[A]\nunder the mill    G  D\n\n[B]\nround and round    D  G\n\n"
        "[C] cello joins here\nhere's to the leaves    Em  D\n"
    )
    parts = parts_of(taken(behind).chart)
    assert [part.name for part in parts] == ["Intro", "A", "B", "C"]
    assert parts[-1].cues == ["cello joins here"]


@each(
    ("below", "said"),
    [
        ("(no bass until here)", True),
        ("(box only till here)", True),
        ("(softly)", True),
        ("(bis hier nur Akkordeon)", True),
        ("(ooh, ooh)", False),
        ("(the river knows my name)", False),
        ("(take me home)", False),
    ],
)
def test_said_below_words_under_bars(below: str, said: bool) -> None:
    """A last line in parentheses below words under bars is said or sung by its words."""
    sheet = (
        "Waltz\n\nA\n| D | D | A7 | A7 |\nKitty came down in her Sunday best\n"
        f"| A7 | A7 | D | D |\nfeather and ribbon and all of the rest\n{below}\n\n"
        "B\n| G | G | D | D |\nRound and round the polished floor\n"
    )
    part, *_ = parts_of(taken(sheet).chart)
    assert part.cues == ([below.strip("()")] if said else [])


@each(
    ("line", "names"),
    [
        ("Solo 16 compassos", ["Solo"]),
        ("Solo 16 taktów gitara", ["Solo"]),
        ("Wdh. Str. 1, Ende: A7 D7", ["Strophe 1", "Ende"]),
        ("Refrain deux fois puis fin sur Do", ["Refrain", "fin"]),
    ],
)
def test_lines_of_form_in_other_languages(line: str, names: list[str]) -> None:
    """Counts of bars, names cut short with their number, and notes by their syllables."""
    sheet = "Lied\n\nStrophe 1\nG   C\nunter der Mühle\n\nRefrain\nC   G\nrund und rund\n\n"
    parts = parts_of(taken(f"{sheet}{line}\n").chart)[2:]
    assert [part.name for part in parts] == names
    assert parts[-1].music in ([], ["A7", "D7"], ["C"])


@each("head", ['"Mill Pond" (Ina Quill) - C', "Mill Pond (Ina Quill) - C", "Mill Pond: C, slow"])
def test_a_key_behind_a_title(head: str) -> None:
    """A key behind a dash or a colon is none of the title, and no chord to be played."""
    result = taken(f"{head}\n\nVerse\nC     G\nmoth on the pane\n")
    assert (result.chart.text("title"), result.chart.text("key")) == ("Mill Pond", "C major")
    assert len(parts_of(result.chart)) == 1


@each(
    ("line", "names"),
    [
        ("Solo guitar (Em D C B7) x4\nChorus, very soft", ["Solo", "Chorus"]),
        ("Dance break (G D D G) x2", ["Dance break"]),
        ("Whistel solo", ["Whistel solo"]),
        ("Chorus\nHumming, same chords as verse\nChorus, softer", ["Chorus", "Humming", "Chorus"]),
        ("Chorus, dub it out", ["Chorus"]),
    ],
)
def test_sections_one_after_another(line: str, names: list[str]) -> None:
    """Lines below each other each ask for their section, whatever stands behind the names."""
    parts = _behind(line)
    assert [part.name for part in parts] == names
    assert not any(part.words for part in parts if part.name != "Chorus")


def test_letters_asked_for_below_other_sections() -> None:
    """A letter below a solo is the part, no chord, and may have a count and a remark."""
    sheet = "Mill\n\nA\n| Em | Am |\n\nB\n| G | D |\n\nA again\nSolo 16 bars pno\nB\nA, rit.\n"
    names = [part.name for part in parts_of(taken(sheet).chart)]
    assert names == ["A", "B", "A", "Solo", "B", "A"]


def test_the_only_line_apart_that_is_no_known_name() -> None:
    """A word alone over chords is a name where every other line that stands apart is one."""
    sheet = (
        "Mill\n\nV1\nG   C\nunder the mill\n\nB-sec\nBm   D\nhandle it\n\nCho.\nC   G\nround\n"
        "\nV2\nover the hill\n\nB-sec same\nCho. 2x\n"
    )
    names = [part.name for part in parts_of(taken(sheet).chart)]
    assert names == ["V1", "B-sec", "Cho.", "V2", "B-sec", "Cho."]


@each("title", ["EVENING AT THE WELL", "Evening at the Well"])
def test_a_title_that_could_greet(title: str) -> None:
    """What could be a greeting is the title where settings stand behind it, also after a gap."""
    chart = taken(f"{title}  - key C\n\nVerse\nC     G\nmoth on the pane\n").chart
    assert (chart.text("title"), chart.text("key")) == (title, "C major")


@each("manner", ["very fast", "very loud", "quiet"])
def test_a_manner_behind_a_repeat_is_no_section(manner: str) -> None:
    """A word that holds a short name ("very" begins as "ver." does) names no section."""
    sheet = (
        "Bell\n\n1st Verse\nF     C\nring your bell\n\n1st Chorus\nC     F\nring my bell\n\n"
        f"Rep 1st Chorus, {manner}\n"
    )
    *_, last = parts_of(taken(sheet).chart)
    assert (last.name, last.cues) == ("1st Chorus", [manner])
