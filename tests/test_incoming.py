"""What is taken in is a chart that ``check`` accepts and ``tidy`` leaves as it is: a law."""

import os
import sys
from pathlib import Path

import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chartkit.bounded import Limits
from chartkit.diagnostics import Source, has_errors
from chartkit.incoming import Incoming, incoming_chart
from chartkit.interchange.intake_result import Refused
from chartkit.syntax.reader import read_chart
from chartkit.syntax.write import chart_text
from tests.each import each
from tests.interchange.messy_sheets import MESSY
from tests.interchange.sheets import SHEETS

MUSIC21 = Path(music21.__file__).parent
SCORES = sorted(
    path
    for folder in ("corpus/leadSheet", "corpus/demos", "musicxml/lilypondTestSuite")
    for path in (MUSIC21 / folder).glob("*")
    if path.suffix in (".xml", ".mxl", ".musicxml")
)
TYPED = sorted((Path(__file__).parent / "interchange" / "typed").glob("*.txt"))
_ODD = (
    "| C | G “softly” | Am |\n",
    "C ¦ F ¦\nlow tide\n",
    "| C “",
    "„leise“",
    "«",
    "|: C :|\n",
    "C  G\n",
    "low tide\n",
    "[Verse]\n",
    "== A ==\n",
    "x2\n",
    "%",
    "N.C.",
    "C/E ",
    "@coda ",
    "# ",
    "\\",
    '"',
    "''",
    "(C)",
    "_",
    "- ",
    "—",
    "1.",
    ":",
    "F#m7b5",
    "¦",
    "||:",
    "Capo 3\n",
    "Key: D\n",
)


def holds(incoming: Incoming) -> None:
    """Fails unless the text reads without a mistake and is tidy."""
    reading = read_chart(Source(incoming.text))
    assert not has_errors(reading.diagnostics), (incoming.text, reading.diagnostics)
    assert chart_text(reading.chart) == incoming.text


def check_law(data: bytes) -> bool:
    """Whether a file is taken in; fails where what comes of it breaks the law."""
    try:
        incoming = incoming_chart(data)
    except Refused:
        return False
    holds(incoming)
    return True


def test_scores() -> None:
    """All scores of the corpora that are not refused."""
    taken = [check_law(path.read_bytes()) for path in SCORES]
    assert sum(taken) > 140


def test_typed_sheets() -> None:
    """Sheets of the tests, a few of each kind, since all of them take a quarter of a minute;
    ``CHARTKIT_EVERY_WAY=1`` takes them all."""
    sheets = [sheet for sheet, _ in (*MESSY.values(), *SHEETS.values())]
    typed = [
        part.partition("@@>")[0] for path in TYPED for part in path.read_text().split("@@@")[1:]
    ]
    sheets = (
        [*sheets, *typed] if os.environ.get("CHARTKIT_EVERY_WAY") else sheets[::3] + typed[::12]
    )
    assert sum(check_law(sheet.encode()) for sheet in sheets) >= 0.9 * len(sheets)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(_ODD), max_size=24))
def test_any_jumble_of_what_is_typed(pieces: list[str]) -> None:
    """Quotes, bar lines and signs of any kind in any order."""
    check_law("".join(("C  G\n", *pieces)).encode())


@each("sheet", ["| C | G “softly” | Am |", "C ¦ F ¦ G ¦ C ¦", "| C | G „leise“ | Am |"])
def test_signs_of_word_processors_in_bars(sheet: str) -> None:
    """Curly quotes and broken bars beside chords make a chart that reads."""
    assert check_law(f"Song\n\n{sheet}\nlow tide\n".encode())


@pytest.mark.parametrize(
    "sheet", ["rit.(2x)1. Chorus 2xCoda:||same", "C G\n1. Chorus 2xCoda:||same\n"]
)
def test_names_of_sections_run_into_signs(sheet: str) -> None:
    """Names, counts and bar lines without blanks between them are read or refused."""
    check_law(sheet.encode())


def test_a_row_that_the_language_cannot_say_becomes_a_comment(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Whatever a reader makes, a row that would be refused is kept as a comment, and reported."""
    from chartkit import incoming
    from chartkit.syntax import write

    def broken(chart: object) -> str:
        return write.chart_text(chart).replace("| G7 ", "| G7zz ")  # type: ignore[arg-type]

    monkeypatch.setattr(incoming, "canonical_text", broken)
    made = incoming_chart(b"Song\n\n| C | F |\nlow tide\n\n| G7 | C |\nmany a mile\n")
    holds(made)
    assert made.text.endswith("# | G7zz | C |\n# : | many a | mile |\n")
    (finding,) = [one for one in made.findings if one.code == "not-read"]
    assert "| G7zz | C |" in finding.message


SHEET = b"Song\nCapo 2\n\nVerse 1\nC       G\nlow tide comes\n\nVerse 2\nhigh tide goes\n"


def test_a_large_file_is_read_the_same_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a process of its own makes of a file is what this one makes of it."""
    here = incoming_chart(SHEET, comments=True)
    monkeypatch.setattr("chartkit.incoming._SMALL_BYTES", 0)
    assert incoming_chart(SHEET, comments=True) == here
    with pytest.raises(Refused, match="the file is empty"):
        incoming_chart(b" ")


@pytest.mark.skipif(sys.platform != "linux", reason="limits are the system's")
def test_what_takes_too_much_is_refused_in_a_line(monkeypatch: pytest.MonkeyPatch) -> None:
    """Past its limits the reading of a large file is ended, and that is what is said."""
    monkeypatch.setattr("chartkit.incoming._SMALL_BYTES", 0)
    monkeypatch.setattr("chartkit.incoming._LIMITS", Limits(memory_bytes=30_000_000))
    with pytest.raises(Refused, match="more time or memory than a lead sheet may"):
        incoming_chart(SHEET)
