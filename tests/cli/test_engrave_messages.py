"""The messages about an engraved page, and the name of the chart inside it."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from chartkit.cli.main import PROGRAM

SHARP = "title: Sharp\nkey: F#\n\n| F# | B | C#7 | F# |\n"
OPEN = "title: Open\nkey: E\n\n| E | A | B7 | E |\n"
NO_KEY = "title: Keyless\n\n| D | G | A7 | D |\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty working folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def call(*arguments: str, given: str | None = None) -> Result:
    """Runs the program with arguments."""
    return CliRunner().invoke(PROGRAM, list(arguments), input=given)


@pytest.mark.parametrize(
    ("chart", "remark"),
    [
        (SHARP, "Capo 2, E major shapes, sounds in F♯ major; by the fingerings this capo is best"),
        (OPEN, "Key of E major; by the fingerings no capo is best"),
    ],
)
def test_the_capo_chosen_is_said_or_that_there_is_none(chart: str, remark: str) -> None:
    """With the best capo asked for, the message says what was decided, none among it."""
    Path("a.chart").write_text(chart)
    assert call("engrave", "a.chart", "--capo", "best").stderr == f"a.pdf: 1 page; {remark}\n"


def test_message_and_page_agree_on_a_key_that_is_not_given() -> None:
    """The page claims no key; the message says so, what is taken for it, and how to settle it."""
    Path("a.chart").write_text(NO_KEY)
    done = call("engrave", "a.chart")
    assert done.stderr.splitlines() == [
        "a.chart: no key is given; D major is assumed from its chords",
        "  hint: write a row key: D major, or the right key; the page prints it",
        "a.pdf: 1 page; key not given",
    ]
    assert "key" not in PdfReader("a.pdf").pages[0].extract_text()


def test_no_key_is_assumed_from_chords_where_there_are_none() -> None:
    """A song of words alone needs no key, and none is guessed."""
    Path("a.chart").write_text("title: Low\n\n== Verse\n: The tide is out.\n")
    assert "assumed" not in call("engrave", "a.chart").stderr


def test_a_picture_is_not_written_under_the_name_of_a_pdf() -> None:
    """Asked for a picture by its ending, the command says how to get one and writes nothing."""
    Path("a.chart").write_text(OPEN)
    done = call("engrave", "a.chart", "-o", "a.png")
    assert done.exit_code == 2
    assert "-o a.pdf --png writes pictures too" in done.stderr
    assert not Path("a.png").exists()


@pytest.mark.parametrize(
    ("name", "inside"),
    [
        ("harbour song.chart", "harbour song.chart"),
        ("Élan.txt", "Élan.chart"),
        ("a.b.chart", "a.b.chart"),
        ("what?.chart", "what.chart"),
        ("...chart", "song.chart"),
        ("x" * 120 + ".chart", "x" * 80 + ".chart"),
        ("tab\there.chart", "tabhere.chart"),
    ],
)
def test_a_chart_travels_under_its_own_name(name: str, inside: str) -> None:
    """The file inside the PDF is named after the chart, without signs that some systems refuse,
    and intake finds it there."""
    Path(name).write_text(OPEN)
    assert call("engrave", name, "-o", "page.pdf").exit_code == 0
    assert dict(PdfReader("page.pdf").attachments) == {inside: [OPEN.encode()]}
    assert call("intake", "page.pdf").stdout == OPEN


def test_a_chart_without_a_name_is_a_song() -> None:
    """A chart from standard input travels as song.chart."""
    assert call("engrave", "-", "-o", "page.pdf", given=OPEN).exit_code == 0
    assert list(PdfReader("page.pdf").attachments) == ["song.chart"]
