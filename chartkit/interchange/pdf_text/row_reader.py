"""What a row of pieces is, read as a line of a sheet."""

from collections.abc import Sequence

from chartkit.interchange.pdf_text.row_text import Row, line_of_row
from chartkit.interchange.taken import SymbolReader
from chartkit.interchange.text.note_names import naming_of
from chartkit.interchange.text.tokens import Tokens, roots_of


class RowReader:
    """Reads rows of the pages of one document, whose chords are named in one way."""

    def __init__(self, read_symbol: SymbolReader, pages: Sequence[Sequence[Row]]) -> None:
        naming = naming_of([self.text(row) for rows in pages for row in rows])
        self._tokens = Tokens(read_symbol, naming)

    def text(self, row: Row) -> str:
        """The text of a row with its blanks."""
        return line_of_row(row, 0, 0).text

    def is_music(self, row: Row) -> bool:
        """Whether a row is made of chords wholly, without words and figures among them."""
        tokens = self._tokens.row(line_of_row(row, 0, 0))
        return tokens is not None and all(token.kind not in ("word", "cue") for token in tokens)

    def chords(self, row: Row) -> int:
        """How many chords a row of music has, whatever else is among them; 0 for any other."""
        tokens = self._tokens.row(line_of_row(row, 0, 0)) or ()
        return sum(root is not None for root in roots_of(tokens))
