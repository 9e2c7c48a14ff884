"""Pages drawn apart from any document, to be bound into one later.

A page's drawing commands are the same whichever book it goes into, since every font has one
fixed encoding here: all its characters have their place beforehand, and a book embeds those
that it uses.  So pages can be drawn by many workers, kept, and bound quickly.
"""

import zlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any, ClassVar

from reportlab.pdfgen.canvas import Canvas

from chartkit.layout.frames import Bookmark, FontName, Page, Text
from chartkit.pdf.fonts import FILES, embedded_font
from chartkit.pdf.write import Pen


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """A page as deflated drawing commands, and the characters it takes from each font."""

    width: float
    height: float
    commands: bytes
    characters: tuple[tuple[FontName, str], ...]
    bookmarks: tuple[Bookmark, ...] = ()

    __pydantic_config__: ClassVar[dict[str, str]] = {
        "ser_json_bytes": "base64", "val_json_bytes": "base64",
    }  # fmt: skip


def drawn_pages(pages: Sequence[Page]) -> tuple[DrawnPage, ...]:
    """The pages, drawn; the same page always gives the same bytes."""
    canvas = canvas_with_fixed_fonts()
    drawn = []
    for page in pages:
        pen = Pen(canvas, page.height)
        for item in page.items:
            pen.draw(item)
        # The canvas gathers a page's commands in this list and offers no other way to them.
        commands = "\n".join(canvas._code).encode("latin-1")
        canvas._code.clear()
        drawn.append(
            DrawnPage(
                page.width, page.height, zlib.compress(b"q\n" + commands + b"\nQ\n"),
                used_characters(page), page.bookmarks,
            )
        )  # fmt: skip
    return tuple(drawn)


def used_characters(page: Page) -> tuple[tuple[FontName, str], ...]:
    """The characters a page takes from each font, in order."""
    found: dict[FontName, set[str]] = defaultdict(set)
    for item in page.items:
        if isinstance(item, Text):
            for piece in item.pieces:
                found[piece.font].update(piece.text)
    return tuple((font, "".join(sorted(found[font]))) for font in sorted(found))


def canvas_with_fixed_fonts(language: str = "en") -> Any:
    """A canvas on which every character of every font has its fixed code."""
    words: Any = embedded_font("words").fontName
    canvas: Any = Canvas(
        BytesIO(), invariant=1, pageCompression=1, lang=language, initialFontName=words
    )
    for name in FILES:
        font: Any = embedded_font(name)
        state = font._assignState(canvas._doc)
        fixed = _fixed_encoding(name)
        state.assignments, state.subsets, state.nextCode = fixed
        font.getSubsetInternalName(0, canvas._doc)
    return canvas


class _NoDocument:
    """Stands for a document while a font's encoding is worked out."""


@cache
def _fixed_encoding(name: FontName) -> tuple[dict[int, int], list[list[int]], int]:
    """Every character of a font with its code: the order is that of Unicode."""
    font: Any = embedded_font(name)
    place = _NoDocument()
    font.splitString("".join(map(chr, sorted(font.face.charToGlyph))), place)
    state = font.state[place]
    return state.assignments, state.subsets, state.nextCode


def keep_used_characters(canvas: Any, used: Iterable[tuple[FontName, str]]) -> None:
    """Lets the canvas's document embed only these characters; their codes stay."""
    wanted: dict[FontName, set[int]] = {name: {0, ord(" ")} for name in FILES}
    for name, characters in used:
        wanted[name].update(map(ord, characters))
    for name, codes in wanted.items():
        state = embedded_font(name).state[canvas._doc]
        subsets = [
            [code if code in codes else ord(" ") for code in subset] for subset in state.subsets
        ]
        while len(subsets) > 1 and set(subsets[-1]) <= {0, ord(" ")}:
            subsets.pop()
        state.subsets = subsets
