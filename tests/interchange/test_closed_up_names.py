"""Names of sections, and lines that ask for such sections again, in sheets without empty lines
between sections, as they are typed on telephones.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_VERSE = "G        C\nHolla mento risa\nD        G\nvento rollo bisa\n"
_SUNG = "Under kettles on the hill\nevery spoon is lying still\n"


@each(
    ("name", "refrain", "line", "times", "cue"),
    [
        ("Verse", "Chorus", "Chorus, trumpet on top", 1, "trumpet on top"),
        ("Verse", "Chorus", "Chorus & big finish", 1, "big finish"),
        ("Vrs", "Chr", "Chr, tight trio", 1, "tight trio"),
        ("Ver", "cho", "cho w handclaps n all drop out", 1, "w handclaps n all drop out"),
        ("zw", "ref", "ref, sama gitara", 1, "sama gitara"),
        ("Str", "Refr", "Refr m. Klatschen", 1, "m. Klatschen"),
        ("Verse", "Chorus", "Chorus (x2!!)", 2, ""),
        ("Verse", "Refrain", "Refrain x3!! stampfen", 3, "stampfen"),
        ("Verse", "Chorus", "Chorus once more, banjo only", 1, "banjo only"),
        ("v", "ref", "ref x2 con palmas", 2, "con palmas"),
    ],
)
def test_a_line_that_begins_with_a_name_above(
    name: str, refrain: str, line: str, times: int, cue: str
) -> None:
    """Under the words of a verse, a line that begins with the name of a section as it is typed
    above is that section again; what stands behind is said of it and never sung."""
    text = f"Mill\n{name} 1\n{_VERSE}{refrain}\nC   G\nrisa vento\n{name} 2\n{_SUNG}{line}\n"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == [f"{name} 1", refrain, f"{name} 2", refrain]
    assert (parts[3].times, ", ".join(parts[3].cues)) == (times, cue)
    assert parts[3].words == "risavento"
    assert (parts[2].music, parts[2].words) == (
        parts[0].music,
        "underkettlesonthehilleveryspoonislyingstill",
    )


@each(
    "line", ["Chorus of angels in the hall", "Verse by verse we sing along", "Chorus, chorus, sing"]
)
def test_sung_lines_that_begin_with_a_name(line: str) -> None:
    """Words may begin with the name of a section, under the name of another one above all."""
    text = f"Mill\nVerse 1\n{_VERSE}Chorus\nC   G\nrisa vento\nVerse 2\n{line}\nand call again\n"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["Verse 1", "Chorus", "Verse 2"]
    assert not parts[2].cues


@each(
    ("first", "second", "cue"),
    [
        ("v one", "v two", ""),
        ("Verse 1", "Verse 2, drums out", "drums out"),
        ("Patter (colla voce)", "Patter 2 - free again", "free again"),
        ("Str 1", "Str 2 - leise", "leise"),
    ],
)
def test_names_counted_on(first: str, second: str, cue: str) -> None:
    """A name above with the next number is a section of its own, with the music of the first."""
    text = f"Mill\n\n{first}\n{_VERSE}Refrain\nC   G\nrisa vento\n{second}\n{_SUNG}Refrain\n"
    parts = parts_of(taken(text).chart)
    assert len(parts) == 4
    assert parts[2].name == second.partition(",")[0].partition(" -")[0]
    assert (parts[2].music, ", ".join(parts[2].cues)) == (parts[0].music, cue)
    assert parts[2].words == "underkettlesonthehilleveryspoonislyingstill"


@each(
    ("line", "name", "cue"),
    [
        ("bri = cho but just oohs", "bri", "but just oohs"),
        ("Tag = cho, slower", "Tag", "slower"),
        ("Fiddle break on cho", "Fiddle break", ""),
        ("Ukulele solo over cho", "Ukulele solo", ""),
    ],
)
def test_the_music_of_a_name_above(line: str, name: str, cue: str) -> None:
    """A section that has the music of one above by a sign or a word has no words."""
    text = f"Mill\nver 1\n{_VERSE}cho\nC   G\nrisa vento\n{line}\nver 2\n{_SUNG}"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["ver 1", "cho", name, "ver 2"]
    assert (parts[2].music, parts[2].words) == (parts[1].music, "")
    assert cue in ", ".join(parts[2].cues)
    assert parts[1].words == "risavento"


@each(
    ("order", "names"),
    [
        ("Form: V C V C B C C", "V C V C B C C"),
        ("Order: V, C, V, C, B, C x2", "V C V C B C"),
        ("Structure: V-C-B-C-V", "V C B C V"),
        ("Ablauf: V C dann B C C", "V C B C C"),
    ],
)
def test_letters_that_a_line_of_form_lists(order: str, names: str) -> None:
    """Letters alone above chords are names where a line of form lists them, also those that could
    be chords; a chord alone above words stays one."""
    sung = "F        E\nRisa bollo\nC\nTenna\n"
    text = f"Mill\nV\n{_VERSE}C\nC   G\nrisa vento\nB\n{sung}{order}\n"
    result = taken(text)
    assert "codes-as-names" in codes(result)
    parts = parts_of(result.chart)
    assert [one.name for one in parts] == names.split()
    assert next(one for one in parts if one.name == "B").music == ["F", "E", "C"]


def test_a_letter_that_no_line_lists() -> None:
    """Without such a line a letter alone above a row is a chord."""
    text = f"Mill\nVerse\n{_VERSE}C\nC   G\nrisa vento\n"
    assert names_of_parts(text) == ["Verse"]


def test_a_title_right_over_the_first_name() -> None:
    """A line below a greeting and right over the first name is the title and no name."""
    text = f"Hi Raff, here it is.\n\nGLASSHOUSE\nIntro: C G Am F\nVerse\n{_VERSE}"
    assert names_of_parts(text) == ["Intro", "Verse"]


@each(
    "line", ["see u at the side door xx", "bring the long cable xxx", "can't wait to play it xoxo"]
)
def test_kisses_at_the_end(line: str) -> None:
    """What stands before kisses on the last line is said to the reader and never sung."""
    text = f"Mill\nVerse\n{_VERSE}{line}\n"
    result = taken(text)
    assert "sign-off" in codes(result)
    assert parts_of(result.chart)[0].words == "hollamentorisaventorollobisa"


@each(
    ("first", "second", "again", "cue"),
    [
        ("Leader", "All", "All x2", ""),
        ("Shantyman", "Crew", "Crew again, louder", "louder"),
        ("BISHOP:", "VICARS:", "VICARS: repeat, kneeling", "kneeling"),
        ("Lead:", "Choir:", "Choir: until Rev. Tibbs lifts his hand", "until Rev. Tibbs lifts"),
        ("Vorsänger:", "Gemeinde:", "Gemeinde: nochmal, mit Orgel", "mit Orgel"),
        ("Pastor:", "Rebaño:", "Rebaño x3, palmas", "palmas"),
        ("Aunt May", "Uncle Joe", "Uncle Joe again, slower", "slower"),
        ("Prêtre", "Foule", "Foule encore une fois, sans cloches", "sans cloches"),
    ],
)
def test_names_in_turn_over_rows(first: str, second: str, again: str, cue: str) -> None:
    """Short lines right above rows of chords, one too many below the words there, are names where
    they come several times, stand before colons, or are asked for again."""
    one, two = (
        f"{first}\nG        C\nHolla mento risa\n",
        f"{second}\nD        G\nvento rollo bisa\n",
    )
    parts = parts_of(taken(f"Mill\n{one}{two}{one}{two}{again}\n").chart)
    names = [first.strip(":"), second.strip(":")]
    assert [one.name for one in parts] == [*names, *names, names[1]]
    assert [one.words for one in parts[:2]] == ["hollamentorisa", "ventorollobisa"]
    assert parts[4].words == "ventorollobisa"
    assert cue in ", ".join(parts[4].cues)


def test_a_name_asked_for_again_and_one_with_the_music_of_another() -> None:
    """A name without a colon that stands once is one too where a line asks for it again; names
    count on, and have the music of others by a word behind a colon."""
    verses = f"Verse 1 (he)\n{_VERSE}Verse 2 (she)\n{_SUNG}"
    text = f"Mill\n{verses}Both\nC   G\nrisa vento\nBoth again, then kiss (!)\nLast: F G C\n"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["Verse 1", "Verse 2", "Both", "Both", "Last"]
    assert (parts[3].words, parts[3].cues) == ("risavento", ["then kiss (!)"])
    text = f"Mill\nWOLF:\n{_VERSE}PIGS:\nC   G\nrisa vento\nWOLF (2nd time):\n{_SUNG}"
    parts = parts_of(taken(f"{text}DANCE: as PIGS, 2 times, tin whistle\n").chart)
    assert [(one.name, one.times) for one in parts[2:]] == [("WOLF", 1), ("DANCE", 2)]
    assert (parts[2].music, parts[3].music) == (parts[0].music, parts[1].music)
    assert (parts[2].cues, parts[3].cues) == (["2nd time"], ["tin whistle"])
    assert not parts[3].words


@each("again", ["sleep on, sleep on", "and all the gulls have gone", "Haul away"])
def test_a_sung_line_that_comes_again_over_rows(again: str) -> None:
    """A line that is sung under each row, or under each line of words, is no name."""
    for words in ("", "the boats are sleeping\n"):
        text = "".join(f"{row}\n{words}{again}\n" for row in ("G    D", "C    G", "D    G"))
        parts = parts_of(taken(f"Mill\nVerse\n{text}").chart)
        assert [one.name for one in parts] == ["Verse"]


@each("verse", ["1. vers", "1. Strophe", "1ª estrofa", "1. sloka"])
def test_a_counted_name_right_under_a_row(verse: str) -> None:
    """A name that begins with its number is one right under the chords of the section before."""
    parts = parts_of(taken(f"Mill\nIntro: Am G x4\n{verse}\n{_VERSE}").chart)
    assert (parts[0].name, parts[0].times) == ("Intro", 4)
    assert parts[1].name == verse
    assert (parts[0].words, parts[1].words) == ("", "hollamentorisaventorollobisa")


@each(
    ("refrain", "line", "end"),
    [
        ("Omk.", "Omk. og slut på Am", "slut"),
        ("Refr.", "Refr. und Schluss auf Am", "Schluss"),
        ("Ref.", "Ref. y final en Am", "final"),
        ("Cho", "Cho and end on Am", "end"),
    ],
)
def test_a_refrain_again_and_the_last_chord(refrain: str, line: str, end: str) -> None:
    """A refrain asked for again by its name cut short may say on which chord the song ends."""
    text = f"Mill\nVers 1\n{_VERSE}{refrain}\nC   G\nrisa vento\nVers 2\n{_SUNG}{line}\n"
    parts = parts_of(taken(text).chart)
    assert parts[3].words == "risavento"
    assert (parts[4].name, parts[4].music, parts[4].words) == (end, ["Am"], "")


@each(
    ("line", "name", "cue"),
    [
        ("Skank (drums + bass, Desmond toasts)", "Skank", "drums + bass, Desmond toasts"),
        ("Knochen (nur Trommel)", "Knochen", "nur Trommel"),
        ("Toast (bass and drums only)", "Toast", "bass and drums only"),
    ],
)
def test_a_name_of_which_only_a_remark_tells(line: str, name: str, cue: str) -> None:
    """Under a refrain asked for again, a name with a remark alone is a section without music."""
    head = f"Mill\nV1\n{_VERSE}Ch\nC   G\nrisa vento\nV2\n{_SUNG}Ch\n"
    parts = parts_of(taken(f"{head}{line}\nCh x4, stop dead\n").chart)
    assert [one.name for one in parts] == ["V1", "Ch", "V2", "Ch", name, "Ch"]
    assert (parts[4].words, parts[4].cues) == ("", [cue])
    assert parts[3].words == parts[5].words == "risavento"


@each("again", ["[Drop] x2", "[Drop]", "[Plonk] x2", "[Plonk] (3x)"])
def test_names_in_square_brackets_that_are_directions_too(again: str) -> None:
    """Where all names stand in square brackets, a word to the band over chords of its own is a
    name if it is one elsewhere or is asked for with a count."""
    name = again[1:].partition("]")[0]
    verses = f"[Intro] C G\n[Verse 1]\n{_VERSE}[{name}]\nC   G\nrisa vento\n[Verse 2]\n{_SUNG}"
    parts = parts_of(taken(f"Mill\n{verses}{again}\n").chart)
    assert [one.name for one in parts] == ["Intro", "Verse 1", name, "Verse 2", name]
    assert [one.words for one in parts[2::2]] == ["risavento"] * 2


@each("said", ["very softly", "drums only", "quiet, no bass"])
def test_a_direction_in_square_brackets(said: str) -> None:
    """What is said in square brackets over chords is no name where nothing shows that it is."""
    text = f"Mill\n[Intro] C G\n[Verse 1]\n{_VERSE}[{said}]\nC   G\nrisa vento\n[Verse 2]\n{_SUNG}"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["Intro", "Verse 1", "Verse 2"]
    assert parts[1].cues == [said]


@each("said", ["ENTER BISHOP, BELL RINGS TWICE", "LIGHTS UP ON THE VICARS", "AUFTRITT DER BISCHOF"])
def test_what_happens_on_the_stage_is_no_writer(said: str) -> None:
    """A line in capitals under the title that tells what happens on the stage names nobody."""
    result = taken(f"THE BICYCLE\nKey: C\n{said}\nBISHOP:\n{_VERSE}VICARS:\nC  G\nding\n")
    assert "writer" not in codes(result)
    assert [one.name for one in parts_of(result.chart)] == ["BISHOP", "VICARS"]


@each("words", ["Moon over me\nMoon over you", "Never so low\nNever so high"])
def test_a_line_that_begins_as_the_one_above(words: str) -> None:
    """A short line right above a row that begins with the same word as the sung line above it is
    sung too."""
    chorus = f"Chorus\nC   G\n{words}\nD  G\nLight over us all\n"
    verse = "Verse\nG   D\nthe moon is up\nC   G\nthe night is long\n"
    parts = parts_of(taken(f"Mill\n{verse}{chorus}").chart)
    assert [one.name for one in parts] == ["Verse", "Chorus"]
    assert parts[1].words == "".join(words.casefold().split()) + "lightoverusall"


@each(
    "given",
    [
        "Am G throughout, verse and chorus",
        "Verses and choruses: Am G",
        "Am G for verse and chorus",
        "Verse & Chorus: Am G",
        "Strophen und Refrain: Am G",
    ],
)
def test_the_only_chords_for_the_sections_that_a_line_lists(given: str) -> None:
    """The only chords of a sheet are those of the sections that their line lists, and of no
    other one."""
    verse = "Verse\nLizard on the wall\nlizard sleeping long\n"
    text = f"Mill\n{given}\n\n{verse}Chorus\nLazy lizard\nDUB - bass and delay only\n{verse}"
    parts = parts_of(taken(text).chart)
    assert [one.name for one in parts] == ["Verse", "Chorus", "DUB", "Verse"]
    assert [bool(one.music) for one in parts] == [True, True, False, True]
