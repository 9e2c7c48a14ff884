"""What stands in signs at the ends of lines of words, and what of it stands at the margin: remarks
to the players, where echoes of a choir stand right behind the words.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from operator import attrgetter

from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Remark,
)
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.quick_looks import has_any
from chartkit.interchange.text.vocabulary.crowd import is_of_hands_and_feet
from chartkit.interchange.text.vocabulary.directions import is_direction
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.sung_words import SINGER, VOCALS

_PAIRS = {"(": ")", "[": "]", "{": "}", "<": ">", "*": "*"}
_NEVER_ECHOES = frozenset("[{<")
"""Brackets in which nobody writes what a choir answers, far behind words."""
_OPENING = {closing: opening for opening, closing in _PAIRS.items()}
_LONGEST, _LONGEST_REMARK = 240, 60
_DASHES = ("   -", "   –", "   —", "   *", "   →", "   ~")
_BEHIND_A_DASH = re.compile(
    r"(?<=\S)\s{3,}(?=(?:-{1,2}>?|–|—|→|~|\*)\s[^\W\d_]{2})(\S{1,3}\s)(\S.*[^*])$"
)
_POINTED_BEHIND = re.compile(
    r"(?<=\S)\s{2,}(?P<sign>[-=]*>{1,3}|»|→|⇒|☞|<{1,2}-+|←|\^{1,2}|!{2,}|@|\*{2}|;|•)\s*"
    r"(?P<said>[^\W\d_][^<>|*]*[^<>|*\s])\s*$"
)
"""What stands far behind words and an arrow, or another sign that no words have."""
_POINTING = ("> ", ">>", "»", "→", "⇒", "☞", "<-", "←", "^", "!!", "@", "**", ";", "•")
_POINTS = ">"
_AMID = re.compile(r"(?<=\S)\s+\(([^()]*)\)(?=\s+[^\s(])")
_CHORDS = re.compile(
    r"(?:\(?[A-H][#b♯♭]?(?:m|maj|min|dim|sus|add|aug|[#b]?\d|\+|°|/[A-H][#b]?)*\)?\s*)+"
)
_DASH = "-"
"""The sign of what stands far behind a dash, which may be a syllable that is held as well."""


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands in signs at one end of a line: its sign, its words, and where they stand."""

    sign: str
    text: str
    start: int
    end: int

    @property
    def is_dashed(self) -> bool:
        """Whether it stands behind a dash, so that only its place and its words tell what it
        is."""
        return self.sign == _DASH


def words_sung(known: Sequence[KnownLine]) -> Counter[str]:
    """How often each word is sung, outside of signs at the ends of lines."""
    words = (_plain_words(one.words.text) for one in known if isinstance(one.kind, SUNG))
    return Counter(word for line in words for word in line)


def remarks_beside(text: str) -> list[Beside]:
    """What stands in signs before and behind the words of a line, and in parentheses amid them."""
    bare = text.strip()
    if pointed := _pointed_at(text):
        return [pointed]
    if len(text) <= _LONGEST and has_any(text, _DASHES) and (dashed := _BEHIND_A_DASH.search(text)):
        return [Beside(_DASH, dashed[2].strip(), dashed.start(1), dashed.end())]
    if len(text) > _LONGEST or not (
        bare[:1] in _PAIRS or bare[-1:] in _OPENING or ("(" in bare and ")" in bare)
    ):
        return []
    found = [
        Beside("(", match[1], match.start(1) - 1, match.end(1) + 1)
        for match in _AMID.finditer(text)
    ]
    start, end = text.find(bare), text.find(bare) + len(bare)
    if (closing := _PAIRS.get(bare[:1])) and (at := text.find(closing, start + 1)) > 0:
        found.append(Beside(bare[0], text[start + 1 : at], start, at + 1))
    if (opening := _OPENING.get(bare[-1:])) and (at := text.rfind(opening, start, end - 1)) > start:
        found.append(Beside(opening, text[at + 1 : end - 1], at, end))
    found.sort(key=attrgetter("start"))
    return [one for one in found if _stands_apart(one, text)]


def _pointed_at(text: str) -> Beside | None:
    """What an arrow or the like points at far behind the words of a line and is no chord; None
    where nothing does."""
    may = len(text) <= _LONGEST and "  " in text and has_any(text, _POINTING)
    match = _POINTED_BEHIND.search(text) if may else None
    if match is None or _CHORDS.fullmatch(match["said"]) or len(match["said"]) > _LONGEST_REMARK:
        return None
    return Beside(_POINTS, match["said"], match.start("sign"), match.end())


def _stands_apart(one: Beside, text: str) -> bool:
    """Whether words stand on one side of a remark, with a blank between."""
    before, behind = text[: one.start], text[one.end :]
    others = any(map(str.isalpha, before + behind))
    apart = before[-1:] in ("", " ") and behind[:1] in ("", " ")
    short = 0 < len(one.text) <= _LONGEST_REMARK and not set(one.text) & set("()[]{}*|")
    return others and apart and short and any(map(str.isalnum, one.text))


