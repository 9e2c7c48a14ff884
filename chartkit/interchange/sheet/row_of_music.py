"""Whether the tokens of a line are a row of music, or words that look a little like one."""

from collections.abc import Sequence
from itertools import pairwise

from chartkit.interchange.sheet.token import Token


def is_music(found: Sequence[Token], words: int, chords: int, sure: int) -> bool:
    """Whether tokens are a row of music, told by how many of them are words, chords, and
    chords that could be no words."""
    bars = any(token.kind == "bar" for token in found)
    words += 0 if bars else sum(token.kind == "meter" for token in found)
    if not chords and (words or not bars or not _goes_on(found)):
        return False
    if words and (not sure or words * 2 > chords):
        return False
    sung = not sure and chords > 1 and not bars and found[0].text in ("Do", "Go", "Am", "A")
    return not (sung and any(token.text in ("Do", "Go") for token in found))


def _goes_on(found: Sequence[Token]) -> bool:
    """Whether there is music between bar lines though no chord is: similes, beats, rests, or
    beats held.

    A line of words may have a ``_`` or the word "rest" between bar lines too, but not in
    every bar, nor two holds on end.
    """
    kinds = [token.kind for token in found]
    pairs = set(pairwise(kinds))
    if "simile" in kinds or "beat" in kinds:
        return True
    if any(token.kind == "hold" and not token.may_fill for token in found):
        return True
    opened = kinds[0] == "bar" and set(kinds) <= {"bar", "hold", "rest", "meter", "cue"}
    return opened and ("bar", "bar") not in pairs and ("rest" in kinds or ("hold", "hold") in pairs)
