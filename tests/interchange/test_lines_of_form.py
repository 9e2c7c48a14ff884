"""Orders by the initials of a sheet's own names, strokes between lines of chords, and what is said
of one of the times a section is played.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_FRENCH = "Intro = F#m D\nCouplet = F#m D A E\nRefrain = D A E F#m\nPont = Bm C#m D E\n"
_LETTERS = "V: G C G D\nC: C D G Em\nB: Am Em D D\n"


@each(
    ("sheet", "names"),
    [
        (
            f"{_FRENCH}\nStructure = Intro C R C R P R R\n",
            "Intro Couplet Refrain Couplet Refrain Pont Refrain Refrain",
        ),
        (f"Song\nFlow: V C V C B C C\n\n{_LETTERS}", "V C V C B C C"),
        (f"Song\n\n{_LETTERS}\nRunde: V V C B C\n", "V V C B C"),
        (
            "Lied\n\nIntro: E5 G5\nS: E5 G5 A5 E5 / E5 G5 H5 H5\nR: A5 H5 E5 G5 / A5 H5 E5 E5\n"
            "B: C5 D5 C5 D5 (nur Schlagzeug + Bass)\n\nAblauf: Intro S R S R B R R\n",
            "Intro S R S R B R R",
        ),
        (
            "Canción\n\nEstrofa: G C G D\nCoro: C D G Em\nPuente: Am Em\n\nOrden: E C E C P C\n",
            "Estrofa Coro Estrofa Coro Puente Coro",
        ),
        (
            "Låt\n\nVers: G C G D\nRefräng: C D G Em\nStick: Am Em\n\nform: V R V R S R\n",
            "Vers Refräng Vers Refräng Stick Refräng",
        ),
        (
            "Song\n\nVerse: G C G D\nVamp: C D\nChorus: G D\n\nForm: V C V C Vamp C\n",
            "Verse Chorus Verse Chorus Vamp Chorus",
        ),
    ],
)
def test_letters_of_an_order_are_the_sheets_own_initials(sheet: str, names: str) -> None:
    """A letter is the section of the sheet whose name begins with it, whatever the label."""
    assert " ".join(names_of_parts(sheet)) == names


@each(
    ("sheet", "count"),
    [
        ("Verse\nG    C\nWalking: V C V B\nG  D\nhome\n", 1),
        (f"Song\nPhone: V C\n\n{_LETTERS}", 3),
        (f"Song\nBand: Vera Cole, Bob\n\n{_LETTERS}", 3),
    ],
)
def test_other_lines_with_a_colon_are_no_order(sheet: str, count: int) -> None:
    """Behind a label that nobody knows, an order names each section and nothing else."""
    assert len(names_of_parts(sheet)) == count


@each(
    ("row", "music"),
    [
        ("Verse: 1 1 4 1 / 1 6- 2- 5", "C C F C C Am Dm G"),
        ("Verse: C C F C / C Am Dm G", "C C F C C Am Dm G"),
        ("Verse = C Am F G / C Am F G / F G C C", "C Am F G C Am F G F G C C"),
        ("Verse: C / F / C / G", "C F C G"),
        ("Verse: C / Am F / C G / C", "| C | Am F@24 | C G@24 | C"),
        ("Verse: C F G C x2, then Am - G", "C F G C C F G C Am G"),
        ("Verse: C F G C (x2) end on Dm7", "C F G C C F G C Dm7"),
        ("Verse: C F x3, then F G und Schluss", "C F C F C F F G"),
    ],
)
def test_strokes_part_lines_of_several_chords_and_bars_of_few(row: str, music: str) -> None:
    """Three or more chords between strokes are lines of a song, one or two are bars; what follows
    a count is played once."""
    sheet = f"Song\nKey: C\n\n{row}\nChorus: F G\n"
    assert " ".join(parts_of(taken(sheet).chart)[0].music) == music


_ONCE_EACH = "Song\nForm: V C V C B C C\n\nV: G C G D\nC: C D G Em\nB: Am Em D D\n\n"
_IN_FULL = "Song\n\nVerse\nG C G D\nChorus\nC D G Em\nVerse\nChorus\nChorus\n\n"


@each(
    ("sheet", "said", "at"),
    [
        (_ONCE_EACH, "B first time kick and claps only", 4),
        (_ONCE_EACH, "last C a capella", 6),
        (_ONCE_EACH, "C 2nd time: no drums", 3),
        (_ONCE_EACH, "second V quiet", 2),
        (_IN_FULL, "2nd chorus no drums", 3),
        (_IN_FULL, "In the last chorus we slow down", 4),
        (_IN_FULL, "Im letzten Chorus langsamer", 4),
        (_IN_FULL, "sista chorus utan trummor", 4),
        (_ONCE_EACH, "första V utan trummor", 0),
    ],
)
def test_what_is_said_of_one_time_stands_there(sheet: str, said: str, at: int) -> None:
    """A remark on the first, second or last section of a name is a cue in that one alone."""
    parts = parts_of(taken(sheet + said + "\n").chart)
    assert [i for i, one in enumerate(parts) if said in one.cues] == [at]


def test_words_about_times_are_sung() -> None:
    """Lines of a song that begin like such remarks stay words."""
    sheet = (
        "Verse\nG     C\nLast time I saw you at the shore\nG     D\nfirst chorus of the morning "
        "birds\n\nChorus\nC     D\nSecond chances never last\nG    C\nlast chorus I will sing\n"
    )
    parts = parts_of(taken(sheet).chart)
    assert [one.cues for one in parts] == [[], []]
    assert "lastchorusiwillsing" in parts[1].words


_VERSE_AND_CHORUS = "Song\n\nVerse: G C G D\nChorus: C D G Em\n"


@each(
    ("line", "name", "music", "cue"),
    [
        ("Fiddle over Verse x2", "Fiddle", "G C G D", ""),
        ("Mandolin over chorus", "Mandolin", "C D G Em", ""),
        (
            "Banjo and fiddle over the chorus, twice, softly",
            "Banjo and fiddle",
            "C D G Em",
            "softly",
        ),
        ("Sax über Verse", "Sax", "G C G D", ""),
        ("Break: mandolin, verse changes", "Break", "G C G D", "mandolin, verse changes"),
        ("Solo: guitar, chorus chords", "Solo", "C D G Em", "guitar, chorus chords"),
        ("Harp solo (2x, same changes)", "Harp solo", "C D G Em", ""),
        ("End: A, laten klinken", "End", "A", "laten klinken"),
        ("Outro: E5 - dry", "Outro", "E5", "dry"),
        ("Tag: G C (slow now)", "Tag", "G C", "slow now"),
        ("Br Am Em D D", "Br", "Am Em D D", ""),
        ("Instrumental, one verse (fiddle)", "Instrumental", "G C G D", "fiddle"),
        ("Solo na verse (harmonika)", "Solo", "G C G D", "harmonika"),
    ],
)
def test_steps_with_the_music_of_others(line: str, name: str, music: str, cue: str) -> None:
    """Who plays over a section, changes of another, and short names before their chords."""
    part = parts_of(taken(f"{_VERSE_AND_CHORUS}{line}\n").chart)[-1]
    assert (part.name, " ".join(part.music)) == (name, music)
    assert cue in part.cues or not cue


@each(
    "words",
    [
        "Rain over the valley",
        "Fiddle over the hills",
        "A, you're adorable",
        "Ch is a sound",
    ],
)
def test_words_that_only_look_like_steps_are_sung(words: str) -> None:
    """Players over what is no section, and letters that are words, stay words."""
    sheet = f"Song\n\nVerse\nG      C\n{words}\nD   G\nsing it again\n\nChorus\nC D\nhey hey\n"
    assert parts_of(taken(sheet).chart)[0].words.endswith("singitagain")


def test_an_order_of_all_again_goes_on() -> None:
    """Names once each below their rows are played again where more steps follow."""
    crib = "Anchor\nVs | G | C |\nCh | C | G |\nVs Ch\nFiddle over Vs x2\nCh Ch, cold stop\n"
    assert names_of_parts(crib) == ["Vs", "Ch", "Vs", "Ch", "Fiddle x2", "Ch", "Ch"]


@each(
    ("line", "name", "cue"),
    [
        ("Solo: two verses, harp", "Solo x2", "harp"),
        ("Chorus (2x) trombones", "Chorus x2", "trombones"),
        ("Mambo (2x trombones)\n| G | D |", "Mambo x2", "trombones"),
    ],
)
def test_counts_before_the_words_of_a_remark(line: str, name: str, cue: str) -> None:
    """A count that stands before other words counts the section, and the words are a cue."""
    sheet = f"{_VERSE_AND_CHORUS}\n{line}\n"
    assert names_of_parts(sheet)[-1] == name
    assert parts_of(taken(sheet).chart)[-1].cues == [cue]


@each(
    ("between", "parts"),
    [
        ("(drum fill, up to A)", 2),
        ("(fill: up to A)", 2),
        ("(drums, now in A)", 2),
    ],
)
def test_a_key_in_parentheses_is_said(between: str, parts: int) -> None:
    """A line in parentheses that names a new key is a cue, and no section on that chord."""
    sheet = f"Song\n\nChorus\nC     D\nForty lire\n\n{between}\n\nChorus\nD     E\nForty lire\n"
    assert len(names_of_parts(sheet)) == parts


def test_solo_before_voices_means_alone() -> None:
    """Voices are alone behind the word for it in Spanish, where others play a solo."""
    sheet = "ESTRIBILLO\nC   G\nVenimos, Señor\n\nESTROFA 1\nAm  Em\nTraigo el pan\n\n"
    parts = parts_of(taken(f"{sheet}ESTRIBILLO más suave, solo voces\n").chart)
    assert [one.name for one in parts] == ["ESTRIBILLO", "ESTROFA 1", "ESTRIBILLO"]
    assert parts[-1].cues == ["más suave, solo voces"]


def test_solos_on_a_form_of_letters_are_said() -> None:
    """A line about the head and solos, which ends on a letter of the form, is a cue there."""
    tune = "Porch\nForm: A A B A\n\nA\n| Bb | Cm7 F7 |\n\nB\n| D7 | % |\n\n"
    said = "head twice, solos on the form, out on the last A"
    parts = parts_of(taken(tune + said + "\n").chart)
    assert [one.name for one in parts] == ["A", "A", "B", "A"]
    assert parts[-1].cues == [said]


@each(
    ("line", "music"),
    [
        ("[Guitar solo] chorus chords", "| C | Em"),
        ("[Solo] chords of the chorus", "| C | Em"),
        ("[Solo] Refrain Akkorde", "| C | Em"),
        ("[Outro] as intro", "| G | C"),
    ],
)
def test_a_name_in_brackets_with_another_sections_chords(line: str, music: str) -> None:
    """What stands behind the brackets says whose chords are played."""
    text = "Moth\nKey: G\n\n[Intro]\n| G | C |\n\n[Verse]\n| G | D |\n\n[Chorus]\n| C | Em |\n\n"
    assert " ".join(parts_of(taken(text + line).chart)[-1].music) == music


_BOX = "Box Kite\n\nVerse\n| F | Dm |\n\nChorus\n| C | Bb |\n\n"


@each(
    ("line", "name", "cues"),
    [
        ("Tag (pedal on D)", "Tag", ["pedal on D"]),
        ("Bridge (horns, up to A)", "Bridge", ["horns, up to A"]),
        ("Solo (in G)", "Solo", ["in G"]),
        ("Interlude (key change to Eb, strings)", "Interlude", ["key change to Eb, strings"]),
        ("Intro (4 bars) bass + drums", "Intro", ["4 bars, bass + drums"]),
    ],
)
def test_a_note_in_a_remark_behind_a_name(line: str, name: str, cues: list[str]) -> None:
    """A note or a key in what is said behind a name is no chord to play."""
    part = parts_of(taken(f"{_BOX}{line}\n| Eb | D7 |\n").chart)[-1]
    assert (part.name, part.cues, part.played) == (name, cues, ["Eb", "D7"])


def test_numbers_in_parentheses_count_bars() -> None:
    """Even numbers behind the names, one of them too high for a verse, count bars."""
    sheet = "Box Kite\n\nIntro (4)\n| F |\nVerse (8)\n| F | Dm |\nChorus (16)\n| C | Bb |\n"
    parts = parts_of(taken(f"{sheet}Verse (8)\nChorus (16) x2\n").chart)
    names = ["Intro", "Verse", "Chorus", "Verse", "Chorus"]
    assert [(one.name, one.times) for one in parts] == [*zip(names, [1, 1, 1, 1, 2], strict=True)]
    assert parts[0].cues == ["4 bars"]
    verses = parts_of(taken("Box Kite\n\nVerse (1)\n| F |\nVerse (2)\n| G |\n").chart)
    assert [one.name for one in verses] == ["Verse 1", "Verse 2"]


def test_a_section_asked_for_again_with_a_remark_in_any_words() -> None:
    """Behind "repeat" and the name of a section above, the rest is said to the players."""
    part = parts_of(taken(f"{_BOX}repeat chorus, whispered if nerves allow\n").chart)[-1]
    assert (part.name, part.cues) == ("chorus", ["whispered if nerves allow"])


def test_a_line_above_the_song_puts_the_refrain_after_each_verse() -> None:
    """It is no section of its own."""
    sheet = "Kite\n(chorus after each verse)\n\nVerse 1\n| F |\n\nChorus\n| C |\n\nVerse 2\n| G |\n"
    names = ["Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert [one.name for one in parts_of(taken(sheet).chart)] == names


def test_a_remark_behind_bars_that_is_a_name_too() -> None:
    """It stands beside the section's own name."""
    rows = "Kite\n\nintro   | F | C |   keys\nbreak   | C | D |   gtr solo\n"
    rows += "Outro   | F |   big finish\n"
    parts = parts_of(taken(rows).chart)
    assert [one.name for one in parts] == ["intro", "break", "Outro"]
    assert parts[1].cues == ["gtr solo"]


