"""The chord quality that a misspelt one was probably meant to be."""

import re
from functools import cache

from chartkit.theory.quality import BY_SPELLING

_LONGEST_QUALITY = 16
_SAID = {
    "halfdim": "m7b5",
    "halfdim7": "m7b5",
    "halfdiminished": "m7b5",
    "hdim": "m7b5",
    "hdim7": "m7b5",
    "diminished": "dim",
    "diminished7": "dim7",
    "augmented": "aug",
    "minor7": "m7",
    "minor9": "m9",
    "major7": "maj7",
    "major9": "maj9",
    "dom7": "7",
    "dominant7": "7",
    "0": "dim",
    "07": "dim7",
}
"""Qualities as they are spoken, and how they are written."""
SPOKEN_PARTS = {
    "flat": "b",
    "sharp": "#",
    "major": "maj",
    "minor": "m",
    "diminished": "dim",
    "augmented": "aug",
    "suspended": "sus",
    "seven": "7",
    "seventh": "7",
    "six": "6",
    "sixth": "6",
    "nine": "9",
    "ninth": "9",
    "eleven": "11",
    "thirteen": "13",
}
"""Parts of a chord as they are spoken, and how they are written."""
_SPOKEN = re.compile("|".join(sorted(SPOKEN_PARTS, key=len, reverse=True)), re.IGNORECASE)
_ORDINAL = re.compile(r"(?<=[0-9])th(?![a-z])", re.IGNORECASE)


def in_signs(symbol: str) -> str:
    """A symbol in which parts are spelled out, in signs: ``D7th`` is D7, ``Bflat7`` Bb7."""
    spelled = _SPOKEN.sub(lambda word: SPOKEN_PARTS[word[0].lower()], symbol)
    return _ORDINAL.sub("", spelled)


@cache
def _one_letter_less() -> dict[str, str]:
    """Each spelling of the table with one character left out, and what it came from."""
    shortened: dict[str, str] = {}
    for spelling in sorted(filter(None, BY_SPELLING), key=len):
        for i in range(len(spelling)):
            shortened.setdefault(spelling[:i] + spelling[i + 1 :], spelling)
    return shortened


def quality_hint(quality: str) -> tuple[str, ...]:
    """The spelling that is one slip of the pen away, a letter typed twice before all others, or
    the longest one it begins with.

    Looking up what is left without one character costs the same for every word, where
    comparing with the whole table would not.
    """
    if quality.startswith("x") and quality[1:] in BY_SPELLING:
        return (f'write a double sharp with two signs: "##{quality[1:]}"',)
    said = _SAID.get(re.sub(r"[-_]", "", quality).lower())
    if said is not None:
        return (f'did you mean "{said}"?',)
    # From the end: players know how a quality begins, so "mai7" is a major seventh.
    ends = range(min(len(quality), _LONGEST_QUALITY) - 1, -1, -1)
    slips = [quality[:i] + quality[i + 1 :] for i in ends]
    swaps = (
        quality[:i] + quality[i + 1] + quality[i] + quality[i + 2 :]
        for i in range(min(len(quality) - 1, _LONGEST_QUALITY))
    )
    once = (
        quality[:i] + quality[i + 1 :]
        for i in range(min(len(quality) - 1, _LONGEST_QUALITY))
        if quality[i] == quality[i + 1]
    )
    less = _one_letter_less()
    near = next(
        (spelling for spelling in (*once, *swaps) if spelling in BY_SPELLING), None
    ) or less.get(quality)
    near = near or next((slip for slip in slips if slip in BY_SPELLING and len(slip) > 1), None)
    near = near or next((less[slip] for slip in slips if len(slip) > 1 and slip in less), None)
    starts = (quality[:end] for end in range(min(len(quality), _LONGEST_QUALITY), 1, -1))
    near = near or next((start for start in starts if start in BY_SPELLING), None)
    return (f'did you mean "{near}"?',) if near else ()
