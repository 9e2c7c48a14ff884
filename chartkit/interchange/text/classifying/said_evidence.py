"""What speaks for a line of words being said to the players and not sung: its words, the lines
around it, its place in its section, and how the other words of the sheet stand.

Each piece of evidence is a short text; ``said_evidence.txt`` has a weight for each, learnt from our
own invented sheets by ``tests/interchange/said_in_sheets.py``.
"""

import re
from bisect import bisect_right
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from chartkit.interchange.text.classifying.sheet_of_words import (
    PLAYED,
    QUOTES,
    ROWS,
    SIGNS,
    STARTS,
    SectionOfWords,
    SheetOfWords,
    long_words,
    step_of,
)
from chartkit.interchange.text.classifying.signed_remarks import remarks_beside
from chartkit.interchange.text.classifying.under_rows import evidence_under, stands_under_bars
from chartkit.interchange.text.kinds.line_kinds import Chords, Remark, Words
from chartkit.interchange.text.kinds.sheet_lines import ends_a_sentence
from chartkit.interchange.text.learnt_weights import weights_in
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.crowd import is_of_the_crowd, ways_of_the_crowd
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction, is_talk
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said
from chartkit.interchange.text.vocabulary.sung_words import HELD, SINGER, VOCALS, is_said_aloud

TABLE = Path(__file__).with_name("said_evidence.txt")
_SOUNDS = (-4, -3, -2, -1, 0, 1, 2, 3, 4)
_LONGEST = 160
_SAID = -0.1
"""From these odds on a line is said (ours; the known sheets decide)."""
_FEWEST_LINES = 8
"""A sheet of fewer lines of words shows no habits (ours)."""
_DOUBTFUL = -2.0
"""From these odds on a line may be said, and is reported (ours)."""
_FAR_BEHIND = re.compile(r"(?<=\S)(?:\s{3,}|\s+--+\s*)(?=\w)")
_MANY_GAPS = 3
_GAP = re.compile(r"(?<=\S)\s{2,}(?=\S)")
"""Blanks that set a part of a line under its chord, or something behind it."""
_FEWEST_LETTERS = 5
_OF_WORDS = (
    "words",
    "trade",
    "direction",
    "vocals",
    "singer",
    "held",
    "gaps",
    "figures",
    "crowd",
    "talk",
)
"""The kinds of evidence that only a look at the words gives, at most one of each."""
_KIND = re.compile(r"[^:,]*")


