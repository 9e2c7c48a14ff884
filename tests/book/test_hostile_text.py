"""Text that looks like PDF stays text: in pages, outlines, links and what a file says of itself."""

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from chartkit.book.books import BookOptions
from chartkit.book.night import planned_night
from chartkit.book.plan_sheet import plan_sheet
from chartkit.book.set_file import read_set
from chartkit.diagnostics import Source
from tests.book.sets import files_of, made_of
from tests.each import each

NASTY = [
    ") Tj ET /Launch (x",
    "\\) \\( \\051 \\",
    "(((( <</S/JavaScript/JS(app.alert(1))>>",
    "endstream endobj 9 0 obj <</OpenAction 1 0 R>>",
    "https://example.invalid/ javascript:alert(1)",
    "Ελληνικά Ёлка 日本 \U0001f3b8 %%EOF",
]
_DRAWING = set(
    b"q Q BT ET Tf Td Tj TJ Tm Ts Tc Tr TL w m l c h f f* s S g G rg RG re cm n W d J j".split()
) | {b"BDC", b"BMC", b"EMC"}
"""What pages are drawn with: text, lines and filled shapes, and the marks of lines that are read
aloud; nothing that names other objects (operators of ISO 32000-1, annex A)."""


def quoted(text: str) -> str:
    """The text as a TOML string."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def hostile_files(text: str) -> dict[str, bytes]:
    """Every PDF of a set whose names, notes, titles and words all are that text."""
    words = text.replace("\\", "\\\\").replace("/", "\\/").replace("|", "").replace("#", "\\#")
    charts = {
        "a.chart": f'title: {text}\nwriter: {text}\nkey: C\n\n== A {text}\n"{text}"\n'
        f"| C | G |\n: | {words} | low |\n",
        "b.chart": f"title: {text}\nkey: {text}\n",
    }
    set_file = (
        f"name = {quoted(text)}\ndate = {quoted(text)}\nplace = {quoted(text)}\n"
        f"[[players]]\nname = {quoted(text)}\nguitars = [{{name = {quoted('one ' + text)}}}, "
        f'{{name = {quoted("two " + text)}}}]\n[[players]]\nname = "Ada"\nreads = "words"\n'
        f'[[songs]]\nchart = "a.chart"\nnote = {quoted(text)}\ncount_in = {quoted(text)}\n'
        '[[songs]]\nchart = "b.chart"\n[[songs]]\nchart = "a.chart"\ncapo = 3\n'
    )
    made = made_of(charts, set_file)
    assert not made.night.facts[0].broken, made.night.messages
    plan = planned_night(made.night)
    return {**files_of(made, BookOptions(per_song=True)), "plan": plan_sheet(made.night, plan)}


@pytest.mark.parametrize("text", NASTY)
def test_text_is_never_more_than_text(text: str, tmp_path: Path) -> None:
    """Whatever a set and its charts say, pages hold drawing alone, links lead to pages of the
    same book, and nothing runs or opens; outline and title say the text as it is."""
    made = hostile_files(text)
    assert len(made) == 10
    for name, content in made.items():
        reader = PdfReader(BytesIO(content), strict=True)
        assert not {"/OpenAction", "/AA", "/Names", "/AcroForm", "/URI"} & set(  # type: ignore[call-overload]
            reader.trailer["/Root"]
        )
        assert reader.metadata is not None
        assert text in (reader.metadata.title or ""), name
        for page in reader.pages:
            operators = {
                operator for _, operator in ContentStream(page["/Contents"], reader).operations
            }
            assert operators <= _DRAWING, operators - _DRAWING
            for note in page.get("/Annots", ()):
                link = note.get_object()
                assert link["/Subtype"] == "/Link"
                assert not {"/A", "/AA", "/PA"} & set(link)
                assert reader.get_page_number(link["/Dest"][0].get_object()) is not None
        titles = [entry.title for entry in reader.outline if not isinstance(entry, list)]
        if name.endswith("ada.pdf"):
            assert titles == ["Running order", *(f"{n}. {text}" for n in (1, 2, 3))]
        if shutil.which("qpdf") is not None:
            (tmp_path / "one.pdf").write_bytes(content)
            subprocess.run(
                ["qpdf", "--check", tmp_path / "one.pdf"], check=True, capture_output=True
            )


@each("sign", ["\\u001b[2J", "\\u0000", "\\u202e", "\\u0007", "\\u009b"])
@each("setting", ["name", "place", "note", "chart", "guitar"])
def test_signs_that_steer_a_terminal_are_refused(sign: str, setting: str) -> None:
    """No text of a set file can move a terminal's cursor or turn a line about."""
    values = dict.fromkeys(("name", "place", "note", "chart", "guitar"), "x")
    values[setting] = f"a{sign}b"
    text = (
        f'name = "{values["name"]}"\nplace = "{values["place"]}"\n[[players]]\nname = "Bo"\n'
        f'guitars = [{{ name = "{values["guitar"]}" }}]\n[[songs]]\nchart = "{values["chart"]}"\n'
        f'note = "{values["note"]}"\n'
    )
    (diagnostic,) = read_set(Source(text), Path("/nowhere")).diagnostics
    assert "cannot be printed" in diagnostic.message
    assert not any(ord(c) < 32 or c in "\u202e\u009b" for c in diagnostic.message)


def test_a_text_of_several_lines_is_one() -> None:
    """Line breaks and tabs in a set file's texts are spaces on the page."""
    text = (
        'name = "N"\n[[players]]\nname = "Ada"\nreads = "words"\n[[songs]]\nchart = "a.chart"\n'
        'note = """\nlights\n\tdown"""\n'
    )
    set_read = read_set(Source(text), Path("/nowhere")).set_list
    assert set_read is not None
    assert set_read.songs[0].note == "lights down"
