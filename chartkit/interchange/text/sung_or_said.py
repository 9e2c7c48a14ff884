"""Weighs whether a line right under a row of chords is sung or said to the players.

Each kind of evidence has a weight and a reason; the habits of the sheet count most: how its lines
of words begin, and over which rows of chords words stand at all.
"""

import re
from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.directions import count_words
from chartkit.interchange.text.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.section_names import section_key
from chartkit.interchange.text.sheet_lines import letters_of

_PLAYED = {
    "intro",
    "outro",
    "end",
    "coda",
    "tag",
    "solo",
    "instrumental",
    "interlude",
    "riff",
    "turnaround",
    "vamp",
    "break",
    "playoff",
    "trading",
    "head",
}
"""Kinds of sections that seldom have words."""
_VOCALS = re.compile(
    r"(?:(?:o+h*|a+h*|u+h*|e+h|h?e+y|na+h?|la+|da|doo|dum|ba|sha|whoa|woah?|yeah|hm+|mm+|oo+|ooh+|"
    r"hej|ay|oi|li|lei|tra|fa|hoo|ho|ha)[\s,!.…–-]*)+",
    re.IGNORECASE,
)
"""Syllables that are only sung."""
_SINGER = re.compile(
    r"\b(?:i|i'm|me|my|mine|you|your|she|he|her|his|love|ich|du|mein|dein|je|tu|mon|ton|yo|mi|"
    r"io|mio|jag|min|ik|jij|mijn)\b",
    re.IGNORECASE,
)
"""Words of somebody who sings, in the languages in which sheets are often written; no source."""
_FEWEST, _MOST_OF_THEM, _LONGEST = 3, 0.8, 160
_NARROW_GAP = 2
_MOST_OF_A_SECTION = 60
_MOST_LOOKED_AT = 12
"""So many rows show a habit, and take a time that does not grow with the sheet."""
_SAID, _PLAINLY_SAID = 2.5, 3.5
"""At this sum of weights a line is said, in parentheses and without them (ours; the known sheets
decide)."""
_TO_SOMEBODY = re.compile(r"[^\W\d_]+(?: [^\W\d_]+)?:\s+[^\W\d_]")
"""How a line begins that names a player and says what to do ("horns: long notes")."""


class SungOrSaid:
    """The habits of a sheet, and what they say of its lines under chords."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known

    def is_said(self, at: int) -> bool:
        """Whether a line right under a row of chords is said to the players."""
        one, above = self.known[at], self.known[at - 1].kind if at else None
        if not isinstance(above, Chords) or len(one.line.text) > _LONGEST:
            return False
        text = one.line.text.strip().strip("()").strip()
        said = sum(self._for(at, text, above)) - sum(self._against(at, text, above))
        return said >= (_SAID if isinstance(one.kind, Remark) else _PLAINLY_SAID)

    def _for(self, at: int, text: str, above: Chords) -> list[float]:
        """The weights of what says that a line is said."""
        count = count_words(text)
        barred = any(token.kind == "bar" for token in above.tokens)
        kind = section_key(self._section(at))[0]
        return [
            # all words under chords begin with a capital letter, and this does not
            2.0 * (text[:1].islower() and self._in_capitals),
            # words of the trade
            1.0 * (count.strong > 0) + 1.0 * (count.strong > 0 and count.share > 0.6),
            # no words stand under other rows behind a name, or under bars
            1.5 * (above.behind_name and not self._sung_under_names(above)),
            1.0 * (barred and not self._sung_under_bars(above)),
            # a section of this kind is played, not sung
            1.0 * (kind in _PLAYED),
            # nothing else in the section could be sung
            1.0 * self._is_only_one(at),
            # a sentence ends with a full stop, and words sung do not
            1.0 * (text.endswith(".") and not self._with_stops),
            # it names a player
            1.0 * (_TO_SOMEBODY.match(text) is not None),
            # nothing is sung in this sheet
            0.5 * (not self._pairs or self._pairs == [(above, text)]),
            # figures are seldom sung
            0.5 * any(map(str.isdecimal, text)),
        ]

    def _against(self, at: int, text: str, above: Chords) -> list[float]:
        """The weights of what says that a line is sung."""
        gaps = [after.column - before.end for before, after in pairwise(above.tokens)]
        wide = max(gaps, default=0) > _NARROW_GAP and not above.behind_name
        return [
            # nobody plays these
            4.0 * (_VOCALS.fullmatch(text) is not None),
            1.0 * (_SINGER.search(text) is not None),
            # the chords stand over places in it
            0.5 * wide,
            # it is sung elsewhere without parentheses
            4.0 * (self._sung[letters_of(text)] > isinstance(self.known[at].kind, Words)),
        ]

    def _section(self, at: int) -> str:
        kinds = (self.known[i].kind for i in range(at, max(-1, at - _MOST_OF_A_SECTION), -1))
        return next((kind.name for kind in kinds if isinstance(kind, SectionStart)), "")

    def _is_only_one(self, at: int) -> bool:
        """Whether no other line of the section could be sung."""
        above = range(at - 1, max(-1, at - _MOST_OF_A_SECTION), -1)
        below = range(at + 1, min(len(self.known), at + _MOST_OF_A_SECTION))
        for part in (above, below):
            for one in (self.known[i] for i in part):
                if isinstance(one.kind, SectionStart):
                    break
                if isinstance(one.kind, Words | ChordsWithin | ChordsBehind):
                    return False
        return True

    @cached_property
    def _pairs(self) -> list[tuple[Chords, str]]:
        """The rows of chords with the words right under them."""
        filled = [one for one in self.known if not isinstance(one.kind, Blank)]
        return [
            (row.kind, words.line.text.strip())
            for row, words in pairwise(filled)
            if isinstance(row.kind, Chords) and isinstance(words.kind, Words)
        ]

    @cached_property
    def _in_capitals(self) -> bool:
        """Whether nearly all words under chords begin with a capital letter."""
        first = [text.lstrip("'’\"“(¿¡")[:1] for _, text in self._pairs]
        return len(first) >= _FEWEST and sum(map(str.isupper, first)) >= _MOST_OF_THEM * len(first)

    @cached_property
    def _with_stops(self) -> bool:
        """Whether some words under chords end with a full stop as sentences do."""
        ends = [text.endswith(".") for _, text in self._pairs]
        return sum(ends) > 0.5 * len(ends)

    def _sung_under_names(self, but: Chords) -> bool:
        """Whether words stand under another row of chords behind a name."""
        return any(row.behind_name for row, _ in self._few(but))

    def _sung_under_bars(self, but: Chords) -> bool:
        """Whether words stand under another row with bars."""
        return any(token.kind == "bar" for row, _ in self._few(but) for token in row.tokens)

    def _few(self, but: Chords) -> list[tuple[Chords, str]]:
        """The first rows with words, without one row."""
        return [pair for pair in self._pairs[:_MOST_LOOKED_AT] if pair[0] is not but]

    @cached_property
    def _sung(self) -> Counter[str]:
        """How often each line is sung."""
        return Counter(
            letters_of(one.line.text) for one in self.known if isinstance(one.kind, Words)
        )
