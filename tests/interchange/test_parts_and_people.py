"""Sections that nobody's list has: parts named by what is done there, and sections named after who
sings or plays them; and what is said of a section that is no section itself.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import Part, names_of_parts, parts_of

_SONG = """Mill Pond
{head}
Verse 1
G             C
Under the mill the water turns
D             G
And every wheel is slow{behind}

Chorus
C             G
Turn around and turn again

Verse 2
Over the mill the swallows fly
And every one is low

{foot}
"""


def _parts(foot: str = "", head: str = "", behind: str = "") -> list[Part]:
    return parts_of(taken(_SONG.format(foot=foot, head=head, behind=behind)).chart)


def _below(foot: str) -> list[Part]:
    return _parts(foot)[3:]


@each(
    ("line", "name", "said"),
    [
        ("Drum bit", "Drum bit", ""),
        ("Whistle bit", "Whistle bit", ""),
        ("Dub section: bass + drums 16 bars", "Dub section", "bass + drums 16 bars"),
        ("Dance break 32 bars, strings only", "Dance break", "32 bars, strings only"),
        ("Dance section (32 bars)", "Dance section", "32 bars"),
        ("Conga break: 8 bars", "Conga break", "8 bars"),
        ("Trommelteil: 8 Takte", "Trommelteil", "8 Takte"),
        ("Trumdel 8 takter", "Trumdel", "8 takter"),
        ("Partie batterie", "Partie batterie", ""),
        ("Parte de palmas, 8 compases", "Parte de palmas", "8 compases"),
        ("Partia bębnów", "Partia bębnów", ""),
    ],
)
def test_a_part_between_sections(line: str, name: str, said: str) -> None:
    """A line between two sections that says it is a part is one, with no music that is known; it is
    no words of the section above, close to it or apart."""
    for gap in ("\n", "\n\n"):
        above, part, below = _below(f"Chorus{gap}{line}{gap}Chorus")
        assert (part.name, part.music, part.words, " ".join(part.cues)) == (name, [], "", said)
        assert above.words == below.words == "turnaroundandturnagain"
    assert _below(f"Chorus\n{name} x2\nChorus")[1].times == 2


@each("line", ["Every little bit", "For the best part", "The hardest part"])
def test_words_that_end_as_parts_do(line: str) -> None:
    """Words of a song that end so name no section."""
    assert names_of_parts(_SONG.format(foot=f"Tag\n{line}", head="", behind=""))[3:] == ["Tag"]


@each(
    "line",
    [
        "Ffidil: G C D G, twice",
        "Ffidil: G C D G twice",
        "Ffidil: G C D G (x2)",
        "Gaita: G C D G, dos veces",
        "Dudelsack: G C D G, zweimal",
        "Fiddle - G C D G, twice",
        "Clap bit: G C D G, x2",
    ],
)
def test_any_name_before_chords_that_are_counted(line: str) -> None:
    """A name before its chords is a section of its own between the names of two others, however its
    count is typed, and takes neither music nor words from these."""
    above, part, below = _below(f"Chorus\n{line}\nChorus")
    assert (part.times, part.music, part.cues) == (2, ["G", "C", "D", "G"], [])
    assert part.name == line.partition(":")[0].partition(" - ")[0]
    assert above.words == below.words == "turnaroundandturnagain"


@each("name", ["rif intro", "riff intro", "intor", "Kazoo intro", "quiet intro"])
def test_a_name_right_before_chords(name: str) -> None:
    """A name that has a word or a slip more than a known one stands before its chords without a
    sign."""
    intro = _parts(head=f"{name} Em  G  A  C  x4 bass joins 3rd time\n")[0]
    assert (intro.name, intro.times, intro.music) == (name, 4, ["Em", "G", "A", "C"])
    assert intro.cues == ["bass joins 3rd time"]


@each(
    "heading",
    ["BOSUN'S VERSE", "Bosun's verse 3", "Bosun’s Verse:", "Girls' verse 3", "The Cook's Verse 3"],
)
def test_a_section_named_after_who_sings_it(heading: str) -> None:
    """A verse of somebody's is a verse: its words get the chords of one."""
    verse, chorus = _below(
        f"{heading}\nHere is the bosun with his pipe\nAnd here his wife\n\nChorus"
    )
    assert verse.name == heading.rstrip(":")
    assert verse.music == ["G", "C", "D", "G"]
    assert verse.words == "hereisthebosunwithhispipeandherehiswife"
    assert chorus.name == "Chorus"


def test_two_singers_have_a_chorus_each() -> None:
    """Sections of two people that are asked for again are each their own."""
    own = "Girls' chorus\nC G\nHere is she\n\nBoys' chorus\nC G\nHere is he\n\n"
    again = _below(f"{own}Boys' chorus\nGirls' chorus (loud)")[2:]
    assert [(one.name, one.words) for one in again] == [
        ("Boys' chorus", "hereishe"),
        ("Girls' chorus", "hereisshe"),
    ]


