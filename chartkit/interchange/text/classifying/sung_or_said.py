"""Weighs whether a line is sung or said to the players in sheets of few lines, which show no habits
from which the learnt weights (``said_evidence.py``) could tell.

Each kind of evidence has a weight and a reason; the habits of the sheet count most: how its lines
of words begin, over which rows of chords words stand at all, and whether words stand without them.
What the words themselves tell is one weight beside them (``sounds_said.py``).
"""

import re
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.classifying.habits import SIGNS, Habits
from chartkit.interchange.text.classifying.said_evidence import without_sign
from chartkit.interchange.text.classifying.sheet_of_words import PLAYED
from chartkit.interchange.text.classifying.under_rows import stands_under_bars
from chartkit.interchange.text.kinds.line_kinds import (
    SUNG,
    Blank,
    Chords,
    KnownLine,
    Letter,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import (
    begins_at_margin,
    ends_a_sentence,
)
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.tokens import STRUCK
from chartkit.interchange.text.vocabulary.crowd import is_of_the_crowd, ways_of_the_crowd
from chartkit.interchange.text.vocabulary.directions import (
    count_words,
    is_talk,
    names_player,
)
from chartkit.interchange.text.vocabulary.facts import without_parentheses
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import TO_SOMEBODY, sounds_said
from chartkit.interchange.text.vocabulary.sung_words import HELD, SINGER, VOCALS

_ENDS = {"outro", "end", "coda", "tag"}
_SET_APART = "    "
_LONGEST = 160
_NARROW_GAP = 2
_MOST_OF_A_SECTION = 60
_FEWEST_LINES = 2
"""A verse of one line is no measure for others."""
_SAID, _PLAINLY_SAID = 2.5, 3.5
"""At this sum of weights a line is said, in parentheses and without them (ours; the known sheets
decide)."""
_BY_ITS_WORDS, _BY_ITS_WORDS_APART = 0.5, 0.6
"""The weight of what the words tell, right under chords and elsewhere (ours)."""
_SAID_APART = 1.5
"""At this sum of weights a line that has no chords right above it is said (ours)."""
_MOST_AROUND, _IN_PARENTHESES = 5.5, 2.0
"""No more than this is said by what stands around a line and by its words of the trade, and by
words below one in parentheses."""
_MOST_IN_WORDS_APART = 2.5
"""More than this is never said by words of the trade and by talk (1 each), whatever is rounded."""
PLAYED_ALONE = 3.0
"""The weight of a single line under the name of a solo or an intro, where nobody sings (ours)."""
_SUNG_AGAIN = -3.0
"""The weight of a single line under the first name of a section that is asked for again (ours)."""
_LINES_OF_A_STANZA, _WHOLE = 4, 1.0
"""Stanzas mostly have an even count of lines, often four (common practice, no source); what it
weighs that a line completes one (ours)."""
_OF_THE_CROWD = 2.0
"""What the crowd does is seldom sung (ours)."""
_HERE_AND_THERE = 3.0
"""What single lines under bars weigh in a sheet that has no others (ours)."""
_BEFORE_PARENTHESES = re.compile(r"([^()]*[^\W\d_]{2}[^()]*\S)\s+\([^()]+\)")
_FAR_BEHIND = re.compile(r"(?<=\w)\s{3,}(?=\w)")
_SILENT, _FEWEST_ROWS = 2.5, 4
"""What a line weighs that stands alone under many rows of chords (ours)."""
_MARKED, _MARKED_ONCE, _FEW_MARKED = 6.0, 2.0, 0.6
"""Signs before what is said, what they weigh, and before how many lines one may stand (ours)."""


_FIGURE = re.compile(r"\d")
_UNDER_BARS = 3.0
"""What it weighs that the parts of a line begin right behind bar lines above (ours)."""


class SungOrSaid(Habits):
    """The habits of a sheet, and what they say of its lines under chords."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        super().__init__(known)
        self._said_by_itself: dict[tuple[str, int], float] = {}
        self._end = -1
        """The last of the lines of words together that were looked at."""

    def kind_of(self, at: int) -> Words | Remark:
        """What a line of words is: a remark to the players, or words."""
        under = isinstance(self._kind(at - 1), Chords)
        said = self.is_said(at) if under else self.is_said_apart(at)
        return Remark(without_sign(self.known[at].line.text)) if said else Words()

    def is_said(self, at: int) -> bool:
        """Whether a line right under a row of chords is said to the players."""
        one, above = self.known[at], self.known[at - 1].kind if at else None
        if not isinstance(above, Chords) or len(one.line.text) > _LONGEST:
            return False
        text = _outside(without_parentheses(one.line.text.strip()).strip())
        wanted = _SAID if isinstance(one.kind, Remark) else _PLAINLY_SAID
        said = _BY_ITS_WORDS * sounds_said(text) + self._sum_on_it(text, above)
        said += self._lone.get(at, 0.0)
        said += _HERE_AND_THERE * (
            self._only_single_lines and begins_at_margin(one.line.text, above.tokens)
        )
        most = _MOST_AROUND + _IN_PARENTHESES * isinstance(one.kind, Remark)
        if said + most < wanted:
            return False
        said += sum(self._around(at, text)) - sum(self._against(at, text, above))
        return said >= wanted

    def is_said_apart(self, at: int) -> bool:
        """Whether a line of words that has no chords right above it is said to the players."""
        text = _outside(self.known[at].line.text.strip())
        if len(text) > _LONGEST or "|" in text or (place := self._by_place(at)) is None:
            return False
        words = _BY_ITS_WORDS_APART * sounds_said(text)
        on_it = self._on_it_apart(text)
        if place + words + sum(on_it) + _MOST_IN_WORDS_APART < _SAID_APART:
            return False
        said = place + sum(self._for_apart(text, on_it)) - sum(self._against_apart(text))
        return said + words >= _SAID_APART

    def _sum_on_it(self, text: str, above: Chords) -> float:
        """The sum of the weights of what says that a line is said, by the line and the chords.

        Where these are neither bars nor behind a name it is the same for the same line and chords.
        """
        barred = any(token.kind == "bar" for token in above.tokens)
        if barred or above.behind_name:
            return sum(self._on_it(text, above, barred))
        line = (text, id(above.tokens))
        if line not in self._said_by_itself:
            self._said_by_itself[line] = sum(self._on_it(text, above, barred))
        return self._said_by_itself[line]

    def _on_it(self, text: str, above: Chords, barred: bool) -> list[float]:
        """The weights of what says that a line is said, by the line and the chords above."""
        return [
            # all words under chords begin with a capital letter, and this does not
            2.0 * (text[:1].islower() and self._in_capitals),
            # no words stand under other rows behind a name, or under bars
            1.5 * (above.behind_name and not self._sung_under_names(above)),
            1.0 * (barred and not self._sung_under_bars(above)),
            # a sentence ends with a full stop, and words sung do not
            1.0 * (ends_a_sentence(text) and not self._with_stops),
            # a sign stands before it, and before no line that is plainly sung
            self._by_sign(text),
            # it tells what the crowd does
            _OF_THE_CROWD * ways_of_the_crowd(text),
            # it names a player
            1.0 * (":" in text and TO_SOMEBODY.match(text) is not None),
            # nothing is sung in this sheet
            self._weight_of_silence * (not self._sung_pairs or self._pairs == [(above, text)]),
            # figures are seldom sung
            0.5 * (_FIGURE.search(text) is not None),
        ]

    @cached_property
    def _weight_of_silence(self) -> float:
        """What it weighs that nothing is sung in the sheet: much where it has several rows."""
        rows = sum(isinstance(one.kind, Chords) for one in self.known)
        return _SILENT if rows >= _FEWEST_ROWS else 0.5

    def _around(self, at: int, text: str) -> list[float]:
        """The weights of what says so by its words and by what stands around it."""
        count = count_words(text)
        kind = section_key(self._section(at))[0]
        in_parentheses = isinstance(self.known[at].kind, Remark)
        return [
            # words of the trade
            1.0 * (count.strong > 0) + 1.0 * (count.strong > 0 and count.share > 0.6),
            # a section of this kind is played, not sung
            1.0 * (kind in PLAYED or kind.rpartition(" ")[2] in PLAYED or names_player(kind)),
            # the song ends here, on one chord
            1.5 * (kind in _ENDS and self._is_last_chord(at)),
            # nothing else in the section could be sung
            1.0 * self._is_only_one(at),
            # the crowd's own, in parentheses
            1.0 * (in_parentheses and is_of_the_crowd(text)),
            # nobody answers in parentheses before the words have begun
            _IN_PARENTHESES * (in_parentheses and isinstance(self._kind(at + 1), Words)),
        ]

    def _against(self, at: int, text: str, above: Chords) -> list[float]:
        """The weights of what says that a line is sung."""
        gaps = [after.column - before.end for before, after in pairwise(above.tokens)]
        wide = max(gaps, default=0) > _NARROW_GAP and not above.behind_name
        return [
            # nobody plays these
            4.0 * (VOCALS.fullmatch(text) is not None),
            1.0 * (SINGER.search(text) is not None),
            # the chords stand over places in it
            0.5 * wide,
            # it is sung elsewhere without parentheses
            4.0 * (self._sung[letters_of(text)] > isinstance(self.known[at].kind, Words)),
            # syllables are held or split, or set under the chords with wide gaps
            5.0 * (HELD.search(text) is not None),
            1.5 * (_SET_APART in text),
            # its parts stand under the bars
            _UNDER_BARS * stands_under_bars(self.known[at].line.text, above),
        ]

    def _on_it_apart(self, text: str) -> list[float]:
        """The weights of what says that a line without chords above is said, by its letters and
        signs."""
        return [
            1.0 * (text[:1].islower() and self._in_capitals),
            self._by_sign(text),
            _OF_THE_CROWD * ways_of_the_crowd(text),
            0.5 * (ends_a_sentence(text) and not self._with_stops),
            # figures are seldom sung
            0.5 * (_FIGURE.search(text) is not None),
        ]

    def _for_apart(self, text: str, on_it: Sequence[float]) -> list[float]:
        """All weights of what says so, with those ``on_it``."""
        count = count_words(text)
        return [
            *on_it,
            0.5 * (count.strong > 0) + 0.5 * (count.strong > 0 and count.share > 0.6),
            # it is said to the reader of a mail
            1.0 * is_talk(text),
        ]

    def _against_apart(self, text: str) -> list[float]:
        """The weights of what says that such a line is sung."""
        return [
            4.0 * (VOCALS.fullmatch(text) is not None),
            0.5 * (SINGER.search(text) is not None),
            4.0 * (self._sung[letters_of(text)] > 1),
        ]

    def _by_place(self, at: int) -> float | None:
        """The weight of where a line without chords above stands; None where only words can
        stand."""
        above, below = self._kind(at - 1), self._kind(at + 1)
        over_chords = isinstance(below, Chords)
        if isinstance(above, Words) and (over_chords or isinstance(below, Words)):
            # between words: said where all others stand right under chords
            apart = isinstance(self._kind(at - 2), Chords) and over_chords
            return 1.5 if apart and self._always_under else self._by_length(at)
        if over_chords:
            # above the first chords of a section, or apart from those before
            return 2.0 if self._always_under else 0.5
        if isinstance(above, Words) or isinstance(below, Words):
            return self._by_length(at)
        if isinstance(above, SectionStart) and isinstance(below, Blank | SectionStart):
            return self._under_name(above, at)
        return 1.0 if isinstance(above, Blank) and isinstance(below, Blank) else 0.0

    def _under_name(self, start: SectionStart, at: int) -> float:
        """The weight of the only line under a section's name: whether words stand under an earlier
        one of this name, and more than one line of them; what is asked for again below has words
        here."""
        if section_key(start.name)[0] in PLAYED - _ENDS:
            return PLAYED_ALONE
        if not self._was_sung(start, at):
            again = self._last_bare_starts.get(section_key(start.name), -1) > at
            return _SUNG_AGAIN if again and not start.with_chords else 0.0
        return 1.5 if min(self._lengths_before(at), default=0) > 1 else 1.0

    def _by_length(self, at: int) -> float | None:
        """The weight of the first or last line in a block of words, by whether the block has as
        many lines as one before it in sections of this kind."""
        if isinstance(self._kind(at - 1), Words) and isinstance(self._kind(at + 1), Words):
            return None
        first, last = self._block(at)
        lines = last - first + 1
        if at - 1 == first and isinstance(self._kind(at - 2), Chords):
            return 0.75 * self._always_under
        if lines <= _FEWEST_LINES:
            return 0.0
        before = self._lengths_before(first)
        if not before:
            return -_WHOLE if lines % _LINES_OF_A_STANZA == 0 else 0.0
        return 1.5 if lines - 1 in before and lines not in before else -1.5

    def _block(self, at: int) -> tuple[int, int]:
        """The first and the last of the lines of words together that begin or end with a line;
        lines are asked for in order, each after those above have been settled."""
        first, last = at, max(at, self._end)
        while isinstance(self._kind(first - 1), Words):
            first -= 1
        while isinstance(self._kind(last + 1), Words):
            last += 1
        self._end = last
        return first, last

    def _lengths_before(self, at: int) -> set[int]:
        """How many lines of words the last sections of the same kind above have."""
        wanted = section_key(self._section(at))[0]
        return {count for kind, count in self._counted(at) if kind == wanted}

    def _counted(self, at: int) -> list[tuple[str, int]]:
        """The kinds of the sections above a line, without its own, each with its lines of words."""
        found: list[tuple[str, int]] = []
        count = 0
        for i in range(at, max(-1, at - _MOST_OF_A_SECTION), -1):
            kind = self.known[i].kind
            count += isinstance(kind, SUNG)
            if isinstance(kind, SectionStart):
                found.append((section_key(kind.name)[0], count))
                count = 0
        return found[1:]

    def _by_sign(self, text: str) -> float:
        """The weight of a sign before a line, as it stands before few of the lines of words."""
        times = self._marks[text[:1]] if text[:1] in SIGNS else 0
        if not times or times > _FEW_MARKED * self._marks[""]:
            return 0.0
        return _MARKED if times > 1 else _MARKED_ONCE

    def _was_sung(self, start: SectionStart, at: int) -> bool:
        """Whether an earlier section has the name of one."""
        return self._first_starts[section_key(start.name)] < at - 1

    def _section(self, at: int) -> str:
        kinds = (self.known[i].kind for i in range(at, max(-1, at - _MOST_OF_A_SECTION), -1))
        return next((kind.name for kind in kinds if isinstance(kind, SectionStart)), "")

    def _is_last_chord(self, at: int) -> bool:
        """Whether one chord alone stands right above a line, and nothing below it."""
        above = self._kind(at - 1)
        alone = isinstance(above, Chords) and sum(one.kind in STRUCK for one in above.tokens) == 1
        below = self.known[at + 1 : at + 1 + _MOST_OF_A_SECTION]
        return alone and all(isinstance(one.kind, Blank | Letter) for one in below)

    def _is_only_one(self, at: int) -> bool:
        """Whether no other line of the section could be sung."""
        above = range(at - 1, max(-1, at - _MOST_OF_A_SECTION), -1)
        below = range(at + 1, min(len(self.known), at + _MOST_OF_A_SECTION))
        for part in (above, below):
            for one in (self.known[i] for i in part):
                if isinstance(one.kind, SectionStart):
                    break
                if isinstance(one.kind, SUNG):
                    return False
        return True


def _outside(text: str) -> str:
    """The words of a line before what stands in parentheses at its end, or far behind them; all of
    a line that has no words before them."""
    if "(" not in text and "   " not in text:
        return text
    match = _BEFORE_PARENTHESES.fullmatch(text) if len(text) <= _LONGEST else None
    return _FAR_BEHIND.split(match[1] if match is not None else text, maxsplit=1)[0]
