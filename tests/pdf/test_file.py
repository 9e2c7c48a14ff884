"""The PDF file, read back by other programs."""

import re
import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from chartkit.arrange.view import View
from chartkit.compile import EmbeddedChart, engraved_pdf
from chartkit.theory.capo import Capo
from tests.charts import DENSE, SMALL, chart_of

EXAMPLES = Path(__file__).parents[2] / "examples"
LANGUAGE = SMALL.replace("capo: 1", "capo: 1\nwriter: The Tidewater Five\nlanguage: de")


def pdf_of(text: str, view: View | None = None) -> bytes:
    """The PDF of a chart on A4."""
    return engraved_pdf(chart_of(text), view or View())[1]


def read(pdf: bytes) -> PdfReader:
    """The file as pypdf reads it."""
    return PdfReader(BytesIO(pdf))


def needs(program: str) -> pytest.MarkDecorator:
    """Skips a test where a program of the system is missing."""
    return pytest.mark.skipif(shutil.which(program) is None, reason=f"{program} is not installed")


def test_same_chart_same_bytes() -> None:
    """The same chart gives the same file, to the byte."""
    assert pdf_of(DENSE) == pdf_of(DENSE)


def test_metadata() -> None:
    """Title, author, subject and language stand in the file."""
    reader = read(pdf_of(LANGUAGE))
    assert reader.metadata is not None
    assert reader.metadata.title == "Small Song"
    assert reader.metadata.author == "The Tidewater Five"
    assert reader.metadata.subject == "Capo 1, C major shapes, sounds in D♭ major"
    assert reader.root_object["/Lang"] == "de"


def test_outline_has_the_sections() -> None:
    """Every section is a bookmark."""
    titles = [entry.title for entry in read(pdf_of(DENSE)).outline]  # type: ignore[union-attr]
    assert titles == ["Head", "Verse", "Long", "Free", "Marks"]


def test_text_comes_out_in_reading_order() -> None:
    """Title, capo, heading, shapes, sounding chords and words follow one another."""
    text = read(pdf_of(SMALL)).pages[0].extract_text()
    rows = [" ".join(row.split()) for row in text.splitlines()]
    assert rows == [
        "Small Song",
        "Capo 1 C major shapes, sounds in D♭ major 4/4",
        "bold: shapes to finger light: what sounds",
        "Verse 44 C F G",
        "D♭ G♭ A♭",
        "O low lan - tern",
        "Small Song — Capo 1, C major shapes, sounds in D♭ major page 1 of 1",
    ]


def test_chord_names_are_found_whole() -> None:
    """A raised, altered chord name is one word for whoever searches the file."""
    row = "| F#m7(b5)/C Bbmaj9(#11) |"
    text = read(pdf_of(f"key: G\n\n{row}\n")).pages[0].extract_text()
    assert {"F♯m7(♭5)/C", "B♭maj9(♯11)"} <= set(text.split())


@needs("pdftotext")
def test_poppler_finds_chord_names() -> None:
    """Poppler takes the chord names out whole as well."""
    pdf = pdf_of("key: G\n\n| F#m7(b5)/C Bbmaj9(#11) |\n")
    done = subprocess.run(["pdftotext", "-", "-"], input=pdf, capture_output=True, check=True)
    assert {"F♯m7(♭5)/C", "B♭maj9(♯11)"} <= set(done.stdout.decode().split())


def test_fonts_are_embedded_subsets() -> None:
    """Every font of every page is embedded, and only the letters used."""
    for page in read(pdf_of(DENSE)).pages:
        fonts = page["/Resources"]["/Font"].get_object()  # type: ignore[index]
        assert len(fonts) >= 4
        for font in fonts.values():
            face = font.get_object()
            assert re.search(r"\+(Noto|ChartkitSigns)", face["/BaseFont"])
            assert "/FontFile2" in face["/FontDescriptor"].get_object()


