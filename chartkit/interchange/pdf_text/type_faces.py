"""What the faces of type on a page tell: lines that lean are remarks, lines in the bold type of
known section names name sections too, where few lines are so (common practice, no source).

A row of chords is neither, whatever its type.
"""

import re
from collections.abc import Callable
from dataclasses import replace

from chartkit.interchange.pdf_text.rows import Row
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.rows.cues import marks_of
from chartkit.interchange.text.vocabulary.facts import facts_of

_MOST_SHARE = 0.25
_MOST_WORDS = 5
_MOST_HEAD_ROWS = 4
"""How many rows at most are the song's head where no section is named."""
_SAYS = re.compile(r"[a-z]{3}")
_LETTER = re.compile(r"([A-H])(?: ?\d)?")
_LETTERS = "ABCDEFGH"
ENDING = re.compile(r"(?:\d{1,2}[.,]\s*)*\d{1,2}\.")
"""The numbers of endings: ``1.``, ``1, 3.``, or several on one row."""


def text_of(row: Row) -> str:
    """The text of a row, its pieces with blanks between them."""
    return " ".join(piece.text.strip() for piece in row)


def signs_for_type(columns: list[list[Row]], is_music: Callable[[Row], bool]) -> list[list[Row]]:
    """The columns of pages with signs around what its type alone shows, as they would be
    typed: parentheses for a remark, ``==`` before the name of a section.  ``is_music`` tells
    rows of chords, which are left as they are."""
    every = [row for rows in columns for row in rows]
    lefts = (min((row[0].x for row in rows), default=0.0) for rows in columns)
    left = {id(row): at for rows, at in zip(columns, lefts, strict=True) for row in rows}
    known = {id(row): _bold_size(row) for row in every if heading_of(text_of(row)) is not None}
    faces = set(known.values())
    named = [row for row in every if _is_name(row, left[id(row)], faces)]
    names = _ids_if_few([row for row in named if not is_music(row)], every)
    if (faces - {None}).isdisjoint(_chord_faces(every, is_music)):
        names |= _part_letter_rows(named)
    begins = (i for i, row in enumerate(every) if id(row) in known or id(row) in names)
    song = every[next(begins, _MOST_HEAD_ROWS) :]
    remarks = _ids_if_few([row for row in song if _is_remark(row) and not is_music(row)], song)
    remarks |= {id(row) for row in song if _is_ending(row, left[id(row)])}

    def signed(row: Row) -> Row:
        if id(row) in names:
            return enclosed("== ", row, "")
        return enclosed("(", row, ")") if id(row) in remarks else row

    return [[signed(row) for row in rows] for rows in columns]


def is_remark_by_type(row: Row) -> bool:
    """Whether a row was put in parentheses here."""
    return row[0].text.startswith("(") and row[0].advances[0] == 0


def names_part(row: Row) -> bool:
    """Whether a row that could be chords is a letter alone, or has the sign of a name."""
    text = text_of(row)
    return _LETTER.fullmatch(text) is not None or text.startswith("==")


def _chord_faces(rows: list[Row], is_music: Callable[[Row], bool]) -> set[float | None]:
    """The faces of the rows of chords that are no single letters."""
    return {
        _bold_size(row) for row in rows if not _LETTER.fullmatch(text_of(row)) and is_music(row)
    }


def _part_letter_rows(named: list[Row]) -> set[int]:
    """The rows that are the letters of parts and no chords: all letters from A on are there,
    alone or with a number."""
    letters = {id(row): match[1] for row in named if (match := _LETTER.fullmatch(text_of(row)))}
    return set(letters) if _LETTERS.startswith("".join(sorted(set(letters.values())))) else set()


def _ids_if_few(rows: list[Row], among: list[Row]) -> set[int]:
    """The rows, by what they are, where they are few among others; else none."""
    return {id(row) for row in rows} if len(rows) <= _MOST_SHARE * len(among) else set()


def _bold_size(row: Row) -> float | None:
    """The size of a row that is all bold and in one size."""
    sizes = {round(piece.size, 1) for piece in row}
    bold = all(piece.bold for piece in row)
    return sizes.pop() if bold and len(sizes) == 1 else None


def _is_remark(row: Row) -> bool:
    text = text_of(row)
    slanted = all(piece.leans for piece in row) and not text.startswith("(")
    return slanted and _says_more(text) and not marks_of(text)


def _is_name(row: Row, left: float, faces: set[float | None]) -> bool:
    """Whether a row is in the bold type in which known sections are named, at the margin."""
    text = text_of(row)
    short = len(text.split()) <= _MOST_WORDS and abs(row[0].x - left) <= row[0].size
    face = _bold_size(row)
    named = short and face is not None and face in faces and heading_of(text) is None
    return named and not facts_of(text)


def _is_ending(row: Row, left: float) -> bool:
    """Whether a row is the number of an ending, which stands over its bar."""
    inside = len(row) > 1 or row[0].x > left + 2 * row[0].size
    return inside and ENDING.fullmatch(text_of(row)) is not None


def _says_more(text: str) -> bool:
    """Whether a text has words and is no name of a section or setting as it is."""
    return _SAYS.search(text) is not None and heading_of(text) is None and not facts_of(text)


def enclosed(before: str, row: Row, after: str) -> Row:
    """The row with signs around its text that take no room."""
    first = row[0]
    opened = replace(
        first, text=before + first.text, advances=((0.0,) * len(before) + first.advances)
    )
    *others, last = [opened, *row[1:]]
    closed = replace(last, text=last.text + after, advances=(*last.advances, *[0.0] * len(after)))
    return [*others, closed]
