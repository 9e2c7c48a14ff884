"""A title that stands on one line with talk and settings, and what is said behind a sign."""

from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import parts_of

_SONG = """

Verse 1
{0}         {1}
Lanterns on the water
{0}         {2}
Every blanket's drawn in

Chorus
{1}         {0}
Row me over, row me home
"""
_CHORDS = {
    "G": ("G", "C", "D"),
    "A": ("A", "D", "E"),
    "Bb": ("Bb", "Eb", "F"),
    "Dm": ("Dm", "Gm", "A"),
}


@each(
    ("head", "title", "key"),
    [
        ("the one about the boat. LANTERN ROW. its in G lads same as always", "LANTERN ROW", "G"),
        ("das vom Boot. LATERNENWEG. geht in G wie immer", "LATERNENWEG", "G"),
        ("celle du bateau. LE QUAI DU NORD. en Sol comme toujours", "LE QUAI DU NORD", "G"),
        ("la del barco. CALLE DEL NORTE. va en Sol como siempre", "CALLE DEL NORTE", "G"),
        ("LANTERN ROW!!! 190 bpm GO GO GO  (key A)", "LANTERN ROW", "A"),
        ("Lantern Row. its in G, same as always", "Lantern Row", "G"),
        ("ok the slow one. LANTERN ROW. G. 72", "LANTERN ROW", "G"),
        ("#3 tonight -- LANTERN ROW -- Dm, 6/8, around 58", "LANTERN ROW", "Dm"),
        ("#3 heute: LATERNENWEG, Dm, 6/8", "LATERNENWEG", "Dm"),
        ('"Lantern Row" - march - B flat - dictated down the phone, sorry', "Lantern Row", "Bb"),
        ('SESSION 14 / song 3 / "Lantern Row" / 112 bpm / Dm', "Lantern Row", "Dm"),
        (
            'ok "Lantern Row" quick chart before i drive. key is G we play it at 96',
            "Lantern Row",
            "G",
        ),
        (
            'Little one for the ward. G, gently. No title yet, call it "Lantern Row"',
            "Lantern Row",
            "G",
        ),
        ('#7 "LANTERN ROW" (Blues in A)', "LANTERN ROW", "A"),
        (
            'Dear both,\n\n"Lantern Row" - key of A - dreamy, around 80. Ron please wait.',
            "Lantern Row",
            "A",
        ),
        ("Lantern Row - march in B flat - mind the trio", "Lantern Row", "Bb"),
        ("Lantern Row\nTrad style, words by Colm Heggarty. In Dm.", "Lantern Row", "Dm"),
    ],
)
def test_a_title_among_what_is_said(head: str, title: str, key: str) -> None:
    """The title is the clause in capitals, in quotes or in front of settings; these are taken, and
    what else is said is neither the title nor the writer."""
    chart = taken(head + _SONG.format(*_CHORDS[key])).chart
    found = chart.text("key").replace(" major", "").replace(" minor", "m")
    writer = "Colm Heggarty" if "Colm" in head else ""
    assert (chart.text("title"), found, chart.text("writer")) == (title, key, writer)


def test_a_subject_gives_way_to_a_title_in_quotes() -> None:
    """The subject of a mail is not the title where the first line has one in quotes."""
    head = 'Subject: parts for Friday\n\n"Lantern Row" - waltz - in B flat - sorry for the state'
    assert taken(head + _SONG.format(*_CHORDS["Bb"])).chart.text("title") == "Lantern Row"


@each(
    "line",
    [
        "Ending: Gb Ab Db   <- watch her hand",
        "Ending: Gb Ab Db <-- Watch her hand",
        "Ending: Gb Ab Db   --> watch her hand",
        "Ending: Gb Ab Db   * watch her hand",
        "Ending Gb Ab Db ^^ watch her hand",
        "Ending: | Gb | Ab | Db |  ← watch her hand",
    ],
)
def test_what_stands_behind_an_arrow_is_said(line: str) -> None:
    """A sign behind a row parts what is said to the players, whose chords stay played."""
    ending = parts_of(taken("Lantern Row" + _SONG.format("Gb", "B", "Db") + f"\n{line}\n").chart)[
        -1
    ]
    chords = [one for one in ending.music if one != "|"]
    assert (ending.name, chords, ending.words) == ("Ending", ["Gb", "Ab", "Db"], "")
    assert [cue.casefold() for cue in ending.cues] == ["watch her hand"]


def test_an_arrow_between_chords_is_no_remark() -> None:
    """Chords that arrows part are played one after another."""
    ending = parts_of(
        taken("Lantern Row" + _SONG.format("G", "C", "D") + "\nEnd: G -> C -> D\n").chart
    )
    assert (ending[-1].music, ending[-1].cues) == (["G", "C", "D"], [])
