"""Remarks to the players behind rows of chords, without brackets; common practice, no source."""

from tests.each import each
from tests.interchange.reading import body, codes, taken
from tests.interchange.typed_sheets import parts_of

HEAD = "Moth\nKey: Em\n\nVerse\nEm        C\nThere is a moth in the hall\n\n"


@each(
    ("row", "music", "said"),
    [
        ("Em C G D  keep going round and fade, last chord Em", "Em C G D", "keep going round and"),
        ("Em Cmaj7 G D  repeat and fade, end Em(add9)", "Em Cmaj7 G D", "end Emadd9"),
        ("Em - C - G - D  x2, last time E E7", "Em C G D", "last time E E7"),
        ("Em C G D slower and slower", "Em C G D", "slower and slower"),
        ("Em C x2 then stop!", "Em C", "then stop!"),
    ],
)
def test_chords_stay_beside_a_remark(row: str, music: str, said: str) -> None:
    """The chords are the row's, the words one cue, and a finding says so."""
    result = taken(f"{HEAD}Outro\n{row}\n")
    outro = body(result.chart).split("== Outro")[1]
    assert "remark-behind-chords" in codes(result)
    assert outro.partition("\n")[2].split('"')[0].strip() == music
    assert said in outro.split('"')[1]


@each(
    "line",
    [
        "Am I the one, A fool to call it home",
        "Em C G D  Riding G home",
        "Chorus: G D, verse: Em C",
    ],
)
def test_other_lines_stay(line: str) -> None:
    """Words to be sung and names of further sections are no remarks."""
    assert "remark-behind-chords" not in codes(taken(f"{HEAD}{line}\n"))


@each("said", ["half time", "drums out", "quietly, twice"])
def test_a_letter_with_a_remark_before_its_colon(said: str) -> None:
    """It names a section beside other names cut short, and is no chord."""
    result = taken(f"Moth\nKey: A\n\nV: A D A E\nC: D E A\nB ({said}): Bm D A E\n")
    assert [section.name for section in result.chart.sections] == ["V", "C", "B"]


def test_a_last_chord_behind_a_letter_with_a_remark() -> None:
    """The letter and its remark are not played again with the row."""
    row = "B (half time): Bm D A E x2 then E stop!"
    result = taken(f"Moth\nKey: A\n\nV: A D A E\nC: D E A\n{row}\n")
    assert body(result.chart).splitlines()[-1] == 'Bm D A E Bm D A E E "stop"'


def test_a_line_of_form_keeps_its_letters() -> None:
    """In a line of form a C is a chorus, and no key."""
    text = "Moth\nKey: A\nForm: I, V, C, V, C, Out\n\nI: A D\nV: A D A E\nC: D E A\nOut: A D\n"
    result = taken(text)
    assert "head-settings" not in codes(result)


def test_a_line_of_a_letter_with_settings_has_one_finding() -> None:
    """What is read out of it is said in one finding, which has the whole line."""
    said = "capo 3 (I play it in C shapes, chords below are what I FINGER)"
    result = taken(f"Hi Gil,\n{said}\n\nMOTH\n\nVerse\nC     F\nThere is a moth\n")
    of_line = [one for one in result.findings if said in one.message]
    assert len(of_line) == 1 and "capo" in of_line[0].message


@each(
    ("row", "music", "said"),
    [
        ("OUTRO Em C G then feedback", "Em C G", "then feedback"),
        ("Out  Em C, fade", "Em C", "fade"),
        ("Intro Em C G D drums come in slowly", "Em C G D", "drums come in slowly"),
    ],
)
def test_a_remark_behind_a_name_and_chords(row: str, music: str, said: str) -> None:
    """Behind a name without a sign it is one too."""
    written = body(taken(f"{HEAD}{row}\n").chart).splitlines()[-1]
    assert written.split('"')[0].strip() == music
    assert said in written


@each(
    "row",
    ["Intro     C  Am  F  G     2     keys alone", "Out in A field of barley", "Key: C  //  4/4"],
)
def test_tables_words_and_settings_are_no_rows_with_remarks(row: str) -> None:
    """Behind a name stand the next cell of a table, words to be sung, or a setting."""
    assert "remark-behind-chords" not in codes(taken(f"{HEAD}{row}\n"))


@each("line", [" ", "\t", " \u2003", "G", "Intro"])
def test_lines_without_a_row(line: str) -> None:
    """An empty line, a chord or a name alone have no remark behind them."""
    assert "remark-behind-chords" not in codes(taken(f"{HEAD}{line}\nEm C\nlow tide\n"))


