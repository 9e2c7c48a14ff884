"""Quick looks at a text: what a slow pattern needs is sought first, since most lines lack it, and
what was found about a line is kept, since each is looked at from many sides."""

import re
from collections.abc import Callable, Iterable
from functools import lru_cache, wraps
from typing import TypeVar

_MOST_KEPT, _LONGEST_KEPT = 1_024, 240
MOST_LINES_KEPT = 65_536
"""More lines than a book of a megabyte has: what each pass over them asks again is kept for the
next pass only if all of them fit."""
Answer = TypeVar("Answer")


def kept(asked: Callable[[str], Answer]) -> Callable[[str], Answer]:
    """A function of a text that keeps its answers for the last short texts."""
    keep = lru_cache(maxsize=_MOST_KEPT)(asked)

    @wraps(asked)
    def answer(text: str) -> Answer:
        return keep(text) if len(text) <= _LONGEST_KEPT else asked(text)

    return answer


@kept
def in_small_letters(text: str) -> str:
    """The text as patterns without case compare it."""
    return text.casefold()


_WORD = re.compile(r"[^\W\d_]+")
_ESCAPE = re.compile(r"\\.")
_ONE_I = {ord("İ"): "i", ord("ı"): "i"}
"""Letters that patterns without case take for "i", although ``str.casefold`` does not."""


@kept
def words_in(text: str) -> frozenset[str]:
    """The runs of letters in a text, each as ``same_word`` writes it.

    A pattern without case whose match has a word with no letter right before and behind it can
    match only where that word is among these: two letters that such patterns take for one another
    are the same here.
    """
    if text.isascii():
        return frozenset(_WORD.findall(text.lower()))
    return frozenset(map(same_word, _WORD.findall(text)))


def first_word(text: str) -> str:
    """The first run of letters in a text, as ``same_word`` writes it; empty where there is none."""
    match = _WORD.search(text)
    if match is None:
        return ""
    return match[0].lower() if text.isascii() else same_word(match[0])


def same_word(word: str) -> str:
    """A word as all words are written that patterns without case take for it."""
    return word.translate(_ONE_I).casefold()


def words_written(pattern: str) -> frozenset[str]:
    """The runs of letters in a pattern, among them all words that stand whole in it."""
    return frozenset(map(same_word, _WORD.findall(_ESCAPE.sub(" ", pattern))))


class BeginsWithWord:
    """A pattern without case, compared only with texts whose first word is one of its own.

    Every match must begin with a word that stands whole in the pattern ("verse|verses", not
    "verses?"), with no letter before it and none behind it: then the first run of letters in a
    text that fits is among the runs of letters in the pattern.
    """

    def __init__(self, pattern: str) -> None:
        self.compiled = re.compile(pattern, re.IGNORECASE)
        self._words = words_written(pattern)

    def match(self, text: str) -> re.Match[str] | None:
        """The match at the start of a text; None where it does not fit."""
        return self.compiled.match(text) if first_word(text) in self._words else None

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """The match of a whole text; None where it does not fit."""
        return self.compiled.fullmatch(text) if first_word(text) in self._words else None


def has_any(text: str, pieces: Iterable[str]) -> bool:
    """Whether any of some pieces stands in a text, wherever that is."""
    return any(map(text.__contains__, pieces))
