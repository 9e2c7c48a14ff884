"""Whole songs of bands with something said at every section: names with a remark before their
chords, what is said right under the last name, titles between signs."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import Part, parts_of

_SHORTHAND = """Cheap Lanterns
Fm, 112

V1 (bass in): Fm7 Fm7 Bb7 Bb7 x4
CH: Fm7 Bb7 Eb Ab
{line}
CH x3
"""
_SONG = """Barn Lights
Key: A

Intro{intro}
| A | D | A | E |

Verse 1
A             D
The owls of the valley have gone out on strike
E                   A
They lay down their feathers and sleep when they like

Chorus{chorus}
D            A
Who, said the one with the moon on her head
E               A
We'll not be working till the farmer is fed

"""


def _sections(text: str) -> list[Part]:
    return parts_of(taken(text).chart)


@each(
    "line, name, said",
    [
        ("BRKDN - drums + vox, crowd claps: Fm7 Bb7 x8", "BRKDN", "drums + vox, crowd claps"),
        ("Brk (drums + vox, crowd claps): Fm7 Bb7 x8", "Brk", "drums + vox, crowd claps"),
        ("Drop - half time, no bass: Fm7 Bb7 x8", "Drop", "half time, no bass"),
        ("Big gap, drums only: Fm7 Bb7 x8", "Big gap", "drums only"),
        ("Dub section (drums & bass): Fm7 Bb7 x8", "Dub section", "drums & bass"),
        ("Solo section: Fm7 Bb7 x8", "Solo section", ""),
    ],
)
def test_a_name_with_a_remark_before_its_chords(line: str, name: str, said: str) -> None:
    """The name, known or not, has the chords behind the colon, and the remark is its cue."""
    part = _sections(_SHORTHAND.format(line=line))[2]
    assert (part.name, part.times, part.music) == (name, 8, ["Fm7", "Bb7"])
    assert part.cues == ([said] if said else [])


@each("line", ["Strum - down, up: Fm7 Bb7", "Last chords, slowly: Fm7 Bb7", "Capo 1, shapes: Em A"])
def test_words_about_chords_are_no_name(line: str) -> None:
    """What is said of chords before a colon names no section."""
    names = [part.name for part in _sections(_SHORTHAND.format(line=line))]
    assert not {"Strum", "Capo", "Last chords"} & {*names}


@each(
    "intro",
    [
        " - gtr riff alone, you come in bar 3",
        " - sax solo, all in at bar 5",
        ": guitar riff, then all",
    ],
)
def test_what_is_played_in_the_intro(intro: str) -> None:
    """A riff or a solo behind a dash is what is played in the intro, and no section of its own."""
    first = _sections(_SONG.format(intro=intro, chorus=""))[0]
    assert (first.name, first.cues) == ("Intro", [intro.strip(" -:")])
    assert first.music.count("A") == 2


@each("said", ["tacet for the first line, voice alone", "tacet, drums in bar 3", "N.C. first line"])
def test_silence_of_some_bars_in_a_remark(said: str) -> None:
    """A silence that is said of a section with chords is a cue, and no bar of its own."""
    chorus = _sections(_SONG.format(intro="", chorus=f" ({said})"))[2]
    assert chorus.music == ["D", "A", "E", "A"]
    assert chorus.cues == [said]


@each(
    "said",
    [
        "long last note for the bow",
        "we end together, look at me",
        "on finit ensemble, regardez-moi",
        "arrêt net, tout le monde lève la main",
        "hold it till Fergus drops his arm",
    ],
)
def test_what_is_said_right_under_the_last_name(said: str) -> None:
    """It is for the players: a sheet says farewell apart from its song."""
    last = _sections(_SONG.format(intro="", chorus="") + f"Verse 1\nChorus x2\n{said}\n")[-1]
    assert (last.name, last.times, last.cues) == ("Chorus", 2, [said])
    talk = _SONG.format(intro="", chorus="") + "Verse 1\nChorus x2\nsee you thursday at the hall\n"
    assert _sections(talk)[-1].cues == []


def test_even_faster_in_french() -> None:
    """ "Encore" before "plus" says how fast, and not that it is played again."""
    sheet = _SONG.format(intro="", chorus="").replace("Chorus", "Refrain")
    again = _sections(sheet + "Refrain - encore plus vite !\n")[-1]
    assert again.cues == ["encore plus vite !"]
    assert _sections(sheet + "Refrain - encore, plus vite !\n")[-1].cues == ["plus vite !"]


@each(
    "line",
    [
        "* BARN LIGHTS *  - Fm, 112, disco",
        "*** Barn Lights *** Fm, 112",
        "= Barn Lights = Fm, 112 bpm",
    ],
)
def test_a_title_between_signs_and_settings(line: str) -> None:
    """The signs are no part of the title."""
    chart = taken(f"{line}\n\nVerse\nFm7  Bb7\nOwls on the gate\n").chart
    assert chart.text("title").casefold() == "barn lights"
    assert (chart.text("key"), chart.text("tempo")) == ("F minor", "112")


def test_the_rhythm_that_ends_a_tune() -> None:
    """Bands call it by words that nobody sings."""
    sheet = _SONG.format(intro="", chorus="") + "Tag 2x: D E A\nShave and a haircut, out\n"
    tag = _sections(sheet)[-1]
    assert (tag.words, tag.cues) == ("", ["Shave and a haircut, out"])


@each(
    "said, sung",
    [
        ("I stop, you stop, nobody breathes, then on", ""),
        ("Watch me here", ""),
        ("Who, said the one...", ""),
        ("Oh the moon on her head, she is fed, she is fed", "ohthemoononherheadsheisfedsheisfed"),
    ],
)
def test_a_line_right_under_a_name_that_comes_again(said: str, sung: str) -> None:
    """A line alone that has none of the words known under its name is said to the players; the
    refrain keeps its words there and where it comes again."""
    sheet = _SONG.format(intro="", chorus="") + f"Verse 1\nChorus\n{said}\n\nVerse 1\n\nChorus\n"
    parts = _sections(sheet)
    assert parts[4].words == (sung or parts[2].words)
    assert parts[4].cues == ([] if sung else [said])


@each(
    "said", ["Button on the last note", "sting with the cymbal", "Tag the last line if they clap"]
)
def test_sentences_that_begin_with_a_name(said: str) -> None:
    """They say how the section above ends, and name none of their own that has no music."""
    last = _sections(_SONG.format(intro="", chorus="") + f"Chorus\n{said}\n")[-1]
    assert (last.name, last.cues) == ("Chorus", [said])


@each("said", ["Essen gibt es um acht!", "Load-in is at eight", "On commence à huit heures"])
def test_hours_in_words_right_under_the_last_name(said: str) -> None:
    """What names an hour of the day is neither sung nor played."""
    result = taken(_SONG.format(intro="", chorus="") + f"Chorus\n{said}\n")
    last = parts_of(result.chart)[-1]
    assert (last.name, last.cues) == ("Chorus", [])
    assert any(one.code == "letter" for one in result.findings)


def test_small_letters_behind_colons_as_at_the_other_names() -> None:
    """Where they stand over chords at other names, so that nobody sings them, they are said over
    words alone too."""
    sheet = _SONG.format(intro=": fiddle alone", chorus=": all, loud")
    sheet += "Verse 2: talk it, dont sing\nThe cats of the valley\nThey lay down to dream\n"
    last = _sections(sheet.replace("Verse 1", "Verse 1: guitar only"))[-1]
    assert last.words == "thecatsofthevalleytheylaydowntodream"
    assert (last.cues, last.music) == (["talk it, dont sing"], ["A", "D", "E", "A"])


@each(
    "row, times, said",
    [
        ("Fm7 / Bb7 / Eb / Ab  x2  (keys pad)", 2, "keys pad"),
        ("Fm7 / Bb7 / Eb / Ab  (keys pad)", 1, "keys pad"),
        ("Fm7 / Bb7 / Eb / Ab  x2, no drums first time", 2, "no drums first time"),
    ],
)
def test_slashes_a_count_and_a_remark(row: str, times: int, said: str) -> None:
    """What stands behind the last chord is no second chord of its bar."""
    sheet = f"Cheap Lanterns\nKey Fm\n\nV1: {row}\nCh: Ab / Eb / Fm7 / Bb7  x2\nV1\nCh\n"
    first = _sections(sheet)[0]
    assert (first.times, first.cues) == (times, [said])
    assert first.music == ["Fm7", "Bb7", "Eb", "Ab"]


def test_numbers_before_names_with_remarks() -> None:
    """A number before the name of a section is part of that name, whatever stands behind it."""
    sheet = "Am Zaun\n\n"
    for at, who in enumerate(["Vroni singt", "Sepp singt, Vroni jodelt"], 1):
        sheet += f"{at}. Strophe - {who}\nF   C7\nBeim Wirt in der Stubn\n\n"
        sheet += "Refrain - alle\nBb   F\nHolladri, holladi jo\n\n"
    assert [(part.name, part.cues) for part in _sections(sheet)[::2]] == [
        ("1. Strophe", ["Vroni singt"]),
        ("2. Strophe", ["Sepp singt, Vroni jodelt"]),
    ]


@each("said", ["suits, no jeans", "black shirts, parking behind the hall"])
def test_talk_below_a_song_without_words_names_no_refrain(said: str) -> None:
    """A line alone is not its own first words, by which a refrain would be asked for."""
    sheet = _SHORTHAND.format(line="Out: Fm7 Bb7") + f"\n{said}\n"
    assert [part.name for part in _sections(sheet)] == ["V1", "CH", "Out", "CH"]


def test_a_count_behind_a_name_of_its_own_in_brackets() -> None:
    """The count in what is said behind the name is the section's."""
    sheet = _SONG.format(intro="", chorus="").replace("Verse 1", "[Verse 1]")
    sheet = sheet.replace("Chorus", "[Chorus]") + "[Dance] banjo out front, 2x\n| E | A |\n"
    last = _sections(sheet)[-1]
    assert (last.name, last.times, last.cues) == ("Dance", 2, ["banjo out front"])


