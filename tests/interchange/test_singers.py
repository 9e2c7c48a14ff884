"""Who sings, in labels before lines of words: it is said to the singers, and never sung.

Source of the ways to write it: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import all_words, body, codes, reads_back, taken
from tests.interchange.typed_sheets import parts_of

_DUET = """{head}

Verse 1
{a}
C         F
I left my coat at the halfway hotel
{b}
C         G
I left my heart there as well

Chorus
{c}
F        C
Check in and check it out
G        C
Nobody's ever home

Verse 2
{a}
You took the key and you took the light
{b}
I took the train in the night

Chorus
"""
_CHART = """== Verse 1
"{a}"
C F
: I left my / coat at the halfway hotel
"{b}"
C G
: I left my / heart there as well
== Chorus
"{c}"
F C
: Check in / and check it out
G C
: Nobody's / ever home
== Verse 2
"{a}"
C F
: You took the / key and you took the light
"{b}"
C G
: I took the / train in the night
== Chorus"""


@each(
    ("head", "labels"),
    [
        ("Two Chairs", ("he:", "she:", "both:")),
        ("Two Chairs", ("HIM", "HER", "BOTH")),
        ("Two Chairs", ("[He]", "[She]", "[Both]")),
        ("Zwei Stühle", ("Er:", "Sie:", "Beide:")),
        ("Deux chaises", ("Elle :", "Lui :", "Ensemble :")),
        ("Dos sillas", ("Él:", "Ella:", "Los dos:")),
        ("Two Chairs (for Piet and Nuala)", ("(Piet)", "(Nuala)", "(both)")),
        ("Two Chairs", ("PIET:", "NUALA:", "PIET & NUALA:")),
    ],
)
def test_who_sings_stands_in_cues(head: str, labels: tuple[str, str, str]) -> None:
    """Labels alone on a line are cues above the chords of what they say; in a verse without chords
    too, and there the music of the first is written out with cues of its own."""
    a, b, c = labels
    result = taken(_DUET.format(head=head, a=a, b=b, c=c))
    plain = {name: label.strip("()[] :") for name, label in zip("abc", labels, strict=True)}
    assert body(result.chart) == _CHART.format(**plain)
    reads_back(result.chart)


@each(
    "labels",
    [("He: ", "She: ", "Both: "), ("(he) ", "(she) ", "(all) "), ("SHE : ", "HE : ", "ALL : ")],
)
def test_who_sings_before_words(labels: tuple[str, str, str]) -> None:
    """Labels on the line of the words become cues above their chords, whose places hold."""
    a, b, c = labels
    wide = " " * len(a)
    sheet = (
        f"Two Chairs\n\nVerse\n{wide}C         F\n{a}I left my coat at the halfway hotel\n"
        f"{' ' * len(b)}C         G\n{b}I left my heart there as well\n\nChorus\n"
        f"{' ' * len(c)}F          C\n{c}Check in, check it out\n"
    )
    result = taken(sheet)
    assert body(result.chart) == (
        f'== Verse\n"{a.strip(" :()")}"\nC F\n: I left my / coat at the halfway hotel\n'
        f'"{b.strip(" :()")}"\nC G\n: I left my / heart there as well\n'
        f'== Chorus\n"{c.strip(" :()")}"\nF C\n: Check in, / check it out'
    )
    assert "remark" in codes(result)


@each(
    "words",
    [
        ("Wanted: one fiddle", "Found: seven fiddles", "Wanted: one dancer"),
        ("Together", "Alone again", "Together"),
        ("TOGETHER", "ALONE AGAIN", "TOGETHER WE STAND"),
        ("He said: come in", "She said: come on", "They said: no"),
    ],
)
def test_words_that_only_look_like_labels_are_sung(words: tuple[str, str, str]) -> None:
    """A colon in words, or a line of one word, says nothing of who sings."""
    under = "\n".join(f"C         G\n{line}" for line in words)
    lines = "\n".join(words)
    chart = taken(f"Barn\n\nVerse\n{under}\n\nVerse 2\n{lines}\n").chart
    sung = [row for row in body(chart).splitlines() if row.startswith(":")]
    kept = "".join(c for row in sung for c in row.casefold() if c.isalpha())
    for line in words:
        assert kept.count("".join(c for c in line.casefold() if c.isalpha())) >= 2


def test_names_in_capitals_alone() -> None:
    """Those who sing, alone on lines in capitals, name no sections."""
    text = (
        "Stair\nKey: E\n\nVerse\nHE\nE               A\nWho is it walks on the stair\nSHE\n"
        "B7                 E\nOnly the wind and the dust\nBOTH\nA            E\nOpen the window\n"
    )
    assert [part.name for part in parts_of(taken(text).chart)] == ["Verse"]


def test_a_name_that_answers_all() -> None:
    """A name before several lines is a label where others are sung by all."""
    text = (
        "Wheel\nKey: Em\n\nVerse\nSheila: January brings the snow\nAll: turn, turn, turn\n"
        "Sheila: makes the fingers glow\nAll: turn, turn, turn\n\nChorus\nEm   D\nTurn, turn\n"
    )
    assert "Sheila" not in " ".join(all_words(taken(text).chart))


@each(
    ("line", "who"),
    [
        ("Nuala: She left a lamp in the hall", "Nuala"),
        ("(Piet) She left a lamp in the hall", "Piet"),
        ("Long Piet -- She left a lamp in the hall", "Long Piet"),
        ("Sopranos/Altos: She left a lamp in the hall", "Sopranos/Altos"),
        ("2nd voice: She left a lamp in the hall", "2nd voice"),
        ("GIRLS (low): She left a lamp in the hall", "GIRLS (low)"),
        ("Lead > She left a lamp in the hall", "Lead"),
    ],
)
def test_one_singer_before_one_line(line: str, who: str) -> None:
    """Who sings is a cue also where a single line of the sheet has a label."""
    part = parts_of(taken(f"Hall\n\nVerse\nC          G\n{line}\n").chart)[0]
    assert (part.words, part.cues) == ("sheleftalampinthehall", [who])


def test_initials_of_singers() -> None:
    """Initials before words are labels where several of them stand."""
    part = parts_of(taken("Hall\n\nVerse\nC       G\nM: Who left a lamp\nF: I left it\n").chart)[0]
    assert (part.words, part.cues) == ("wholeftalampileftit", ["M", "F"])


def test_singers_before_chords_among_words() -> None:
    """A label stands before words with chords in parentheses, whose places hold."""
    text = "Hall\n\nChorus\nLead: (C)Who left a (G)lamp\nBV: (C)I left it in the (G)hall\n"
    assert body(taken(text).chart) == (
        '== Chorus\n"Lead"\nC G\n: Who left a / lamp\n"BV"\nC G\n: I left it in the / hall'
    )


def test_singers_under_rows_of_bars() -> None:
    """A label of the second line under two rows of bars stands above the second row."""
    text = "Hall\n\nVerse\n| C | G |\n| F | G |\nLADS: Who left a lamp\nLASSES: I left it there\n"
    rows = [row for row in body(taken(text).chart).splitlines() if row[:1] in ('"', "|")]
    assert rows == ['"LADS"', "| C | G |", '"LASSES"', "| F | G |"]


@each("line", ["Monday: The rain came in", "Wanted: One fiddle", "Dear Nuala: I left a lamp"])
def test_first_words_before_a_sign_are_sung(line: str) -> None:
    """Words that songs have are no names, whatever sign stands behind them."""
    text = f"Hall\n\nVerse\nC          G\n{line}\nC          G\nAnd nobody lit the lamp\n"
    words = parts_of(taken(text).chart)[0].words
    assert words == "".join(c for c in line.casefold() if c.isalpha()) + "andnobodylitthelamp"


_REFRAIN = """Hall

