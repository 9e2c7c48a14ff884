"""Pages drawn apart from any document, to be bound into a book later.

Drawn pages are plain values: many workers can make them, and they can be kept.
"""

import zlib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from chartkit.layout.frames import Bookmark, FontName, Page, Text
from chartkit.pdf.commands import page_commands


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
    return tuple(
        DrawnPage(
            page.width, page.height, zlib.compress(page_commands(page.items, page.height)),
            used_characters(page), page.bookmarks,
        )
        for page in pages
    )  # fmt: skip


def used_characters(page: Page) -> tuple[tuple[FontName, str], ...]:
    """The characters a page takes from each font, in order."""
    found: dict[FontName, set[str]] = defaultdict(set)
    for item in page.items:
        if isinstance(item, Text):
            for piece in item.pieces:
                found[piece.font].update(piece.text)
    return tuple((font, "".join(sorted(found[font]))) for font in sorted(found))
