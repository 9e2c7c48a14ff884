"""Section names as people type them, and what is to be played again."""

import pytest

from chartkit.interchange.intake_result import Refused
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.typed_sheets import ROW, STANZA, WORDS, parts_of


@each(
    ("line", "name"),
    [
        ("V1", "V1"),
        ("CH", "CH"),
        ("Verses", "Verses"),
        ("Guitar solo", "Guitar solo"),
        ("Vamp till cue", "Vamp till cue"),
        (">> Chorus", "Chorus"),
        ("Dernier refrain", "Dernier refrain"),
        ("DRUGI REFREN", "DRUGI REFREN"),
        ("KITA", "KITA"),
        ("Verse 1 & 2", "Verse 1 & 2"),
        ("Strophe 1 und 2:", "Strophe 1 und 2"),
        ("Verse 3 - 4 times", "Verse 3 x4"),
    ],
)
def test_a_section_name_in_second_place_is_no_writer(line: str, name: str) -> None:
    """Names cut short, of several words or behind signs open a section."""
    result = taken(f"Moth Song\n\n{line}\nC   G\nMoth, moth\n")
    assert body(result.chart) == f"== {name}\nC G\n: Moth, / moth"
    assert result.chart.text("writer") == ""


@each("line", ["CHORUS: (2x)", "Chorus (twice)", "Chorus twice", "CHORUS: x2"])
def test_a_section_is_played_as_often_as_its_heading_says(line: str) -> None:
    """In figures or in words, before or behind a colon."""
    result = taken(f"Moth\n\n{line}\nC   G\nMoth, moth\n")
    assert body(result.chart).casefold() == "== chorus x2\nc g\n: moth, / moth"


@pytest.mark.parametrize("line", ["INTERLUDE: same as intro", "Solo over intro chords"])
def test_a_section_with_the_music_of_another(line: str) -> None:
    """A section that is said to go like another has its music and no words of it; the remark
    stays."""
    result = taken(f"Moth\n4/4\n\nIntro\n| C | G |\nhey\n\n{line}\n\nVerse\n| F |\nMoth\n")
    name = line.split(":")[0].split()[0]
    assert f"== {name} as Intro\n" in body(result.chart)
    assert "hey" not in body(result.chart).partition(" as Intro")[2]
    assert {"section-again"} <= codes(result)
    reads_back(result.chart)


@each(
    ("row", "read"),
    [
        ("| C | G | x2", "== Intro x2\n| C | G |"),
        ("C | G | (2x)", "== Intro x2\n| C | G |"),
        ("| C | G || x2", "== Intro x2\n| C | G |"),
        ("| C | G | x4", "== Intro x4\n| C | G |"),
        ("| C | G | x2\n| F | F |", "== Intro\n|: C | G :|\n| F | F |"),
        ("|: C | G :| x3", "== Intro\n|: C | G :| x3"),
        ("|: C | G :| (4x) | F |", "== Intro\n|: C | G :| x4 | F |"),
    ],
)
def test_a_row_with_a_number_of_times(row: str, read: str) -> None:
    """The only row of a section has its count as the section's; others are put between repeat
    signs, with the number where it is not two.  It is a guess unless the signs were typed."""
    result = taken(f"Moth\n4/4\n\nIntro\n{row}\n")
    assert body(result.chart) == read
    assert ":|" in row or "row-again" in codes(result)
    reads_back(result.chart)


@pytest.mark.parametrize("row", ["C  G  x3", "C  G  (3x)"])
def test_the_only_row_of_a_section_with_times(row: str) -> None:
    """Without bars the number is how often the section is played; a row among others keeps it
    as a cue, and a section called for again is played as often."""
    result = taken(f"Moth\n\nIntro\n{row}\n\nVerse\nC x2\nF\nlow\n\nIntro\n")
    assert body(result.chart) == '== Intro x3\nC G\n== Verse\nC "x2"\nF\n: low\n== Intro x3'
    reads_back(result.chart)


def test_a_line_for_one_time_through() -> None:
    """What is played the first time and the second is music, with that said as a cue."""
    result = taken("Heron\n\nChorus\nF  C\nHours\n  1st time: Bb  C\n  2nd time: Bb  C  F\n")
    assert body(result.chart) == ('== Chorus\nF C\n: Hours /\n"1st time" Bb C\n"2nd time" Bb C F')