class SaidEvidence(SheetOfWords):
    """Weighs the lines of words of a sheet."""

    @property
    def shows_habits(self) -> bool:
        """Whether the sheet has enough lines of words to show how these stand."""
        return self._habits.lines >= _FEWEST_LINES

    def kind_of(self, at: int) -> Words | Remark:
        """What a line of words is: a remark to the players, or words, which may be said.

        What the crowd does is said where it stands in parentheses; what is spoken aloud, as a
        remark beside it says, is not.
        """
        text = self.texts[at]
        if self.shapes[at] == "aside" and is_of_the_crowd(text):
            return Remark(text)
        aloud = any(is_said_aloud(one.text) for one in remarks_beside(text))
        barred = text.count("|") > 1
        if len(text) > _LONGEST or aloud or barred or self._is_set_under(at, text):
            return Words()
        weights = weights_in(TABLE)
        place = sum(weights.get(one, 0.0) for one in self._by_place(at))
        if weights[""] + place + _most_by_words() < _DOUBTFUL:
            return Words()  # as nearly all lines that are sung: their words need no look
        odds = weights[""] + sum((weights.get(one, 0.0) for one in self._by_words(at)), place)
        return Remark(without_sign(text)) if odds > _SAID else Words(may_be_said=odds > _DOUBTFUL)

    def _is_set_under(self, at: int, text: str) -> bool:
        """Whether the parts of a line are set under the chords or bars above, as nobody sets a
        remark."""
        above = self.known[at - 1].kind if at else None
        if not isinstance(above, Chords):
            return False
        many = len(_GAP.findall(text)) >= _MANY_GAPS
        return many or stands_under_bars(self.known[at].line.text, above)

    def evidence(self, at: int) -> list[str]:
        """What the table may have weights for."""
        return [*self._by_place(at), *self._by_words(at)]

    def _by_place(self, at: int) -> Iterator[str]:
        """What the place of a line tells, how it looks beside others, and how it sounds."""
        text, above = outside(self.texts[at]), self._shape(at - 1)
        under = self._under(at)
        yield from self._around(at, above)
        yield from self._in_section(at, above, under)
        yield from self._by_habit(at, text, under)
        row = self.known[at - 1].kind if at else None
        if isinstance(row, Chords):
            yield from evidence_under(row, self.known[at].line.text)
        sounds = sounds_said(text.strip("()"))
        yield from (f"sounds:{step},{under}" for step in _SOUNDS if sounds >= step)

    def _under(self, at: int) -> str:
        return "under" if self._shape(at - 1) in ROWS else "apart"

    def _around(self, at: int, above: str) -> Iterator[str]:
        """The two lines above and the two below."""
        below = self._shape(at + 1)
        yield f"above:{above}"
        yield f"below:{below}"
        yield f"between:{above},{below}"
        yield f"above:{self._shape(at - 2)},{above}"
        yield f"below:{below},{self._shape(at + 2)}"
        if self.shapes[at] == "aside":
            yield f"aside:{above},{below}"

    def _in_section(self, at: int, above: str, under: str) -> Iterator[str]:
        """The place of a line in its section, and how the other words there stand."""
        section = self._sections[self._section_of[at]]
        place = bisect_right(section.sung, at)
        others = len(section.sung) - (self.shapes[at] == "words")
        before = place - (self.shapes[at] == "words")
        paired, within = section.paired - (under == "under"), section.within
        stands = "only"
        if others:
            stands = "first" if not before else "last" if before == others else "amid"
            yield f"paired:{step_of(paired / others, 0.01, 0.5, 0.9, 0.999)},{under},{stands}"
            yield f"within:{step_of(within / others, 0.01, 0.5, 0.999)},{under},{stands}"
        else:
            below = self._shape(at + 1)
            yield f"rows:{min(section.rows, 3)},{under},{above},{below}"
        yield f"stands:{stands},{under}"
        yield from self._in_other_sections(section, others, under)
        yield f"played:{section.kind in PLAYED},{under}"
        yield f"rhymes:{self._rhymes(at)},{min(others, 3)}"
        if above in STARTS:
            yield f"under-name:{self._shape(at + 1)}"
        if under == "apart":
            yield from self._in_block(at, others + 1, section)

    def _in_other_sections(self, section: SectionOfWords, others: int, under: str) -> Iterator[str]:
        """How many of the other sections with music have words, and how many lines of them."""
        played = [one for one in self._with_rows if one is not section]
        if others or not played:
            yield f"other-sections:{bool(played)}"
            return
        sung = [one for one in played if one.sung]
        yield f"others-sung:{step_of(len(sung) / len(played), 0.01, 0.35, 0.65, 0.95)},{under}"
        if sung:
            single = sum(len(one.sung) == 1 for one in sung) / len(sung)
            yield f"single-lines:{step_of(single, 0.01, 0.5, 0.95)},{min(len(sung), 3)},{under}"

    def _in_block(self, at: int, lines: int, section: SectionOfWords) -> Iterator[str]:
        """How many lines of words stand together, and whether as many stand in earlier sections of
        the kind."""
        first, last = self._blocks.get(at, (at, at))
        place = "first" if at == first else "last" if at == last else "amid"
        beyond = self._shape(first - 1) if at == first else self._shape(last + 1)
        beside = beyond if place != "amid" else ""
        yield f"block:{min(last - first + 1, 9)},{place},{beside}"
        if section.earlier and place != "amid":
            alike = lines in section.earlier
            one_more = lines - 1 in section.earlier
            yield f"lines:{'as-before' if alike else 'one-more' if one_more else 'other'},{place}"

    def _by_habit(self, at: int, text: str, under: str) -> Iterator[str]:
        """How a line looks beside the other words of the sheet."""
        habits = self._habits
        others = habits.lines - (self.shapes[at] == "words")
        if others:
            share = (habits.paired - (under == "under")) / others
            yield f"sheet-paired:{step_of(share, 0.01, 0.4, 0.7, 0.9, 0.999)},{under}"
        else:
            yield f"alone-in-sheet,{under}"
        length = step_of(len(text) / habits.length, 0.25, 0.45, 0.65, 0.85, 1.2, 1.6, 2.2)
        yield f"length:{length},{under}"
        small = text.lstrip(QUOTES + "-–*> ")[:1].islower()
        yield f"small:{small},{step_of(habits.capitals, 0.1, 0.5, 0.9)}"
        yield f"stop:{ends_a_sentence(text)},{step_of(habits.stops, 0.05, 0.5)}"
        sign = text[:1] if text[:1] in SIGNS else ""
        if sign:
            share = step_of(self._signs[sign] / max(1, habits.lines), 0.1, 0.6)
            yield f"sign:{share},{min(self._signs[sign], 2)}"
        yield f"times:{min(self._times[letters_of(self.texts[at])], 3)}"
        yield from self._said_again(at, text)
        yield f"after-all-music:{at > self._last_music},{self._shape(at - 1)}"
        if self.known[at].line.text[:1].isspace():
            yield f"indented,{under}"

    def _said_again(self, at: int, text: str) -> Iterator[str]:
        """Whether the words of a line come again within it, and in the other words of the sheet."""
        words = long_words(text)
        if len({*words}) <= len(words) / 2:
            yield "echoes-itself"
        letters = letters_of(text)
        if len(letters) >= _FEWEST_LETTERS and any(letters in head for head in self._head):
            yield "title"
        if words and self.shapes[at] == "words":
            elsewhere = sum(self._lines_with[word] > 1 for word in {*words}) / len({*words})
            yield f"elsewhere:{step_of(elsewhere, 0.01, 0.5, 0.999)},{min(len({*words}), 3)}"
            yield f"elsewhere:{step_of(elsewhere, 0.01, 0.5, 0.999)},{self._shape(at - 1)}"

    def _by_words(self, at: int) -> Iterator[str]:
        """What the words of a line are, of the kinds in ``_OF_WORDS``."""
        text, under = outside(self.texts[at]), self._under(at)
        words = len(text.split())
        yield f"words:{step_of(words, 2, 3, 4, 6, 9)},{under}"
        count = count_words(text)
        yield f"trade:{step_of(count.share, 0.01, 0.4, 0.7, 0.999)},{count.strong > 0}"
        if is_direction(text):
            yield f"direction,{under}"
        if VOCALS.fullmatch(text) is not None:
            yield "vocals"
        if SINGER.search(text) is not None:
            yield "singer"
        if HELD.search(text) is not None:
            yield "held"
        yield f"gaps:{min(len(_GAP.findall(text)), 3)},{under}"
        if any(map(str.isdecimal, text)):
            yield "figures"
        if ways_of_the_crowd(text):
            yield f"crowd,{self.shapes[at] == 'aside'}"
        if is_talk(text):
            yield "talk"


@cache
def _most_by_words() -> float:
    """The most by which the words of a line can speak for its being said."""
    most = dict.fromkeys(_OF_WORDS, 0.0)
    for name, weight in weights_in(TABLE).items():
        kind = _KIND.match(name)
        if kind is not None and kind[0] in most:
            most[kind[0]] = max(most[kind[0]], weight)
    return sum(most.values())


def outside(text: str) -> str:
    """The words of a line without what stands beside them in parentheses or other signs, behind a
    dash, or far behind them; all of a line that has no other words."""
    if len(text) > _LONGEST:
        return text
    bare = text
    for one in reversed(remarks_beside(text)):
        bare = f"{bare[: one.start]} {bare[one.end :]}".strip()
    if len(_GAP.findall(bare)) <= 1 and ("   " in bare or " --" in bare):
        bare = _FAR_BEHIND.split(bare, maxsplit=1)[0]
    return bare if any(map(str.isalpha, bare)) else text


def without_sign(text: str) -> str:
    """What is said, without the sign before it."""
    bare = text.strip()
    return bare[1:].lstrip() if bare[:1] in SIGNS and bare[1:].strip() else bare
