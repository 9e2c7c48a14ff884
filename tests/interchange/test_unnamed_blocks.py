"""The verses and the refrain of a sheet that names no section.

Source of both ways to show a refrain: common practice of song books, no source.
"""

from tests.each import each
from tests.interchange.reading import codes, taken
from tests.interchange.typed_sheets import names_of_parts

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
