"""Names of parts that are a letter and could be chords ("B" between "A2" and "A3").

Source of the names: common practice of tunes and standards, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords

_PART = re.compile(
    r"[\s=#\[]*(?P<name>[A-H]\d?)(?P<end>\s*[.:\]]?)(?P<said>\s*\([^()|]*[^\W\d_]{2}[^()|]*\))?\s*"
)
_LONGEST = 80
_MOST_LINES = 2_000
_FEWEST = 2


def with_lettered_parts(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those of a letter alone over bars written in our own way, where parts of a letter
    and a figure ("A1") stand on the same sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    parts = {
        at: match
        for at, line in enumerate(lines)
        if 0 < len(line.text) <= _LONGEST and (match := _PART.fullmatch(line.text)) is not None
    }
    apart = {at: match for at, match in parts.items() if _stands_apart(lines, at)}
    figures = [at for at, match in apart.items() if match["name"][1:].isdecimal()]
    if len(figures) < _FEWEST or len({apart[at]["name"] for at in figures}) < _FEWEST:
        return list(lines)
    result = list(lines)
    for at, match in apart.items():
        if len(match["name"]) > 1 or not _is_over_bars(lines, at, is_chords):
            continue
        result[at] = replace(
            lines[at], text=f"== {match['name']}{match['said'] or ''}", columns=None
        )
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands as such names do',
            lines[at].place(),
        )
    return result


def _stands_apart(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has nothing right above it and something right below."""
    above = at > 0 and not lines[at - 1].text.strip()
    return above and at + 1 < len(lines) and bool(lines[at + 1].text.strip())


def _is_over_bars(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether a row of bars or of several chords stands right below a line."""
    below = lines[at + 1].text
    return below.lstrip().startswith("|") or (is_chords(below) and len(below.split()) > 1)
