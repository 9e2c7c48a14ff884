"""The verses and the refrain of a sheet that names no section.

Source of both ways to show a refrain: common practice of song books, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import names_of_parts, parts_of

_ROW = "G        C        G\n"
_FIRST = "The bog it was brown and the heather was high\nAnd the lark had a hole in the sky\n"
_SECOND = "I said to her kindly you're small for the spade\nShe said to me mister I'm paid\n"
_THIRD = "I waited till Lent with my wages all spent\nAnd cutting and cutting she went\n"
_REFRAIN = "And it's sod upon sod my lads\nRow upon row\n"


def _over(words: str, before: str = "") -> str:
    """Chords over each line of some words."""
    return "".join(f"{before}{_ROW}{before}{line}\n" for line in words.splitlines())


def _set_in(words: str) -> str:
    return "".join(f"     {line}\n" for line in words.splitlines())


@each(
    ("blocks", "names"),
    [
        (
            [_over(_FIRST), _over(_REFRAIN, "     "), _SECOND, _set_in(_REFRAIN)],
            ["Verse 1", "Chorus", "Verse 2", "Chorus"],
        ),
        (
            [_over(_FIRST), _over(_REFRAIN), _over(_SECOND), _over(_REFRAIN), _over(_THIRD)],
            ["Verse 1", "Chorus", "Verse 2", "Chorus", "Verse 3"],
        ),
        ([_over(_FIRST), _over(_SECOND), _over(_THIRD)], [""]),
        ([_over(_FIRST), _over(_SECOND), _over(_SECOND)], [""]),
        ([_over(_FIRST), _over(_REFRAIN, "     "), _over(_SECOND)], [""]),
    ],
)
def test_a_refrain_shows_itself(blocks: list[str], names: list[str]) -> None:
    """A refrain that is set in, or said again between verses, makes sections of all blocks, with a
    finding; where nothing tells it from verses they stay one section."""
    text = "Moth Song\n\n" + "\n".join(blocks)
    assert names_of_parts(text) == names
    assert ("blocks-named" in codes(taken(text))) == (names != [""])


_STANZA = "The kettle is cold and the cat is away\nThe clock on the wall has a tick\n"
_OTHER = "The postman is early, the milk it is late\nThe stairs they are creaking and thick\n"


@each(
    ("blocks", "names"),
    [
        ([_over(_FIRST + _SECOND), _over(_THIRD + _STANZA)], ["Verse 1", "Verse 2"]),
        (
            ["C G C\n", *(_over(one + _OTHER) for one in (_FIRST, _SECOND, _THIRD)), "G C\n"],
            ["Intro", "Verse 1", "Verse 2", "Verse 3", "Outro"],
        ),
        (
            ["C G\n", _over(_FIRST), _over(_REFRAIN), "F G\n", _over(_SECOND), _over(_REFRAIN)],
            ["Intro", "Verse 1", "Chorus", "Interlude", "Verse 2", "Chorus"],
        ),
        ([_over(_FIRST + _SECOND), _over(_THIRD)], [""]),
        ([_over(_FIRST + _SECOND), _over(_THIRD + _STANZA).replace("C ", "D ")], [""]),
    ],
)
def test_stanzas_over_the_same_chords(blocks: list[str], names: list[str]) -> None:
    """Stanzas of as many lines over the same rows are verses, and rows alone before, between and
    behind them are played; blocks of other lengths or chords stay one section."""
    text = "Moth Song\n\n" + "\n".join(blocks)
    assert names_of_parts(text) == names


@each("label", ["Ref.", "Refr.", "Refrén:", "Chorus", "R:", "REFRAIN", "[Refrain]"])
def test_a_refrain_with_a_name_among_verses_without(label: str) -> None:
    """Where the refrain alone has a name, what stands apart from it in as many lines as the first
    block are verses, with chords or without."""
    text = (
        f"Moth Song\n\n{_over(_FIRST + _SECOND)}\n{label}\n{_over(_REFRAIN)}\n"
        f"{_THIRD}{_STANZA}\n{label}\n\n{_over(_STANZA + _OTHER)}\n{label}\n"
    )
    refrain = label.strip("[]:.")
    names = [name.strip(".") for name in names_of_parts(text)]
    assert names == ["Verse 1", refrain, "Verse 2", refrain, "Verse 3", refrain]


def test_stanzas_without_chords_behind_the_first() -> None:
    """They are verses, with a remark alone between them or below them."""
    stanzas = [_over(_FIRST + _OTHER), _SECOND + _OTHER, "(whistle)\n", _THIRD + _OTHER]
    text = "Moth Song\n\n" + "\n".join([*stanzas, "(last line again, no guitar)\n"])
    parts = parts_of(taken(text).chart)
    assert [part.name for part in parts] == ["Verse 1", "Verse 2", "Verse 3"]
    assert all(part.music == parts[0].music for part in parts)
    assert "whistle" in parts[1].cues
    assert "last line again, no guitar" in parts[2].cues


@each("row", ["Intro: C G", "Intro  C  G  (x2)", "Intro - C G"])
def test_a_stanza_below_an_intro_of_one_row(row: str) -> None:
    """A section that nobody sings ends with its row: the stanza apart from it is a verse."""
    text = f"Moth Song\n\n{row}\n\n{_over(_FIRST)}\nChorus\n{_over(_REFRAIN)}"
    assert [one.split(" x")[0] for one in names_of_parts(text)] == ["Intro", "Verse 1", "Chorus"]


@each("below", ["G\nWhistle\n", "Bm F#m\n", "VERSE 1 - Hattie\nG C\nThe bog it was brown\n"])
def test_other_blocks_below_an_intro(below: str) -> None:
    """A single line, chords alone, and what begins with a name are no stanza."""
    text = f"Moth Song\n\nIntro: C G\n\n{below}\nChorus\n{_over(_REFRAIN)}"
    assert "Verse 1" not in [part.name for part in parts_of(taken(text).chart) if not part.music]
    assert "blocks-named" not in codes(taken(text))
