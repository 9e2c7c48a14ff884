"""Chords at the left of a line and the words that are sung to them behind a gap, as in the columns
of a table, or behind a sign ("Am > words"), become a row of chords over a line of words.

How such sheets are typed: common practice, no source.
"""

import re
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.raw_text.decode import Numbered
from chartkit.interchange.text.raw_text.set_apart import chords_in, words_in
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.wording import counted

_PARTED = re.compile(
    r"\s{0,8}(?P<chords>\S+(?: +\S+){0,11}?)(?:\s*\t\s*| {2,}|\s\|\s+|"
    r"(?P<sign>\s*[-=~]*[>→»]+\s*|\s+[:=/–—-]\s+|:\s+))"
    r"(?P<words>[^\s(\[{|]\S*(?: [^\s|]+)*)\s*"
)
_MOST_LINES, _LONGEST = 4_000, 240
_FEWEST, _MOSTLY = 3, 0.75


def with_chords_over_words(lines: Numbered, findings: Findings) -> Numbered:
    """The lines, those of chords with words behind them as two, where most rows of chords of the
    sheet are typed so; these are reported."""
    if len(lines) > _MOST_LINES:
        return lines
    parted = {
        at: match
        for at, (_, text) in enumerate(lines)
        if len(text) <= _LONGEST and (match := _chords_and_words(text)) is not None
    }
    rows = sum(chords_in(text[:_LONGEST]) > 0 for _, text in lines)
    if all(_may_be_a_name(match) for match in parted.values()):
        return lines
    together = any(after - before == 1 for before, after in pairwise(parted))
    if len(parted) < _FEWEST or not together or len(parted) < _MOSTLY * (len(parted) + rows):
        return lines
    parted |= _in_the_same_way(lines, parted)
    findings.guess(
        "chords-before-words",
        f"{counted(len(parted), 'line')} of words with chords before them: the chords are read "
        "as a row over the words",
        f"{lines[min(parted)][0]}:1",
    )
    result: Numbered = []
    for at, (number, text) in enumerate(lines):
        match = parted.get(at)
        pieces = [text] if match is None else [_listed(match["chords"]), match["words"]]
        result += [(number, piece) for piece in pieces]
    return result


def _in_the_same_way(lines: Numbered, parted: dict[int, re.Match[str]]) -> dict[int, re.Match[str]]:
    """Lines beside those that are parted, which sound as if said but have the same sign."""
    signs = {match["sign"].strip() for match in parted.values() if match["sign"] is not None}
    beside = {at + step for at in parted for step in (-1, 1)} - parted.keys()
    found = {}
    for at in sorted(beside & set(range(len(lines)))):
        match = _parted(lines[at][1]) if len(lines[at][1]) <= _LONGEST else None
        if match is not None and match["sign"] is not None and match["sign"].strip() in signs:
            found[at] = match
    return found


def _parted(text: str) -> re.Match[str] | None:
    """A line of chords and words, parted by a gap or a sign; None for any other."""
    match = _PARTED.fullmatch(text)
    plain = match is not None and chords_in(match["chords"]) and words_in(match["words"])
    return match if plain else None


def _chords_and_words(text: str) -> re.Match[str] | None:
    """A line of chords and words that may be sung, parted by a gap; None for any other."""
    match = _parted(text)
    if match is None:
        return None
    said = is_direction(match["words"]) or sounds_said(match["words"]) > 0
    return None if said else match


def _may_be_a_name(match: re.Match[str]) -> bool:
    """Whether what stands before a sign could as well be the letter of a part ("A: words")."""
    return match["sign"] is not None and len(match["chords"]) == 1


def _listed(chords: str) -> str:
    """The chords with dashes between, which say that they stand at no places of the words."""
    return " - ".join(chords.split())
