"""Sections asked for in few words: by letters, with what is played there, without singing, with
names cut short, up to a last chord; and what a name says of its meter.

Source of the wordings: common practice, no source.
"""

from tests.each import each
from tests.interchange.reading import body, taken
from tests.interchange.typed_sheets import MILL_POND, names_of_parts, parts_of

_LETTERS = "Pond Reel\n\nA\n| G | C | G | D |\n\nB\n| Em | C | G | D |\n\n"
_BARS = "Pond\n\nINTRO (riff)\n| Am | G |\n\nVERSE\n| C | D | G | G |\n\n"


@each(
    ("line", "name", "chord", "said"),
    [
        ("Fin en Sol", "Fin", "G", ""),
        ("Final en Do", "Final", "C", ""),
        ("Finale in Lam", "Finale", "Am", ""),
        ("Terminar em Am", "End", "Am", ""),
        ("eindigen op C", "End", "C", ""),
        ("aufhören auf G", "End", "G", ""),
        ("Slutar på Em", "End", "Em", ""),
        ("end cold on G", "end", "G", "cold"),
        ("Schluss trocken auf G", "Schluss", "G", "trocken"),
    ],
)
def test_last_chords(line: str, name: str, chord: str, said: str) -> None:
    """A line that says on which chord the song ends is a section with that chord, in any language;
    how it ends is a cue."""
    end = parts_of(taken(f"{MILL_POND}{line}\n").chart)[-1]
    assert (end.name, end.music, end.words, " ".join(end.cues)) == (name, [chord], "", said)


@each(
    "line",
    [
        "Chorus instrumental, then end on C",
        "Chorus (instrumental)",
        "Chorus, no singing",
        "Chorus - without words, softer",
    ],
)
def test_music_alone(line: str) -> None:
    """A section that is said to be played without singing has its music and no words, and later
    ones of its name have them again."""
    parts = parts_of(taken(f"{MILL_POND}{line}\nVerse\nChorus\n").chart)
    alone = parts[2]
    assert (alone.name, alone.music, alone.words) == ("Chorus", parts[1].music, "")
    assert parts[-1].words == parts[1].words != ""


@each(
    ("lines", "names"),
    [
        ("Solo on B\nthen A\n", "Solo, A"),
        ("fiddle solo on B x2\nA\n", "fiddle solo x2, A"),
        ("then A again, no repeats, finish on D\n", "A, End"),
        (
            "Gtr solo: A\nWhistle break on B\nA B\nB again, softer\n",
            "Gtr solo, Whistle break, A, B, B",
        ),
        ("Solo auf A (Geige)\ndanach B nochmal, Schluss auf G\n", "Solo, B, Schluss"),
    ],
)
def test_letters_among_words(lines: str, names: str) -> None:
    """A letter that names a part on the sheet is that part where somebody plays over it, or it is
    asked for again, and no chord."""
    parts = parts_of(taken(f"{_LETTERS}{lines}").chart)
    assert ", ".join(names_of_parts(f"{_LETTERS}{lines}")[2:]).casefold() == names.casefold()
    over_b = [one for one in parts[2:] if "solo" in one.name.casefold() and "B" in lines[:18]]
    assert all(one.music in (parts[0].music, parts[1].music) for one in over_b)


@each(
    ("sheet", "names"),
    [
        (f"{_BARS}VERSE\nINTRO riff again\n", "INTRO, VERSE, VERSE, INTRO"),
        (f"{_BARS}VERSE\nHorns (= VERSE)\nVERSE x2\n", "INTRO, VERSE, VERSE, Horns, VERSE x2"),
        (
            "Pond\n\nPart A\n| G | C |\n\nPart B\n| Em | D |\n\nPart A again, fiddle only\n"
            "Part B x2\n",
            "Part A, Part B, Part A, Part B x2",
        ),
        (
            "Teich\n\nTeil A\n| G | C |\n\nTeil B\n| Em | D |\n\nTeil A nochmal, nur Flöte\n",
            "Teil A, Teil B, Teil A",
        ),
        (
            "Ferry\n\nVerse\n| A | D |\nStop chorus\n| A | N.C. |\n\nVerse - bass walks\n"
            "Stop chorus x2, last time straight out\n",
            "Verse, Stop chorus, Verse, Stop chorus x2",
        ),
    ],
)
def test_sections_again(sheet: str, names: str) -> None:
    """A section that is asked for again is that section, with its music, whatever stands behind
    its name."""
    assert ", ".join(names_of_parts(sheet)) == names
    assert all(part.music for part in parts_of(taken(sheet).chart))


@each(
    ("line", "name"),
    [
        ("Zw.spiel: G C D", "Zw.spiel"),
        ("Vorsp.: G C D", "Vorsp"),
        ("Nachsp.: G D G", "Nachsp"),
        ("Estrib.: G C D", "Estrib"),
    ],
)
def test_names_cut_short(line: str, name: str) -> None:
    """A name cut short with dots before chords is a section's."""
    part = parts_of(taken(f"{MILL_POND}{line}\n").chart)[-1]
    assert (part.name, part.music) == (name, line.split(": ")[1].split())


@each("said", ["till singer is on", "hands up", "until the band has come back", "wait for the cue"])
def test_words_behind_bars(said: str) -> None:
    """Bars behind the only name that stands before any are not lost to the words behind them."""
    sheet = f"Pond\n\nVamp: |: Am7 | D9 :| {said}\nVerse:\n| C | D |\n"
    vamp = parts_of(taken(sheet).chart)[0]
    assert vamp.music[:3] == ["repeat-start0", "|", "Am7"] and said in " ".join(vamp.cues)


def test_meters_beside_names() -> None:
    """A meter beside a section's name is that section's alone."""
    sheet = (
        "Pond\n4/4\n\nVerse\n| G | C |\n\nBridge (3/4)\n| Em | D |\n\nB (6/8 swing)\n| C | D |\n\n"
        "Chorus\n| G | G |\n"
    )
    assert body(taken(sheet).chart) == (
        '== Verse\n| G | C |\n== Bridge\nmeter: 3/4\n| Em | D |\n== B\nmeter: 6/8\n"swing"\n'
        "| C | D |\n== Chorus\nmeter: 4/4\n| G | G |"
    )
