"""A whole song that somebody tells in sentences."""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import parts_of

_ENGLISH = """hey Tom!!
ok so the tune is called Salt Road and its in D minor, quite slow, like 70.
verse is Dm C Bb A, four times. chorus is F C Gm A, twice.
then verse again, then chorus again.
then theres a bridge which is Bb C Dm Dm, really quiet.
then chorus again and finish on a big Dm.
no rush learning it, gig isnt till the 9th xx
"""
_ORDERED = """Hi Robin, the song is called The Orange Seller, it's in G, capo no.
The intro is G Em C D two times, only you.
The verse is G Em C D, G Em Am D.
The chorus is C D G Em.
After the second chorus there is a bridge: Am Em Am D. I sing it without drums.
So: intro, verse, chorus, verse, chorus, bridge, chorus x2. In the last chorus we slow down.
Kisses, Lucía
"""
_GERMAN = """Hallo Jens, das Stück heißt Kalter Kaffee, in G, um die 90. Die Strophe geht G D Em C,
zweimal. Der Refrain ist C G D Em und dann C G D D. Dann Strophe und Refrain nochmal, dann kommt
eine Bridge, die geht Am Em Am D, ganz leise. Zum Schluss Refrain zweimal, Ende auf G.
""".replace(",\n", ", ").replace("kommt\n", "kommt ")
_FRENCH = (
    "Salut ! La chanson s'appelle Tante Lucie, en La mineur. Le couplet c'est Am Dm E Am, deux "
    "fois. Le refrain c'est F C E Am. Ensuite couplet, refrain, puis un pont qui fait Dm Am E E."
)
_SPANISH = (
    "Hola! el tema se llama Perro de plata y va en Sol. La estrofa es G D Em C, dos veces. El "
    "estribillo es C G D D. Después hay un puente que es Am Em D D, sin batería."
)
_SMALL = (
    "new one is called Mud Season, key of G. verse goes G C G D, chorus goes C G D G, middle bit "
    "is Em C Am D. we do verse chorus verse middle bit chorus. drums stop in the middle bit."
)


@each(
    ("sheet", "title", "sections"),
    [
        (
            _ENGLISH,
            "Salt Road",
            [
                "[verse x4] Dm C Bb A :  ! []",
                "[chorus x2] F C Gm A :  ! []",
                "[verse x4] Dm C Bb A :  ! []",
                "[chorus x2] F C Gm A :  ! []",
                "[bridge] Bb C Dm Dm :  ! ['really quiet']",
                "[chorus x2] F C Gm A :  ! ['finish on a big Dm']",
            ],
        ),
        (
            _ORDERED,
            "The Orange Seller",
            [
                "[intro x2] G Em C D :  ! ['only you']",
                "[verse] G Em C D G Em Am D :  ! []",
                "[chorus] C D G Em :  ! []",
                "[verse] G Em C D G Em Am D :  ! []",
                "[chorus] C D G Em :  ! []",
                "[bridge] Am Em Am D :  ! ['I sing it without drums']",
                "[chorus x2] C D G Em :  ! ['In the last chorus we slow down']",
            ],
        ),
        (
            _GERMAN,
            "Kalter Kaffee",
            [
                "[Strophe x2] G D Em C :  ! []",
                "[Refrain] C G D Em C G D D :  ! []",
                "[Strophe x2] G D Em C :  ! []",
                "[Refrain] C G D Em C G D D :  ! []",
                "[Bridge] Am Em Am D :  ! ['ganz leise']",
                "[Refrain x2] C G D Em C G D D :  ! ['Ende auf G']",
            ],
        ),
        (
            _FRENCH,
            "Tante Lucie",
            [
                "[couplet x2] Am Dm E Am :  ! []",
                "[refrain] F C E Am :  ! []",
                "[couplet x2] Am Dm E Am :  ! []",
                "[refrain] F C E Am :  ! []",
                "[pont] Dm Am E E :  ! []",
            ],
        ),
        (
            _SPANISH,
            "Perro de plata",
            [
                "[estrofa x2] G D Em C :  ! []",
                "[estribillo] C G D D :  ! []",
                "[puente] Am Em D D :  ! ['sin batería']",
            ],
        ),
        (
            _SMALL,
            "Mud Season",
            [
                "[verse] G C G D :  ! []",
                "[chorus] C G D G :  ! []",
                "[verse] G C G D :  ! []",
                "[middle bit] Em C Am D :  ! ['drums stop in the middle bit']",
                "[chorus] C G D G :  ! []",
            ],
        ),
    ],
)
def test_a_song_sections_in_sentences(sheet: str, title: str, sections: list[str]) -> None:
    """Sentences give sections their chords, counts and remarks, ask for them again, and order them;
    nothing of a told song is sung."""
    result = taken(sheet)
    assert result.chart.text("title") == title
    assert [str(part) for part in parts_of(result.chart)] == sections
    assert "in-sentences" in codes(result)


def test_talk_in_a_told_song_is_reported() -> None:
    """What is said to the reader and not of the music is left out with a finding at its line."""
    left = [str(one) for one in taken(_ENGLISH).findings if "no rush" in str(one)]
    assert len(left) == 1


@each(
    "sheet",
    [
        "Salt Road\n\nVerse\nG      C\nThe chorus is C and D to me\nD      G\nThe verse is G\n",
        "Verse: G C D\nChorus: C D G\n",
        "the bridge is out and the verse is long\n\nVerse\nG   C\nmoth moth\n",
    ],
)
def test_a_sheet_with_rows_is_no_told_song(sheet: str) -> None:
    """Where chords stand on lines of their own, sentences among the words stay words."""
    assert "in-sentences" not in codes(taken(sheet))
