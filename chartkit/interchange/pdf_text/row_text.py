"""The text of a row of pieces as a line in which each letter keeps its place."""

import re

from chartkit.interchange.pdf_text.piece import Piece
from chartkit.interchange.text.lines import Line

Row = list[Piece]

BLANK = 0.12
"""A gap of so many ems is a blank between words."""
WIDE = 1.2
"""A gap of so many ems parts what does not belong together."""
_OVERLAP = 0.25
"""Chords that overlap by so many ems are two."""
_TENTHS = 10
_CHORDISH = re.compile(r"[A-H]\S*(?<![/(])\s")


def line_of_row(row: Row, number: int, on_page: int) -> Line:
    """The text of a row; a gap becomes a blank, a wide one three, and each letter keeps its
    place."""
    text: list[str] = []
    columns: list[int] = []
    end = row[0].x
    for piece, after in zip(row, [*row[1:], None], strict=True):
        gap = (piece.x - end) / piece.size
        apart = gap > BLANK or _is_next_chord(piece, gap, "".join(text))
        parted = text and apart and text[-1] != " "
        if parted and not _is_hyphen(piece, text[-1], after):
            blanks = 3 if gap > WIDE else 1
            text += " " * blanks
            columns += [round((end + (piece.x - end) * i / blanks) * _TENTHS)
                        for i in range(blanks)]  # fmt: skip
            end = piece.x
        elif not parted:
            end = piece.x
        for character, advance in zip(piece.text, piece.advances, strict=True):
            text.append(character if character.isprintable() else " ")
            columns.append(round(end * _TENTHS))
            end += advance
    ordered = [max(columns[: i + 1][-2:]) for i in range(len(columns))]
    where = f"page {row[0].page}, line {on_page}"
    return Line(number, "".join(text), (*ordered, round(end * _TENTHS)), where)


def _is_next_chord(piece: Piece, gap: float, before: str) -> bool:
    """Whether a piece begins another chord right behind one: they overlap, or the one before
    ends in a figure or an accidental."""
    last = before.split()[-1:]
    if not last or not "A" <= piece.text[0] <= "H" or _CHORDISH.match(last[0] + " ") is None:
        return False
    return gap < -_OVERLAP or last[0][-1] in "♭♯0123456789"


def _is_hyphen(piece: Piece, before: str, after: Piece | None) -> bool:
    """Whether a hyphen stands alone between the parts of a word, as engravers set it."""
    goes_on = after is None or after.text[:1].islower()
    return (
        piece.text in ("-", "‐")
        and before.isalpha()
        and goes_on
        and (after is not None or before.islower())
    )