def test_a_riff_before_tablature_is_a_section() -> None:
    """A heading above tablature is no line to be sung."""
    result = taken("Fence\n\nIntro riff (2x):\ne|-----0---|\n   C   D\n\nVerse\nC\nI mend\n")
    assert body(result.chart) == "== Intro riff x2\nC D\n== Verse\nC\n: I mend"


def test_a_name_cut_short_with_a_remark_or_another_name() -> None:
    """What stands in brackets behind it is a cue; "V2 = V1" has the music of the other."""
    result = taken("Mare\n\nV1\nAm  Dm\noats, rye\n\nCH [loud]\nF  C\ngo on\n\nV2 = V1\n\nCH\n")
    assert '== CH\n"loud"\nF C\n: go / on\n== V2 as V1\n== CH' in body(result.chart)
    reads_back(result.chart)


@pytest.mark.parametrize("row", ["Intro: 1 4 1 5", "| 1 | 6m | 4 | 5 |"])
def test_numbers_without_a_key_are_named_as_the_reason(row: str) -> None:
    """A sheet of degrees alone without a key is refused, and the reason says what is missing."""
    with pytest.raises(Refused, match="numbers are read as chords only below a key"):
        taken(f"Moth\n\n{row}\n")


@each(
    ("key", "row", "chords"),
    [
        ("G", "1 4 1 5", "G C G D"),
        ("A", "1 2 4 5", "A Bm D E"),  # 2, 3 and 6 are minor where no sign says which are
        ("G", "1 2 6- 5", "G A Em D"),  # a sign says which chords are minor
        ("Bb", "1 4/6 b7 5", "Bb Eb/G Ab F"),
        ("Em", "6 4 1 5 6", "Em C G D Em"),  # counted in the major key of the same signature
        ("Em", "1 4 7 3 1", "Em Am D G Em"),
    ],
)
def test_numbers_below_a_key_are_chords(key: str, row: str, chords: str) -> None:
    """Degrees are chords in the key of the sheet, and a finding says so.

    Source of the ways to count: common practice, no source."""
    result = taken(f"Moth\nKey: {key}\n\nIntro\n{row}\n\nVerse\n{row}\n")
    assert f"== Intro\n{chords}\n" in body(result.chart)
    assert "numbers-as-chords" in codes(result)


def test_a_section_played_again_counts_its_own_meter() -> None:
    """Music of an earlier section above new words says its meter again where another is counted."""
    again = "Moth\n\nVerse\n| C | G |\n3/4\nMoth, moth\n\nVerse\nLamp, lamp\n\n"
    found = taken(again + "Bridge\n| F | G |\nTide\n")
    reads_back(found.chart)
    assert "== Verse\nmeter: 4/4\n| C | G |\nmeter: 3/4\n" in body(found.chart)


@each(
    ("tail", "sections"),
    [
        ("Solo over verse chords x2", ["Solo as Verse 1 x2"]),
        ("Outro - repeat intro", ["Outro as Intro"]),
        ("Outro\n(as intro, x2, fade)", ["Outro as Intro x2"]),
        ("Play the verse chords for the solo", ["solo as Verse 1"]),
        ("2nd verse same as first", ["2nd verse as Verse 1"]),
        ("Intro again x2", ["Intro x2"]),
        ("All together now:\nChorus", ["Chorus"]),
        ("Verse 2\nSame chords\nGulls on the gangway\nBrothers in rain", ["Verse 2 as Verse 1"]),
    ],
)
def test_sentences_that_ask_for_earlier_music(tail: str, sections: list[str]) -> None:
    """What says whose music is played and how often is never sung.

    Source of the forms: common practice, no source."""
    song = (
        "Low Ferry\n\nIntro: G C G D\n\nVerse 1\nG  C\nrain on the river\nD  G\nrust and rail\n\n"
        "Chorus\nC  G\nrow little ferry\n\n"
    )
    rows = body(taken(f"{song}{tail}\n").chart).splitlines()
    assert [row[3:] for row in rows if row.startswith("== ")][3:] == sections
    assert not [row for row in rows if row.startswith(":") and "ame as" in row]


@pytest.mark.parametrize("said", ["add shaker", "hats open, no crash"])
def test_a_remark_behind_a_name_in_square_brackets(said: str) -> None:
    """A name in square brackets begins its section whatever stands behind it; that is no cue
    with the name in it, and nobody sings it."""
    chart = taken(f"[VERSE 1]\n{STANZA}\n[VERSE 2] {said}\nNobody is home\nAnd so am I\n").chart
    first, second = parts_of(chart)
    assert (second.name, second.cues, second.words) == ("VERSE 2", [said], "nobodyishomeandsoami")
    assert second.music == first.music


