"""A comment stands beside each row that was guessed, also where rows were guessed alike."""

from chartkit.incoming import incoming_chart
from tests.each import each

_SONG = b"My Song\n\nVerse\nC    G\nlow tide at home\n\nChorus\nF    G\nhey there now\n\n"


def _commented(sheet: bytes) -> list[str]:
    return incoming_chart(sheet, comments=True).text.splitlines()


@each(
    "below",
    [b"Verse\nChorus\nChorus\n", b"Chorus\nChorus\nChorus\n", b"Verse\n\nChorus\n\nChorus\n"],
)
def test_names_alone_have_a_comment_each(below: bytes) -> None:
    """Two names of one section, one below the other, are two guesses."""
    rows = _commented(_SONG + below)
    named = [at for at, row in enumerate(rows) if row.startswith("== ")][2:]
    assert len(named) == below.count(b"e\n") + below.count(b"s\n")
    assert all(rows[at + 1].startswith("# guess: ") for at in named)
    assert all(rows[at + 2].startswith("# line ") for at in named)


def test_rows_alike_have_a_comment_each() -> None:
    """Two rows whose beats were shared out in one way are two guesses."""
    rows = _commented(b"My Song\n\nIntro\n| C G D | F G |\n| C G D | F G |\n| Am | G |\n")
    music = [at for at, row in enumerate(rows) if row.startswith("|")]
    assert [rows[at - 1] for at in music[:2]] == [
        "# line 4: | C G D | F G |",
        "# line 5: | C G D | F G |",
    ]
    assert rows[music[2] - 1].startswith("|")
