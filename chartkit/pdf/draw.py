"""Pages drawn apart from any document, to be bound into a book later.

Drawn pages are plain values: many workers can make them, and they can be kept.
"""

import zlib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from chartkit.layout.frames import Bookmark, FontName, Page, Text
from chartkit.pdf.commands import ReadLine, page_commands
from chartkit.pdf.fonts import Fonts


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """A page as deflated drawing commands, and the characters it takes from each font.

    ``lines`` are its lines of text, by the numbers they are marked with.
    """

    width: float
    height: float
    commands: bytes
    characters: tuple[tuple[FontName, str], ...]
    bookmarks: tuple[Bookmark, ...] = ()
    lines: tuple[ReadLine, ...] = ()

    __pydantic_config__: ClassVar[dict[str, str]] = {
        "ser_json_bytes": "base64",
        "val_json_bytes": "base64",
    }

    @property
    def is_landscape(self) -> bool:
        """Whether the page is wider than high."""
        return self.width > self.height


def drawn_pages(
    pages: Sequence[Page], fonts: Fonts | None = None, dark: bool = False
) -> tuple[DrawnPage, ...]:
    """The pages, drawn; the same page always gives the same bytes."""
    return tuple(_drawn(page, fonts or Fonts(), dark) for page in pages)


def _drawn(page: Page, fonts: Fonts, dark: bool) -> DrawnPage:
    drawing = page_commands(page.items, page.width, page.height, fonts, dark)
    return DrawnPage(
        width=page.width,
        height=page.height,
        commands=zlib.compress(drawing.commands),
        characters=used_characters(page),
        bookmarks=page.bookmarks,
        lines=drawing.lines,
    )


def used_characters(page: Page) -> tuple[tuple[FontName, str], ...]:
    """The characters a page takes from each font, in order."""
    used: dict[FontName, set[str]] = defaultdict(set)
    for item in page.items:
        if isinstance(item, Text):
            for piece in item.pieces:
                used[piece.font].update(piece.text)
    return tuple((font, "".join(sorted(used[font]))) for font in sorted(used))