def test_a_name_mistyped_that_other_lines_have_right() -> None:
    """A slip in one of several names of a kind is mended, with a finding; one that the sheet
    always makes stays."""
    typed = f"Low Bell\n\nVrese 1\n{STANZA}\n%s 2\nNobody is home\nNobody is in\n"
    result = taken(typed % "Verse")
    assert [one.name for one in parts_of(result.chart)] == ["Verse 1", "Verse 2"]
    assert "name-mistyped" in codes(result)
    assert parts_of(taken(typed % "Vrese").chart)[0].name == "Vrese 1"


def test_an_empty_line_between_all_lines() -> None:
    """A sheet with one empty line between its lines and two between sections is read as if it
    had none between its lines."""
    close = f"Low Bell\n\n\nVerse 1\n{STANZA}\n\nChorus\n{STANZA}\n\nVerse 2\n{WORDS * 2}"
    wide = close.replace(ROW, "\n" + ROW).replace(WORDS * 2, WORDS + "\n" + WORDS)
    wide = wide.replace("Verse 2\n", "Verse 2\n\n")
    assert body(taken(wide).chart) == body(taken(close).chart)


def test_a_refrain_in_another_type_is_sung() -> None:
    """Stars around words that come again in each verse emphasise a refrain."""
    verse = "Am   G\nOne for the %s\nAm   Em\n*Hey and away we go*\n"
    chart = taken(f"Low Bell\n\n1.\n{verse % 'cellar'}\n2.\n{verse % 'stair'}").chart
    assert [one.words for one in parts_of(chart)] == [
        f"oneforthe{one}heyandawaywego" for one in ("cellar", "stair")
    ]


def test_who_sings_a_line_by_a_name_of_the_sheet() -> None:
    """A name that stands beside a section's tells who sings, also behind a line of words."""
    typed = f"Verse 1 - Maria\n{STANZA}\nChorus - Tom\nC  F\nOpen the gate   (Maria high)\n"
    (_, chorus) = parts_of(taken(f"Low Bell\n\n{typed}").chart)
    assert (chorus.words, chorus.cues) == ("openthegate", ["Tom", "Maria high"])


def test_what_is_played_behind_the_order_of_sections() -> None:
    """Solos and the last head below the line of form are played behind it."""
    rows = "A\n| Bb | Gm | F7 | Bb |\n\nB\n| Eb | Eb | F7 | F7 |\n"
    tail = "Form: A A B A\nSolos over AABA, trumpet first\nHead out, twice as slow\n"
    names = [one.name for one in parts_of(taken(f"Low Bell\n\n{rows}\n{tail}").chart)]
    assert names == ["A", "A", "B", "A", "Solos", "Head out"]


def test_the_bars_before_the_verse_by_their_name() -> None:
    """A section of any name before a colon is called again by that name alone on its line."""
    typed = f"Verse 1\n{STANZA}\nTurn: G  C  G  D\n\nVerse 2\nNobody is in\nOr is\n\nTurn\n"
    again = parts_of(taken(f"Low Bell\n\n{typed}").chart)[-1]
    assert (again.name, again.music, again.words) == ("Turn", ["G", "C", "G", "D"], "")


def test_verses_by_roman_numbers() -> None:
    """The first verse by its roman number lends its music to those below."""
    typed = f"Low Bell\n\nI\n{STANZA}\nRefrain\n{STANZA}\nII\nNobody is in\nNobody is out\n"
    first, _, second = parts_of(taken(typed).chart)
    assert (second.name, second.music) == ("II", first.music)


def test_a_letter_with_a_remark_is_the_section_of_that_name() -> None:
    """A letter alone that names a section is no chord where a remark stands behind it."""
    typed = f"Low Bell\n\nV1\n{STANZA}\nC\n{STANZA}\nV2\nNobody is in\nOr out\n\nC (quiet)\n"
    assert [one.name for one in parts_of(taken(typed).chart)] == ["V1", "C", "V2", "C"]


def test_a_count_between_rules() -> None:
    """A count stands within the rules around a name, and a remark behind them."""
    typed = f"=== CHORUS ===\n{STANZA}\n=== CHORUS x2 === (claps)\n"
    last = parts_of(taken(typed).chart)[-1]
    assert (last.name, last.times, last.cues) == ("CHORUS", 2, ["claps"])
