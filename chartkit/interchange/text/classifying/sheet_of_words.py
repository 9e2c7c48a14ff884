"""The lines of a sheet as its words see them: what each is, in a word or two, and how the lines of
words stand in their sections and in the whole sheet."""

import re
from bisect import bisect_right
from collections import Counter, defaultdict, deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import islice
from statistics import median

from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsBehind,
    ChordsWithin,
    KnownLine,
    Letter,
    Note,
    Remark,
    Roadmap,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import ends_a_sentence
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.section_names import section_key

SIGNS = frozenset("-–—>*~+#=•§»→")
"""Signs that stand before what is said."""
ROWS = frozenset({"row", "bars", "named-row", "named-bars"})
SUNG = frozenset({"words", "chords-among"})
STARTS = frozenset({"name", "name-with-chords"})
PLAYED = frozenset(
    {
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
        "section",
        "jam",
    }
)
"""Kinds of sections that seldom have words."""
QUOTES = "'’\"“(¿¡[{"
_NEAR = 4
"""Words rhyme with others so few lines away."""
_MOST_EARLIER = 4
"""So many earlier sections of a kind show how many lines they have."""
_MOST_SECTIONS = 24
"""So many sections show a habit."""
_LONGEST_HEAD = 40
_LETTERS, _LONG_WORD = re.compile(r"[^\W\d_]+"), 3
_NOT_LETTERS = re.compile(r"[\W\d_]+")


@dataclass(slots=True)
class SectionOfWords:
    """What stands in a section: the kind its name says, its lines of words, how many of these
    stand right under chords or have chords within, and its rows."""

    kind: str = ""
    sung: list[int] = field(default_factory=list)
    paired: int = 0
    within: int = 0
    rows: int = 0
    earlier: tuple[int, ...] = ()
    """How many lines of words the last sections of the same kind have."""


@dataclass(frozen=True, slots=True)
class _Habits:
    """How many lines of words a sheet has and how many stand right under chords; the usual length
    of a line, and the shares of those that begin with a capital letter and end with a stop."""

    lines: int
    paired: int
    length: float
    capitals: float
    stops: float


def _habits_of(texts: Sequence[str], shapes: Sequence[str]) -> _Habits:
    lines = [at for at, shape in enumerate(shapes) if shape in SUNG]
    paired = [
        at for at in lines if shapes[at] == "chords-among" or (at > 0 and shapes[at - 1] in ROWS)
    ]
    shown = [texts[at] for at in paired or lines]
    if not shown:
        return _Habits(0, 0, 30.0, 0.5, 0.0)
    capitals = sum(text.lstrip(QUOTES)[:1].isupper() for text in shown)
    stops = sum(ends_a_sentence(texts[at]) for at in lines)
    length = max(1.0, float(median(map(len, shown))))
    return _Habits(len(lines), len(paired), length, capitals / len(shown), stops / len(lines))


