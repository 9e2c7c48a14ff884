"""Tables that were copied out of spreadsheets and word processors, cells parted by a sign.

Source of the forms: common practice, no source.
"""

from chartkit.chart.model import CueRow, MusicRow, WordsRow
from tests.each import each
from tests.interchange.reading import taken
from tests.interchange.typed_sheets import names_of_parts, parts_of, plain_letters

_SEMICOLONS = """"Der Milchmann";;;
Musik: Rolf Kessing;;;
Tonart;G-Dur;;
Tempo;96;;
;;;
Teil;Akkorde;Wdh.;Bemerkung
Intro;"G D Em C";2;nur Gitarre
Strophe 1;"G D Em C G D C C";;
Refrain;"C D G Em C D G G";;alle, laut
Strophe 2;wie Strophe 1;;Bass dazu
Refrain;;2;
Schluss;G;;"ritardando; lang halten"
"""
_COUNTED = """Nr\tPart\tChords\tWho
1\tIntro\tAm G F E\tguitar alone
2\tVerse\tAm G F E Am G F E\t
3\tChorus\tC G Am F C G E E\teverybody
4\tVerse\t"\t
5\tChorus\t"\t
6\tSolo\tverse\tfiddle
7\tChorus\t\tx2
8\tEnd\tAm\tlet it ring
"""
_STROKES = """Le Cordonnier
Tonalité : Ré mineur

| Partie | Mesures | Accords | Remarques |
| Intro | 4 | Dm C Bb A | accordéon seul |
| Couplet 1 | 8 | Dm C Bb A Dm C A Dm | |
| Refrain | 8 | F C Gm A F C A Dm | tous |
| Couplet 2 | 8 | comme couplet 1 | basse |
| Refrain | 8 | idem | |
| Fin | 2 | A Dm | ralentir |
"""
_DRAWN = """+---------+---------+-------+
| Sección | Acordes | Veces |
+---------+---------+-------+
| Intro   | E A B7  | 2     |
| Estrofa | E A E B |       |
+---------+---------+-------+
| Coro    | A E B7  |       |
| Estrofa |         |       |
| Coro    |         | 3     |
+---------+---------+-------+
"""
_BARS = """Title:\tLow Water
Key:\tD

Part\t1\t2\t3\t4\t5\tNotes
Intro\tD\tA\tBm\tG\t\tdrums only first time
Verse\tD\t\tG\tG\tA\t
\tBm\tA\tD\t\t\tbass in
Chorus\tG\tA\tD\tBm\t\t
Verse\t\t\t\t\t\tadd bass
Chorus
Outro\tG\tA\tD\t\t\thold
"""
_COMMAS = """Night Bus Home
Key: G

Section,Chords,Repeat,Notes
Intro,G C,4,just kick
Verse,G C Em D,2,
Chorus,C D G Em,2,"big, open"
Bridge,Am Em,,
Chorus,,2,
Outro,G C G,1,slow down
"""
_NUMBERS = """Key: A

Deel;Akkoorden;Opmerking
Intro;1 4;zacht
Couplet;1 4 1 5;
Refrein;4 5 1 6m;
"""


@each(
    ("table", "names"),
    [
        (
            _SEMICOLONS,
            ["Intro x2", "Strophe 1", "Refrain", "Strophe 2", "Refrain x2", "Schluss"],
        ),
        (
            _COUNTED,
            ["Intro", "Verse", "Chorus", "Verse", "Chorus", "Solo", "Chorus x2", "End"],
        ),
        (_STROKES, ["Intro", "Couplet 1", "Refrain", "Couplet 2", "Refrain", "Fin"]),
        (_DRAWN, ["Intro x2", "Estrofa", "Coro", "Estrofa", "Coro x3"]),
        (_BARS, ["Intro", "Verse", "Chorus", "Verse", "Chorus", "Outro"]),
        (_COMMAS, ["Intro x4", "Verse x2", "Chorus x2", "Bridge", "Chorus x2", "Outro"]),
        (_NUMBERS, ["Intro", "Couplet", "Refrein"]),
    ],
)
def test_each_row_of_a_table_is_a_section(table: str, names: list[str]) -> None:
    """Rows are the sections in their order, each as often as its cell says."""
    assert names_of_parts(table) == names


