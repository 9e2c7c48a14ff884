"""What a sheet counts in figures: meters, and bars of rest.

How people write rests of several bars (common practice, no source): ``rest 4``,
``Rest (4)``, ``4 bars rest``, ``tacet 8``.
"""

import re
from collections.abc import Sequence

from chartkit.chart.model import LONGEST_REST, Meter

_METER = re.compile(r"\(?(\d{1,2})/(\d{1,2})\)?")
_UNITS = (1, 2, 4, 8, 16, 32)
_MOST_BEATS = 32
_BARS = r"(?:bars?|measures?|takte?|compases|mesures?)['’]?"
_SILENT = r"(?:rests?|tacet|pause)"
_REST = re.compile(
    rf"(?P<before>\d{{1,3}})[ -]?(?:{_BARS} )?(?:of )?{_SILENT}"
    rf"|(?:{_SILENT} ?:? ?(?:for )?[x×]? ?(?P<after>\d{{1,3}})(?: ?{_BARS})?)|rest",
    re.IGNORECASE,
)
_AGAIN = re.compile(
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis)?\s*(?:[x×]\s?\d{1,2}|\d{1,2}\s?(?:[x×]|times|mal|veces|fois))\)?|"
    r"\(?(?:repeat|rpt\.?|wdh\.?|bis|twice|three times|zweimal)\)?",
    re.IGNORECASE,
)
_DIGIT = re.compile(r"\d")
_LONGEST_REMARK = 40
_MOST_PIECES = 6


def meter_of(text: str) -> Meter | None:
    """The meter that a text such as ``3/4`` or ``(3/4)`` is; None for any other."""
    found = _METER.fullmatch(text)
    if found is None:
        return None
    count, unit = int(found[1]), int(found[2])
    return Meter(count, unit) if unit in _UNITS and 0 < count <= _MOST_BEATS else None


def rest_of(text: str) -> int:
    """For how many bars a text such as ``rest 4`` asks for silence; 0 where it is no rest.

    ``tacet`` without a number is no chord, not a rest.
    """
    if len(text) > _LONGEST_REMARK:
        return 0
    plain = " ".join(text.replace("(", " ").replace(")", " ").split())
    found = _REST.fullmatch(plain)
    if found is None:
        return 0
    bars = int(found["before"] or found["after"] or 1)
    return bars if bars <= LONGEST_REST else 0


def is_counted_rest(text: str) -> bool:
    """Whether a line says for how many bars there is silence, as no words of a song do."""
    return _DIGIT.search(text) is not None and rest_of(text) > 0


def says_again(text: str) -> bool:
    """Whether a line says no more than how often what stands before it is played."""
    return len(text) <= _LONGEST_REMARK and _AGAIN.fullmatch(text.strip()) is not None


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
