"""Where a line of a page of words begins and ends."""

from chartkit.arrange.page_look import PageLook
from chartkit.layout.engrave import laid_out
from chartkit.layout.fit import Fitter
from chartkit.layout.metrics import Typesetter
from chartkit.pdf.fonts import Fonts
from tests.charts import arranged
from tests.each import each
from tests.layout.geometry import texts

METRICS = Fonts()
WORDS = PageLook(show="words")


def sung(body: str) -> list[str]:
    """The lines of a song's page of words."""
    return texts(laid_out(arranged(f"key: C\n\n{body}", look=WORDS), WORDS, METRICS), "words")


@each(
    "above, lines",
    [
        ("", ["low tide, and a lantern", "low tide, and a lamp"]),
        ('"softly"\n', ["low tide, and a lantern", "low tide, and", "a lamp"]),
    ],
)
def test_a_line_goes_on_through_an_ending_in_the_next_row(above: str, lines: list[str]) -> None:
    """A singer's line does not end where the second time leaves the player's row, unless a cue
    stands there (common practice, no source)."""
    first = "== Verse\n|: C | F |1. G | C :|\n: | low tide, | and | a lan- | tern |\n"
    assert sung(f"{first}{above}|2. G | C |\n: | a | lamp |\n") == lines


def test_a_line_that_leaves_its_row_behind_a_sentence_ends_there() -> None:
    """What ends with a full stop is a line of its own, wherever the way goes on."""
    first = "== Verse\n|: C | F |1. G :|\n: | low tide | out. | Come |\n"
    lines = sung(f"{first}|2. G | C |\n: | Go | home. |\n")
    assert lines == ["low tide out. Come", "low tide out.", "Go home."]


@each(
    "rows, lines",
    [
        # A pick-up typed in the bar before it, between rows, before a repeat and a syllable of it.
        (
            "| C | F |\n: | low | tide, and the |\n| G | C |\n: | lantern is | out. |\n",
            ["low tide,", "and the lantern is out."],
        ),
        (
            "|: C | F :|\n1: The | lamp is | out. The |\n2: | bell is | still. |\n",
            ["1. The lamp is out.", "2. The bell is still."],
        ),
        (
            "| C | F |\n: | low | tide; a- |\n| G | C |\n: | way and | home. |\n",
            ["low tide;", "away and home."],
        ),
        # The end of a line, where the next one has its own pick-up or begins with a capital.
        (
            "| C | F |\n: | low | tide, home |\n| G | C |\n: and | gone and | home. |\n",
            ["low tide, home", "and gone and home."],
        ),
        (
            "| C | F |\n: | low | tide, my love |\n| G | C |\n: | Come | home. |\n",
            ["low tide, my love", "Come home."],
        ),
        # Too many words, and a song that does not end its lines with punctuation.
        (
            "| C | F |\n: | low | tide, and the lantern went |\n| G | C |\n: | out | there. |\n",
            ["low tide, and the lantern went", "out there."],
        ),
        (
            "| C | F |\n: | low | tide, my love |\n| G | C |\n: | come | home |\n"
            "| C | F |\n: | never | again |\n",
            ["low tide, my love", "come home", "never again"],
        ),
    ],
)
def test_a_pickup_begins_the_line_it_leads_to(rows: str, lines: list[str]) -> None:
    """A few words behind a mark of punctuation in the last bar of a row are sung with the next one
    (common practice, no source)."""
    assert sung(f"== Verse\n{rows}") == lines


def test_verses_are_numbered_as_the_players_read_them() -> None:
    """Lines of words typed without numbers have those of the players' page, in their order; a line
    that is sung alone has none, nor has a refrain."""
    stack = "== Verse x2\n| C | F |\n: | low | tide |\n: | high | tide |\n"
    stack += "| G | C |\n: | come | home |\n"
    assert sung(stack) == ["1. low tide", "come home", "2. high tide", "come home"]
    page = laid_out(arranged(f"key: C\n\n{stack}"), PageLook(), METRICS)
    assert texts(page, "verse") == ["1.", "2."]
    assert sung("== Verse\n| C | F |\n2: | low | tide |\n") == ["low tide"]


def test_a_struck_pickup_that_stands_before_a_jump_too_is_printed_once() -> None:
    """Words that end the bar before D.C. and begin the song's pick-up bar are sung once."""
    lines = sung(
        "== Verse\nC / | G | C |\n: On the | slow | train, |\n| F | G @D.C. al fine |\n"
        ": | far | home. On the |\n".replace("C |\n:", "C @fine |\n:", 1)
    )
    assert lines == ["On the slow train,", "far home.", "On the slow train,"]


@each(
    "text, parts",
    [
        ("Low tide and a lantern out. And the tide is late", ["out.", "late"]),
        ("Low tide, a bell. A lantern out. And the tide is late", ["out.", "late"]),
        ("Low tide and the bell of St. Anne and nobody home", ["home"]),
        ("Tide. And a lantern and nobody at home tonight", ["tonight"]),
        ("low tide and a lantern out, and the tide is late", ["late"]),
        ("“Is it low tide?” “It is, and the lantern is out”", ["tide?”", "out”"]),
        ("Low tide. A lantern.", ["lantern."]),
    ],
)
def test_a_long_row_is_parted_where_a_sentence_begins(text: str, parts: list[str]) -> None:
    """Only a row that is too long, at no short word with a capital (St. Anne), and into no part
    that is very short (common practice, no source)."""
    fitter = Fitter(Typesetter(Fonts()))
    width = fitter.width("Low tide, a bell. A lantern out.", "words", 12) + 1
    made = fitter.sentences(text, "words", 12, width)
    assert " ".join(made) == text
    assert [part.split()[-1] for part in made] == parts
