"""Rows of bars for one time through ("1. | D | D |" over "2. | D | G |") as numbered endings.

Source of the way to write them: common practice, no source.
"""

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line

_TIME = r"(?:time|ending|end|x|mal|vez|volta|fois|keer|gången|gang)\s*(?:only)?\s*:?"
_FIRST = re.compile(
    rf"\s*(?:1[.):]|(?:1st|first|1\.|erstes|1a|prima|1ère|primera|eerste)\s*(?:{_TIME}|:|(?=\|)))\s*"
    r"(?P<bars>\|[^:]*\|)\s*",
    re.IGNORECASE,
)
_SECOND = re.compile(
    rf"\s*(?:2[.):]|(?:2nd|second|2\.|zweites|2a|seconda|2ème|2e|segunda|tweede)\s*(?:{_TIME}|:|(?=\|)))\s*"
    r"(?P<bars>\|[^:]*\|)\s*",
    re.IGNORECASE,
)
_BARS = re.compile(r"\s*\|(?![|:]).*\|\s*")
_LONGEST = 400


def with_numbered_endings(lines: Sequence[Line]) -> list[Line]:
    """The lines, those of bars for the first and the second time as endings of a repeat that
    begins where the bars above do."""
    result = list(lines)
    for at, (line, below) in enumerate(itertools.pairwise(lines)):
        if "|" not in line.text or len(line.text) + len(below.text) > _LONGEST:
            continue
        first, second = _FIRST.fullmatch(line.text), _SECOND.fullmatch(below.text)
        start = _begins(result, at)
        if first is None or second is None or start == at:
            continue
        result[start] = _retyped(result[start], result[start].text.replace("|", "|:", 1))
        result[at] = _retyped(line, f"|1.{first['bars'][1:-1]}:|")
        result[at + 1] = _retyped(below, f"|2.{second['bars'][1:]}")
    return result


def _begins(lines: Sequence[Line], at: int) -> int:
    """The first of the rows of bars right above a line; the line where there is none."""
    while at > 0 and _BARS.fullmatch(lines[at - 1].text[:_LONGEST]) is not None:
        at -= 1
    return at


def _retyped(line: Line, text: str) -> Line:
    return replace(line, text=text, columns=None)
