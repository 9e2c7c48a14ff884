"""Endings on several chords, stanzas with numbers under a grid, and verses that nobody named."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_SONG = """Marrow Lane

Verse 1
A              E                 F#m      D
Down on Marrow Lane the shutters bang and groan
Refrain
D         A             E             A
Run, boy, run, there is rain upon the hill
{again}
"""


@each(
    ("again", "name", "music", "cue"),
    [
        ("Refrain\nFinish on A -> E -> A, all together", "Finish", "A E A", "all together"),
        ("Refrain, harmony\nOut on A - Am - E, volume swells", "Out", "A Am E", "volume swells"),
        ("Refrain\nFINISH  A, D, and a drink", "FINISH", "A D", "and a drink"),
        ("Refrain\nLoppu Em (pitkä)", "Loppu", "Em", "pitkä"),
        ("Refrain\nFinale C -> F/C -> C rallentando", "Finale", "C F/C C", "rallentando"),
        ("Refrain\nKoniec: Dm E7 Am (zwolnić)", "Koniec", "Dm E7 Am", "zwolnić"),
    ],
)
def test_a_song_ends_on_several_chords(again: str, name: str, music: str, cue: str) -> None:
    """What stands below the last refrain is played after it, and never sung."""
    *_, refrain, last = parts_of(taken(_SONG.format(again=again)).chart)
    assert refrain.words == "runboyrunthereisrainuponthehill"
    assert (last.name, " ".join(last.music), last.words) == (name, music, "")
    assert cue in " ".join(last.cues)


@each("last", ["Out on the lane and over", "Finish the bread and go", "End of the road, my love"])
def test_words_that_begin_as_an_ending(last: str) -> None:
    """Lines under chords that begin with such words are sung."""
    text = _SONG.format(again=f"Verse 2\nA   E   D\n{last}")
    letters = "".join(c for c in last.casefold() if c.isalpha())
    assert parts_of(taken(text).chart)[-1].words == letters


@each("count", ["3 kertaa", "x3", "3 mal"])
def test_a_count_behind_a_name_under_a_row(count: str) -> None:
    """A section asked for so many times right under a row of chords is played, not sung."""
    again = f"Refrain\nBreak: Em D C B7, x2\nRefrain {count}, viimeinen ilman rumpuja"
    parts = parts_of(taken(_SONG.format(again=again)).chart)
    assert [(part.name, part.times) for part in parts[2:]] == [
        ("Refrain", 1),
        ("Break", 2),
        ("Refrain", 3),
    ]
    assert parts[-1].cues == ["viimeinen ilman rumpuja"]


_GRID = "| F | Dm | Bb | C7 |\n| F | Dm | C7 | F |\n"
_STANZAS = "1. Het koren slaapt\n   De maan komt laat\n2. De boer die telt\n   De uil verhuist\n"


@each("name", ["", "Verses\n"])
@each("blank", ["", "\n"])
@each("below", ["", "\nTussenspel: hobo alleen\nCouplet 1 herhalen\nSlotakkoord: F\n"])
def test_stanzas_under_a_grid(name: str, blank: str, below: str) -> None:
    """Stanzas with numbers under bars are verses with the music of these, whatever follows."""
    stanzas = _STANZAS.replace("2.", f"{blank}2.")
    first, second, *more = parts_of(taken(f"Winter\n\n{name}{_GRID}\n{stanzas}{below}").chart)
    assert (first.name, second.name) == ("1.", "2.")
    assert (first.words, second.words) == (
        "hetkorenslaaptdemaankomtlaat",
        "deboerdieteltdeuilverhuist",
    )
    assert first.music == second.music != []
    assert len(more) == 3 * bool(below)


@each(
    ("again", "names"),
    [
        ("(Refrain again straight away, no harp)", "Verse 1, Refrain, Refrain, Verse 2, Refrain"),
        ("Refrain 2x, soft", "Verse 1, Refrain, Refrain x2, Verse 2, Refrain"),
    ],
)
@each("music", ["C#m     A        E\n", ""])
def test_a_verse_below_what_comes_again(again: str, names: str, music: str) -> None:
    """Lines apart below a section that is asked for once more are a verse of their own, with a
    finding."""
    words = "Down on Marrow Lane the lamps are going out\nRun, boy, the night is here\n"
    text = _SONG.format(again=f"\n{again}\n\n{music}{words}\nRefrain")
    assert ", ".join(names_of_parts(text)) == names
    assert any(one.code == "verse-without-name" for one in taken(text).findings)


def test_the_last_words_below_a_line_of_form() -> None:
    """Words below all names that say again what was sung are no letter to the reader."""
    text = _SONG.format(again="\nRefrain 2x, soft\n\nRain upon the hill again\nMarrow Lane is gone")
    last = parts_of(taken(text).chart)[-1]
    assert last.words == "rainuponthehillagainmarrowlaneisgone"


def test_a_last_line_with_a_remark_above_its_words() -> None:
    """A section whose last line comes again can be written, whatever stands between its rows."""
    text = (
        "Tag last line 3x\nDm          C\n(tutti)\nWalking backwards all the day\nDm          A7\n"
    )
    (tag,) = parts_of(taken(text).chart)
    assert tag.music == ["Dm", "C", *["Dm", "A7"] * 3]


@each("end", ["bye for now, Corrie", "tot dinsdag! Joris", "Bis Dienstag, Uwe", "till then, Jo"])
def test_who_takes_leave_until_another_day(end: str) -> None:
    """A farewell until another day, apart below the song, is no word of it."""
    last = parts_of(taken(_SONG.format(again=f"Refrain\n\n{end}")).chart)[-1]
    assert last.words == "runboyrunthereisrainuponthehill"


@each(
    "said",
    [
        "nobody remembers the chords!",
        "different tune, chords never written down",
        "Akkorde weiß keiner",
        "accords inconnus",
        "no chords yet",
    ],
)
def test_a_verse_whose_chords_nobody_knows(said: str) -> None:
    """A verse of which a remark says so has no chords of another."""
    again = (
        f"Verse 2\n({said})\nUnder the mill the water turns\nNobody will tell you why\n\nRefrain"
    )
    verse = parts_of(taken(_SONG.format(again=again)).chart)[2]
    assert (verse.name, verse.music) == ("Verse 2", [])
    assert said in " ".join(verse.cues)


@each(
    ("head", "feel"),
    [
        ("key: C  -  slow", "slow"),
        ("tonalità: C  -  lento", "lento"),
        ("tonacja: C, wolno", "wolno"),
        ("Key: C    Time: 6/8    Slow", "Slow"),
    ],
)
def test_how_a_song_goes_beside_its_key(head: str, feel: str) -> None:
    """Words of manner beside a setting say how the song goes."""
    chart = taken(_SONG.format(again="Refrain").replace("\n\n", f"\n{head}\n\n", 1)).chart
    assert (chart.text("feel"), chart.text("note")) == (feel, "")
