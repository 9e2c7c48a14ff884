"""Capo and key of a sheet, as people and our own text say them."""

from chartkit.interchange.text.write import sheet_text
from tests.charts import chart_of
from tests.each import each
from tests.interchange.reading import body, codes, reads_back, taken
from tests.interchange.test_musicxml_round_trip import struck, words

_SONG = (
    "key: {key}\ncapo: {capo}\n\n== Verse\n"
    "G7 | C | F/A | Dm7 G7 |\n: now | low | tide | and / home |\n"
    "| C | G | N.C. | C |\n\n== Solo\n| F | C | G / / Am | C |\n"
)


@each("capo", [-3, -2, -1, 1, 2, 3, 4, 5, 6, 7])
@each("key", ["C", "Bb", "F# minor"])
def test_two_rows_of_our_own_text_come_back_as_one(capo: int, key: str) -> None:
    """Shapes over sounding chords, at every capo and tuned down: one row of what sounds, with
    that capo and that key."""
    chart = chart_of(_SONG.format(capo=capo, key=key))
    result = taken(sheet_text(chart))
    back = result.chart
    reads_back(back)
    assert (back.capo.raised, back.key, back.written_as_shapes) == (capo, chart.key, False)
    assert body(back) == body(chart).replace("\n\n", "\n")
    assert struck(back) == struck(chart)
    assert words(back) == words(chart)
    assert "chords-are-shapes" not in codes(result)


def test_a_text_that_says_tuned_down_without_a_number() -> None:
    """The keys of the shapes and of what sounds tell how far the guitar is tuned down."""
    back = taken(
        "Harbour\nKey: Bb major   4/4\n"
        "(guitar tuned down: shapes in B major over sounding chords)\n"
        "\n== Intro\n| B  | E  |\n| Bb | Eb |\n"
    ).chart
    assert (back.capo.raised, body(back)) == (-1, "== Intro\n| Bb | Eb |")


@each(
    ("key", "capo", "row", "shapes"),
    [
        ("D", 2, "D A G D", False),
        ("D", 2, "C G F C", True),
        ("Bb", 3, "Bb F Eb Bb", False),
        ("G", 3, "G D C G", True),  # nobody puts a capo on to play in E what lies well in G
    ],
)
def test_chords_in_the_key_that_is_named_sound(key: str, capo: int, row: str, shapes: bool) -> None:
    """The key by its name is the one that sounds: chords in it sound, chords as many half steps
    lower as the capo is high are shapes (common practice, no source)."""
    result = taken(f"Low Bell\nKey: {key}\nCapo {capo}\n\nVerse\n{row}\nover the hill we go\n")
    assert result.chart.written_as_shapes == shapes


@each(
    "head",
    [
        "{Name} 2",
        "{Name}: 2",
        "{Name} - 2",
        "{Name} - 2   Tempo - 90",
        "the {name} is 2",
        "Key: D, {name} 2",
        "slow and easy, {name} - 2, no drums",
        "by Agnes Tollemark\nwe tried it and it went well, {name} 2 this time, bring water.",
    ],
)
@each(
    "name",
    [
        *("capo", "kapo", "kapodaster", "capotasto", "capotraste", "capodastre", "kapodastr"),
        *("cejilla", "cejuela", "pestaña"),
    ],
)
def test_a_capo_is_taken_by_any_word_in_any_form(head: str, name: str) -> None:
    """The head gives the capo, and the title stays as it is."""
    given = head.format(name=name, Name=name.capitalize())
    sheet = f"Low Bell\n{given}\n\nVerse\nD G A D\nover the hill we go\n"
    chart = taken(sheet).chart
    assert (chart.capo.raised, chart.text("title")) == (2, "Low Bell")


@each(
    "said",
    [
        *("capo i 2. bånd", "kapo 2. Bund", "Kapo im zweiten Bund", "capo op de 2e fret"),
        *("capo à la 2e case", "capotasto al secondo tasto", "cejilla en segundo traste"),
        *("capo i andra bandet", "capo på andet bånd", "kapodaster na 2 progu", "capo II"),
        *("capo op 2e vakje", "capotraste na 2ª casa"),
    ],
)
def test_a_capo_in_words_of_many_languages(said: str) -> None:
    """The fret stands behind its preposition, before its noun, or as a word."""
    sheet = f"Lantern\n{said}\n\nVerse\nAm   E\nEvery gate is open\n"
    assert taken(sheet).chart.capo.raised == 2
