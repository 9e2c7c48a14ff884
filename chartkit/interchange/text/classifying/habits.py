"""The habits of a sheet: how its words begin and end, over which rows of chords they stand, and
what is sung more than once."""

from collections import Counter
from collections.abc import Sequence
from functools import cached_property
from itertools import pairwise

from chartkit.interchange.text.classifying.lone_lines import lone_lines
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    KnownLine,
    LineKind,
    SectionStart,
    Words,
)
from chartkit.interchange.text.kinds.sheet_lines import ends_a_sentence
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.section_names import section_key
from chartkit.interchange.text.vocabulary.sounds_said import sounds_said

SIGNS = frozenset(">*~+#=•§»→")
"""Signs that stand before what is said."""
_FEWEST, _MOST_OF_THEM = 3, 0.8
_FEW_APART = 0.3
_MOST_LOOKED_AT = 12
"""So many rows show a habit, and take a time that does not grow with the sheet."""
_SURELY_SAID = 2.0
"""A line that sounds so much as if said shows nothing of how words stand in the sheet (ours)."""


class Habits:
    """What all lines of a sheet say together of how its words stand."""

    def __init__(self, known: Sequence[KnownLine]) -> None:
        self.known = known

    def _kind(self, at: int) -> LineKind:
        """What stands at a place; nothing outside of the sheet."""
        return self.known[at].kind if 0 <= at < len(self.known) else Blank()

    @cached_property
    def _marks(self) -> Counter[str]:
        """How often each sign stands before lines of words; under "" how many lines there are."""
        words = [one.line.text.strip() for one in self.known if isinstance(one.kind, Words)]
        signs = Counter(text[:1] for text in words if text[:1] in SIGNS)
        return signs + Counter({"": len(words)})

    @cached_property
    def _first_starts(self) -> dict[tuple[str, str], int]:
        """Where the first section of each meaning starts."""
        first: dict[tuple[str, str], int] = {}
        for at, one in enumerate(self.known):
            if isinstance(one.kind, SectionStart):
                first.setdefault(section_key(one.kind.name), at)
        return first

    @cached_property
    def _last_bare_starts(self) -> dict[tuple[str, str], int]:
        """Where the last section of each meaning starts that has nothing under its name."""
        kinds = [*(one.kind for one in self.known), Blank()]
        return {
            section_key(kind.name): at
            for at, (kind, below) in enumerate(pairwise(kinds))
            if isinstance(kind, SectionStart) and isinstance(below, Blank | SectionStart)
        }

    @cached_property
    def _pairs(self) -> list[tuple[Chords, str]]:
        """The rows of chords with the words right under them."""
        filled = [one for one in self.known if not isinstance(one.kind, Blank)]
        return [
            (row.kind, words.line.text.strip())
            for row, words in pairwise(filled)
            if isinstance(row.kind, Chords)
            and isinstance(words.kind, Words)
            and sounds_said(words.line.text.strip()) < _SURELY_SAID
        ]

    @cached_property
    def _lone(self) -> dict[int, float]:
        """The lines that stand alone under rows of bars or behind names, each with what that
        weighs for being said."""
        return lone_lines(self.known)

    @cached_property
    def _sung_pairs(self) -> list[tuple[Chords, str]]:
        """The rows of chords with the words right under them, without lines that may be said
        because they stand alone."""
        apart = {self.known[at].line.text.strip() for at in self._lone}
        return [pair for pair in self._pairs if pair[1] not in apart]

    @cached_property
    def _only_single_lines(self) -> bool:
        """Whether no section of several has two lines of words, and some rows have none."""
        rows = lines = here = sections = 0
        for one in self.known:
            if isinstance(one.kind, SectionStart):
                here, sections = 0, sections + 1
            elif isinstance(one.kind, Chords):
                rows += 1
            elif isinstance(one.kind, Words) and rows:
                lines, here = lines + 1, here + 1
                if here > 1:
                    return False
        return sections >= _FEWEST and lines < rows

    @cached_property
    def _always_under(self) -> bool:
        """Whether nearly all lines of words in stanzas with chords stand right under them."""
        apart, chords = 0, False
        for above, one in pairwise(self.known):
            if isinstance(one.kind, (Blank, SectionStart)):
                chords = False
            chords = chords or isinstance(one.kind, Chords)
            apart += isinstance(one.kind, Words) and chords and not isinstance(above.kind, Chords)
        return len(self._pairs) >= _FEWEST and apart <= _FEW_APART * len(self._pairs)

    @cached_property
    def _in_capitals(self) -> bool:
        """Whether nearly all words under chords begin with a capital letter."""
        first = [text.lstrip("'’\"“(¿¡")[:1] for _, text in self._pairs]
        return len(first) >= _FEWEST and sum(map(str.isupper, first)) >= _MOST_OF_THEM * len(first)

    @cached_property
    def _with_stops(self) -> bool:
        """Whether some words under chords end with a full stop as sentences do."""
        ends = [ends_a_sentence(text) for _, text in self._pairs]
        return sum(ends) > 0.5 * len(ends)

    def _sung_under_names(self, but: Chords) -> bool:
        """Whether words stand under another row of chords behind a name."""
        return any(row.behind_name for row, _ in self._few(but))

    def _sung_under_bars(self, but: Chords) -> bool:
        """Whether words stand under another row with bars."""
        return any(token.kind == "bar" for row, _ in self._few(but) for token in row.tokens)

    def _few(self, but: Chords) -> list[tuple[Chords, str]]:
        """The first rows with words, without one row."""
        return [pair for pair in self._sung_pairs[:_MOST_LOOKED_AT] if pair[0] is not but]

    @cached_property
    def _sung(self) -> Counter[str]:
        """How often each line is sung."""
        return Counter(
            letters_of(one.line.text) for one in self.known if isinstance(one.kind, Words)
        )