def _plain_words(text: str) -> list[str]:
    """The words of a line outside of signs at its ends, in small letters."""
    for one in reversed(remarks_beside(text)):
        text = f"{text[: one.start]} {text[one.end :]}"
    return [letters_of(word) for word in text.split()]


def is_sung(one: Beside, sung: Counter[str]) -> bool:
    """Whether all words of a remark are sung in the song too, as those of an echo are."""
    return all(sung[letters_of(word)] for word in one.text.split())


_GAP, _MARGIN, _APART = 4, 8, 2
"""So many blanks before a remark far behind words, before one at the margin, and before one that
stands under another (ours)."""
_FAR_SAID, _MARGIN_SAID, _ALIGNED_SAID, _DOUBT = 0.0, -0.3, -0.9, -2.0
"""From these odds on something far behind words is said, in the margin a little sooner, and under
another remark sooner still; from the last on it is worth a finding (ours; words by which the odds
are even fall on either side, and what a choir answers, mostly below)."""


class Margin:
    """Which of the things in other signs than parentheses behind words are remarks by where they
    stand.

    ``sung`` are the words of the song outside of signs.
    """

    def __init__(self, known: Sequence[KnownLine], sung: Counter[str]) -> None:
        self.sung = sung
        lines = [one.words for one in known if isinstance(one.kind, SUNG)]
        behind = [(line, one) for line in lines for one in remarks_beside(line.text) if one.start]
        far = [(line, one) for line, one in behind if _gap_before(one, line, 0) >= _GAP]
        self.columns: set[int] = set()
        self.columns = {
            line.column(one.start)
            for line, one in far
            if is_direction(one.text) or self.is_remark(one, line, 0)
        }
        self.columns |= {
            one.line.column(len(one.line.text) - len(one.line.text.lstrip()))
            for one in known
            if isinstance(one.kind, Remark) and one.kind.beside_words
        }

    def is_remark(self, one: Beside, line: Line, row_end: int) -> bool:
        """Whether something stands far behind the words of a line and its chords, which end in a
        column, is not sung in the song too, and does not sound sung."""
        gap = _gap_before(one, line, row_end)
        if one.sign == _POINTS and gap >= _APART:
            return True
        if one.sign in _NEVER_ECHOES and gap >= _APART and not self._echoes(one, line.text):
            return True
        if one.start and is_of_hands_and_feet(one.text) and not is_sung(one, self.sung):
            return True
        if gap < _APART or self._echoes(one, line.text):
            return False
        if one.text.istitle() and len(one.text.split()) > 1:
            return False  # as a line of words of its own
        odds = sounds_said(one.text)
        if gap >= _GAP and odds >= (_MARGIN_SAID if gap >= _MARGIN else _FAR_SAID):
            return True
        return odds >= _ALIGNED_SAID and self._stands_under_another(line.column(one.start))

    def may_be_remark(self, one: Beside, line: Line, row_end: int) -> bool:
        """Whether something at the margin behind words could be a remark, though it sounds
        sung."""
        at_margin = _gap_before(one, line, row_end) >= _MARGIN
        return at_margin and not self._echoes(one, line.text) and sounds_said(one.text) >= _DOUBT

    def _stands_under_another(self, column: int) -> bool:
        return any(abs(column - other) <= 1 for other in self.columns)

    def _echoes(self, one: Beside, text: str) -> bool:
        """Whether a remark says again what is sung, several words that are sung in the song or one
        that is sung in the same line, or answers it."""
        words = [letters_of(word) for word in one.text.split()]
        if _sounds_answered(one.text, text[: one.start]):
            return True
        if len(words) > 1:
            return all(self.sung[word] for word in words)
        return words[0] in map(letters_of, text[: one.start].split())


def _sounds_answered(text: str, before: str) -> bool:
    """Whether words are those of a choir that answers: syllables that are only sung, words said
    twice, somebody who sings of himself, or words that begin as those before them do."""
    if letters_of(text.split()[0]) == letters_of((before.split() or [""])[0]):
        return True
    words = [letters_of(word) for word in text.split()]
    half = len(words) // 2
    twice = half > 0 and words[:half] == words[half:]
    return twice or VOCALS.fullmatch(text) is not None or SINGER.search(text) is not None


def _gap_before(one: Beside, line: Line, row_end: int) -> int:
    """How many blanks stand between the words of a line and what is in parentheses behind them;
    none where a chord stands over that."""
    before = line.text[: one.start]
    if not before.strip() or line.column(one.start) < row_end or line.text[one.end :].strip():
        return 0
    return len(before) - len(before.rstrip())


def row_end(one: KnownLine) -> int:
    """The column in which a row of chords ends, or the chords among words."""
    chords = one.kind
    if not isinstance(chords, Chords | ChordsWithin | ChordsBehind):
        return 0
    return max((token.end for token in chords.tokens), default=0)
