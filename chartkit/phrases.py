"""What sentences of messages share: a counted noun, a list of names, the name that was meant."""

from collections.abc import Iterable


def counted(number: int, noun: str, plural: str = "") -> str:
    """A number with its noun: ``1 bar``, ``2 bars``; ``plural`` is one that takes no plain s."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def listed(words: Iterable[object], joint: str = "and") -> str:
    """Words as a sentence lists them: ``F``, ``F and Bb``, ``F, Bb and Gm``; empty for none."""
    *most, last = [str(word) for word in words] or [""]
    return f"{', '.join(most)} {joint} {last}" if most else last


_LONGEST_COMPARED = 60
"""The most characters of a word that are compared; no name that it may stand for is longer."""
_SHORTEST_HELD = 3
"""The fewest letters of a word that stands for a longer name: ``mezzo``, ``xml``."""


def nearest(written: str, names: Iterable[str], least: float = 0.6) -> str:
    """The name most like a word that was written, capitals aside, or else the only one that holds
    the word; empty if none is like it.

    ``least`` is the likeness asked for, from 0 to 1: twice the letters that both share in order,
    divided by the letters of both (``difflib``).
    """
    # Only a run with a mistake compares names, so only that run loads the library for it.
    from difflib import get_close_matches

    by_folded: dict[str, str] = {}
    for name in names:
        by_folded.setdefault(name.casefold(), name)
    word = written.casefold()[:_LONGEST_COMPARED]
    near = get_close_matches(word, by_folded, 1, least)
    if not near and len(word) >= _SHORTEST_HELD:
        near = [name for name in by_folded if word in name]
    return by_folded[near[0]] if len(near) == 1 else ""
