"""What speaks for words in parentheses before or behind a line of words being said to the players,
where the answers of a choir stand too: the words themselves, whether they are sung elsewhere in the
song, rhymes, and how the others of the sheet stand.

Each piece of evidence is a short text; ``tail_evidence.txt`` has a weight for each, learnt from our
own invented sheets by ``tests/interchange/tails_in_sheets.py``.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from pathlib import Path
from statistics import median
from typing import NamedTuple

from chartkit.interchange.text.classifying.asides import asides_without_place, is_echo
from chartkit.interchange.text.classifying.sheet_of_words import step_of
from chartkit.interchange.text.classifying.signed_remarks import (
    Beside,
    is_sung,
    remarks_beside,
    row_end,
    words_sung,
)
from chartkit.interchange.text.kinds.line_kinds import (
    MUSIC,
    SUNG,
    KnownLine,
    LineKind,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.learnt_weights import weights_in
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.crowd import is_of_hands_and_feet, ways_of_the_crowd
from chartkit.interchange.text.vocabulary.directions import count_words, is_direction, is_term
from chartkit.interchange.text.vocabulary.facts import says_again
from chartkit.interchange.text.vocabulary.sounds_said import SUREST, sounds_said
from chartkit.interchange.text.vocabulary.sung_words import SINGER, VOCALS

TABLE = Path(__file__).with_name("tail_evidence.txt")
SAID, DOUBTFUL = 0.0, -1.5
"""From these odds on something beside words is said, and is reported (ours; the known sheets
decide)."""
_SOUNDS = (-4, -3, -2, -1, 0, 1, 2, 3, 4)
_NEAR = 4
"""Words rhyme with those so few lines of words away."""
_APART, _FAR, _MARGIN = " " * 3, " " * 4, " " * 8
_SAID_AT_MARGIN = -0.3
"""From these odds on words at the margin are said (ours)."""
_SURELY_SAID = 1.5
"""From these odds on words are said also if they are typed several times (ours)."""
_MOST_LINES = 2_000
"""So many lines of words show how the sheet is typed."""
_FEW = 3
_ENOUGH = 2
"""One line and another than it."""


class Tail(NamedTuple):
    """What stands in parentheses beside a line of words or on a line of its own below: which line
    of words that is, what stands there, and the column in which the chords above end, 0 where
    there are none."""

    at: int
    beside: Beside
    row_end: int
    below: bool = False


def tail_below(known: Sequence[KnownLine], at: int) -> Tail | None:
    """A line in parentheses, as what stands below the line of words right above it; None where no
    words stand there or the line has no letters."""
    inside = known[at].line.text.strip().strip("()").strip()
    if at == 0 or not isinstance(known[at - 1].kind, SUNG) or not letters_of(inside):
        return None
    end = len(known[at - 1].words.text)
    return Tail(at - 1, Beside("(", inside, end, end), 0, below=True)


class TailEvidence:
    """Weighs what stands in parentheses beside the words of a sheet."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known
        self.sung = words_sung(known)
        self._lines = [at for at, one in enumerate(known) if isinstance(one.kind, SUNG)]
        self._lines = self._lines[:_MOST_LINES]
        self._place = {at: place for place, at in enumerate(self._lines)}

    def odds(self, tail: Tail) -> float:
        """The logarithm of the odds that it is said to the players."""
        if self._is_surely_sung(tail):
            return -SUREST
        if self._is_surely_said(tail):
            return SUREST
        if self._comes_often(tail):
            return -SUREST
        weights = weights_in(TABLE)
        return weights[""] + sum(weights.get(one, 0.0) for one in self.evidence(tail))

    def _is_surely_sung(self, tail: Tail) -> bool:
        """Whether it says again the last words before it or a whole line of words, begins as the
        line does, is in the capitals of a title, or stands far behind words under a chord of its
        own."""
        words, one = self.known[tail.at].words, tail.beside
        before = words.text[: one.start]
        far = before.endswith(_FAR) and tail.row_end > words.column(one.start)
        again = is_echo(one.text, before) or self._times_sung[letters_of(one.text)] > 0
        words_of = one.text.split()
        title = len(words_of) > 1 and one.text.istitle()
        begins = letters_of(words_of[0]) == letters_of((before.split() or ["-"])[0])
        return again or says_again(one.text) or begins or title or (far and not tail.below)

    def _is_surely_said(self, tail: Tail) -> bool:
        """Whether it is what hands and feet do and nobody sings, or stands at the margin and does
        not sound as if sung."""
        text, before = tail.beside.text, self.known[tail.at].words.text[: tail.beside.start]
        if is_of_hands_and_feet(text) and not is_sung(tail.beside, self.sung):
            return True
        answers = VOCALS.fullmatch(text) is not None or SINGER.search(text) is not None
        at_margin = before.endswith(_MARGIN) and not answers
        somebody = text.istitle() and text.isalpha() and not is_sung(tail.beside, self.sung)
        if somebody and before.endswith(_APART):
            return True
        return at_margin and not tail.below and sounds_said(text) >= _SAID_AT_MARGIN

    def _comes_often(self, tail: Tail) -> bool:
        """Whether it is typed several times, in words that no player uses."""
        text = tail.beside.text
        often = self._texts[letters_of(text)] > 1 and not is_direction(text)
        return often and sounds_said(text) < _SURELY_SAID

    @cached_property
    def _times_sung(self) -> Counter[str]:
        """How often each line of words is sung, without what stands beside it."""
        return Counter(letters_of(_outside(self.known[at].words.text)) for at in self._lines)

    def evidence(self, tail: Tail) -> Iterator[str]:
        """What the table may have weights for."""
        yield from self._by_words(tail)
        yield from self._by_place(tail)
        yield from self._by_echo(tail)
        yield from self._by_rhyme(tail)
        yield from self._by_others(tail)

    def _by_words(self, tail: Tail) -> Iterator[str]:
        """What its words are."""
        text = tail.beside.text
        words = len(text.split())
        sounds = sounds_said(text)
        place = "below" if tail.below else "beside"
        yield from (f"sounds:{step}" for step in _SOUNDS if sounds >= step)
        yield from (f"sounds:{step},{place}" for step in _SOUNDS if sounds >= step)
        yield f"words:{min(words, 6)}"
        count = count_words(text)
        yield f"trade:{step_of(count.share, 0.01, 0.4, 0.7, 0.999)},{count.strong > 0}"
        if is_direction(text):
            yield "direction"
        if is_term(text):
            yield "term"
        if is_of_hands_and_feet(text):
            yield "hands"
        if ways_of_the_crowd(text):
            yield "crowd"
        if VOCALS.fullmatch(text) is not None:
            yield "vocals"
        if SINGER.search(text) is not None:
            yield "singer"
        if any(map(str.isdecimal, text)):
            yield "figures"
        for sign in "!?,.:/-":
            if sign in text:
                yield f"sign:{sign}"
        yield f"case:{_case(text)},{_case(self.known[tail.at].words.text)},{place}"
        first = text.split()[0].strip(",.:;!")
        if first in self._players:
            yield "player"
        named = [w for w in text.split() if w[:1].isupper() and w[1:].islower()]
        if any(not self.sung[letters_of(word)] for word in named[: 1 if words > 1 else 0]):
            yield "names-one"

    def _by_place(self, tail: Tail) -> Iterator[str]:
        """Where it stands."""
        line, one = self.known[tail.at].words, tail.beside
        before, behind = line.text[: one.start], line.text[one.end :]
        place = "start" if not before.strip() else "amid" if behind.strip() else "end"
        place = "below" if tail.below else place
        yield f"place:{place}"
        gap = len(before) - len(before.rstrip()) if place == "end" else 0
        yield f"gap:{step_of(gap, 2, 4, 8)}"
        over = "none" if not tail.row_end else str(tail.row_end > line.column(one.start))
        yield f"chord-over:{over},{place}"
        yield f"before:{before.rstrip()[-1:] if not before.rstrip()[-1:].isalnum() else ''}"
        column = line.column(one.start)
        beside = (self._in_column.get(column + step, set()) for step in (-1, 0, 1))
        if gap > 1 and any(lines - {tail.at} for lines in beside):
            yield "in-a-column"
        length = (len(line.text.strip()) - (one.end - one.start)) / self._length
        yield f"length:{step_of(length, 0.45, 0.65, 0.85, 1.2)}"
        own = len(one.text) / self._length
        yield f"own-length:{step_of(own, 0.3, 0.65, 0.85, 1.2)},{place == 'below'}"
        if tail.below:
            yield f"in-place:{tail.at + 1 not in self._without_place}"
            under = self.known[tail.at + 2].kind if tail.at + 2 < len(self.known) else None
            yield f"below-it:{_name_of(under)}"
            above = self.known[tail.at - 1].kind if tail.at else None
            yield f"around:{_name_of(above)},{_name_of(under)}"

    def _by_echo(self, tail: Tail) -> Iterator[str]:
        """Whether its words are sung elsewhere, or say again what stands before them."""
        one = tail.beside
        words = [letters_of(word) for word in one.text.split()]
        words = [word for word in words if word]
        if not words:
            return
        line = self.known[tail.at].words.text
        beside = [letters_of(word) for word in (line[: one.start] + line[one.end :]).split()]
        here = sum(word in beside for word in words) / len(words)
        in_song = sum(self.sung[word] > 0 for word in words) / len(words)
        yield f"in-line:{step_of(here, 0.01, 0.5, 0.999)},{min(len(words), _FEW)}"
        yield f"in-song:{step_of(in_song, 0.01, 0.5, 0.999)},{min(len(words), _FEW)}"
        if beside[:1] == words[:1]:
            yield "begins-as-line"
        if len(words) > 1 and 2 * len({*words}) <= len(words) + 1:
            yield f"says-itself-again,{min(len({*words}), _FEW)}"

    def _by_rhyme(self, tail: Tail) -> Iterator[str]:
        """Whether the line rhymes with others near it without the tail, and with it."""
        place = self._place.get(tail.at)
        if place is None or tail.beside.start == 0:
            return
        near = [
            at for at in self._lines[max(0, place - _NEAR) : place + _NEAR + 1] if at != tail.at
        ]
        bare = _end(_outside(self.known[tail.at].words.text))
        whole = _end(tail.beside.text)
        ends = {end for at in near for end in self._ends(at)}
        yield f"rhymes:{bare in ends},{whole in ends}"

    def _by_others(self, tail: Tail) -> Iterator[str]:
        """What else stands beside words in the sheet."""
        itself = tail in self._seen
        others = len(self._tails) - itself
        yield f"others:{min(others, _FEW)}"
        if others:
            echoes = self._echoes - (itself and is_sung(tail.beside, self.sung))
            yield f"others-echo:{step_of(echoes / others, 0.01, 0.5, 0.999)}"
            said = self._said - (itself and sounds_said(tail.beside.text) > 0)
            yield f"others-said:{step_of(said / others, 0.01, 0.5, 0.999)}"
            share = (others + 1) / len(self._lines)
            yield f"share:{step_of(share, 0.1, 0.3, 0.5)}"
        yield f"times:{min(self._texts[letters_of(tail.beside.text)], _FEW)}"

    @cached_property
    def _tails(self) -> list[Tail]:
        """All that stands in parentheses beside words."""
        found: list[Tail] = []
        end = 0
        for at, one in enumerate(self.known):
            end = end if isinstance(one.kind, Words | Remark) else row_end(one)
            if at in self._place:
                found += (
                    Tail(at, beside, end)
                    for beside in remarks_beside(one.words.text)
                    if beside.sign == "("
                )
            elif isinstance(one.kind, Remark) and one.kind.in_parentheses:
                below = tail_below(self.known, at)
                found += [below] if below is not None else []
        return found

    @cached_property
    def _seen(self) -> frozenset[Tail]:
        return frozenset(self._tails)

    @cached_property
    def _echoes(self) -> int:
        """How many of them are of words that are sung in the song too."""
        return sum(is_sung(one.beside, self.sung) for one in self._tails)

    @cached_property
    def _said(self) -> int:
        """How many of them sound as if said."""
        return sum(sounds_said(one.beside.text) > 0 for one in self._tails)

    @cached_property
    def _in_column(self) -> dict[int, set[int]]:
        """Two lines at most on which one of them begins in a column, by columns."""
        found: dict[int, set[int]] = {}
        for one in self._tails[:_MOST_LINES]:
            lines = found.setdefault(self._column(one), set())
            if len(lines) < _ENOUGH:
                lines.add(one.at)
        return found

    @cached_property
    def _without_place(self) -> frozenset[int]:
        """The lines in parentheses that no words of their sections need."""
        return asides_without_place(self.known)

    @cached_property
    def _texts(self) -> Counter[str]:
        """How often each of them is typed."""
        return Counter(letters_of(one.beside.text) for one in self._tails)

    @cached_property
    def _players(self) -> frozenset[str]:
        """The names with which remarks begin: who plays or sings."""
        remarks: list[str] = []
        for above, one in pairwise(self.known):
            if isinstance(one.kind, Remark):
                remarks.append(one.kind.text)
            if isinstance(above.kind, SectionStart):
                remarks += above.kind.remarks
        first = (text.split()[0].strip(",.:;") for text in remarks if text.strip())
        return frozenset(name for name in first if name.istitle() and len(name) > 1)

    @cached_property
    def _length(self) -> float:
        """The usual length of a line of words."""
        lengths = [len(_outside(self.known[at].words.text)) for at in self._lines]
        return max(1.0, float(median(lengths))) if lengths else 30.0

    def _column(self, tail: Tail) -> int:
        return self.known[tail.at].words.column(tail.beside.start)

    def _ends(self, at: int) -> Iterator[str]:
        """How the words of a line end, without what stands behind them and with it."""
        text = self.known[at].words.text
        yield _end(_outside(text))
        yield _end(text)


def _outside(text: str) -> str:
    """The words of a line without what stands beside them."""
    for one in reversed(remarks_beside(text)):
        text = f"{text[: one.start]} {text[one.end :]}"
    return text.strip()


def _name_of(kind: LineKind | None) -> str:
    return "words" if isinstance(kind, Words) else "music" if isinstance(kind, MUSIC) else "other"


def _end(text: str) -> str:
    """The last two letters."""
    return letters_of(text[-12:])[-2:]


def _case(text: str) -> str:
    """Whether letters are capitals, small, or those of a title."""
    bare = text.strip(" ()")
    if bare.isupper() and len(bare) > 1:
        return "capitals"
    if len(bare.split()) > 1 and bare.istitle():
        return "title"
    return "small" if bare[:1].islower() else "large"
