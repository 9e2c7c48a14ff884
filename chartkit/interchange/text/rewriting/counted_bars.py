"""Rows that count the bars of each chord in words ("4 bars G, 2 bars C      men"), with what is
said of them far behind, as rows of bars; and counts of bars beside names ("Verse (9)"), with the
word for bars.

Source of the form: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.bar_words import BARS

_LONGEST, _MOST_LINES, _MOST_BARS = 160, 2_000, 32
_LONGEST_NAME = 40
_BARS = (
    rf"(?P<count>\d{{1,2}})\s?{BARS}\s+"
    r"(?:(?:of|on|in|auf|mit|de|di|van|op|av|på|en|sur|su)\s+)?(?P<chord>[A-H][^\s,;]{0,9})"
)
_ONE = re.compile(rf"{_BARS}\s*(?:[,;+&]\s*|(?:and|then|und|dann)\s+|$)", re.IGNORECASE)
_ROW = re.compile(
    r"(?P<name>\s*(?:[^\W\d_][^:|,;]{0,24}?(?::|=|\s{2,}+)\s*+)?)"
    r"(?P<row>\d{1,2}\s?[^\W\d_]{3,9}\s.*?\S)(?:\s{3,}(?P<said>[^\s\d].{1,60}))?\s*"
)
_FEWEST = 2


def with_counted_bars(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows that say in words how many bars each chord has as rows of bars."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    lines = _with_counts_said(lines)
    lines = [_with_count_beside_name(line, is_chords) for line in lines]
    return [_with_bars(line, is_chords, findings) for line in lines]


_BEFORE_BARS = re.compile(
    r"(?P<name>\s*[^\W\d_][^|:()\[\]\d]{0,20}?(?: ?\d)?)(?:\s*[,:–—-])?\s+(?P<count>\d{1,2}\s?"
    r"(?:bars?|takte?|measures?|mesures|compases|compassos|battute|maten|takter|taktów))\s*[:,–—-]?\s+(?=\|)",
    re.IGNORECASE,
)


def _with_count_beside_name(line: Line, is_chords: IsChords) -> Line:
    """A row of bars behind a name and their count with the count in parentheses behind the name and
    a colon ("HOOK  4 bars  | Cm |")."""
    match = _BEFORE_BARS.match(line.text) if "|" in line.text[:_LONGEST_NAME] else None
    if match is None or len(line.text) > _LONGEST or not is_chords(line.text[match.end() :]):
        return line
    name = f"{match['name'].rstrip()} ({match['count']}):".ljust(match.end())
    return replace(line, text=name + line.text[match.end() :], columns=None)


_BESIDE_NAME = re.compile(
    r"\s*(?P<name>[^\W\d_][^()\[\]|:]{0,24}?)\s*[(\[]\s*(?P<count>\d{1,2})\s*[)\]]\s*(?P<end>:?)\s*"
)
_BAR_LINE = re.compile(r"\|[|:\]]?")
_FEWEST_BARS = 2


def _with_counts_said(lines: Sequence[Line]) -> list[Line]:
    """The lines, names of sections with a bare number in parentheses with the word for bars, where
    most of these numbers are those of the bars below."""
    counted = {
        at: match
        for at, line in enumerate(lines)
        if 0 < len(line.text) <= _LONGEST_NAME and line.text.rstrip()[-1:] in (")", "]", ":")
        if (match := _BESIDE_NAME.fullmatch(line.text)) is not None
    }
    below = {at: _bars_below(lines, at) for at in counted}
    barred = [at for at, bars in below.items() if bars]
    fits = [at for at in barred if below[at] == int(counted[at]["count"])]
    if len(fits) < _FEWEST or 2 * len(fits) <= len(barred):
        return list(lines)
    return [
        replace(
            line,
            text=f"{counted[at]['name']} ({counted[at]['count']} bars){counted[at]['end']}",
            columns=None,
        )
        if at in counted and int(counted[at]["count"]) >= _FEWEST_BARS
        else line
        for at, line in enumerate(lines)
    ]


def _bars_below(lines: Sequence[Line], at: int) -> int:
    """How many bars the rows right below a line have."""
    bars = 0
    for line in lines[at + 1 :]:
        if not line.text.strip() or len(line.text) > _LONGEST:
            return bars
        if line.text.count("|") > 1:
            bars += sum(bool(cell.strip()) for cell in _BAR_LINE.split(line.text)[1:-1])
    return bars


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
