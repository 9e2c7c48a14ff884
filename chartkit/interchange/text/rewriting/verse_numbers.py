"""Numbers of verses, or of those who enter in a round, in other signs than a full stop: "(1) Who
left", "<2>", "3: And when", "#2"; or as words ("First:", "Second:").

Source of the forms: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, is_empty, text_at
from chartkit.interchange.text.names.headings import heading_of
from chartkit.interchange.text.tokens import IsChords
from chartkit.interchange.text.vocabulary.order_words import which_one

_NUMBERED = re.compile(
    r"(?P<before>\s*(?P<open>[(\[<{#]|\*{1,2})?\s?(?P<number>\d{1,2})\s?(?P<close>[)\]>}:/°º]|\.\)|\*{1,2})?)"
    r"(?P<rest>\s+[^\W\d_\"“„«'’¿¡].*|\s+[\"“„«'’¿¡]?[^\W\d_].*|\s*)"
)
_ORDINAL = re.compile(
    r"(?P<before>\s*(?P<open>[(\[*]{0,2})(?P<number>[^\W\d_]{3,9})(?P<close>[)\]*]{0,2}:[)\]*]{0,2}))"
    r"(?P<rest>\s*)"
)
"""An ordinal with a colon, alone on its line."""
_LONGEST, _MOST_LINES = 240, 5_000
_FEWEST = 2
_PAIRS = {"(": ")", "[": "]", "<": ">", "{": "}", "*": "*", "**": "**", "#": "", "": ""}
"""Signs before a number, and those that close them."""


def with_plain_verse_numbers(lines: Sequence[Line], is_chords: IsChords) -> list[Line]:
    """The lines, numbers in signs that begin the verses of a song, or stand alone over them, with
    a full stop; all as they are where they do not count on from one or two."""
    if len(lines) > _MOST_LINES:
        return list(lines)
    result = list(lines)
    for places in _by_signs(lines, is_chords).values():
        numbers = [_number_of(match) for match in places.values()]
        first = numbers[0]
        if len(numbers) < _FEWEST or first not in (1, _FEWEST):
            continue
        if numbers != [*range(first, first + len(numbers))]:
            continue
        for at, match in places.items():
            width = match.end("before")
            indent = len(match["before"]) - len(match["before"].lstrip())
            text = (" " * indent + f"{_number_of(match)}.").ljust(width)
            result[at] = replace(lines[at], text=f"{text}{match['rest']}".rstrip())
    return result


def _by_signs(
    lines: Sequence[Line], is_chords: IsChords
) -> dict[tuple[str, str], dict[int, re.Match[str]]]:
    """The numbers in signs that begin blocks of words or stand alone over them, by their signs and
    their places."""
    found: dict[tuple[str, str], dict[int, re.Match[str]]] = {}
    for at, line in enumerate(lines):
        if not 0 < len(line.text) <= _LONGEST or line.where:
            continue
        match = _NUMBERED.fullmatch(line.text) or _ORDINAL.fullmatch(line.text)
        if match is None or not (_is_in_signs(match) or match.re is _ORDINAL):
            continue
        if _begins_verse(lines, at, match["rest"].strip(), is_chords):
            signs = (match["open"] or "", match["close"] or "")
            found.setdefault(signs, {})[at] = match
    return found


def _number_of(match: re.Match[str]) -> int:
    """The number of a verse in figures or as an ordinal; 0 or less for any other word."""
    number = match["number"]
    return int(number) if number.isdecimal() else which_one(number)


def _is_in_signs(match: re.Match[str]) -> bool:
    """Whether a number has signs around it that belong together, and are no usual ones."""
    before, behind = match["open"] or "", match["close"] or ""
    if before:
        return behind == _PAIRS[before] or (before in "#*" and behind in ("", ":", ")"))
    return behind in (":", "/", "°", "º", ".)", "*", "]", ">")


def _begins_verse(lines: Sequence[Line], at: int, words: str, is_chords: IsChords) -> bool:
    """Whether a line begins a block, its chords above it apart, with words or right over them; or
    stands under chords of its own."""
    under = bool(text_at(lines, at - 1).strip()) and is_chords(lines[at - 1].text)
    above = at - under
    begins = is_empty(lines, above - 1) or heading_of(lines[above - 1].text) is not None
    if is_chords(words):
        below = text_at(lines, at + 1)
        return begins and below.startswith("  ") and not is_chords(below)
    if words:  # in a round each line under chords may have its number
        return (begins or under) and heading_of(words) is None
    return begins and not is_empty(lines, at + 1)
