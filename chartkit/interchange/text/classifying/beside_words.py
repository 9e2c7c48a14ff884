"""Remarks typed in signs before or behind the words of a line ("(softly) only the water").

In parentheses stand echoes of the choir too, which are sung: what is learnt of them decides
(``tail_evidence.py``), and where that is not sure the words stay, with a finding.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.classifying.remarks_over_rows import with_remarks_over_rows
from chartkit.interchange.text.classifying.signed_remarks import (
    Beside,
    Margin,
    is_sung,
    remarks_beside,
    row_end,
    words_sung,
)
from chartkit.interchange.text.classifying.tail_evidence import (
    DOUBTFUL,
    SAID,
    Tail,
    TailEvidence,
)
from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Remark,
    Words,
)
from chartkit.interchange.text.lines import Line
from chartkit.interchange.text.vocabulary.directions import count_words
from chartkit.interchange.text.vocabulary.facts import says_again
from chartkit.interchange.text.vocabulary.sounds_said import SUREST, sounds_said
from chartkit.interchange.text.vocabulary.sung_words import is_said_aloud
from chartkit.interchange.text.vocabulary.times_played import times_said

_LONGEST = 240
_CHORDS = (Chords, ChordsWithin, ChordsBehind)
_SURELY_SAID = 1.5
"""From these odds on something behind words in other signs than parentheses is said (ours; the
known sheets decide)."""
_OF_ONE_TIME = re.compile(
    r"(?:(?:on|at|the|beim|im|la|le|il|de|op)\s+)*(?:\d(?:st|nd|rd|th|\.|e|de|ème|ª|º|:a)|first|second|third|last|"
    r"final|erstes|zweite[sn]?|dritte[sn]?|letzte[sn]?|première|deuxième|seconde|dernière|primera|segunda|"
    r"última|prima|seconda|ultima|eerste|tweede|laatste|första|andra|sista)\s+"
    r"(?:times?|x|mal|fois|vez|volta|keer|gången|gang|round|chorus|verse|refrain|durchgang)\b\s*"
    r"(?:only\s*|nur\s*)?[:,=–-]\s*\S",
    re.IGNORECASE,
)
"""How a remark begins that has other words for one of the times through ("2nd time: …")."""


_TERM_BEHIND = re.compile(
    r"(?<=\S)\s+(?P<term>(?:(?:poco|molto|un poco|slight|big)\s+)?"
    r"(?:rit|ritard|rall|cresc|decresc|dim|accel)\.(?:\s*\.)*(?:\s+(?:e|and|und|et|y)\s+\w+\.?)?|"
    r"(?<=\s{3})(?:ritard|ritardando|rallentando|crescendo|diminuendo|fermata))\s*$",
    re.IGNORECASE,
)
"""A term of the trade behind words on their line, cut short or far from them."""


def with_remarks_apart(known: Sequence[KnownLine], findings: Findings) -> list[KnownLine]:
    """The lines, remarks beside words set apart, above the words and their chords; each is
    reported, and so is each that may be one."""
    known = with_remarks_over_rows(known)
    result: list[KnownLine] = []
    beside = _Beside(known)
    music, end = False, 0
    for at, one in enumerate(known):
        music = music or isinstance(one.kind, _CHORDS)
        end = end if isinstance(one.kind, Words | Remark) else row_end(one)
        if not music or not isinstance(one.kind, SUNG):
            result.append(one)
            continue
        above = bool(result) and isinstance(result[-1].kind, Chords)
        term = _term_behind(one.words.text) or (None if above else _count_behind(one.words.text))
        if term is not None:
            one, said = _parted(one, term)
            result.insert(len(result) - above, said)
        for found in remarks_beside(one.words.text):
            counted = found.start > 0 and times_said(found.text) > 0
            if above and counted:
                continue  # how often the line is sung, which the row of chords takes
            odds = SUREST if counted else beside.odds(Tail(at, found, end), one.words)
            if odds > SAID:
                remark = KnownLine(one.line, Remark(found.text, beside_words=True))
                result.insert(len(result) - above, remark)
                one = _with_words(one, _without(one.words, found))
            elif odds > DOUBTFUL:
                findings.guess(
                    "maybe-a-remark",
                    f'"{found.text}" beside words may be said to the players: it is kept as sung',
                    one.line.place(),
                )
        result.append(one)
    return result


class _Beside:
    """Decides what stands beside the words of a sheet, in parentheses and in other signs."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known

    def odds(self, tail: Tail, words: Line) -> float:
        """The logarithm of the odds that it is said; in other signs than parentheses, above
        ``SAID`` where it is and above ``DOUBTFUL`` where it may be."""
        found = tail.beside
        if found.sign == "(":
            return self._tails.odds(tail)
        far = self._margin.is_remark(found, words, tail.row_end)
        if far or _is_said(found, self._margin.sung):
            return SUREST
        may_be = not found.is_dashed or self._margin.may_be_remark(found, words, tail.row_end)
        return SAID if may_be else -SUREST

    @cached_property
    def _tails(self) -> TailEvidence:
        return TailEvidence(self.known)

    @cached_property
    def _margin(self) -> Margin:
        return Margin(self.known, words_sung(self.known))


def _with_words(one: KnownLine, words: Line) -> KnownLine:
    """A line with other words, and its own chords."""
    if isinstance(one.kind, ChordsWithin | ChordsBehind):
        return replace(one, kind=replace(one.kind, words=words))
    return replace(one, line=words)


def _parted(one: KnownLine, term: re.Match[str]) -> tuple[KnownLine, KnownLine]:
    """A line without the term behind its words, and that as a remark."""
    said = KnownLine(one.line, Remark(term["term"], beside_words=True))
    words = replace(one.words, text=one.words.text[: term.start()])
    return _with_words(one, words), said


_COUNT_BEHIND = re.compile(
    r"(?<=\S)\s+[(\[]?(?P<term>[x×]\s?[2-9]|[2-9]\s?[x×])[)\]]?[.!]?\s*$", re.IGNORECASE
)
"""How often a line is sung, in signs that are no words."""


def _count_behind(text: str) -> re.Match[str] | None:
    """The count behind the words of a line; None where there is none."""
    may = len(text) <= _LONGEST and any(map(str.isdecimal, text[-4:]))
    return _COUNT_BEHIND.search(text) if may else None


def _term_behind(text: str) -> re.Match[str] | None:
    """A term of the trade behind the words of a line; None where there is none."""
    may = len(text) <= _LONGEST and ("." in text or "   " in text)
    return _TERM_BEHIND.search(text) if may else None


def _is_said(one: Beside, sung: Counter[str]) -> bool:
    """Whether a remark in other signs than parentheses is said to the players."""
    if one.is_dashed or is_sung(one, sung) or says_again(one.text):
        return False
    if _OF_ONE_TIME.match(one.text) or is_said_aloud(one.text):
        return True
    return count_words(one.text).strong > 0 or sounds_said(one.text) >= _SURELY_SAID


def _without(line: Line, one: Beside) -> Line:
    """A line with blanks for a remark, so that its other words keep their columns."""
    blanks = " " * (one.end - one.start)
    return replace(line, text=(line.text[: one.start] + blanks + line.text[one.end :]).rstrip())