@each(
    "said",
    ["no vocal, drums fill", "no singing, horn hits", "soft, guitar fill", "sin voz, bass run"],
)
def test_what_a_player_adds_is_no_section(said: str) -> None:
    """What one player adds to a section is said of it."""
    one, following = _below(f"Chorus, {said}\nVerse 1")
    assert (one.name, ", ".join(one.cues) if one.cues else one.name) == ("Chorus", said)
    assert following.name == "Verse 1"


@each("said", ["button", "sting", "big finish", "drum fill", "tag"])
def test_how_the_last_chord_is_struck(said: str) -> None:
    """A name behind the last chord of a song says how that is struck."""
    for line in (f"Chorus\nEnd on G, {said}", f"Chorus, end on G, {said}"):
        chorus, end = _below(line)
        assert (chorus.name, end.name.casefold(), end.music) == ("Chorus", "end", ["G"])
        assert end.cues == [said]


@each(
    "line",
    [
        "Instrumental: free, drums cue the end",
        "Solo (free)",
        "Solo: libre",
        "Drum solo",
        "Solo: Schlagzeug allein",
        "Solo (palmas)",
        "Instrumental: claps only",
        "Instrumental: noise, no chords",
    ],
)
def test_a_solo_without_chords(line: str) -> None:
    """A solo that is free, or of drums and hands alone, has not the chords of the verse."""
    assert _below(f"Chorus\n{line}\nChorus")[1].music == []
    assert _below("Chorus\nSolo (guitar, drums)\nChorus")[1].music == ["G", "C", "D", "G"]


def test_chords_typed_again_beside_a_name() -> None:
    """A section whose name comes again with the same chords on its line and no words is that one,
    words and all; its count is of that time alone.  With other chords it is another."""
    song = "Mill\n\nChorus (C G)\nTurn around\nand turn again\n\nVerse (D A)\nUnder the mill\n\n"
    for line, words in (("Chorus (C G) x2", "turnaroundandturnagain"), ("Chorus (C D) x2", "")):
        again, last = parts_of(taken(f"{song}{line}\n\nChorus, loud\n").chart)[2:]
        assert (again.words, again.times) == (words, 2)
        assert last.name == "Chorus"
    first = parts_of(taken(f"{song}Chorus (C G) x2\n\nChorus, loud\n").chart)[-1]
    assert (first.words, first.times) == ("turnaroundandturnagain", 1)


@each(
    "line",
    [
        "(2nd V2: rubato, lights down)",
        "2nd V2: rubato, lights down",
        "second V2 - rubato, lights down",
        "* 2nd V2: rubato, lights down",
        "(2ª V2: rubato, lights down)",
        "(zweites V2: rubato, lights down)",
    ],
)
def test_one_time_of_an_order(line: str) -> None:
    """What is said below the song of one of the times of a section is a cue of that time, and
    leaves the order above as it is."""
    song = "Mill\n\nForm: V1 Ch V2 Ch V2 Ch\n\nV1\nG C\nUnder the mill\n\nCh\nC G\nTurn around\n\n"
    parts = parts_of(taken(f"{song}V2\nG C\nOver the mill\n\n{line}\n").chart)
    assert [one.name for one in parts] == ["V1", "Ch", "V2", "Ch", "V2", "Ch"]
    assert [bool(one.cues) for one in parts] == [False] * 4 + [True, False]
    assert "rubato, lights down" in parts[4].cues[0]


def test_what_is_said_behind_chords_is_one_remark() -> None:
    """Clauses behind the chord of a section stay together."""
    part = _below("Chorus\nBreak: Em7 alone, 8 bars, talk to the people\nChorus")[1]
    assert (part.music, part.cues) == (["Em7"], ["alone, 8 bars, talk to the people"])


@each("moves", ["stamp, stamp", "clap clap", "stomp stomp clap", "klatsch, klatsch", "palmas"])
def test_what_hands_and_feet_do_is_not_sung(moves: str) -> None:
    """What hands and feet do in signs behind words is a cue; what a choir answers is sung."""
    for gap in (" ", "      "):
        assert _parts(behind=f"{gap}({moves})")[0].cues == [moves]
    assert _parts(behind="      (ooh, ooh)")[0].words.endswith("oohooh")


