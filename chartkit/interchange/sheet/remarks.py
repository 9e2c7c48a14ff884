"""Remarks behind rows of chords, in the manners people type them: ``<- let ring``,
``// watch Bob``, ``!! louder``, ``*drums in*`` (common practice, no source)."""

import re
from collections.abc import Iterator

_SIGN = re.compile(r"(?<=\s)(?:<[-=]+|[-=]+>|[←→⇐]|/{2,}|!{2,}|#{1,3}|;)\s*(?=[^\W\d_])")
_STARRED = re.compile(r"(?<=\s)\*([^\W\d_][^*]*)\*$")
_OTHER_PARENTHESES = str.maketrans("()|", "[]/")
_LONGEST = 400
_MOST_TRIED = 8


def remarks_behind(text: str) -> Iterator[tuple[str, str]]:
    """The ways to part a line into what may be chords and a remark in parentheses behind them,
    the longest remark first."""
    text = text.rstrip()
    if len(text) > _LONGEST:
        return
    found = [(match.start(), text[match.end() :]) for match in _SIGN.finditer(text)]
    if (starred := _STARRED.search(text)) is not None:
        found.append((starred.start(), starred[1]))
    for at, said in found[:_MOST_TRIED]:
        if text[:at].strip():
            yield text[:at], f"({said.translate(_OTHER_PARENTHESES).strip()})"
