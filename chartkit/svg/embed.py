"""Faces cut down to the letters in use, as addresses that hold their data."""

from base64 import b64encode
from collections.abc import Iterable

import uharfbuzz

from chartkit.assets import font_path
from chartkit.layout.faces import FILES
from chartkit.layout.frames import FontName, Page, Text


def used_letters(pages: Iterable[Page]) -> dict[FontName, str]:
    """The letters that pages take from each face, in order."""
    used: dict[FontName, set[str]] = {font: set() for font in FILES}
    for page in pages:
        for item in page.items:
            if isinstance(item, Text):
                for piece in item.pieces:
                    used.setdefault(piece.font, set()).update(piece.text)
    return {font: "".join(sorted(letters)) for font, letters in used.items()}


def face_data(font: FontName, letters: str) -> str:
    """A ``data:`` address with the face's file, cut down to the letters (RFC 2397).

    The face keeps its own widths and kerning, so that text stands as it was measured.
    """
    face = uharfbuzz.Face(font_path(FILES[font]).read_bytes())
    wanted = uharfbuzz.SubsetInput()
    wanted.sets(uharfbuzz.SubsetInputSets.UNICODE).update(map(ord, letters))
    cut = uharfbuzz.subset(face, wanted).blob.data
    return f"data:font/ttf;base64,{b64encode(cut).decode()}"