@needs("qpdf")
def test_qpdf_has_no_complaint(tmp_path: Path) -> None:
    """The file is sound by qpdf."""
    path = tmp_path / "dense.pdf"
    path.write_bytes(pdf_of(DENSE))
    done = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True)
    assert (done.returncode, "WARNING" in done.stdout + done.stderr) == (0, False)


def test_text_cannot_leave_its_string() -> None:
    """Parentheses and operators in the words are words, not drawing."""
    evil = ") Tj ET Q q 1 0 0 RG (\\"
    text = f"title: {evil.replace(chr(92), chr(92) * 2)}\nkey: C\n\n| C |\n: | 0 0 m S )( |\n"
    words = read(pdf_of(text)).pages[0].extract_text()
    assert ") Tj ET Q q 1 0 0 RG (" in words
    assert "0 0 m S )(" in words


def test_song_is_small() -> None:
    """Every example takes less than 60 kB, fonts, chart and all."""
    charts = sorted(EXAMPLES.glob("*.chart"))
    assert len(charts) > 10
    for path in charts:
        text = path.read_text(encoding="utf-8")
        pdf = engraved_pdf(chart_of(text), View(capo=Capo(2)), source=EmbeddedChart(text))[1]
        assert len(pdf) < 60_000, path.name


@needs("mutool")
def test_mupdf_has_no_complaint(tmp_path: Path) -> None:
    """MuPDF draws every page without a warning of its own."""
    path = tmp_path / "dense.pdf"
    path.write_bytes(pdf_of(DENSE))
    call = ["mutool", "draw", "-o", str(tmp_path / "page%d.png"), str(path)]
    done = subprocess.run(call, capture_output=True, text=True)
    lines = [line for line in done.stderr.splitlines() if not line.startswith("page ")]
    assert done.returncode == 0
    assert [line for line in lines if "ICC support" not in line] == []


def read_lines(pdf: bytes) -> list[tuple[str, str]]:
    """The structure of a document: type and text of each line, the text where it is given."""
    root = read(pdf).root_object
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    (whole,) = root["/StructTreeRoot"]["/K"]  # type: ignore[index]
    lines = [line.get_object() for line in whole.get_object()["/K"]]
    return [(line["/S"], line.get("/ActualText", "")) for line in lines]


def test_pages_are_tagged_for_reading_aloud() -> None:
    """Title and headings are tagged as such, lines come whole and in order, with split words
    joined and without running lines."""
    assert read_lines(pdf_of(SMALL)) == [
        ("/H1", ""),
        ("/P", "Capo 1 C major shapes, sounds in D♭ major 4/4"),
        ("/P", "bold: shapes to finger light: what sounds"),
        ("/H2", ""),
        ("/P", "C F G"),
        ("/P", "D♭ G♭ A♭"),
        ("/P", "O low lantern"),
    ]


def test_the_order_of_sections_is_read_aloud() -> None:
    """The form line says how many bars a number counts, and how often a section is played."""
    text = "key: D\n\n== Verse 1\n| D | A |\n\n== Chorus x2\n| G |\n"
    tag, said = read_lines(pdf_of(text))[2]
    assert (tag, said) == ("/SongForm", "Order: Verse 1, 2 bars; Chorus, 1 bar, 2 times")


def test_what_is_drawn_is_read_aloud() -> None:
    """Rests, slashes, stops, repeats, endings and signs are said with the chords of their row."""
    text = (
        "key: D\n\n|: @segno D7! r r r | <C / / / |1. G r / x :|2. rest 4 | % ||\n"
        "| A | D~ |\n| A | D |\n"
    )
    lines = [said for tag, said in read_lines(pdf_of(text)) if tag == "/P"]
    assert lines[-3:] == [
        "repeat from here, segno, D7, stopped, 3 rests; C, early, 3 slashes; "
        "ending 1, G, rest, slash, muted stroke, repeat; ending 2, rest 4 bars; "
        "the bar before again",
        "A; D, left to ring",
        "A D",
    ]