class SheetOfWords:
    """The lines of a sheet, each with what it is so far."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known
        self.shapes = [*map(_shape, known)]
        self.texts = [one.line.text.strip() for one in known]

    def _shape(self, at: int) -> str:
        return self.shapes[at] if 0 <= at < len(self.shapes) else "edge"

    def _rhymes(self, at: int) -> bool:
        """Whether a line of words near in the section ends with the same letters."""
        end = self._ends[at]
        lines = self._sections[self._section_of[at]].sung
        place = bisect_right(lines, at)
        near = (i for i in lines[max(0, place - _NEAR - 1) : place + _NEAR] if i != at)
        return end != "" and any(self._ends[i] == end for i in near)

    @cached_property
    def _ends(self) -> list[str]:
        """The last two letters of each line."""
        return [_NOT_LETTERS.sub("", text[-12:].casefold())[-2:] for text in self.texts]

    @cached_property
    def _sections(self) -> list[SectionOfWords]:
        """What stands in each section, the lines above the first name before all others."""
        lines: dict[str, deque[int]] = defaultdict(lambda: deque(maxlen=_MOST_EARLIER))
        found = [SectionOfWords()]
        for at, (one, shape) in enumerate(zip(self.known, self.shapes, strict=True)):
            section = found[-1]
            if isinstance(one.kind, SectionStart):
                if section.sung:
                    lines[section.kind].append(len(section.sung))
                kind = section_key(one.kind.name)[0]
                found.append(SectionOfWords(kind, earlier=tuple(lines[kind])))
            section.rows += shape in ROWS
            if shape in SUNG:
                section.sung.append(at)
                section.within += shape == "chords-among"
                section.paired += shape == "chords-among" or self._shape(at - 1) in ROWS
        return found

    @cached_property
    def _section_of(self) -> list[int]:
        of = 0
        result = []
        for shape in self.shapes:
            of += shape in STARTS
            result.append(of)
        return result

    @cached_property
    def _blocks(self) -> dict[int, tuple[int, int]]:
        """The first and last of the lines of words that stand together, by each of them."""
        found: dict[int, tuple[int, int]] = {}
        at = 0
        while at < len(self.shapes):
            end = at
            while self._shape(end) == "words":
                end += 1
            found.update(dict.fromkeys(range(at, end), (at, end - 1)))
            at = end + 1
        return found

    @cached_property
    def _habits(self) -> _Habits:
        return _habits_of(self.texts, self.shapes)

    @cached_property
    def _signs(self) -> Counter[str]:
        """How often each sign stands before lines of words."""
        return Counter(
            text[:1]
            for text, shape in zip(self.texts, self.shapes, strict=True)
            if shape == "words" and text[:1] in SIGNS
        )

    @cached_property
    def _times(self) -> Counter[str]:
        """How often each line is typed."""
        kinds = ("words", "said", "aside")
        return Counter(
            letters_of(text)
            for text, shape in zip(self.texts, self.shapes, strict=True)
            if shape in kinds
        )

    @cached_property
    def _last_music(self) -> int:
        rows = (*ROWS, "chords-among")
        return max((at for at, shape in enumerate(self.shapes) if shape in rows), default=0)

    @cached_property
    def _with_rows(self) -> list[SectionOfWords]:
        """The first sections that have rows of chords, or chords among words."""
        every = (one for one in self._sections if one.rows or one.within)
        return [*islice(every, _MOST_SECTIONS)]

    @cached_property
    def _head(self) -> list[str]:
        """The letters of the lines above all music, of which one is the title."""
        music = (*ROWS, *STARTS, "chords-among")
        first = next((at for at, shape in enumerate(self.shapes) if shape in music), 0)
        return [letters_of(text) for text in self.texts[: min(first, _LONGEST_HEAD)]]

    @cached_property
    def _lines_with(self) -> Counter[str]:
        """In how many lines of words each word stands."""
        return Counter(
            word
            for text, shape in zip(self.texts, self.shapes, strict=True)
            if shape in SUNG
            for word in {*long_words(text)}
        )


def long_words(text: str) -> list[str]:
    """The words of a line that are no mere particles, in small letters."""
    return [word for word in _LETTERS.findall(text.casefold()) if len(word) >= _LONG_WORD]


def _shape(one: KnownLine) -> str:
    """What a line is, in a word or two."""
    kind = one.kind
    if isinstance(kind, Chords):
        barred = any(token.kind == "bar" for token in kind.tokens)
        return f"{'named-' * kind.behind_name}{'bars' if barred else 'row'}"
    if isinstance(kind, SectionStart):
        return "name-with-chords" if kind.with_chords else "name"
    if isinstance(kind, Remark):
        return "aside" if kind.in_parentheses else "said"
    if isinstance(kind, ChordsWithin | ChordsBehind):
        return "chords-among"
    if isinstance(kind, Blank):
        return "blank"
    if isinstance(kind, Words):
        return "words"
    return "letter" if isinstance(kind, Letter | Note | Roadmap) else "other"


def step_of(value: float, *edges: float) -> int:
    """Between which of the edges a value lies."""
    return bisect_right(edges, value)
