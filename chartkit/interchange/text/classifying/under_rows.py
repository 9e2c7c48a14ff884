"""How a line of words stands under a row of chords: what speaks for its being sung or said."""

import re
from collections.abc import Iterator
from itertools import pairwise

from chartkit.interchange.text.classifying.sheet_of_words import step_of
from chartkit.interchange.text.kinds.line_kinds import Chords

_WORD = re.compile(r"\S+")
_RUN = re.compile(r"\S+(?: \S+)*")
_NEAR_A_BAR = 4
"""So near behind a bar line a part of a line stands under it (ours)."""


def stands_under_bars(text: str, above: Chords) -> bool:
    """Whether a line has several parts, wide apart, each of which begins right under a bar."""
    bars = [token.column for token in above.tokens if token.kind == "bar"]
    starts = [match.start() for match in _RUN.finditer(text)] if bars else []
    under = [max((bar for bar in bars if bar <= at), default=-99) for at in starts]
    near = all(at - bar <= _NEAR_A_BAR for at, bar in zip(starts, under, strict=True))
    return len(starts) > 1 and near and len({*under}) == len(starts)


def evidence_under(row: Chords, text: str) -> Iterator[str]:
    """How a line stands under a row of chords: whether these stand wide apart, over how much of it,
    and over the beginnings of its words."""
    columns = [token.column for token in row.tokens if token.kind != "bar"]
    bars = len(row.tokens) - len(columns)
    if bars:
        yield f"in-a-bar:{step_of(len(text.split()) / bars, 0.3, 0.55, 0.8, 1.1, 1.6)}"
    if not columns:
        return
    named = "named" if row.behind_name else "plain"
    gaps = [after.column - before.end for before, after in pairwise(row.tokens)]
    yield f"wide:{step_of(max(gaps, default=0), 2, 4, 8)},{named}"
    starts = {match.start() for match in _WORD.finditer(text)}
    length = len(text.rstrip())
    over = [column for column in columns if column < length]
    span = step_of(columns[-1] / max(1, length), 0.3, 0.6, 0.95, 1.2, 2)
    yield f"spans:{span},{min(len(columns), 4)}"
    met = sum(not starts.isdisjoint((column - 1, column, column + 1)) for column in over[1:])
    if len(over) > 1:
        yield f"met:{step_of(met / (len(over) - 1), 0.3, 0.6, 0.95)},{min(len(over), 4)},{named}"
    indent = length - len(text.strip())
    yield f"indent:{step_of(indent - columns[0], -2, 0, 1, 3)}"
