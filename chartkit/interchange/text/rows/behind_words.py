"""What stands behind the words of a line: chords, or how often the line is sung."""

import re
from collections.abc import Collection, Container
from dataclasses import replace

from chartkit.interchange.text.lines import Line, line_of
from chartkit.interchange.text.rows.token_reader import TokenReader
from chartkit.interchange.text.tokens import STRUCK, WORDS_TOO, Kind, Played, Token
from chartkit.interchange.text.vocabulary.times_played import times_said

_TAIL = re.compile(r"\s\(([^()]+)\)\s*$")
_TIMES = re.compile(
    r"\s+(\(?(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\)?|\[(?:[x×]\s?\d{1,2}|\d{1,2}\s?[x×])\])$",
    re.IGNORECASE,
)
_LONGEST_TIMES = 12
_COUNT_IN_SIGNS = re.compile(r"(?<=\S)\s+[(\[]([^()\[\]]{2,30})[)\]]\s*$")
_LONGEST_COUNT, _FEWEST_TIMES = 40, 2
_ENDS_TIMES = frozenset("xX×)]")
_GAP = 2
_WIDE_GAP = 4
"""Behind so many blanks "A" and "Am" are chords, not words."""
_MOST_BEHIND = 8


def without_tail(
    line: Line, tokens_of: TokenReader, row_end: int = 0, columns: Collection[int] = ()
) -> tuple[Line, list[Token]]:
    """A line of words without what stands behind them, and that: chords, in parentheses or
    after a gap, or how often the line is sung.

    ``row_end`` is the column in which the row of chords above ends, ``columns`` those in which the
    chords of a row with bar lines stand: what stands under such a row and has no parentheses is
    words.
    """
    ends = line.text[-1:]
    counted = ends in _ENDS_TIMES or ends.isdecimal()
    times = _TIMES.search(line.text, max(0, len(line.text) - _LONGEST_TIMES)) if counted else None
    if (
        times is not None
        and (not columns or line.column(times.start(1)) >= row_end or times[1].startswith("("))
        and line.text.strip() != times[1]
        and line.column(times.start(1)) not in columns
    ):
        return _before(line, times.start()), [_token("times", line, times.start(1), times[1])]
    if row_end and (said := _count_in_signs(line, columns)) is not None:
        return said
    match = _TAIL.search(line.text) if line.text.rstrip().endswith(")") else None
    if match is None:
        return _without_chords_behind(line, tokens_of, row_end)
    inside = line_of(line.number, " " * match.start(1) + match[1])
    tokens = [token for token in tokens_of.row(inside) or () if token.kind != "filler"]
    if not tokens or any(token.kind not in STRUCK for token in tokens):
        return line, []
    if len(tokens) == 1:  # several in parentheses are one group, not chords that may be left out
        tokens = [_optional(tokens[0])]
    return _before(line, match.start()), tokens


def _count_in_signs(line: Line, columns: Container[int]) -> tuple[Line, list[Token]] | None:
    """A line of words without how often it is sung, in parentheses or brackets right behind its
    words and under no chord, and that; None where nothing says so."""
    if not line.text.rstrip().endswith((")", "]")):
        return None
    match = _COUNT_IN_SIGNS.search(line.text, max(0, len(line.text) - _LONGEST_COUNT))
    times = times_said(match[1]) if match is not None else 0
    if match is None or times < _FEWEST_TIMES or line.column(match.start(1) - 1) in columns:
        return None
    return _before(line, match.start()), [_token("times", line, match.start(1), f"(x{times})")]


_DASH = re.compile(r"(?<=[^\W_])[,.!?]?( [-–—])(?= +[A-Ha-h][^-–—]{0,40}$)")
"""A dash between words and the chords behind them."""
_LONGEST_BEHIND = 60


def _optional(token: Token) -> Token:
    return replace(token, played=tuple(replace(one, optional=True) for one in token.played))


def _without_chords_behind(
    line: Line, tokens_of: TokenReader, row_end: int
) -> tuple[Line, list[Token]]:
    """A line of words without the chords that stand behind it after a gap or a dash, and these."""
    text = line.text.rstrip()
    parted = " - " in text or " – " in text or " — " in text
    dashed = _DASH.search(text, max(0, len(text) - _LONGEST_BEHIND)) if parted else None
    if "  " not in text and dashed is None and not tokens_of.behind:
        return line, []
    at = len(text)
    collected: list[Token] = []
    while len(collected) < _MOST_BEHIND:
        start = text.rfind(" ", 0, at) + 1
        word = text[start:at]
        kind, played = tokens_of.read(word)
        if not word or kind not in STRUCK:
            break
        collected.insert(0, _token(kind, line, start, word, played))
        at = len(text[:start].rstrip())
        if not at:
            return line, []
    if collected and collected[0].column < row_end:
        return line, []
    gap = line.index(collected[0].column) - at if collected else 0
    doubtful = len(collected) == 1 and collected[0].text in WORDS_TOO and not tokens_of.behind
    if not collected or (doubtful and gap < _WIDE_GAP):
        return line, []
    if dashed is not None and at == dashed.end(1):
        return _before(line, dashed.start()), collected
    if gap < _GAP and not (tokens_of.behind and _is_no_word(collected[0].text)):
        return line, []
    return _before(line, at), collected


def _is_no_word(symbol: str) -> bool:
    """Whether a symbol can only be a chord: a tab behind words can be one blank wide."""
    return len(symbol) > 1 and symbol[-1].isalnum() and symbol not in WORDS_TOO


def _before(line: Line, at: int) -> Line:
    columns = None if line.columns is None else line.columns[: at + 1]
    return replace(line, text=line.text[:at], columns=columns)


def _token(kind: Kind, line: Line, at: int, text: str, played: tuple[Played, ...] = ()) -> Token:
    return Token(kind, line.column(at), text, played, line.column(at + len(text)))
