"""Rows of words under a staff: the hyphens between their syllables, and the numbers of verses."""

import re
from dataclasses import replace

from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import Row
from chartkit.interchange.pdf_text.type_faces import text_of

_APART_HYPHEN = re.compile(r"(?<=[^\W\d_]) (?=[-‐](?:\s[^\W\d_A-Z]|\s?$))")
_VERSE_NUMBER = re.compile(r"\s*\d{1,2}\s*[.:)]")


def with_hyphen_close(piece: TextRun) -> TextRun:
    """A piece of words under a staff without the blank before a hyphen that parts a word."""
    if (apart := _APART_HYPHEN.search(piece.text)) is None:
        return piece
    text, advances = list(piece.text), list(piece.advances)
    while apart is not None:
        at = apart.start()
        del text[at]
        advances[at + 1 if at + 1 < len(advances) else at] += advances[at]
        del advances[at]
        apart = _APART_HYPHEN.search("".join(text))
    return replace(piece, text="".join(text), advances=tuple(advances))


def numbered(row: Row, number: int) -> Row:
    """A row of words with the number of its verse before it; as it is where that is printed:
    engravers print it once, before the first row."""
    first = row[0]
    if _VERSE_NUMBER.match(text_of(row)):
        return row
    said = f"{number}. "
    before = replace(first, x=first.x - first.size, text=said, advances=(0.0,) * len(said))
    return [before, *row]