@each(
    ("table", "at", "music"),
    [
        (_SEMICOLONS, 3, "G D Em C G D C C"),
        (_SEMICOLONS, 4, "C D G Em C D G G"),
        (_COUNTED, 3, "Am G F E Am G F E"),
        (_COUNTED, 5, "Am G F E Am G F E"),
        (_STROKES, 3, "Dm C Bb A Dm C A Dm"),
        (_STROKES, 4, "F C Gm A F C A Dm"),
        (_DRAWN, 3, "E A E B"),
        (_BARS, 0, "| D | A | Bm | G"),
        (_BARS, 1, "| D | % | G | G | A | Bm | A | D"),
        (_NUMBERS, 2, "D E A F#m"),
    ],
)
def test_an_empty_cell_is_the_earlier_section(table: str, at: int, music: str) -> None:
    """Each section has the chords of its cells, of the one that a cell names, or those of the one
    of its name above; a bar without a chord goes on with the one before."""
    assert " ".join(parts_of(taken(table).chart)[at].music) == music


@each(
    ("table", "cues"),
    [
        (_SEMICOLONS, ["nur Gitarre", "alle, laut", "Bass dazu", "ritardando; lang halten"]),
        (_STROKES, ["accordéon seul", "tous", "basse", "ralentir"]),
        (_COMMAS, ["just kick", "big, open", "slow down"]),
        (_BARS, ["drums only first time", "bass in", "add bass", "hold"]),
    ],
)
def test_remarks_of_a_table_are_cues(table: str, cues: list[str]) -> None:
    """What stands in a column of remarks is said to the players, each with its section."""
    chart = taken(table).chart
    assert [
        row.text for one in chart.sections for row in one.rows if isinstance(row, CueRow)
    ] == cues


def test_two_cells_beside_a_table_are_a_setting() -> None:
    """A label and its value in two cells are settings, whatever the sign between the cells."""
    chart = taken(_SEMICOLONS).chart
    said = [chart.text(name) for name in ("title", "writer", "key", "tempo")]
    assert said == ["Der Milchmann", "Rolf Kessing", "G major", "96"]
    assert taken(_BARS).chart.text("title") == "Low Water"


def test_words_in_a_column_are_sung() -> None:
    """A column of words has the words of its section."""
    table = "Deel\tAkkoorden\tTekst\nCouplet\tC F G C\tDe deur staat op een kier\nRefrein\tF G\t\n"
    rows = taken(table).chart.sections[0].rows
    words = [row for row in rows if isinstance(row, WordsRow)]
    sung = "".join(one.text for cell in words[0].cells for one in cell)
    assert plain_letters(sung) == "dedeurstaatopeenkier"


@each(
    ("text", "rows"),
    [
        ("Part | Am | F | C | G |\nSection | F | G | Am | Am |\nNotes | C | C | G | G |\n", 3),
        ("Verse\nC   G\npart, chords, times, words\nAm   F\nintro, outro, all the birds\n", 2),
        ("Verse\nG\tC\tD\nThe part\tthe chords\tthe notes\nC\tG\tD\nAre all\tI have\tto say\n", 2),
        ("G C D\nForm; chords; notes;\nC G D\nWalking; talking; crying; oh\n", 2),
    ],
)
def test_rows_that_only_look_like_heads_are_no_table(text: str, rows: int) -> None:
    """Bars behind a name and words of a song that are heads elsewhere stay bars and words."""
    chart = taken(text).chart
    music = [row for one in chart.sections for row in one.rows if isinstance(row, MusicRow)]
    assert len(music) == rows


def test_settings_beside_a_table_keep_their_labels() -> None:
    """A tab between two settings makes no label of the first."""
    table = (
        "Section\tChords\tWho\nIntro\tC F C F\tbells\nVerse\tC F C G\tall\nChorus\tF G C C\tall\n"
    )
    chart = taken(f"Bicycle Sky\nKey: C\tSpeed: 110\n\n{table}").chart
    assert (chart.text("key"), chart.text("tempo")) == ("C major", "110")
    assert chart.text("title") == "Bicycle Sky"


def test_names_in_a_table_that_are_directions_elsewhere() -> None:
    """What stands in the column of names is a name, whatever it is on a line of its own."""
    rows = "intro,2,Dm F,pads only\nbuild,1,Dm F G,snare roll\ndrop,4,Dm Bb F C,\nbuild,1,Dm F G,\n"
    parts = parts_of(taken(f"Fog\nsection,times,chords,note\n{rows}").chart)
    assert [part.name for part in parts] == ["intro", "build", "drop", "build"]
    assert parts[1].cues == ["snare roll"]