@each(
    ("line", "times", "cues"),
    [
        ("Chorus - twice! 2nd time loud", 2, ["2nd time loud"]),
        ("Chorus x3! everybody up", 3, ["everybody up"]),
        ("Chorus, mais forte", 1, ["mais forte"]),
        ("Chorus, mais sans batterie", 1, ["sans batterie"]),
    ],
)
def test_what_is_said_behind_a_count_or_a_comma(line: str, times: int, cues: list[str]) -> None:
    """A count may be called out; "mais" is "but" before French words alone."""
    part = parts_of(taken(_BOX + line + "\n").chart)[-1]
    assert (part.times, part.cues) == (times, cues)


@each("remark", ["chords to come", "chords unknown", "chords tbc", "no chords yet"])
def test_chords_that_nobody_knows_yet(remark: str) -> None:
    """Words below stay without chords, whatever the sections above are called."""
    sung = "Kite\n\nChorus\nC      G\nUp it goes\n\n"
    part = parts_of(taken(f"{sung}Middle 8 ({remark})\nAnd when the string is cut\n").chart)[-1]
    assert (part.music, part.words) == ([], "andwhenthestringiscut")


def test_names_cut_short_in_an_order() -> None:
    """Letters with which one name alone begins stand for it."""
    sheet = "Kite\n\nIntro: E A\nVerse: E B7\nChorus: A E\nOutro: A B7 E\n\n"
    parts = parts_of(taken(sheet + "In - V - V - Ch - V - Ch - Ch - Out\n").chart)
    names = ["Intro", "Verse", "Verse", "Chorus", "Verse", "Chorus", "Chorus", "Outro"]
    assert [one.name for one in parts] == names


