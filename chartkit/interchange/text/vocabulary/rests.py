"""Rests that are counted in figures ("rest 4", "8 bars tacet").

Source of the words: common practice, no source.
"""

import re
from collections.abc import Sequence

from chartkit.chart.model import LONGEST_REST
from chartkit.interchange.text.vocabulary.bar_words import BARS
from chartkit.interchange.text.vocabulary.facts import meter_of

_BARS = rf"{BARS}['’]?"
_SILENT = r"(?:rests?|tacet|pause)"
_REST = re.compile(
    rf"(?P<before>\d{{1,3}})[ -]?(?:{_BARS} )?(?:of )?{_SILENT}"
    rf"|(?:{_SILENT} ?:? ?(?:for )?[x×]? ?(?P<after>\d{{1,3}})(?: ?{_BARS})?)|rest",
    re.IGNORECASE,
)
_BEGINS_REST = frozenset("rtp0123456789")
_DIGIT = re.compile(r"\d")
_LONGEST_REMARK = 40
_MOST_PIECES = 6


def rest_of(text: str) -> int:
    """For how many bars a text such as ``rest 4`` asks for silence; 0 where it is no rest.

    ``tacet`` without a number is no chord, not a rest.
    """
    if len(text) > _LONGEST_REMARK or text.lstrip(" (")[:1].lower() not in _BEGINS_REST:
        return 0
    plain = " ".join(text.replace("(", " ").replace(")", " ").split())
    match = _REST.fullmatch(plain)
    if match is None:
        return 0
    bars = int(match["before"] or match["after"] or 1)
    return bars if bars <= LONGEST_REST else 0


def is_counted_rest(text: str) -> bool:
    """Whether a line says for how many bars there is silence, as no words of a song do."""
    return _DIGIT.search(text) is not None and rest_of(text) > 0


def rest_among(pieces: Sequence[str]) -> tuple[int, int] | None:
    """Which pieces of a bar are its rest, first and last, where nothing else but a meter
    and remarks in parentheses stands in the bar; None where it is no bar of rest."""
    plain = [
        i for i, piece in enumerate(pieces) if not piece.startswith("(") and not meter_of(piece)
    ]
    if not plain:
        return next(((i, i) for i, piece in enumerate(pieces) if rest_of(piece)), None)
    first, last = plain[0], plain[-1]
    if last - first > _MOST_PIECES:
        return None
    for end in (last + 1, last):  # the number may stand in parentheses
        if end < len(pieces) and rest_of(" ".join(pieces[first : end + 1])):
            return first, end
    return None
