"""What is said to the players right under the name of a section that is played again ("Chorus" and
below it "I stop, you stop, nobody breathes, then on").

Source of the habit: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.interchange.text.classifying.said_below import is_for_players_here
from chartkit.interchange.text.classifying.sheet_of_words import long_words
from chartkit.interchange.text.kinds.line_kinds import (
    Blank,
    Chords,
    ChordsWithin,
    KnownLine,
    Letter,
    Remark,
    SectionStart,
    Words,
)
from chartkit.interchange.text.lines import letters_of
from chartkit.interchange.text.vocabulary.section_names import section_key

_FEWEST_SUNG = 2
_FIRST_LETTERS = 6
"""Words that begin with as many letters of earlier ones are these again."""
_MOST_KNOWN = 0.5
"""A line of which so many words stand in the earlier ones is sung (ours)."""


def without_talk_under_names(known: list[KnownLine]) -> list[KnownLine]:
    """The lines, one alone right under the name of a refrain or the like as a remark where the
    sheet has two or more other lines of words and music under the same name above, so that its
    words are known; as part of a letter where it speaks of the day."""
    sung: dict[tuple[str, str], list[str]] = {}
    result = known
    for at, end in _sections_of(known):
        start = known[at].kind
        assert isinstance(start, SectionStart)
        key = section_key(start.name)
        lines = known[at + 1 : end]
        words = [one.line.text.strip() for one in lines if isinstance(one.kind, Words)]
        if any(isinstance(one.kind, (Chords, ChordsWithin)) for one in lines):
            within = [one.line.text.strip() for one in lines if isinstance(one.kind, ChordsWithin)]
            sung[key] = [*words, *within] if len(words) + len(within) >= _FEWEST_SUNG else []
        elif (
            len(words) == 1
            and key[0] != "verse"
            and _is_alone_below(known, at, end)
            and _is_new(words[0], sung.get(key, []))
        ):
            kind = Remark(words[0]) if is_for_players_here(words[0]) else Letter()
            result = list(known) if result is known else result
            result[at + 1] = replace(known[at + 1], kind=kind)
    return result


def _sections_of(known: Sequence[KnownLine]) -> list[tuple[int, int]]:
    """The places of the names, each with that of the next one."""
    starts = [at for at, one in enumerate(known) if isinstance(one.kind, SectionStart)]
    return [*pairwise([*starts, len(known)])]


def _is_alone_below(known: Sequence[KnownLine], at: int, end: int) -> bool:
    """Whether a line of words stands right under a name, and then another name, or nothing for a
    line."""
    plain = not getattr(known[at].kind, "with_chords", False)
    below = known[at + 1 : at + 3]
    if not plain or not below or not isinstance(below[0].kind, Words):
        return False
    return len(below) == 1 or at + 2 == end or isinstance(below[1].kind, Blank)


def _is_new(text: str, sung: Sequence[str]) -> bool:
    """Whether a line, where others are sung, does not say their words in another way: it begins as
    none of them, or stops short like who only recalls them, and has few of their words."""
    if not sung:
        return False
    known = {word for one in sung for word in long_words(one)}
    words = {*long_words(text)}
    first = letters_of(text)[:_FIRST_LETTERS]
    begins = any(letters_of(one).startswith(first) for one in sung)
    if begins:
        return text.endswith(("...", "…"))
    return len(words & known) < _MOST_KNOWN * max(1, len(words))
