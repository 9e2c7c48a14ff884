"""What charts of bands have: orders with counts of bars or ordinals, letters that are explained,
counts between a name and its chords."""

import pytest

from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import parts_of

_BARS = """Gutterball
Key: E

{order}

Intro
| E | % | A | B |

Verse
| E | E | A | A |
| E | C#m | A | B |

Chorus
| A | B | E | C#m |
| A | B | E | E |
"""


@each(
    "order",
    [
        "Intro 4, V 8, Ch 8, V 8, Ch 16",
        "Form: Intro (4) / Verse (8) / Chorus (8) / Verse (8) / Chorus (16)",
        "Intro 4 bars - Verse 8 bars - Chorus 8 bars - Verse 8 bars - Chorus 16 bars",
        "Ablauf: Intro 4 Takte, Verse 8 Takte, Chorus 8 Takte, Verse 8 Takte, Chorus 16 Takte",
    ],
)
def test_counts_of_bars_in_an_order(order: str) -> None:
    """A count of bars behind a name is no number of it: twice the bars are the section twice."""
    parts = parts_of(taken(_BARS.format(order=order)).chart)
    played = [(part.name, part.times) for part in parts]
    assert played == [("Intro", 1), ("Verse", 1), ("Chorus", 1), ("Verse", 1), ("Chorus", 2)]


def test_other_counts_of_bars() -> None:
    """A count that is no multiple of the section's bars is said there."""
    order = "Intro 4, Verse 8, Chorus 8, Verse 8, Chorus 6"
    parts = parts_of(taken(_BARS.format(order=order)).chart)
    assert parts[-1].cues == ["6 bars"]


@each(
    "order",
    [
        "Play: 1st twice, 2nd twice, 1st once, Trio soft, Trio loud",
        "Order: the 1st twice, the 2nd twice, the first again, Trio soft, Trio loud",
        "Form: first strain twice, second twice, first, Trio soft, Trio loud",
    ],
)
def test_ordinals_in_an_order(order: str) -> None:
    """An ordinal alone is the section that the sheet calls by it."""
    text = (
        "Rag\nKey: F\n\n1st STRAIN\n| F | F | C7 | F |\n\n2nd STRAIN\n| C7 | F | C7 | F |\n\n"
        f"TRIO\n| Bb | Bb | F7 | Bb |\n\n{order}\n"
    )
    parts = parts_of(taken(text).chart)
    played = [(part.name, part.times, part.cues) for part in parts]
    assert played == [
        ("1st STRAIN", 2, []),
        ("2nd STRAIN", 2, []),
        ("1st STRAIN", 1, []),
        ("TRIO", 1, ["soft"]),
        ("TRIO", 1, ["loud"]),
    ]


def test_an_ordinal_of_one_time() -> None:
    """An ordinal before a word for times is no section, though verses are numbered."""
    text = (
        "Crow\nKey: Em\n\n1.\nEm      D\nA crow sat up\n\nChorus\nG      D\nCaw, caw\n\n"
        "2. The carpenter rose\n\nChorus twice, second time slower\n"
    )
    last = parts_of(taken(text).chart)[-1]
    assert (last.name, last.times, last.cues) == ("Chorus", 2, ["second time slower"])


