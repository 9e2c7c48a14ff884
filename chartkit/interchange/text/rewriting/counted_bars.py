"""Rows that count the bars of each chord in words ("4 bars G, 2 bars C      men"), with what is
said of them far behind, as rows of bars.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords

_LONGEST, _MOST_LINES, _MOST_BARS = 160, 2_000, 32
_BARS = (
    r"(?P<count>\d{1,2})\s?(?:bars?|takte?|measures?|compases|mesures|battute|maten|takter)\s+"
    r"(?:(?:of|on|in|auf|mit|de|di|van|op|av|på|en|sur|su)\s+)?(?P<chord>[A-H][^\s,;]{0,9})"
)
_ONE = re.compile(rf"{_BARS}\s*(?:[,;+&]\s*|(?:and|then|und|dann)\s+|$)", re.IGNORECASE)
_ROW = re.compile(
    r"(?P<name>\s*(?:[^\W\d_][^:|,;]{0,24}?(?::|=|\s{2,})\s*)?)"
    r"(?P<row>\d{1,2}\s?[^\W\d_]{3,9}\s.*?\S)(?:\s{3,}(?P<said>[^\s\d].{1,60}))?\s*"
)
_FEWEST = 2


def with_counted_bars(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows that say in words how many bars each chord has as rows of bars."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    return [_with_bars(line, is_chords, findings) for line in lines]


def _with_bars(line: Line, is_chords: IsChords, findings: Findings) -> Line:
    text = line.text
    if not 0 < len(text) <= _LONGEST or not any(map(str.isdecimal, text)) or "|" in text:
        return line
    match = _ROW.fullmatch(text)
    bars = _bars_in(match["row"], is_chords) if match is not None else []
    if match is None or not bars or not match["said"]:
        return line
    row = f"{match['name']}| {' | '.join(bars)} |"
    findings.guess("counted-bars", f'"{match["row"]}" is read as {row.strip()}', line.place())
    return replace(line, text=f"{row}  ({match['said'].strip(' ()')})", columns=None)


def _bars_in(row: str, is_chords: IsChords) -> list[str]:
    """The chord of each bar that a row counts; none for any other row."""
    bars: list[str] = []
    at = 0
    while at < len(row):
        one = _ONE.match(row, at)
        if one is None or not is_chords(one["chord"]):
            return []
        bars += [one["chord"]] * min(int(one["count"]), _MOST_BARS)
        at = one.end()
    return bars if _FEWEST <= len(bars) <= _MOST_BARS else []
