"""The PDF file, read back by other programs."""

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from chartkit.arrange.view import View
from chartkit.compile import engraved
from tests.charts import DENSE, SMALL, chart_of

LANGUAGE = SMALL.replace("capo: 1", "capo: 1\nwriter: The Tidewater Five\nlanguage: de")


def pdf_of(text: str, view: View | None = None) -> bytes:
    """The PDF of a chart on A4."""
    return engraved(chart_of(text), view or View())[1]


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
        "Verse",
        "C F G",
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
            assert "+Noto" in face["/BaseFont"]
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
    """A dense song takes less than 80 kB, fonts and all."""
    assert len(pdf_of(DENSE)) < 80_000
