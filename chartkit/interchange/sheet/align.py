"""Words under chords: where the line of words is cut, by columns.

People aim at the syllable and miss by a column: a chord above the second letter of a word is
meant for the word (common practice, no source); one further in cuts the word there, if both
halves can be syllables.
"""

import re
import unicodedata
from collections.abc import Sequence
from itertools import pairwise

from chartkit.chart.model import Segment
from chartkit.interchange.sheet.lines import Line

_NEAR = 1
_ONE_SOUND = (
    "ai",
    "au",
    "ay",
    "ea",
    "ee",
    "ei",
    "eu",
    "ey",
    "ie",
    "oa",
    "oe",
    "oi",
    "oo",
    "ou",
    "oy",
)
"""Pairs of vowels that are mostly one syllable; common practice, no source."""
_SILENT = re.compile(r"[b-df-hj-np-tv-z]?e", re.IGNORECASE)
"""How words end in an e that is not sung, as in *tide* (in English; common practice)."""
_VOWEL = re.compile(r"[aeiouyAEIOUY]")
_LONGEST_WORD = 60
LAST_LATIN = 0x24F
"""The last of the Latin letters with marks (Unicode blocks)."""


def segments_of(line: Line, columns: Sequence[int]) -> tuple[Segment, ...]:
    """The words of a line cut at columns: one segment before the first and one for each."""
    cuts: list[int] = []
    for column in columns:
        last = cuts[-1] if cuts else -1
        cuts.append(max(_cut(line.text, line.index(column), last), last, 0))
    edges = [0, *cuts, len(line.text)]
    return tuple(_segment(line.text, a, b) for a, b in pairwise(edges))


def _cut(text: str, at: int, last: int) -> int:
    """The place to cut nearest to an index: within the word where it has a syllable there;
    else before it, or behind it where the ``last`` chord has it already."""
    if at >= len(text) or at <= 0:
        return max(0, min(at, len(text)))
    if text[at].isspace() or text[at - 1].isspace():
        return at
    low, high = max(0, at - _LONGEST_WORD), min(len(text), at + _LONGEST_WORD)
    start = max(low, text.rfind(" ", low, at) + 1)
    if at - start <= _NEAR and start > last:
        return start
    for near in (at, at - 1, at + 1):
        if text[near - 1 : near] == "-":
            return near
    end = text.find(" ", at, high)
    end = high if end < 0 else end
    if at - start > _NEAR and _parts(text[start:at], text[at:end]):
        return at
    return start if start > last else end


def _parts(before: str, after: str) -> bool:
    """Whether a word can be sung in these two parts: each has a vowel, no pair of vowels that
    sounds as one is torn, and the second is more than a letter or an e that is not sung."""
    torn = f"{before[-1:]}{after[:1]}".lower() in _ONE_SOUND
    end = after.strip(".,;:!?…\"”’'")
    silent = _SILENT.fullmatch(end) is not None or (len(end) == 1 and end.isascii())
    return not torn and not silent and _sings(before) and _sings(after)


def _sings(part: str) -> bool:
    """Whether a part of a word can be a syllable: it has a vowel, or is in a script of which
    we cannot tell."""
    if part.isascii():
        return _VOWEL.search(part) is not None
    letters = unicodedata.normalize("NFD", part.lower())
    return any(c in "aeiouyæœøı" or (c.isalpha() and ord(c) > LAST_LATIN) for c in letters)


def _segment(line: str, start: int, end: int) -> Segment:
    """The words between two places of a line, and whether they break off within a word."""
    words = " ".join(line[start:end].split())
    if words and not words.strip("_"):
        return Segment(held=True)
    words = words.rstrip("_").rstrip() if words.endswith("__") else words
    inside = end < len(line) and not line[end].isspace() and not line[end - 1].isspace()
    inside = inside and unicodedata.east_asian_width(line[end]) != "W"  # no blanks there
    within = bool(words) and inside
    hyphen = words.endswith("-") and words[-2:-1].isalnum()
    if hyphen:
        words = words.rstrip("-").rstrip()
    return Segment(words, bool(words) and (hyphen or within))
