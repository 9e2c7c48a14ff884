"""Pages look as ReportLab draws them, and the file that binds them is sound."""

import shutil
import subprocess
import tracemalloc
from collections.abc import Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryFile

import pytest
from PIL import Image, ImageChops
from pypdf import PdfReader

from chartkit.arrange.arrange import arrange
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import View
from chartkit.layout.engrave import laid_out
from chartkit.layout.faces import FILES
from chartkit.layout.frames import Bookmark, Document, Link, Page, Piece, Text
from chartkit.pdf.bind import FileDescription, Leaf, bind, bound_file
from chartkit.pdf.commands import ReadLine
from chartkit.pdf.draw import DrawnPage, drawn_pages
from chartkit.pdf.font_codes import font_codes
from chartkit.pdf.fonts import Fonts, embedded_font
from chartkit.pdf.write import pdf_bytes
from chartkit.theory.capo import Capo
from tests.charts import DENSE, chart_of
from tests.pdf.on_canvas import canvas_pdf


def dense_document() -> Document:
    """Pages with everything a page may hold."""
    return laid_out(arrange(chart_of(DENSE), View(capo=Capo(1))), PageLook(), Fonts())


def book_of(document: Document) -> bytes:
    """The pages of a document drawn apart and bound."""
    leaves = [Leaf(Page(page.width, page.height, ()), page) for page in drawn_pages(document.pages)]
    return bound_file(FileDescription("Title", "Author", "Subject", "en"), leaves)


def picture(pdf: bytes, folder: Path, name: str) -> Image.Image:
    """The first page as poppler shows it at 90 dots per inch, drawn finer and made smaller: a
    place that is rounded otherwise moves no line by a whole dot."""
    (folder / f"{name}.pdf").write_bytes(pdf)
    call = ["pdftoppm", "-r", "360", "-gray", "-png", "-singlefile"]
    subprocess.run([*call, str(folder / f"{name}.pdf"), str(folder / name)], check=True)
    return Image.open(folder / f"{name}.png").convert("L").reduce(4)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler's pdftoppm")
@pytest.mark.parametrize("dark", [False, True])
def test_a_page_looks_as_reportlab_draws_it(tmp_path: Path, dark: bool) -> None:
    """The page's own commands give the picture that the same items on a canvas give."""
    document = replace(dense_document(), dark=dark)
    one = picture(canvas_pdf(document), tmp_path, "canvas")
    other = picture(pdf_bytes(document), tmp_path, "own")
    assert one.getextrema()[1] - one.getextrema()[0] > 200
    difference = ImageChops.difference(one, other)
    strong = difference.point(lambda level: 255 if level > 64 else 0).histogram()[255]
    assert strong / (one.width * one.height) < 1e-4


def test_texts_come_out_as_they_went_in() -> None:
    """Text taken from a page is that of the same page drawn by ReportLab."""
    document = dense_document()
    canvas = PdfReader(BytesIO(canvas_pdf(document)))
    ours = PdfReader(BytesIO(book_of(document)), strict=True)
    for one, other in zip(ours.pages, canvas.pages, strict=True):
        assert one.extract_text().split() == other.extract_text().split()


def test_every_character_has_a_code_of_its_own() -> None:
    """In each font no two characters share a place, and all the font has are there."""
    for font in FILES:
        codes = font_codes(embedded_font(font))
        assert len(set(codes.values())) == len(codes)
        has = {chr(code) for code in embedded_font(font).face.charToGlyph} - {"\xa0"}
        assert {character for character in has if ord(character) >= 32} <= set(codes)


def test_odd_characters_are_found_again() -> None:
    """Parentheses, backslashes, dashes and letters of other alphabets survive binding."""
    text = "(a\\b) – “Zürich” Łódź Ελλάδα Москва · é"
    pieces = (Piece(text, "plain", 12),)
    page = Page(595, 842, (Text(50, 50, 400, pieces),))
    reader = PdfReader(
        BytesIO(bound_file(FileDescription("T", "A", "S", "en"), [Leaf(page)])), strict=True
    )
    assert reader.pages[0].extract_text() == text


def test_outline_links_labels_and_description() -> None:
    """The file has two levels of outline, links, labels from 1 and its own description, and each
    song is a part of what is read."""
    blank = Page(300, 400, (), (Bookmark("Verse", 100),))
    linked = Page(300, 400, (), (), (Link(10, 20, 100, 30, 2),))
    leaves = [Leaf(linked, None, "Front ♭"), Leaf(blank, None, "One"), Leaf(blank)]
    reader = PdfReader(
        BytesIO(bound_file(FileDescription("Tïtle", "A", "S", "de"), leaves)), strict=True
    )
    assert reader.metadata is not None
    assert (reader.metadata.title, reader.metadata.author) == ("Tïtle", "A")
    assert reader.page_labels == ["1", "2", "3"]
    front, one, under = reader.outline
    assert (front.title, one.title) == ("Front ♭", "One")
    assert isinstance(under, list)
    assert [reader.get_destination_page_number(mark) for mark in under] == [1, 2]  # type: ignore[arg-type]
    (note,) = reader.pages[0]["/Annots"]  # type: ignore[misc]
    assert [float(edge) for edge in note.get_object()["/Rect"]] == [10, 350, 110, 380]  # type: ignore[has-type]
    assert reader.get_page_number(note.get_object()["/Dest"][0].get_object()) == 2  # type: ignore[has-type]
    assert reader.trailer["/Root"]["/Lang"] == "de"
    (whole,) = reader.trailer["/Root"]["/StructTreeRoot"]["/K"]
    parts = [part.get_object() for part in whole.get_object()["/K"]]
    assert [(part["/S"], part["/T"]) for part in parts] == [("/Sect", "Front ♭"), ("/Sect", "One")]


def test_a_book_embeds_only_what_it_uses() -> None:
    """A page of a few letters makes a small file."""
    page = Page(300, 400, (Text(50, 50, 40, (Piece("Abba", "title", 12),)),))
    assert len(bound_file(FileDescription("T", "A", "S", "en"), [Leaf(page)])) < 12_000


def peak_of(count: int) -> tuple[int, int]:
    """The most memory that binding so many pages takes, and the length of the file."""

    def leaves() -> Iterator[Leaf]:
        for number in range(count):
            commands = bytes(30_000) + number.to_bytes(2, "big")
            text = Text(50, 50, 40, (Piece("Low Tide", "title", 12),))
            lines = (ReadLine("P", "low tide"),) * 20
            drawn = DrawnPage(300, 400, commands, (), (Bookmark("Verse", 9),), lines)
            yield Leaf(Page(300, 400, (text,)), drawn, f"Song {number}")

    with TemporaryFile() as out:
        tracemalloc.start()
        try:
            bind(out, FileDescription("T", "A", "S", "en"), leaves(), count)
            return tracemalloc.get_traced_memory()[1], out.tell()
        finally:
            tracemalloc.stop()


def test_a_book_of_any_length_is_bound_in_little_memory() -> None:
    """Pages are let go of as they are written: of each there stays less than a fortieth."""
    peak_of(10)
    (short, _), (long, length) = peak_of(100), peak_of(500)
    assert length > 500 * 30_000
    assert long - short < 400 * 30_000 / 40