@each("sign", ["C (chorus)", "C = chorus", "C - chorus", "C: chorus"])
def test_letters_that_are_explained(sign: str) -> None:
    """A letter that the sheet explains asks for its section; over words it is a chord."""
    text = (
        "Landline\nKey: D\n\nV1\nD         A\nThe cord would reach\n\nPC\nEm      G\n"
        f"and you would say\n\n{sign}\nG        D\nRing me, ring me\n\n"
        "V2\nC\nMy sister had a watch\n\nPC same\n\nC\n\nC x2, just voice\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["V1", "PC", "C", "V2", "PC", "C", "C"]
    assert parts[3].music == ["C"]
    assert parts[4].music == ["Em", "G"]
    assert (parts[6].times, parts[6].cues) == (2, ["just voice"])


@each("count", ["(two times)", "(twice)", "(2 times)", "x2", "(zweimal)", "(2x)"])
def test_a_count_between_a_name_and_its_chords(count: str) -> None:
    """Any name with how often it is played before its chords begins a section."""
    chorus = "Chorus\nD      A7\nAll in favour\n\n"
    text = f"Tango\nKey: Dm\n\n{chorus}Dance {count}: Dm A7 Dm A7\n\nChorus\n"
    parts = parts_of(taken(text).chart)
    assert [(part.name, part.times) for part in parts] == [
        ("Chorus", 1),
        ("Dance", 2),
        ("Chorus", 1),
    ]


def test_how_it_goes_behind_a_meter() -> None:
    """Words for how a song goes behind a setting on its line are its feel."""
    text = "Rag\nKey: F         Meter: 2/4         Not too fast\n\nVerse\n| F | C7 |\n"
    chart = taken(text).chart
    assert (chart.text("meter"), chart.text("feel")) == ("2/4", "Not too fast")
    assert body(chart) == "== Verse\n| F | C7 |"


@each(
    ("said", "cue"),
    [
        ("Bb 4 bars, A7 2 bars (drop out for the last)", "drop out for the last"),
        ("Bb 4 bars, A7 2 bars - sax only", "sax only"),
        ("Bb 4 Takte, A7 2 Takte (leise)", "leise"),
        ("Bb (4 bars) A7 (2 bars) (softly)", "softly"),
        ("Bb 4 bars, A7 2 bars", ""),
    ],
)
def test_what_is_said_behind_counted_chords(said: str, cue: str) -> None:
    """Chords with their bars are bars, whatever is said behind the last."""
    text = f"Grid\nKey: Dm\n\nVerse: Dm 4 bars, C 2 bars\nBridge: {said}\n"
    bridge = parts_of(taken(text).chart)[-1]
    assert [one for one in bridge.music if one != "|"] == [*["Bb"] * 4, *["A7"] * 2]
    assert bridge.cues == [*filter(None, [cue])]


def test_counts_of_bars_beside_names() -> None:
    """A number in parentheses that is the count of the bars below is no number of a verse."""
    text = (
        "Seven\nKey: G\n\nIntro (4)\n| G | C | G | C |\n\nVerse (9)\n| G | C | Em | D |\n"
        "| G | C | Em | D | D |\n\nChorus (4)\n| C | D | G | G |\n\nVerse (9)\n\nChorus (4)\n"
    )
    names = [part.name for part in parts_of(taken(text).chart)]
    assert [name.partition(" (")[0] for name in names] == [
        *("Intro", "Verse", "Chorus", "Verse", "Chorus")
    ]


@each("who", ["Tenor", "Alto", "Bari", "Cornet", "Guitar"])
def test_solos_of_many_players(who: str) -> None:
    """A solo over the same changes is a section, whoever plays it."""
    text = f"Lunch\nKey: C\n\nHead x2\n| C7 | F7 |\n\n{who} solo x3 (same changes)\n\nHead\n"
    parts = parts_of(taken(text).chart)
    played = [(part.name, part.times) for part in parts]
    assert played == [("Head", 2), (f"{who} solo", 3), ("Head", 1)]
    assert parts[1].music == parts[0].music


@each(
    ("row", "cue"),
    [
        ("| Em | C |  lift: | E | E |", "lift"),
        ("| Em | C | (horns): | E | E |", "horns"),
        ("| Em | C | all in: | E | E |", "all in"),
    ],
)
def test_words_that_lead_to_the_next_bar(row: str, cue: str) -> None:
    """Words with a colon between two bar lines fill no bar."""
    part = parts_of(taken(f"Receipt\nKey: G\n\nVerse\n{row}\n").chart)[0]
    assert part.music == ["|", "Em", "|", "C", "|", "E", "|", "E"]
    assert part.cues == [cue]


@each("heading", ["𝄌 Coda", "𝄌", "Coda 𝄌", "⊕ Coda (slow)", "(𝄌) CODA:", "Ø Coda"])
def test_a_sign_beside_the_name_of_a_coda(heading: str) -> None:
    """The sign of a coda beside its name, or alone over chords, begins the coda."""
    text = (
        "SALT\nKey: G\n\nVerse\n𝄋 | G | C |\n\nChorus\n| Em | C |  to 𝄌\n\n"
        f"Bridge\n| Em | Bm |  D.S. al Coda\n\n{heading}\n| Em | C | G ||\n"
    )
    names = [part.name.partition(" ")[0].title() for part in parts_of(taken(text).chart)]
    assert names == ["Verse", "Chorus", "Bridge", "Coda"]


@each("heading", ["𝄋 Verse", "Verse 𝄋", "Verse\n𝄋", "Verse\n[segno]", "Verse\n§"])
def test_a_segno_beside_a_name(heading: str) -> None:
    """The sign of a segno beside a name, or alone below it, stands at the first bar."""
    text = f"SALT\nKey: G\n\n{heading}\n| G | C |\n\nBridge\n| Em | Bm |  D.S. al Fine\n"
    assert body(taken(text).chart).startswith("== Verse\n| @segno G | C |")


def test_a_coda_of_another_name() -> None:
    """A sign beside another name stays at its first bar, where a jump leads."""
    text = (
        "SALT\nKey: G\n\nVerse\nG        C\nOver the water\n\n"
        "Chorus\nEm      C    to 𝄌\nHome again\n\n"
        "Outro 𝄌\nEm   C    G\nHome\n"
    )
    assert "@coda Em" in body(taken(text).chart)


@each(
    ("row", "ends"),
    [
        ("| Em | Bm | D.S. al Coda |", "| Em | Bm @D.S. al Coda |"),
        ("Em  Bm   D.S. al Coda", "Em Bm @D.S. al Coda"),
        ("Em  Bm   D.C. al Fine", "Em Bm @D.C. al Fine"),
        ("| Em | Bm | Fine |", "| Em | Bm @fine |"),
    ],
)
def test_a_jump_behind_chords(row: str, ends: str) -> None:
    """A jump behind chords, or where a bar would be, leaves these as chords and fills no bar."""
    assert body(taken(f"SALT\nKey: G\n\nVerse\n{row}\n").chart) == f"== Verse\n{ends}"


@each(
    "said",
    [
        "piano alone, no words",
        "half time, no singing",
        "Klavier allein, ohne Text",
        "no talking, dying away",
    ],
)
def test_a_verse_without_its_words(said: str) -> None:
    """A verse again that is said to have no words has its music alone, wherever that is said."""
    text = (
        f"Lunch\nKey: C\n\nVerse\nC     F\nOver the water\n\nChorus\nF   G\nOh\n\nVerse - {said}\n"
    )
    last = parts_of(taken(text).chart)[-1]
    assert (last.music, last.words) == (["C", "F"], "")


@each("said", ["spoken over the vamp", "spoken", "gesprochen, leise", "half-spoken"])
def test_words_that_are_spoken(said: str) -> None:
    """What says that words are spoken names no section below a row and is not sung behind words."""
    text = (
        f"Dream\nKey: Am\n\nVamp\n|: Am | G :| x4\n({said})\nI was alone on the pier\n\n"
        f"Break\nN.C.\nAnything to declare? ({said}, piano)\n"
    )
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Vamp", "Break"]
    assert [part.words for part in parts] == ["iwasaloneonthepier", "anythingtodeclare"]
    assert [part.cues for part in parts] == [[said], [f"{said}, piano"]]


def test_a_time_of_day_is_no_chord() -> None:
    """A plan with hours holds no music."""
    text = "Weekend\n\nSunday\n10 AM     singers, upstairs\n12 noon   run of the second half\n"
    with pytest.raises(Refused):
        taken(text)


@each(
    "rows",
    [
        "Verse  8 bars   | G | C |\nHook   4 bars   | D | G |\n",
        "Verse, 8 bars: | G | C |\nHook - 4 bars: | D | G |\n",
        "Verse 8 Takte | G | C |\nHook 4 Takte | D | G |\n",
    ],
)
def test_counts_of_bars_before_bars(rows: str) -> None:
    """A count of bars between a name and its bars is no part of either."""
    parts = parts_of(taken(f"Shift\nKey: G\n\n{rows}").chart)
    assert [part.name.partition(" ")[0] for part in parts] == ["Verse", "Hook"]
    assert [part.music for part in parts] == [["|", "G", "|", "C"], ["|", "D", "|", "G"]]


def test_numbers_of_bars_before_rows() -> None:
    """The bars from which to which a row goes are not played; a row asked for by them is."""
    text = (
        "Drill\nKey: Eb\n\n1-4    | Eb | Cm | Ab | Bb |      intro, piano\n"
        "5-8    | Ab | Bb | Gm | Cm |      verse\n9-12   | Eb | Eb | Ab | Bb |      chorus\n"
        "13-16  as 5-8                     verse 2\n17-20  as 9-12                    chorus\n"
    )
    parts = parts_of(taken(text).chart)
    names = [part.name for part in parts]
    assert names == ["intro", "verse", "chorus", "verse 2", "chorus"]
    assert parts[3].music == parts[1].music == ["|", "Ab", "|", "Bb", "|", "Gm", "|", "Cm"]
    assert parts[0].cues == ["piano"]


def test_a_remark_behind_an_open_bar() -> None:
    """What is said behind the last chord of a row without a bar line at its end leaves it one."""
    part = parts_of(taken("Night\nKey: E\n\nVerse\nBm | D | E | E   build\n").chart)[0]
    assert [one for one in part.music if one != "|"] == ["Bm", "D", "E", "E"]
    assert part.cues == ["build"]


@each(
    ("row", "times", "cues"),
    [
        ("Dm  %  Bb  C", 1, []),
        ("Dm  %  Bb  C   x2   (gtr + vox)", 2, ["gtr + vox"]),
        ("Dm  %  Bb  C   x2   all in", 2, ["all in"]),
        ("Dm % Bb C (soft)", 1, ["soft"]),
    ],
)
def test_similes_without_bar_lines(row: str, times: int, cues: list[str]) -> None:
    """Each chord and each simile is a bar, whatever stands behind the row."""
    part = parts_of(taken(f"Ferry\nKey Dm\n\nVerse 1:  {row}\nChorus:  F  C\n").chart)[0]
    assert part.music == ["|", "Dm", "|", "%", "|", "Bb", "|", "C"]
    assert (part.times, part.cues) == (times, cues)