@each(
    "said",
    [
        "solos after the head, trade fours with drums, you know the drill",
        "drums: brushes, no sticks please",
    ],
)
def test_what_is_said_below_an_order(said: str) -> None:
    """It names no section of the sheet and stays a cue; the order above it holds."""
    tune = "Kite\n\nA\n| Eb | Cm7 |\n\nB\n| Ab | Gm7 |\n\nForm: A A B A\n\n"
    parts = parts_of(taken(f"{tune}{said}\n").chart)
    assert [one.name for one in parts] == ["A", "A", "B", "A"]
    assert parts[-1].cues == [said]


@each("line", ["Outro\t\tC – G – C", "Outro   C - G - C", "Outro C – G – C"])
def test_the_first_chord_behind_a_name_is_no_letter_of_it(line: str) -> None:
    """Behind a gap, and behind names that no letter counts."""
    part = parts_of(taken(f"{_BOX}{line}\n").chart)[-1]
    assert (part.name, part.music) == ("Outro", ["C", "G", "C"])


@each(
    ("line", "name", "times", "cues"),
    [
        ("bridge: instrumental (Eb D7) x2, build", "bridge", 2, ["instrumental", "build"]),
        ("Outro: piano (Eb D7)", "Outro", 1, ["piano"]),
    ],
)
def test_chords_in_parentheses_behind_what_is_played(
    line: str, name: str, times: int, cues: list[str]
) -> None:
    """They are the section's, and the word before them is a cue."""
    part = parts_of(taken(f"{_BOX}{line}\n").chart)[-1]
    assert (part.name, part.times, part.music) == (name, times, ["Eb", "D7"])
    assert part.cues == cues


