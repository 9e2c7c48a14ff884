"""Remarks typed in signs before or behind the words of a line ("(softly) only the water").

In parentheses stand echoes of the choir too, which are sung: what a remark says decides, and where
that is not sure the words stay, with a finding.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.kinds.line_kinds import (
    Chords,
    KnownLine,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import Line, letters_of
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction
from chartkit.interchange.text.vocabulary.facts import says_again
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.sung_words import VOCALS
from chartkit.interchange.text.vocabulary.times_played import times_said

_PAIRS = {"(": ")", "[": "]", "*": "*"}
_OPENING = {closing: opening for opening, closing in _PAIRS.items()}
_LONGEST, _LONGEST_REMARK = 240, 60
_SURELY_SAID, _LIKELY_SAID = 1.5, 0.8
"""From these odds on something behind words is said, and is worth a finding (ours; the known
sheets decide)."""


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


@dataclass(frozen=True, slots=True)
class _Beside:
    """What stands in signs at one end of a line: its sign, its words, and where they stand."""

    sign: str
    text: str
    start: int
    end: int


def with_remarks_apart(known: Sequence[KnownLine], findings: Findings) -> list[KnownLine]:
    """The lines, remarks beside words set apart, above the words and their chords; each is
    reported, and so is each that may be one."""
    result: list[KnownLine] = []
    sung: Counter[str] = Counter()
    players = _players(known)
    music, actions = False, _far_behind(known)
    for one in known:
        music = music or isinstance(one.kind, Chords)
        if not music or not isinstance(one.kind, Words):
            result.append(one)
            continue
        above = bool(result) and isinstance(result[-1].kind, Chords)
        if (term := _term_behind(one.line.text)) is not None:
            said = KnownLine(one.line, Remark(term["term"], beside_words=True))
            result.insert(len(result) - above, said)
            one = replace(one, line=replace(one.line, text=one.line.text[: term.start()]))
        for found in _remarks_beside(one.line.text):
            sung = sung or _words_sung(known)
            if above and found.start != 0 and times_said(found.text):
                continue  # how often the line is sung, which the row of chords takes
            row_end = _row_end(result[-1]) if above else 0
            if (
                _is_said(found, sung)
                or found.text in actions
                or (_names_one(found, players) and not _is_sung(found, sung))
                or _is_far_remark(found, one.line, row_end, sung)
            ):
                remark = KnownLine(one.line, Remark(found.text, beside_words=True))
                result.insert(len(result) - above, remark)
                one = replace(one, line=_without(one.line, found))
            elif _may_be_said(found, sung) or _may_be_far_remark(found, one.line, row_end, sung):
                findings.guess(
                    "maybe-a-remark",
                    f'"{found.text}" beside words may be said to the players: it is kept as sung',
                    one.line.place(),
                )
        result.append(one)
    return result


_GAP, _MARGIN, _FEWEST_FAR = " " * 4, 8, 2
_FAR_SAID, _MARGIN_SAID, _MARGIN_DOUBT = 0.0, -0.3, -2.0
"""From these odds on something far behind words is said, in the margin a little sooner; from the
last on it is worth a finding there (ours; words by which the odds are even fall on either side, and
what a choir answers, mostly below)."""


def _is_far_remark(one: _Beside, line: Line, row_end: int, sung: Counter[str]) -> bool:
    """Whether something stands far behind the words of a line and its chords, is not sung in the
    song too, and does not sound sung: a remark at the margin."""
    gap = _gap_before(one, line, row_end)
    if gap < len(_GAP) or _echoes(one, line.text, sung) or VOCALS.fullmatch(one.text):
        return False
    if one.text.istitle() and len(one.text.split()) > 1:
        return False  # as a line of words of its own
    return sounds_said(one.text) >= (_MARGIN_SAID if gap >= _MARGIN else _FAR_SAID)


def _may_be_far_remark(one: _Beside, line: Line, row_end: int, sung: Counter[str]) -> bool:
    """Whether something at the margin behind words could be a remark, though it sounds sung."""
    at_margin = _gap_before(one, line, row_end) >= _MARGIN
    return (
        at_margin
        and not _echoes(one, line.text, sung)
        and VOCALS.fullmatch(one.text) is None
        and sounds_said(one.text) >= _MARGIN_DOUBT
    )


def _gap_before(one: _Beside, line: Line, row_end: int) -> int:
    """How many blanks stand between the words of a line and what is in parentheses behind them;
    none where a chord stands over that."""
    before = line.text[: one.start]
    if not before.strip() or line.column(one.start) < row_end or line.text[one.end :].strip():
        return 0
    return len(before) - len(before.rstrip())


def _echoes(one: _Beside, text: str, sung: Counter[str]) -> bool:
    """Whether a remark says again what is sung: several words that are sung in the song, or one
    that is sung in the same line."""
    words = [letters_of(word) for word in one.text.split()]
    if len(words) > 1:
        return all(sung[word] for word in words)
    return words[0] in map(letters_of, text[: one.start].split())


def _row_end(one: KnownLine) -> int:
    """The column in which a row of chords ends."""
    chords = one.kind
    return (
        max((token.end for token in chords.tokens), default=0) if isinstance(chords, Chords) else 0
    )


def _far_behind(known: Sequence[KnownLine]) -> frozenset[str]:
    """What stands in parentheses far behind words, as moves in a children's song do: several
    remarks, no two alike, not all with capitals, of words that are mostly not sung; none
    elsewhere, since echoes of a choir say again what is sung."""
    far = [
        one
        for line in (
            known_line.line.text for known_line in known if isinstance(known_line.kind, Words)
        )
        if _GAP in line
        for one in _remarks_beside(line)
        if one.sign == "(" and line[: one.start].endswith(_GAP)
    ]
    if len({one.text for one in far}) < max(len(far), _FEWEST_FAR):
        return frozenset()
    sung = _words_sung(known)
    plain = any(one.text[0].islower() for one in far) and all(
        2 * sum(sung[letters_of(word)] > 0 for word in words) <= len(words)
        for one in far
        if (words := one.text.split())
    )
    return frozenset(one.text for one in far) if plain else frozenset()


def _term_behind(text: str) -> re.Match[str] | None:
    """A term of the trade behind the words of a line; None where there is none."""
    return _TERM_BEHIND.search(text) if len(text) <= _LONGEST else None


def _players(known: Sequence[KnownLine]) -> frozenset[str]:
    """The names with which remarks on sections begin ("Verse 2 - Maria"): who plays or sings."""
    remarks: list[str] = []
    for above, one in pairwise(known):
        if isinstance(above.kind, SectionStart):
            remarks += above.kind.remarks
            remarks += [one.kind.text] if isinstance(one.kind, Remark) else []
    first = (text.split()[0].strip(",.:;") for text in remarks if text.strip())
    return frozenset(name for name in first if name.istitle() and len(name) > 1)


def _names_one(one: _Beside, players: frozenset[str]) -> bool:
    """Whether a remark begins with the name of somebody who plays or sings."""
    return one.text.split()[0].strip(",.:;") in players


def _words_sung(known: Sequence[KnownLine]) -> Counter[str]:
    """How often each word is sung, outside of signs at the ends of lines."""
    words = (_plain_words(one.line.text) for one in known if isinstance(one.kind, Words))
    return Counter(word for line in words for word in line)


def _remarks_beside(text: str) -> list[_Beside]:
    """What stands in signs before and behind the words of a line."""
    bare = text.strip()
    if len(text) > _LONGEST or (bare[:1] not in _PAIRS and bare[-1:] not in _OPENING):
        return []
    found = []
    start, end = text.find(bare), text.find(bare) + len(bare)
    if (closing := _PAIRS.get(bare[:1])) and (at := text.find(closing, start + 1)) > 0:
        found.append(_Beside(bare[0], text[start + 1 : at], start, at + 1))
    if (opening := _OPENING.get(bare[-1:])) and (at := text.rfind(opening, start, end - 1)) > start:
        found.append(_Beside(opening, text[at + 1 : end - 1], at, end))
    return [one for one in found if _stands_apart(one, text)]


def _stands_apart(one: _Beside, text: str) -> bool:
    """Whether words stand on one side of a remark, with a blank between."""
    before, behind = text[: one.start], text[one.end :]
    others = any(map(str.isalpha, before + behind))
    apart = before[-1:] in ("", " ") and behind[:1] in ("", " ")
    short = 0 < len(one.text) <= _LONGEST_REMARK and not set(one.text) & set("()[]*|")
    return others and apart and short and any(map(str.isalnum, one.text))


def _plain_words(text: str) -> list[str]:
    """The words of a line outside of signs at its ends, in small letters."""
    for one in reversed(_remarks_beside(text)):
        text = f"{text[: one.start]} {text[one.end :]}"
    return [letters_of(word) for word in text.split()]


def _is_sung(one: _Beside, sung: Counter[str]) -> bool:
    """Whether all words of a remark are sung in the song too, as those of an echo are."""
    return all(sung[letters_of(word)] for word in one.text.split())


def _is_said(one: _Beside, sung: Counter[str]) -> bool:
    """Whether a remark is said to the players."""
    if _is_sung(one, sung) or says_again(one.text):
        return False
    if _OF_ONE_TIME.match(one.text):
        return True
    if one.sign != "(":
        return count_words(one.text).strong > 0 or sounds_said(one.text) >= _SURELY_SAID
    sure = is_direction(one.text)
    return sure and (one.start == 0 or sounds_said(one.text) >= _SURELY_SAID)


def _may_be_said(one: _Beside, sung: Counter[str]) -> bool:
    """Whether a remark could as well be said as sung."""
    if one.sign != "(" or times_said(one.text) or says_again(one.text):
        return True
    likely = is_direction(one.text) or sounds_said(one.text) >= _LIKELY_SAID
    return likely and not _is_sung(one, sung)


def _without(line: Line, one: _Beside) -> Line:
    """A line with blanks for a remark, so that its other words keep their columns."""
    blanks = " " * (one.end - one.start)
    return replace(line, text=(line.text[: one.start] + blanks + line.text[one.end :]).rstrip())
