"""Chords typed among the words: in parentheses each is struck where it stands; in square
brackets they stay words, and a finding names them.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, WORDS_TOO, Token

_IN_PARENTHESES = re.compile(r"\(([^()\[\]\s][^()\[\]]{0,40})(\))( ?)")
_IN_SQUARE = re.compile(r"\[([^()\[\]\s][^()\[\]]{0,40})\]")
_AROUND = "()[],.;:!?"
_LONGEST = 1000


def chords_within(line: Line, tokens: TokenReader) -> tuple[Line, list[Token]] | None:
    """The words of a line and the chords that stood in parentheses among them; None where none
    did.  A lone (A) or (Am) is rather a word."""
    text = line.text
    if len(text) > _LONGEST or "(" not in text:
        return None
    words, chords = _taken_apart(text, tokens)
    sure = any(token.text not in WORDS_TOO for token in chords)
    if not chords or not any(map(str.isalpha, words)) or not (sure or len(chords) > 1):
        return None
    return replace(line, text=words.rstrip(), columns=None), chords


def _taken_apart(text: str, tokens: TokenReader) -> tuple[str, list[Token]]:
    """The words, with a hyphen where a chord stood within one; and the chords in their places."""
    words, at = "", 0
    collected: list[Token] = []
    for match in _IN_PARENTHESES.finditer(text):
        own = _chords(match[1], tokens)
        if not own:
            continue
        words += text[at : match.start()]
        at = match.end() if words[-1:] in ("", " ") else match.end(2)
        if words[-1:].isalpha() and text[at : at + 1].isalpha():
            words += "-"
        start = len(words) + (text[at : at + 1] == " " and bool(words))
        collected += [replace(one, column=start, end=start) for one in own]
    return words + text[at:], collected


def squared_chords(text: str, tokens: TokenReader) -> list[str]:
    """The chords that stand in square brackets in a text, among words."""
    if len(text) > _LONGEST or "[" not in text:
        return []
    return [match[1] for match in _IN_SQUARE.finditer(text) if _chords(match[1], tokens)]


def chords_in_cues(row: Sequence[Token], tokens: TokenReader) -> list[str]:
    """The chords named in the remarks among a row of chords."""
    collected: list[str] = []
    for token in row:
        if token.kind == "cue" and len(token.text) <= _LONGEST:
            words = (word.strip(_AROUND) for word in token.text.split())
            collected += [word for word in words if word not in WORDS_TOO and tokens.symbol(word)]
            collected += [
                name for name in squared_chords(token.text, tokens) if name not in collected
            ]
    return collected


def _chords(inside: str, tokens: TokenReader) -> list[Token]:
    """The chords that stand in parentheses; none where anything else does."""
    row = tokens.row(Line(0, inside))
    if row is None or any(token.kind not in STRUCK for token in row):
        return []
    return list(row)
