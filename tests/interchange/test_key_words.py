"""A key is taken by every word that stands for one, in every form in which it is typed."""

from itertools import product

from tests.each import each
from tests.interchange.reading import taken

NAMES = (
    *("key", "tonart", "tonalité", "tonalidad", "tonalidade", "tonalità", "toonsoort", "sävellaji"),
    *("toneart", "tonacja", "tonalitet", "ton", "tono", "tom"),
)
TITLE = "The Gooseberry Lantern\n"
HEADS = (
    TITLE + "{Name}: D",
    TITLE + "{Name} - D",
    TITLE + "{name}: d",
    TITLE + "{Name} is D",
    TITLE + "la {name} est D",
    "{Name} D, swung, about 132\n" + TITLE,
)
STANZA = """
D        A        Em       G
Every gate is open on the lane
"""


@each(("name", "head"), product(NAMES, HEADS))
def test_a_head_names_the_key_by_any_word(name: str, head: str) -> None:
    """The head has the title and the key, and keeps no note of it."""
    sheet = f"{head.format(name=name, Name=name.capitalize())}\n\nVerse 1{STANZA}"
    chart = taken(sheet).chart
    assert (str(chart.key), chart.text("title")) == ("D major", TITLE.strip())
    assert not chart.notes()


@each("name", NAMES[:11])
def test_dashes_stand_for_colons_behind_words_that_mean_a_key_alone(name: str) -> None:
    """Two settings with dashes on a line are both taken; "Tom - D" could be a player."""
    chart = taken(f"{TITLE}{name.capitalize()} - D   Tempo - 90\n\nVerse 1{STANZA}").chart
    assert (str(chart.key), chart.setting("tempo"), chart.notes()) == ("D major", 90, ())


@each("name", NAMES)
def test_a_section_is_in_another_key_by_any_word(name: str) -> None:
    """A key beside a section's name, or between two sections, stands above the music."""
    other = "E        B        F#m      A\nShine for us on the water now\n"
    head = f"{TITLE}Key: D\n\nVerse 1{STANZA}\n"
    for sheet in (
        f"{head}Chorus ({name} E)\n{other}",
        f"{head}(new {name}: E)\n\nVerse 2\n{other}",
    ):
        rows = taken(sheet).chart.sections[-1].rows
        assert [str(row.value) for row in rows if getattr(row, "name", "") == "key"] == ["E major"]


@each("name", NAMES)
def test_a_sentence_names_the_key_by_any_word(name: str) -> None:
    """A sentence in a head that names the key in passing gives it."""
    said = f"we tried it last week and it went well, {name} D this time, bring water."
    chart = taken(f"{TITLE}by Agnes Tollemark\n{said}\n\nVerse 1{STANZA}").chart
    assert (str(chart.key), chart.text("title")) == ("D major", TITLE.strip())


@each(
    ("typed", "key", "row"),
    [
        ("Bb-dur", "Bb major", "Bb Eb F Bb"),
        ("Eb dur", "Eb major", "Eb Ab Bb Eb"),
        ("F#-moll", "F# minor", "F#m Bm C# F#m"),
        ("Ess-dur", "Eb major", "Eb Ab Bb Eb"),
        ("fiss-moll", "F# minor", "F#m Bm C# F#m"),
    ],
)
def test_a_key_with_a_sign_and_a_german_mode(typed: str, key: str, row: str) -> None:
    """Letters with signs, as English writes them, and Swedish names stand before "dur" and "moll"
    too."""
    result = taken(f"HUSVALSEN          3/4          {typed}\n\nIntro\n{row}\n")
    assert (result.chart.text("title"), result.chart.text("key")) == ("HUSVALSEN", key)


@each(
    "feel",
    [
        *("gemütlich", "Valzer lento", "nicht zu flott", "spokojnie", "muntert", "calme"),
        *("valse lente", "baião", "xote animado", "vrolijk"),
    ],
)
def test_how_a_song_goes_in_many_languages(feel: str) -> None:
    """What stands beside a meter and says how the song goes is no note."""
    chart = taken(f"Lantern\n3/4, {feel}, in C\n\nVerse{STANZA}").chart
    assert (chart.text("feel"), chart.text("note")) == (feel, "")
