"""Lines of a text as a terminal shows them: columns, tabs and wide characters.

Source of the widths: Unicode Standard Annex 11, East Asian Width (wide and full-width
characters take two columns); combining characters take none.  Tabs stop at every eighth
column, as in terminals and mail.
"""

import unicodedata
from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from chartkit.interchange.text.quick_looks import kept

_TAB = 8
_SIGNS_OF_MUSIC = frozenset("°♭♮△▵Δ𝄎𝄐𝄋𝄌")
"""Signs that stand beside chords and are symbols to Unicode as small pictures are."""


def is_picture(sign: str) -> bool:
    """Whether a sign is one of the small pictures that phones put among letters."""
    return not sign.isascii() and sign not in _SIGNS_OF_MUSIC and unicodedata.category(sign) == "So"


@dataclass(frozen=True, slots=True)
class Line:
    """A line: its number from 1, its text with tabs as blanks, and the column at which each
    character begins (None where that is its index).

    ``where`` is its place in a source that has no columns; ``columns`` are then any measure
    that grows along the line.
    """

    number: int
    text: str
    columns: tuple[int, ...] | None = None
    where: str = ""

    def column(self, index: int) -> int:
        """The column of a character."""
        if self.columns is None:
            return index
        return self.columns[min(index, len(self.columns) - 1)]

    def index(self, column: int) -> int:
        """The character that begins nearest to a column; the text's length after its end."""
        if self.columns is None:
            return min(column, len(self.text))
        at = min(bisect_left(self.columns, column), len(self.text), len(self.columns) - 1)
        nearer = at and column - self.columns[at - 1] < self.columns[at] - column
        return at - 1 if nearer else at

    def place(self, index: int = 0) -> str:
        """Where a character stands in the source: line and column, both from 1."""
        return self.where or f"{self.number}:{self.column(index) + 1}"


def changed(lines: Sequence[Line], change: Callable[[Line], Line]) -> list[Line]:
    """The lines as ``change`` makes them, which looks at their texts and nothing else.  It is asked
    once for a text that it leaves as it is, since songs say their lines again."""
    same = {""}
    result = []
    for line in lines:
        if line.text not in same:
            new = change(line)
            if new is line:
                same.add(line.text)
            line = new
        result.append(line)
    return result


def line_of(number: int, raw: str) -> Line:
    """The line of a raw text."""
    if raw.isascii() and "\t" not in raw:
        return Line(number, _visible(raw.rstrip()))
    text: list[str] = []
    columns: list[int] = []
    column = 0
    for character in _visible(raw.rstrip(), keep_tabs=True):
        width = _TAB - column % _TAB if character == "\t" else _width(character)
        if character == "\t":
            text += " " * width
            columns += range(column, column + width)
        else:
            text.append(character)
            columns.append(column)
        column += width
    return Line(number, "".join(text), (*columns, column))


def _visible(text: str, keep_tabs: bool = False) -> str:
    if text.isprintable():
        return text
    return "".join(
        c if c.isprintable() or (c == "\t" and keep_tabs) else " " if c.isspace() else ""
        for c in text
        if unicodedata.category(c) not in ("Cf", "Cs") or c == "\u200d"
    )


def _width(character: str) -> int:
    if unicodedata.combining(character) or character == "\u200d":
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def width_of(text: str) -> int:
    """How many columns a text takes."""
    return len(text) if text.isascii() else sum(map(_width, text))


@kept
def letters_of(text: str) -> str:
    """The letters and figures of a text, without case."""
    low = text.casefold()
    return low if low.isalnum() else "".join(filter(str.isalnum, low))


def without_pictures(line: Line) -> Line:
    """A line with blanks for the small pictures that phones put among letters."""
    if line.text.isascii():
        return line
    text = "".join(" " if is_picture(c) else c for c in line.text)
    return line if text == line.text else replace(line, text=text)


def stands_over(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has nothing right above it and something right below, as a name has."""
    return is_empty(lines, at - 1) and not is_empty(lines, at + 1)


def text_at(lines: Sequence[Line], at: int) -> str:
    """The text of a line; empty before the first line and after the last."""
    return lines[at].text if 0 <= at < len(lines) else ""


def is_empty(lines: Sequence[Line], at: int) -> bool:
    """Whether nothing stands at a place: an empty line, or the end of the sheet."""
    return not text_at(lines, at).strip()


def has_no_words(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has no letter and no figure: it is empty, or a rule of dashes."""
    return not any(map(str.isalnum, text_at(lines, at)))