def test_a_remark_beside_a_name_in_parentheses() -> None:
    """Where all names stand in parentheses."""
    sheet = "Kite\n(verse)\nC    G\nUp it goes\n\n(chorus)\nF   C\nSo high\n\n"
    parts = parts_of(taken(f"{sheet}(verse 2, same chords)\nDown it comes\n").chart)
    assert [one.name for one in parts] == ["verse", "chorus", "verse 2"]
    assert parts[2].music == ["C", "G"]


def test_an_order_of_letters_with_gaps_that_ends_on_chords() -> None:
    """Letters that could be chords are sections where all of them are."""
    sheet = "Kite\n\nVerse: A D\nChorus: D E\nBridge: Bm E\n\nV  V  C  V  C  B  C  C\n"
    names = ["Verse", "Verse", "Chorus", "Verse", "Chorus", "Bridge", "Chorus", "Chorus"]
    assert [one.name for one in parts_of(taken(sheet).chart)] == names


def test_a_line_below_the_song_puts_the_refrain_after_each_verse() -> None:
    """The last time as often as it says."""
    sheet = "Kite\n\nVerse 1\n| F |\n\nChorus\n| C |\n\nVerse 2\n| G |\n\n"
    parts = parts_of(taken(f"{sheet}(chorus after every verse, last time twice)\n").chart)
    assert [one.name for one in parts] == ["Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert [one.times for one in parts] == [1, 1, 1, 2]


def test_chords_for_all_verses() -> None:
    """Chords given for all of a kind stand over the words of each, and an ending stays last."""
    sheet = "Kite\n\nAll verses: Am G\n\nVerse 1\nUp it goes\n\nVerse 2\nDown it comes\n\n"
    parts = parts_of(taken(f"{sheet}End on Am\n").chart)
    assert [one.music for one in parts] == [["Am", "G"], ["Am", "G"], ["Am"]]


def test_an_order_beside_names_that_come_again() -> None:
    """Names alone between the sections are steps of the order that a label gives below."""
    sheet = "Kite\n\nV1\nC    G\nUp it goes\n\nCH\nF   C\nSo high\n\nV2\nDown it comes\n\nCH\n\n"
    tag = "TAG\nF   C\nUp and down\n(piano only)\n\nORDER: V1 CH V2 CH CH TAG\n"
    parts = parts_of(taken(sheet + tag).chart)
    assert [one.name for one in parts] == ["V1", "CH", "V2", "CH", "CH", "TAG"]
    assert parts[-1].cues == ["piano only"]


@each(
    "said",
    ["Play the whole tune three times, June calls", "Das Ganze dreimal", "everything x2"],
)
def test_how_often_the_whole_tune_is_played_is_not_sung(said: str) -> None:
    """It is a cue below the last part."""
    part = parts_of(taken(f"Reel\n\nA part\n|: D | G :|\n\nB part\n|: G | D :|\n\n{said}\n").chart)[
        -1
    ]
    assert (part.words, said in part.cues or part.times > 1) == ("", True)


def test_names_of_a_show_over_bars() -> None:
    """In a sheet of bars alone a line over each block is its name, and one in small letters under
    bars is a remark."""
    bars = "| Dm | A7 |\n"
    names = f"Opening\n{bars}\nBaker's song\n{bars}\nDance\n{bars}spoons from the third time\n\n"
    parts = parts_of(taken(f"Tango\n\n{names}Baker's song again\n\nButton\n{bars}").chart)
    wanted = ["Opening", "Baker's song", "Dance", "Baker's song", "Button"]
    assert [one.name for one in parts] == wanted
    assert parts[2].cues == ["spoons from the third time"]


def test_a_count_glued_to_a_letter_of_an_order() -> None:
    """A small x and a figure behind the letters of a name count it."""
    sheet = "Kite\nForm: V C V C B Cx2\n\nVerse: E A\nChorus: A B7\nBridge: F#m A\n"
    parts = parts_of(taken(sheet).chart)
    assert [one.name for one in parts][-3:] == ["Chorus", "Bridge", "Chorus"]
    assert parts[-1].times == 2
