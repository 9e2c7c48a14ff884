"""Texts that hold no music: whether a line has any, and why nothing is read."""

import re
from collections.abc import Sequence

from chartkit.interchange.text.kinds.line_kinds import Chords, ChordsBehind, ChordsWithin, KnownLine
from chartkit.interchange.text.kinds.sheet_lines import is_music
from chartkit.interchange.text.rows.inline_chords import said_of_squared, squared_chords
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK

_LONGEST_NUMBERS = 120
_NUMBERS = re.compile(
    r"(?:[^\W\d_]+\s*:)?[\s|]*[b#♭♯]?[1-7]m?7?(?:[\s|–-]+[b#♭♯]?[1-7]m?7?){2,}[\s|]*"
)
"""A row of degrees of the scale, as players in studios write them."""
_COUNTED = re.compile(r"\s*\d{1,3}[.)]\s")


def is_of_a_song(one: KnownLine) -> bool:
    """Whether a line holds music as songs have it: chords, more than capital letters where words
    stand between them, or chords behind words that are not counted, as the titles of a set with
    their keys are."""
    if isinstance(one.kind, Chords):
        tokens = one.kind.tokens
        letters = all(len(token.text) == 1 for token in tokens if token.kind in STRUCK)
        words = any(token.text.isalpha() and token.text.islower() for token in tokens)
        return is_music(tokens) or "|" in one.line.text or not (letters and words)
    if isinstance(one.kind, ChordsBehind):
        return len(one.kind.tokens) > 1 or _COUNTED.match(one.line.text) is None
    return isinstance(one.kind, ChordsWithin)


def why_nothing_is_read(tokens: TokenReader, texts: Sequence[str]) -> str:
    """Why a text makes no chart."""
    reason = "the text holds no chords that can be read, so there is no music in it"
    if any(_NUMBERS.fullmatch(text.strip()) for text in texts if len(text) < _LONGEST_NUMBERS):
        return f"{reason}; numbers are read as chords only below a key: type it above them (key: G)"
    squared = [name for text in texts for name in squared_chords(text, tokens)]
    return f"{reason}; {said_of_squared(squared)}" if squared else reason
