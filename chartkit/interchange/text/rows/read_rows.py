"""Rows of chords as they were read, kept for where a song has the same row again."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from chartkit.chart.model import MusicRow
from chartkit.interchange.text.tokens import Token
from chartkit.theory.chord import Chord


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A row of music, and under which columns its words stand: one tuple a bar, the first
    column of each being where the bar's words begin."""

    music: MusicRow
    columns: tuple[tuple[int, ...], ...]


@dataclass(slots=True)
class KeptRows:
    """Rows in free time that are chords alone, of which nothing is reported, with their last
    chords.  The reader of tokens gives the same tokens for the same text, so that their identity
    is enough."""

    rows: dict[int, tuple[Sequence[Token], ReadRow, Chord]] = field(default_factory=dict)

    def of(self, tokens: Sequence[Token]) -> tuple[ReadRow, Chord] | None:
        """The row of some tokens and its last chord; None where it was not kept."""
        kept = self.rows.get(id(tokens))
        return kept[1:] if kept is not None else None

    def keep(self, tokens: Sequence[Token], read: ReadRow, last: Chord | None) -> None:
        """Keeps a row if its tokens are chords alone; its tokens stay, and with them their
        identity."""
        alone = all(token.kind == "chord" and len(token.played) == 1 for token in tokens)
        if alone and isinstance(tokens, tuple) and last is not None:
            self.rows[id(tokens)] = tokens, read, last
