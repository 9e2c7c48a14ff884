"""Quick looks at a text: what a slow pattern needs is sought first, since most lines lack it."""

from collections.abc import Iterable
from functools import lru_cache


@lru_cache(maxsize=1_024)  # each line is looked at from many sides
def in_small_letters(text: str) -> str:
    """The text as patterns without case compare it."""
    return text.casefold()


def has_any(text: str, pieces: Iterable[str]) -> bool:
    """Whether any of some pieces stands in a text, wherever that is."""
    return any(map(text.__contains__, pieces))
