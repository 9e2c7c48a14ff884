"""Sentences that say in what order the sections of a song are played.

Source of the wordings: common practice, no source.
"""

from chartkit.chart.model import CueRow
from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_SUNG = """Verse 1
G          C
Fold me a tower of yesterday's news

Chorus
C           G
Shine on, paper light

Verse 2
Ships made of receipts go by in the hall
"""
_TUNE = """A
| D | G | A | D |
B
| Bm | G | D | A |
C
| G | D | Em | A |
"""
_AS_IT_STANDS = ["Verse 1", "Chorus", "Verse 2"]


@each(
    ("said", "behind"),
    [
        (
            "Order: verse 1, chorus, verse 2, chorus, then Pete solos over a verse, and chorus two "
            "times to finish.",
            ["Chorus", "Solo", "Chorus x2"],
        ),
        (
            "Both verses with the chorus after each, then a guitar solo over the verse, then the "
            "chorus twice and out.",
            ["Chorus", "Guitar solo", "Chorus x2"],
        ),
        ("Then the chorus again, verse 1 once more, and end on G.", ["Chorus", "Verse 1", "End"]),
        ("All again, then the chorus twice to finish.", [*_AS_IT_STANDS, "Chorus x2"]),
        ("Twice through, then end on C", [*_AS_IT_STANDS, "End"]),
        ("Back to the chorus, from verse 2 to the end, out.", ["Chorus", "Verse 2"]),
        (
            "Ablauf: Verse 1, Chorus, Verse 2, Chorus, dann Solo über die Strophe, zum Schluss "
            "zweimal Chorus.",
            ["Chorus", "Solo", "Chorus x2"],
        ),
        ("Puis le Chorus deux fois, et fin sur G", ["Chorus x2", "Fin"]),
        ("Rep. from V1", _AS_IT_STANDS),
        ("From the top, then chorus out", [*_AS_IT_STANDS, "Chorus"]),
        ("Play it all again from the top", _AS_IT_STANDS),
        ("alles nochmal von vorne, dann Chorus", [*_AS_IT_STANDS, "Chorus"]),
        ("Same chorus, then vamp C G until I cue", ["Chorus", "vamp"]),
    ],
)
def test_steps_behind_what_the_sheet_has(said: str, behind: list[str]) -> None:
    """A sentence below the song adds the sections that it names behind those that stand there."""
    names = [one.casefold() for one in names_of_parts(f"{_SUNG}\n{said}\n")]
    assert names == [one.casefold() for one in (*_AS_IT_STANDS, *behind)]


@each(
    ("said", "played"),
    [
        ("A twice, B twice, C, then A again, and end on D.", ["A x2", "B x2", "C", "A", "End"]),
        ("All again, then from B to the end once more.", ["A", "B", "C", "A", "B", "C", "B", "C"]),
        ("Twice through, then solo on A, then B, end on D.", [*"ABCABC", "Solo", "B", "End"]),
        ("A, C, then B twice, C again, and A to finish.", ["A", "C", "B x2", "C", "A"]),
        ("A x2, B, C, then from the top, stop on D.", ["A x2", "B", "C", "A x2", "B", "C", "End"]),
        ("A, B, C, then B with only clapping, then C", [*"ABCBC"]),
    ],
)
def test_orders_of_a_tune(said: str, played: list[str]) -> None:
    """A sentence counts the parts of a tune, and asks for them again in any order."""
    assert names_of_parts(f"{_TUNE}\n{said}\n") == played
    assert names_of_parts(f"Gate Reel\n\n{_TUNE}\n{said}\n\nSee you on Friday!\n") == played


def test_a_solo_has_the_music_it_is_played_over() -> None:
    """A solo takes the chords of the section it is said to be over, without its words."""
    sheet = f"{_SUNG}\nThen a fiddle solo over the chorus, verse 1 again, end on C.\n"
    solo = parts_of(taken(sheet).chart)[3]
    assert (solo.name, solo.music, solo.words) == ("fiddle solo", ["C", "G"], "")


def test_an_order_above_the_parts() -> None:
    """A sentence above a tune gives its order, and what it says of the whole stays a cue."""
    sheet = f"The Goat, reel in D\n\nPlayed AABBC, three times round.\n\n{_TUNE}"
    chart = taken(sheet).chart
    assert [one.name for one in chart.sections] == [*"AABBC"]
    cues = [row.text for row in chart.sections[0].rows if isinstance(row, CueRow)]
    assert cues == ["three times round"]


@each(
    "line",
    [
        "Then all again we go around the town",
        "The bridge is burning, then the chorus of the dogs",
        "Once more, and then again, and out to sea",
    ],
)
def test_what_is_no_order(line: str) -> None:
    """A line that says anything else adds no section."""
    assert names_of_parts(f"{_SUNG}{line}\n") == _AS_IT_STANDS
    assert names_of_parts(f"{_SUNG}\n{line}\n") == _AS_IT_STANDS


def test_each_step_has_a_finding() -> None:
    """Whatever a sentence adds is reported at its line."""
    result = taken(f"{_TUNE}\nA twice, B twice, C, then A again, and end on D.\n")
    assert sum(one.line == 8 and one.certainty == "guessed" for one in result.findings) >= 2


@each("line", ["last chorus very slow, drums out", "Last chorus: quiet", "the final chorus softer"])
def test_what_is_said_of_the_last_of_a_name(line: str) -> None:
    """What a line below the song says of the last chorus is a cue of that one alone."""
    parts = parts_of(taken(f"{_SUNG}\nChorus\n\n{line}\n").chart)
    assert [part.name for part in parts] == ["Verse 1", "Chorus", "Verse 2", "Chorus"]
    assert parts[1].cues == [] != parts[3].cues
    ordered = parts_of(taken(f"{_TUNE}\nForm: A B A C B\nlast B ritard\n").chart)
    assert [part.cues for part in ordered] == [[], [], [], [], ["last B ritard"]]
