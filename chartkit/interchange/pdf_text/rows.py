"""Rows of pieces: read as lines in which each letter keeps its place, and asked for chords."""

import re
from collections.abc import Sequence

from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.pdf_text.music_signs import MARKS_SAID
from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import roots_of
from chartkit.interchange.text.vocabulary.note_names import naming_of

Row = list[TextRun]

BLANK = 0.12
"""The gap, in ems, that is a blank between words."""
WIDE = 1.2
"""The gap, in ems, that parts pieces that do not belong together."""
_OVERLAP = 0.25
"""The overlap, in ems, from which two pieces are two chords."""
_TENTHS = 10
_LONGEST_CHORD = 40
"""No chord symbol has more letters; ours."""
_CHORDISH = re.compile(r"[A-H]\S*(?<![/(])\s")


def line_of_row(row: Row, number: int, on_page: int) -> Line:
    """The text of a row; a gap becomes a blank, a wide one three, and each letter keeps its
    place."""
    text: list[str] = []
    columns: list[int] = []
    end = row[0].x
    for piece, after in zip(row, [*row[1:], None], strict=True):
        gap = (piece.x - end) / piece.size
        apart = gap > BLANK or _is_next_chord(piece, gap, text[-_LONGEST_CHORD - 1 :])
        parted = text and apart and text[-1] != " "
        if parted and not _is_hyphen(piece, text[-1], after):
            blanks = 3 if gap > WIDE else 1
            text += " " * blanks
            columns += [
                round((end + (piece.x - end) * i / blanks) * _TENTHS) for i in range(blanks)
            ]
            end = piece.x
        elif not parted:
            end = piece.x
        for character, advance in zip(piece.text, piece.advances, strict=True):
            text.append(character if character.isprintable() else " ")
            columns.append(round(end * _TENTHS))
            end += advance
    ordered = [max(columns[max(0, i - 1) : i + 1]) for i in range(len(columns))]
    where = f"page {row[0].page}, line {on_page}"
    return Line(number, "".join(text), (*ordered, round(end * _TENTHS)), where)


def _is_next_chord(piece: TextRun, gap: float, before: Sequence[str]) -> bool:
    """Whether a piece begins another chord right after one: they overlap, or the one before
    ends in a figure, an accidental or a parenthesis.  ``before`` holds the last letters of the
    row so far."""
    last = "".join(before).split()[-1:]
    if not last or not "A" <= piece.text[0] <= "H" or len(last[0]) > _LONGEST_CHORD:
        return False
    if _CHORDISH.match(last[0] + " ") is None:
        return False
    return gap < -_OVERLAP or last[0][-1] in "♭♯𝄫𝄪0123456789)"


def _is_hyphen(piece: TextRun, before: str, after: TextRun | None) -> bool:
    """Whether a hyphen stands alone between the parts of a word, as engravers set it."""
    goes_on = after is None or after.text[:1].islower()
    return (
        piece.text in ("-", "‐")
        and before.isalpha()
        and goes_on
        and (after is not None or before.islower())
    )


class RowReader:
    """Reads rows of the pages of one document, whose chords are named in one way."""

    def __init__(self, read_symbol: SymbolReader, pages: Sequence[Sequence[Row]]) -> None:
        naming = naming_of([self.text(row) for rows in pages for row in rows])
        self._tokens = TokenReader(read_symbol, naming)

    def text(self, row: Row) -> str:
        """The text of a row with its blanks."""
        return line_of_row(row, 0, 0).text

    def is_music(self, row: Row) -> bool:
        """Whether a row is made of chords wholly, without words and figures among them."""
        tokens = self._tokens.row(line_of_row(row, 0, 0))
        return tokens is not None and all(
            token.kind not in ("word", "cue") or token.text in MARKS_SAID for token in tokens
        )

    def chords(self, row: Row) -> int:
        """How many chords a row of music has, whatever else is among them; 0 for any other."""
        tokens = self._tokens.row(line_of_row(row, 0, 0)) or ()
        return sum(root is not None for root in roots_of(tokens))