def test_the_file_says_that_it_can_be_read_aloud() -> None:
    """Its metadata is well-formed XML with title, writer and language, and claims PDF/UA-1."""
    text = "title: Salt & <Vinegar>\nwriter: The Tidewater Five\nkey: D\nlanguage: de\n\n| D |\n"
    root_object: Any = read(pdf_of(text)).root_object
    packet = root_object["/Metadata"].get_object().get_data()
    root = ElementTree.fromstring(packet.split(b"?>", 1)[1].rsplit(b"<?", 1)[0])
    said = {one.tag.rpartition("}")[2]: "".join(one.itertext()).strip() for one in root.iter()}
    assert said["title"] == "Salt & <Vinegar>"
    assert (said["creator"], said["language"], said["part"]) == ("The Tidewater Five", "de", "1")


def test_every_mark_on_a_page_has_its_line() -> None:
    """The numbers that lines are marked with are those the structure calls, page by page."""
    reader = read(pdf_of(DENSE))
    parents = reader.root_object["/StructTreeRoot"]["/ParentTree"]["/Nums"]  # type: ignore[index]
    for i, page in enumerate(reader.pages):
        commands = page["/Contents"][0].get_object().get_data()  # type: ignore[index]
        marked = [int(number) for number in re.findall(rb"/MCID (\d+)", commands)]
        assert marked == list(range(len(marked))) and marked
        assert page["/StructParents"] == i == parents[2 * i]
        lines = [line.get_object() for line in parents[2 * i + 1]]
        assert [line["/K"] for line in lines] == marked
        assert all(line["/Pg"].get_object() == page for line in lines)
        assert commands.count(b"BDC") + commands.count(b"BMC") == commands.count(b"EMC")


_PAINTS = {b"Tj", b"TJ", b"'", b'"', b"f", b"F", b"f*", b"S", b"s", b"B", b"B*", b"b", b"b*", b"Do"}
_STANDARD = {"/Document", "/H1", "/H2", "/P"}


@pytest.mark.parametrize("name", ["lantern-road", "breakwater", "salt-box-house"])
def test_nothing_is_drawn_outside_the_structure(name: str) -> None:
    """As PDF/UA-1 asks (ISO 14289-1, 7.1 to 7.3, 7.11 and 7.18; from memory): each thing drawn is
    in a tagged line or an artifact, never one inside the other; tags are of the standard or
    mapped to it; headings leave no level out; pages are gone through in the order of the
    structure; language, title and the attached file are named."""
    text = (EXAMPLES / f"{name}.chart").read_text(encoding="utf-8")
    reader = read(engraved_pdf(chart_of(text), View(), source=EmbeddedChart(text))[1])
    root: Any = reader.root_object
    for page in reader.pages:
        inside: list[str] = []  # what is open: an artifact, a tagged line, or neither
        for operands, operator in ContentStream(page["/Contents"], reader).operations:
            if operator in (b"BDC", b"BMC"):
                tagged = operator == b"BDC" and "/MCID" in operands[1]
                artifact = operands[0] == "/Artifact"
                around = {one for one in inside if one}
                assert not around or not (tagged or artifact)
                inside.append("line" if tagged else "artifact" if artifact else "")
            elif operator == b"EMC":
                inside.pop()
            elif operator in _PAINTS:
                assert any(inside), operator
        assert not inside
        assert page["/Tabs"] == "/S"
    mapped = dict(root["/StructTreeRoot"]["/RoleMap"].items())
    (whole,) = root["/StructTreeRoot"]["/K"]
    tags = [line.get_object()["/S"] for line in whole.get_object()["/K"]]
    assert {mapped.get(tag, tag) for tag in (whole.get_object()["/S"], *tags)} <= _STANDARD
    levels = [int(tag[2:]) for tag in tags if tag.startswith("/H")]
    assert levels[0] == 1 and levels.count(1) == 1
    assert root["/Lang"] and root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None and reader.metadata.title
    _, attached = root["/Names"]["/EmbeddedFiles"]["/Names"]
    assert attached.get_object()["/F"] and attached.get_object()["/UF"]
