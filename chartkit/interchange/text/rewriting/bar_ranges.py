"""Numbers of bars before rows ("5-12  | Eb | Cm |   verse"), and rows asked for again by them
("29-36  as 13-20   chorus").

Source of the form, as session charts have it: common practice, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import is_known_name, is_short_name

_BARS = r"(?:(?:bars?|takte?|mesures?|compases|battute|maten|takter|mm?\.|t\.)\s*)?"
_RANGE = re.compile(
    rf"\s*{_BARS}(?P<first>\d{{1,3}})(?:\s?[-–—]\s?(?P<last>\d{{1,3}}))?\s*[:.)]?\s+(?P<rest>\S.*)",
    re.IGNORECASE,
)
_ROW = re.compile(r"(?P<row>[|:‖].*\|)(?:\s*(?P<said>[^\s|].*))?")
_AS = re.compile(
    rf"(?:(?:same )?as|like|=|repeat|wie|wdh\.?|comme|como|come|als|som|jak)\s*{_BARS}"
    r"(?P<first>\d{1,3})(?:\s?[-–—]\s?\d{1,3})?\)?(?:\s*[,;:]?\s+(?P<said>[^\s|].*))?",
    re.IGNORECASE,
)
_LONGEST, _MOST_LINES = 240, 2_000
_FEWEST = 2


def with_bar_ranges(lines: Sequence[Line], is_chords: IsChords, findings: Findings) -> list[Line]:
    """The lines, rows without the numbers of their bars before them, where some say from which bar
    to which they go; a section's name behind such a row above it, and rows that are asked for by
    their numbers written out."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    ranged = {at: match for at, line in enumerate(lines) if (match := _range_in(line.text))}
    rows = {
        int(match["first"]): row
        for match in ranged.values()
        if (row := _ROW.fullmatch(match["rest"])) is not None and is_chords(row["row"])
    }
    wide = sum(bool(match["last"]) and int(match["first"]) in rows for match in ranged.values())
    if wide < _FEWEST:
        return list(lines)
    result: list[Line] = []
    for at, line in enumerate(lines):
        match = ranged.get(at)
        written = _written(match, rows) if match is not None else []
        if not written:
            result.append(line)
            continue
        result += [replace(line, text=text, columns=None) for text in written]
        if match is not None and int(match["first"]) not in rows:
            findings.guess(
                "bars-again",
                f'"{line.text.strip()}" is read as the bars that stand under that number',
                line.place(),
            )
    return result


def _range_in(text: str) -> re.Match[str] | None:
    return _RANGE.fullmatch(text) if 0 < len(text) <= _LONGEST else None


def _written(match: re.Match[str], rows: Mapping[int, re.Match[str]]) -> list[str]:
    """A row with the number of its bars as rows usually stand; nothing for other lines."""
    row = rows.get(int(match["first"]))
    said = row["said"] if row is not None else None
    indent = " " * match.start("rest") if row is not None else ""  # words may stand below
    if row is None:
        asked = _AS.fullmatch(match["rest"])
        row = rows.get(int(asked["first"])) if asked is not None else None
        said = asked["said"] if asked is not None else None
    if row is None:
        return []
    name, _, more = (said or "").partition(",")
    name, more = name.strip(), more.strip()
    if is_known_name(name) or is_short_name(name):
        return [f"== {name}" + (f" ({more})" if more else ""), indent + row["row"]]
    said = (said or "").strip(" ()")
    return [f"{indent}{row['row']}" + (f"  ({said})" if said else "")]