Verse 1
C          G
Who left a lamp in the hall

Refrain
{first}C          G
Nobody knows and nobody cares
{second}
F          C
Nobody lights the lamp on the stairs

Verse 2{behind}
{before}I left a lamp in the hall

Refrain
"""


@each(
    ("first", "second", "said"),
    [
        ("", "Everyone:", ["Everyone"]),
        ("", "(all)", ["all"]),
        ("Nuala\n", "Piet", ["Nuala", "Piet"]),
    ],
)
def test_singers_alone_between_rows(first: str, second: str, said: list[str]) -> None:
    """Who sings, alone between two rows of a section that has its name, begins no section."""
    text = _REFRAIN.format(first=first, second=second, behind="", before="")
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Verse 1", "Refrain", "Verse 2", "Refrain"]
    assert parts[1].cues == said


@each(("behind", "before"), [(": Piet", ""), ("", "piet: "), (" - Piet", "")])
def test_a_singer_of_a_verse_without_chords(behind: str, before: str) -> None:
    """Who sings, behind the name of a verse or before its words, is no word of it."""
    text = _REFRAIN.format(first="", second="", behind=behind, before=before)
    part = parts_of(taken(text).chart)[2]
    assert (part.words, part.cues[0].casefold()) == ("ileftalampinthehall", "piet")


def test_a_manner_before_chords_among_words() -> None:
    """How words are sung, before a line with chords in parentheses, is a cue."""
    text = "Hall\n\nVerse\n(C)Who left a (G)lamp\n(softly) (C)I left it in the (G)hall\n"
    part = parts_of(taken(text).chart)[0]
    assert (part.words, part.cues) == ("wholeftalampileftitinthehall", ["softly"])