@each(
    ("row", "said"),
    [
        ("Vamp: |: Am7 | D9 :| till singer is on", "till singer is on"),
        ("Vamp: |: Am7 | D9 :| x4, as long as he talks", "as long as he talks"),
        ("Vamp |: Am7 | D9 :| bis der Sänger kommt", "bis der Sänger kommt"),
        ("Vamp: | Am7 | D9 | slower and slower", "slower and slower"),
    ],
)
def test_a_remark_behind_bars(row: str, said: str) -> None:
    """However many its words are beside the chords, the bars are read."""
    result = taken(f"{HEAD}{row}\n")
    written = body(result.chart)
    assert "Am7" in written.splitlines()[-1]
    assert said in written


@each(
    ("typed", "cue"),
    [
        ("| Em | C |        [keys pad]", "keys pad"),
        ("| Em | C |        ([keys pad])", "keys pad"),
        ("| Em | [pads only] C |", "pads only"),
        ("| Em | C |   [snare roll]  [stop]", "snare roll"),
        ('Em  C   (shout "Hey")', "shout “Hey”"),
        ("Em  C   („Hey“ rufen)", "„Hey“ rufen"),
        ('Em  C   "let ring"', "let ring"),
    ],
)
def test_signs_around_a_remark_and_within(typed: str, cue: str) -> None:
    """Brackets and quotes around all of it go; those around some of its words stay in pairs."""
    assert f'"{cue}"' in body(taken(f"{HEAD}Outro\n{typed}\n").chart)


@each(
    ("line", "last"),
    [
        ('end on D (shout "Hey")', '== end\nD "shout “Hey”"'),
        ('Verse x2, end on D (all shout "Hey")', '== end\nD "all shout “Hey”"'),
        ('End on A, shout "Hero!"', '== End\nA "shout “Hero!”"'),
        ("Ending: hold Dm till the lights go", '== Ending\nDm "hold till the lights go"'),
        ("Interlude: sit on Em while Noor reads", '== Interlude\nEm "sit while Noor reads"'),
        ("Final em Dm até o maestro cansar", '== Final\nDm "até o maestro cansar"'),
        ("Vamp on Dm until Ezra nods", '== Vamp\nDm "until Ezra nods"'),
        ("Vamp Dm G7 until Ezra nods", '== Vamp\nDm G7 "until Ezra nods"'),
        ("Outro: stay on Dm as long as Ezra likes", '== Outro\nDm "stay as long as Ezra likes"'),
        ("Schluss auf Dm bis Karl nickt", '== Schluss\nDm "bis Karl nickt"'),
        ("Fin sur Dm jusqu'au signe de Léa", '== Fin\nDm "jusqu\'au signe de Léa"'),
    ],
)
def test_the_chord_a_section_stays_on(line: str, last: str) -> None:
    """The chord is played, and what is said of it is a cue, whatever words it has."""
    assert body(taken(f"{HEAD}{line}\n").chart).endswith(last)


def test_words_about_a_place_are_no_chord() -> None:
    """Without a chord no section stays on one."""
    assert "== Vamp" not in body(taken(f"{HEAD[:-1]}Vamp on the river until he nods\n").chart)


@each(
    ("said", "rounds"),
    [
        (", twice per line", 2),
        (" (x2 per line)", 2),
        (" once each line", 1),
        (" - twice per line", 2),
        (", zweimal pro Zeile", 2),
        (", deux fois par ligne", 2),
    ],
)
def test_chords_behind_a_name_for_each_line(said: str, rounds: int) -> None:
    """However it is set off, the chords are played so often over each line of words."""
    sheet = f"Moth\n\nVerse: C D{said}\nThere is a moth in here\nNobody is home\n"
    (part,) = parts_of(taken(sheet).chart)
    assert part.music == ["C", "D"] * 2 * rounds
    assert part.cues == []


def test_one_chord_for_each_line_behind_a_name() -> None:
    """A remark behind the chords may give one to each line."""
    sheet = "Moth\n\nVerse: C D, one per line\nThere is a moth in here\nNobody is home\n"
    assert "C\n: There is a moth in here\nD\n: Nobody is home" in body(taken(sheet).chart)


@each("typed", ["G  E7...", "G  E7…"])
def test_dots_behind_a_chord_are_reported(typed: str) -> None:
    """The chord is read, and a finding says that its dots are left out."""
    result = taken(f"{HEAD}Chorus\n{typed}\nLight the lamp\n")
    assert "G E7" in body(result.chart)
    assert "dots-behind-chord" in codes(result)
