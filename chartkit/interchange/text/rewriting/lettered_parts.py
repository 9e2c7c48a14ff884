"""Names of parts that are a letter and could be chords ("B" between "A2" and "A3").

Source of the names: common practice of tunes and standards, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, stands_over
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import full_name_at, section_key

_PART = re.compile(
    r"[\s=#\[]*(?P<name>[A-H]\d?)(?P<end>\s*[.:\]]?)(?P<said>\s*\([^()|]*[^\W\d_]{2}[^()|]*\))?\s*"
)
_LONGEST = 80
_MOST_LINES = 2_000
_FEWEST = 2


def with_lettered_parts(
    lines: Sequence[Line], is_chords: IsChords, findings: Findings
) -> list[Line]:
    """The lines, those of a letter alone over bars, and alone for that part again, written in our
    own way, where parts of a letter and a figure ("A1") stand on the same sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    parts = {
        at: match
        for at, line in enumerate(lines)
        if 0 < len(line.text) <= _LONGEST and (match := _PART.fullmatch(line.text)) is not None
    }
    apart = {at: match for at, match in parts.items() if at and stands_over(lines, at)}
    figures = [at for at, match in apart.items() if match["name"][1:].isdecimal()]
    if len(figures) < _FEWEST or len({apart[at]["name"] for at in figures}) < _FEWEST:
        return list(lines)
    result = list(lines)
    named: set[str] = set()
    for at, match in parts.items():
        again = match["name"] in named and _is_alone(lines, at)
        if len(match["name"]) > 1 or not (
            again or (at in apart and _is_over_bars(lines, at, is_chords))
        ):
            continue
        named.add(match["name"])
        result[at] = replace(
            lines[at], text=f"== {match['name']}{match['said'] or ''}", columns=None
        )
        findings.guess(
            "section-by-place",
            f'"{match["name"]}" is taken as the name of a section: it stands as such names do',
            lines[at].place(),
        )
    return result


_FORM = re.compile(r"(?:[\s,–—+&-]|\b(?:and|then|und|dann|et|y|e|en|och|og)\b)+")
_OVER = re.compile(
    r"(?:[^,;]{1,40}[,;]\s*)?(?:over|on|über|sobre|sur|på|su|op)\s+(?:the\s+)?", re.IGNORECASE
)
"""What stands before the parts that somebody plays over, also who does ("piano, over A and B")."""
_MOST_PARTS = 16


def letters_in(text: str) -> tuple[str, ...]:
    """The parts called by letters that a text lists and nothing else ("over A A B A", "AABA");
    none for any other text."""
    text = _OVER.sub("", text.strip(" ()."), count=1)
    if not 1 < len(text) <= _LONGEST or not text[0].isupper():
        return ()
    parts = _FORM.split(text)
    if len(parts) == 1 and text.isalpha():
        parts = list(text)
    lettered = all(_LETTER.fullmatch(part) for part in parts)
    return tuple(parts) if lettered and 1 < len(parts) <= _MOST_PARTS else ()


_LETTER = re.compile(r"[A-H]\d?")


def with_forms_of_parts(lines: Sequence[Line]) -> list[Line]:
    """The lines, the order of parts by their letters behind the name of a solo as what it is played
    over ("SOLOS A A B A"), and a part with how often it is played in our own way ("B x2 (quiet)"),
    where each of these parts is named on the sheet."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    named = {
        match["name"]
        for line in lines
        if 0 < len(line.text) <= _LONGEST and (match := _PART.fullmatch(line.text)) is not None
    }
    if len(named) < _FEWEST:
        return list(lines)
    counted = {at: one for at, line in enumerate(lines) if (one := _counted_part(line, named))}
    return [
        replace(line, text=counted[at], columns=None)
        if at in counted and {at - 1, at + 1} & counted.keys()
        else _with_form(line, named)
        for at, line in enumerate(lines)
    ]


_COUNTED = re.compile(
    r"\s*(?P<name>[A-H]\d?)\s*:?\s+\(?(?:[x×]\s?(?P<times>\d{1,2})|(?P<first>\d{1,2})\s?[x×])\)?"
    r"(?P<said>\s*\([^()|]*[^\W\d_]{2}[^()|]*\))?\s*",
    re.IGNORECASE,
)


def _counted_part(line: Line, named: set[str]) -> str:
    """A line of a part's letter and a count in our own way; empty for any other line."""
    match = _COUNTED.fullmatch(line.text) if 0 < len(line.text) <= _LONGEST else None
    if match is None or match["name"] not in named:
        return ""
    return f"== {match['name']} x{match['times'] or match['first']}{match['said'] or ''}"


def _with_form(line: Line, named: set[str]) -> Line:
    end = full_name_at(line.text, 0) if 0 < len(line.text) <= _LONGEST else 0
    name = line.text[:end].strip()
    if not name or section_key(name)[0] not in _SOLOS:
        return line
    said = line.text[end:].strip(" :=-–—")
    letters = letters_in(said)
    if not letters or not {*letters} <= named:
        return line
    bare = said.strip(" ().")
    over = bare if _OVER.match(bare) is not None else f"over {' '.join(letters)}"
    return replace(line, text=f"== {name} ({over})", columns=None)


_SOLOS = frozenset({"solo", "instrumental", "break", "trading", "head"})


def _is_alone(lines: Sequence[Line], at: int) -> bool:
    """Whether a line has nothing right above it and nothing right below."""
    around = (*lines[max(0, at - 1) : at], *lines[at + 1 : at + 2])
    return not any(line.text.strip() for line in around)


def _is_over_bars(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether a row of bars or of several chords stands right below a line."""
    below = lines[at + 1].text
    return below.lstrip().startswith("|") or (is_chords(below) and len(below.split()) > 1)
