"""Pieces of English sentences that messages share: a counted noun, a list of names."""

from collections.abc import Iterable


def counted(number: int, noun: str, plural: str = "") -> str:
    """A number with its noun: ``1 bar``, ``2 bars``; ``plural`` is one that takes no plain s."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def listed(words: Iterable[object], joint: str = "and") -> str:
    """Words as a sentence lists them: ``F``, ``F and Bb``, ``F, Bb and Gm``; empty for none."""
    *most, last = [str(word) for word in words] or [""]
    return f"{', '.join(most)} {joint} {last}" if most else last
