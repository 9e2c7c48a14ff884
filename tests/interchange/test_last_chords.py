"""The chords on which a song ends, and what one player's break is played over.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_ABOVE = "Gravel Pit\n\nVerse 1\nEm   D\nGravel in the shoe\n\nChorus\nC   G\nRoll it on\n\n"


@each("count", ["x3", "(x3)", "3x", "3 times", "3 mal"])
@each("then", [", then Am", " then just Am", ", end on Am", ", daarna Am", " and finish on Am."])
def test_a_row_with_a_count_and_a_last_chord(count: str, then: str) -> None:
    """Bars are repeated as often as the count says, and the last chord comes once; chords without
    bar lines are written out."""
    barred = parts_of(taken(f"{_ABOVE}Outro: | Am | F | {count}{then}\n").chart)[2]
    assert (barred.times, barred.played) == (1, ["Am", "F"] * 3 + ["Am"])
    free = parts_of(taken(f"{_ABOVE}Outro: Am F {count}{then}\n").chart)[2]
    assert (free.times, free.music) == (1, ["Am", "F"] * 3 + ["Am"])


def test_how_a_last_chord_is_played() -> None:
    """What is said of the last chord behind a count stays a cue."""
    part = parts_of(taken(f"{_ABOVE}Outro: | Am | F | x4 then hold Am (let it ring)\n").chart)[2]
    assert part.cues == ["hold, let it ring"]


@each(
    ("line", "name", "chord"),
    [
        ("last hit: Em9", "last hit", "Em9"),
        ("Final chord D major", "Final chord", "D"),
        ("the last chord is Gm (hold)", "last chord", "Gm"),
        ("Schlussakkord: C", "Schlussakkord", "C"),
        ("accord final - Am", "accord final", "Am"),
    ],
)
def test_a_last_chord_alone(line: str, name: str, chord: str) -> None:
    """A line that names the last chord is the song's last section."""
    last = parts_of(taken(f"{_ABOVE}{line}\n").chart)[-1]
    assert (last.name, last.music) == (name, [chord])


@each("line", ["last chord rings", "last note: let it go", "final hit together"])
def test_what_is_said_of_the_last_chord(line: str) -> None:
    """Where no chord is named, no section begins."""
    assert len(taken(f"{_ABOVE}{line}\n").chart.sections) == 2


def test_an_order_above_the_last_chord() -> None:
    """An order without a label stands below the parts, and the last chord below the order."""
    sheet = "Funk\n\nA: | Am7 | D7 |\nB: | F | G |\n\nA A B A\n\nlast stab: Am9\n"
    assert [one.name for one in taken(sheet).chart.sections] == [*"AABA", "last stab"]


@each("who", ["Fiddle", "Mando", "Banjo", "Sax", "Harmonica"])
def test_a_break_is_played_over_the_verse(who: str) -> None:
    """The break of one player of a tune has the music of the verse where nothing else is said."""
    part = parts_of(taken(f"{_ABOVE}{who} break\n\nChorus\n").chart)[2]
    assert (part.name, part.music, part.words) == (f"{who} break", ["Em", "D"], "")


def test_a_break_without_a_tune() -> None:
    """What drums play in their break is not known."""
    part = parts_of(taken(f"{_ABOVE}Drum break\n\nChorus\n").chart)[2]
    assert (part.name, part.music) == ("Drum break", [])


@each(
    ("line", "name", "cues"),
    [
        ("end on D, feedback", "end", ["feedback"]),
        ("Finish on a big D", "End", ["big"]),
        ("zum Schluss auf D", "Schluss", []),
        ("am Ende auf D, abrupt", "Ende", ["abrupt"]),
        ("pour finir D (sec)", "End", ["sec"]),
        ("on finit sur D, tenu", "End", ["tenu"]),
        ("y cierre en D", "cierre", []),
        ("Final en D, brusco", "Final", ["brusco"]),
        ("si chiude su D, corto", "End", ["corto"]),
        ("Fim em D, devagar", "Fim", ["devagar"]),
        ("Slot op D, traag", "Slot", ["traag"]),
        ("daarna einde op D", "einde", []),
        ("slutar på D, tvärt", "End", ["tvärt"]),
        ("så slut på D", "slut", []),
        ("Slutt på D, brått", "Slutt", ["brått"]),
        ("potem koniec na D", "koniec", []),
        ("kończymy na D", "End", []),
        ("Final chord D let ring", "End", ["let ring"]),
        ("Finish on D choke it", "End", ["choke it"]),
        ("ends on a big D hold it", "End", ["big, hold it"]),
        ("Termina en Re dejando sonar", "End", ["dejando sonar"]),
    ],
)
def test_a_song_ends_on_a_chord_in_any_language(line: str, name: str, cues: list[str]) -> None:
    """A line that says on which chord the song ends is its last section, also where nothing is
    known of what is said behind it."""
    last = parts_of(taken(f"{_ABOVE}{line}\n").chart)[-1]
    assert (last.name, last.music, last.cues, last.words) == (name, ["D"], cues, "")


@each(
    "line",
    [
        "Chorus 2x, end on D",
        "Chorus 2x, dann Schluss auf D",
        "Chorus x2, puis fin sur D",
        "Chorus x2, cierre en D",
        "Chorus x2, terminar en D",
        "Chorus x2, chiusura su D",
        "Chorus 2x, depois fim em D",
        "Chorus 2x, dan slot op D",
        "Chorus 2x, sen slut på D",
        "Chorus 2x, potem koniec na D",
        "Chorus 2x, kończymy na D",
    ],
)
def test_the_last_chord_behind_a_step(line: str) -> None:
    """The same behind a section that is asked for again."""
    *_, again, last = parts_of(taken(f"{_ABOVE}{line}\n").chart)
    assert (again.name, again.times, again.cues, last.music) == ("Chorus", 2, [], ["D"])