def test_capitals_behind_colons() -> None:
    """In a sheet whose remarks are in capitals they are no words, whatever stands below."""
    sheet = _SONG.format(intro=": ALL", chorus=": LOUD").replace("Verse 1", "Verse 1: GUITAR ONLY")
    parts = _sections(sheet + "Chorus: SING IT TO THEM\nChorus: LET THEM SING IT\nBLACKOUT NOW!\n")
    assert [part.cues for part in parts[3:]] == [
        ["SING IT TO THEM"],
        ["LET THEM SING IT", "BLACKOUT NOW!"],
    ]
    assert parts[3].words == parts[4].words == parts[2].words


@each(
    "said",
    [" - as intro, but end on D", "  // as intro, end on the D", " - like the intro but end on D"],
)
def test_how_a_section_with_its_own_chords_ends(said: str) -> None:
    """What is said before the chords of a section adds none to them."""
    last = _sections(_SONG.format(intro="", chorus="") + f"Outro{said}\n| A | E | D |\n")[-1]
    assert (last.name, last.cues) == ("Outro", [said.strip(" -/")])
    assert [one for one in last.music if one != "|"] == ["A", "E", "D"]


def test_verses_called_after_who_sings_them() -> None:
    """Words alone have the music of the last section whose name ends with the same word."""
    sheet = _SONG.format(intro="", chorus="").replace("Verse 1", "Pupils verse")
    sheet = sheet.replace("Chorus", "Everybody chorus (wave)") + "Staff verse (all of you)\n"
    sheet += "The cats of the valley have gone out to sea\nThey lay down their oars in a tree\n\n"
    verse = _sections(f"{sheet}Everybody chorus\n")[3]
    assert (verse.name, verse.music) == ("Staff verse", ["A", "D", "E", "A"])
    assert verse.cues == ["all of you"]