@each("role", ["words", "music", "tune", "Text", "paroles", "letra", "lyrics"])
def test_one_writer_behind_a_role(role: str) -> None:
    """A role and a name in parentheses beside or under a title are the writer; in a title without
    them the same words are its own."""
    for gap in ("   ", "\n") if role.islower() else ("   ",):
        chart = taken(
            _SONG.format(head="", behind="", foot="").replace(
                "Mill Pond", f"Mill Pond{gap}({role} Ike Tamsin)", 1
            )
        ).chart
        assert (chart.text("title"), chart.text("writer")) == ("Mill Pond", "Ike Tamsin")
    assert (
        taken(
            _SONG.format(head="", behind="", foot="").replace("Mill Pond", "Music Box Lane", 1)
        ).chart.text("writer")
        == ""
    )


@each(
    ("line", "name", "said"),
    [
        ("Guitar solo, Ed", "Guitar solo", "Ed"),
        ("Solo Ed", "Solo", "Ed"),
        ("Solo: the whole gang", "Solo", "the whole gang"),
        ("Solo libre, Paco", "Solo", "libre, Paco"),
        ("Interlude, kazoos and laughing", "Interlude", "kazoos and laughing"),
        ("Zwischenspiel, Marlies", "Zwischenspiel", "Marlies"),
    ],
)
def test_what_only_the_band_plays(line: str, name: str, said: str) -> None:
    """A section of the band's between two others is one, whatever is said of it."""
    part = _below(f"Chorus\n{line}\nChorus")[1]
    assert (part.name, part.words, part.cues) == (name, "", [said])


@each("said", ["instr.", "(instr.)", "inst.", "- instrum."])
def test_instrumental_cut_short(said: str) -> None:
    """A verse that is only played has no words, also where the word for it is cut short."""
    one = _below(f"Verse 1 {said}\nChorus")[0]
    assert (one.name, one.music, one.words) == ("Verse 1", ["G", "C", "D", "G"], "")


@each(
    "said",
    [
        ">> straight on",
        "> straight on",
        "-> straight on",
        "=> straight on",
        "!! straight on",
        "^ straight on",
        "** straight on",
        "@ straight on",
        "; straight on",
        "• straight on",
        "<straight on>",
        "{straight on}",
        "[straight on]",
    ],
)
def test_signs_that_no_words_have(said: str) -> None:
    """What stands far behind words and an arrow, or in brackets in which nobody writes an echo, is
    a cue; what a choir answers and what is sung in the song stay words in brackets too."""
    verse = _parts(behind=f"   {said}")[0]
    assert (verse.cues, verse.words) == (["straight on"], _parts()[0].words)
    for sung in ("[every wheel]", "[ooh ooh]"):
        assert _parts(behind=f"   {sung}")[0].cues == []


@each(
    ("line", "said"),
    [
        ("gtr only: C G C G", "gtr only"),
        ("2nd guitar: C G C G", "2nd guitar"),
        ("Nuala on fiddle: C G C G", "Nuala on fiddle"),
        ("everyone: | C | G | C | G |", "everyone"),
        ("el. piano | C | G | C | G |", "el. piano"),
        ("fiddle + banjo C G C G", "fiddle + banjo"),
    ],
)
def test_a_player_before_the_row_of_a_section(line: str, said: str) -> None:
    """Who plays the row right under a section's name is a cue, and no section of its own."""
    first = parts_of(taken(f"Mill Pond\n\nIntro\n{line}\n{_VERSE}").chart)[0]
    assert (first.name, first.cues, [c for c in first.music if c != "|"]) == (
        "Intro",
        [said],
        ["C", "G", "C", "G"],
    )


@each(
    ("rows", "said"),
    [
        ("C G C G\nfiddle joins: C G C G", "fiddle joins"),
        ("gtr: C G C G\nbass: C G C G", "gtr bass"),
        ("gtr riff: C G C G\nC G C G", "gtr riff"),
    ],
)
def test_players_before_rows_of_one_section(rows: str, said: str) -> None:
    """Each row of a section may have its player, or tell what figure it is."""
    first, *others = parts_of(taken(f"Mill Pond\n\nIntro\n{rows}\n{_VERSE}").chart)
    assert (first.music, " ".join(first.cues)) == (["C", "G", "C", "G"] * 2, said)
    assert [part.name for part in others] == ["Verse"]


def test_a_fill_is_no_section() -> None:
    """What somebody plays between lines of words is a cue of the section above."""
    parts = _parts(behind="\ngtr fill")
    assert [part.name for part in parts] == ["Verse 1", "Chorus", "Verse 2"]
    assert parts[0].cues == ["gtr fill"]


def test_a_player_under_a_section_asked_for_again() -> None:
    """Under a section that has its chords above, a row with a name of its own is one more."""
    foot = "Chorus\nFiddle: G C D G"
    assert [part.name for part in _below(foot)] == ["Chorus", "Fiddle"]


_VERSE = "\nVerse\nG             C\nUnder the mill the water turns\n"
