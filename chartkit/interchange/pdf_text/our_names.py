"""The names of sections beside their rows on our own pages, and the form line under the title.

Names stand in the gutter on the line of the chords; the file says which texts they are
(``pdf/commands.py``).  They become rows of their own above, as a sheet would have them.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.pdf_text.page_text import TextRun
from chartkit.interchange.pdf_text.rows import Row
from chartkit.interchange.pdf_text.type_faces import ENDING, text_of

_NOTE = "SongNote"
NAME, _NOT_READ = "H2", ("LineNum", "Header", "SongForm")
_TYPED = {
    ord(sign): ord(typed) for signs, typed in (("“”„«»", '"'), ("’‘‚‹›", "'")) for sign in signs
}
"""The quotes that a page sets in the song's language, as they are typed."""
_DIAGRAMS = "Shapes"
"""The heading over chord diagrams, which names no section."""
_ABOVE = re.compile(
    r"Key: .*|♩.*|♪.*|(?:half|whole) note = .*|D\.[SC]\..*|Fine.*|To Coda.*|to Coda.*"
)
"""What stands between a name and its row besides remarks, which lean, and endings."""
_SAME_LINE, _NEAR = 0.35, 9.0
"""How near the baselines of a name and its row are, and of what may stand above it, in ems."""


def names_apart(pieces: Sequence[TextRun]) -> tuple[list[TextRun], list[TextRun]]:
    """Parts the names of sections from the other pieces. Returns the pieces without names, bar
    numbers and form line; and the names, the lines of each in one, without the heading of diagrams
    after the song."""
    names: list[TextRun] = []
    rest: list[TextRun] = []
    before: TextRun | None = None
    for piece in pieces:
        if piece.mark == NAME:
            if before is not None and before.mark == NAME and _goes_on(before, piece):
                names[-1] = _joined(names[-1], piece)
            else:
                names.append(piece)
        elif piece.mark not in _NOT_READ:
            rest.append(replace(piece, text=piece.text.translate(_TYPED)))
        before = piece
    if names and names[-1].text.startswith(_DIAGRAMS):
        names.pop()
    return rest, names


def _goes_on(before: TextRun, piece: TextRun) -> bool:
    """Whether a piece is the next line of a name."""
    return piece.page == before.page and 0 <= before.y - piece.y <= 2 * before.size


def _joined(name: TextRun, piece: TextRun) -> TextRun:
    blank = (0.0,)
    return replace(
        name, text=f"{name.text} {piece.text}", advances=(*name.advances, *blank, *piece.advances)
    )


def with_names(rows: list[Row], names: Sequence[TextRun]) -> list[Row]:
    """The rows of a page with each name above its row and what is said over that."""
    if not rows:
        return rows
    own = [name for name in names if name.page == rows[0][0].page]
    named = list(rows)
    for name in own:
        at = next((i for i, row in enumerate(named) if _is_under(row, name)), len(named))
        while at and _is_said_over(named[at - 1], name):
            at -= 1
        named.insert(at, [name if at == len(named) else _raised(name, named[at])])
    return named


def _is_under(row: Row, name: TextRun) -> bool:
    return row[0].y <= name.y + _SAME_LINE * name.size


def _is_said_over(row: Row, name: TextRun) -> bool:
    """Whether a row belongs to the one under it: a remark, a change, the number of an ending."""
    text = text_of(row)
    if row[0].mark == _NOTE:
        return False
    is_cue = all(piece.leans for piece in row) or _ABOVE.fullmatch(text) or ENDING.fullmatch(text)
    return bool(is_cue) and row[0].y - name.y <= _NEAR * name.size


def _raised(name: TextRun, row: Row) -> TextRun:
    """The name a line above a row."""
    return replace(name, y=max(name.y, row[0].y) + 1.2 * name.size)
