"""Names of sections, or numbers of verses, at the left margin before the first line of their words,
where all other lines are indented ("V.1   Ring in the morning").

Source of the form, as songbooks have it: common practice, no source.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.section_names import (
    full_name_at,
    is_known_name,
    is_short_name,
)

_AT_MARGIN = re.compile(
    r"\s*(?:(?P<number>\d{1,2})(?:\.\)|[.):])?|(?P<roman>I{1,3}|IV|VI{0,3}|IX|X)[.):]|"
    r"(?P<name>[^\W\d_][^\W\d_]{0,11}\.?(?: ?\d{1,2})?)[.:]?)\s{2,}"
    r"(?P<words>(?=[^\W_]|[\"“„«'’(])\S.*)"
)
_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X")
_LONGEST = 240
_FEWEST, _MOSTLY = 2, 0.8
_WIDEST_INDENT = 4
"""The most blanks before what stands at the margin (ours)."""


def with_margin_apart(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, names and numbers at the margin on lines of their own, above the words and their
    chords; all lines as they are where the numbers do not count on or other words begin there
    too."""
    found = _found(lines, is_chords)
    if _are_numbered_through(lines, found, is_chords):
        found = {at: match for at, match in found.items() if match["name"]}
    numbers = [*filter(None, map(_number_of, found.values()))]
    counted = numbers in ([], [*range(1, len(numbers) + 1)])
    if len(found) < _FEWEST or not counted or not _are_set_out(lines, found):
        return list(lines)
    result: list[Line] = []
    for at, line in enumerate(lines):
        match = found.get(at)
        above = _has_chords_above(lines, at, is_chords)
        if match is None or not _is_of_block(lines, at, match, above):
            result.append(line)
            continue
        start = match.start("words")
        number = match["number"] or match["roman"]
        name = f"{number}." if number else f"== {match['name']}"
        result.insert(len(result) - above, replace(line, text=name, columns=None))
        result.append(replace(line, text=" " * start + line.text[start:]))
    return result


def _found(lines: Sequence[Line], is_chords: IsChords) -> dict[int, re.Match[str]]:
    """The lines with a number or a name of a section at the margin before words, by their
    places."""
    matches = {
        at: match
        for at, line in enumerate(lines)
        if line.text[: _WIDEST_INDENT + 1].strip()
        and len(line.text) <= _LONGEST
        and (match := _AT_MARGIN.fullmatch(line.text)) is not None
    }
    return {
        at: match for at, match in matches.items() if _begins_verse(lines, at, match, is_chords)
    }


def _begins_verse(
    lines: Sequence[Line], at: int, match: re.Match[str], is_chords: IsChords
) -> bool:
    """Whether what stands at the margin of a line can be a number or a name of the words there."""
    if _number_of(match):
        return not _has_name_above(lines, at, is_chords)
    begins = _begins_block(lines, at - _has_chords_above(lines, at, is_chords))
    return begins and _is_name(match["name"]) and not is_chords(match["words"])


def _are_numbered_through(
    lines: Sequence[Line], found: Mapping[int, re.Match[str]], is_chords: IsChords
) -> bool:
    """Whether lines with nothing but a row of chords between them have a number each, which are
    those of lines and not of verses."""
    return any(
        at + 2 in found
        and is_chords(text_at(lines, at + 1))
        and not (is_chords(match["words"]) or is_chords(found[at + 2]["words"]))
        for at, match in found.items()
    )


def _has_chords_above(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    return not is_empty(lines, at - 1) and is_chords(lines[at - 1].text)


def _has_name_above(lines: Sequence[Line], at: int, is_chords: IsChords) -> bool:
    """Whether bars with a section's name right above them stand over a line: a number before its
    words says for which time they are."""
    chords = _has_chords_above(lines, at, is_chords) and "|" in lines[at - 1].text
    above = text_at(lines, at - 2).strip() if chords else ""
    return bool(above) and heading_of(above) is not None


def _begins_block(lines: Sequence[Line], at: int) -> bool:
    """Whether nothing stands right above a line but the name of a section."""
    return is_empty(lines, at - 1) or heading_of(lines[at - 1].text) is not None


def _number_of(match: re.Match[str]) -> int:
    """The number at the margin, in figures or as a Roman number; 0 for a name."""
    if match["roman"]:
        return _ROMAN.index(match["roman"]) + 1
    return int(match["number"] or 0)


def _is_name(text: str) -> bool:
    return is_known_name(text) or is_short_name(text.rstrip("."))


def _is_of_block(lines: Sequence[Line], at: int, match: re.Match[str], under: bool) -> bool:
    """Whether indented words go on below a line, or nothing does where it has a name or stands
    ``under`` chords; and no section's name follows on what stands at the margin."""
    below = text_at(lines, at + 1)
    alone = not below.strip() and (match["name"] is not None or under)
    named = full_name_at(lines[at].text, match.start("words")) > match.start("words")
    set_out = len(below) - len(below.lstrip()) > match.start("words") - 2
    goes_on = set_out and bool(below.strip())
    return (goes_on or alone) and not named


def _are_set_out(lines: Sequence[Line], found: Mapping[int, re.Match[str]]) -> bool:
    """Whether words stand under each other behind the names, where there are any, and most other
    lines below the first of them are indented."""
    if all(map(_number_of, found.values())):
        return True
    starts = [match.start("words") for match in found.values()]
    begun = [line.text for line in lines[min(found) :] if line.text.strip()]
    others = [text for text in begun if _AT_MARGIN.fullmatch(text) is None and " " in text.strip()]
    indented = sum(text.startswith("  ") for text in others)
    return max(starts) - min(starts) <= 1 and indented >= _MOSTLY * len(others)
