"""A title that stands below the chords of a sheet, which are given once above all its words.

Source of the place: common practice, no source.
"""

from collections.abc import Sequence

from chartkit.interchange.text.classifying.chord_list import are_given_first, words_begin
from chartkit.interchange.text.head_words.titles import (
    QUOTES,
    could_be_title,
    is_spelled_as_title,
    without_ornaments,
)
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    KnownLine,
    SectionStart,
    Settings,
    Words,
)

_MOST_LINES = 3
"""So many lines has a block with a title below chords at most (ours)."""


def with_title_first(known: list[KnownLine]) -> list[KnownLine]:
    """The lines; where all chords stand above all words, a block between them that begins with the
    title goes above them."""
    music = [at for at, one in enumerate(known) if isinstance(one.kind, Chords)]
    start = _first_start(known, music[-1]) if music else 0
    if start == 0:
        return known
    block = [at for at in range(music[-1] + 1, start) if not isinstance(known[at].kind, Blank)]
    first = next(at for at, one in enumerate(known) if isinstance(one.kind, (SectionStart, Chords)))
    if not block or not _is_a_block(known, block):
        return known
    kept = [one for at, one in enumerate(known) if at not in block]
    if not (words_begin(kept) or are_given_first(kept)):
        return known
    above = [without_ornaments(one.line.text.strip()) for one in known[:first]]
    title = without_ornaments(known[block[0]].line.text.strip())
    others = [at for at, text in enumerate(above) if could_be_title(text)]
    if others and (not _looks_like_one(title) or any(_looks_like_one(above[at]) for at in others)):
        return known
    first = others[0] if others else first
    return [*kept[:first], *(known[at] for at in block), *kept[first:]]


def _first_start(known: Sequence[KnownLine], last: int) -> int:
    """The first section's name below a line; the line itself where there is none."""
    below = range(last + 1, len(known))
    return next((at for at in below if isinstance(known[at].kind, SectionStart)), last)


def _is_a_block(known: Sequence[KnownLine], block: Sequence[int]) -> bool:
    """Whether lines stand together, with nothing right above and below them, and begin with what
    could be a title; the others are settings."""
    if block[-1] - block[0] >= _MOST_LINES or block[-1] - block[0] >= len(block):
        return False
    around = (known[block[0] - 1], known[block[-1] + 1])
    apart = all(isinstance(one.kind, (Blank, SectionStart)) for one in around)
    plain = isinstance(known[block[0]].kind, Words) and could_be_title(
        without_ornaments(known[block[0]].line.text.strip())
    )
    return apart and plain and all(isinstance(known[at].kind, Settings) for at in block[1:])


def _looks_like_one(text: str) -> bool:
    """Whether a line is spelled as titles are."""
    return is_spelled_as_title(text) or text.isupper() or text[:1] in QUOTES
