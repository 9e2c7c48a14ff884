"""The chord quality that a misspelt one was probably meant to be."""

import re
from collections.abc import Callable, Iterator
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


_MEANT = tuple(
    (re.compile(pattern), meant)
    for pattern, meant in (
        (r"h7?", "m7(b5)"),
        (r"h9", "m9(b5)"),
        (r"\(4\)", "sus4"),
        (r"\(2\)", "2"),
        (r"(9|11|13)(?:[mM]aj|MAJ|[mM]a|MA|M)", r"maj\1"),
        (r"(?:[mM]aj|MAJ|[mM]a|MA|M|[△Δ∆])7?[(/]?b7\)?", "7(maj7)"),
        (r"7[mM]aj7", "7(maj7)"),
        (r"m7\+", "m(maj7)"),
        (r"m7[(/]?4\)?", "m7(11)"),
        (r"(m?)(9|13)[-b♭]", r"\g<1>7(b\2)"),
        (r"(m?)(9|11)[#♯]", r"\g<1>7(#\2)"),
        (r"11\+", "7(#11)"),
        (r"(m?)5[-b♭]", r"\1(b5)"),
        (r"(m?)5[+#♯]", r"\1(#5)"),
        (r"(.*7)[/(]?(5|9|13)[-b♭]\)?", r"\1(b\2)"),
        (r"(.*7)[/(]?(5|9|11)[+#♯]\)?", r"\1(#\2)"),
    )
)
"""Qualities as some trade or country writes them, and how they are written here (common practice,
no source)."""
_EITHER = tuple(
    (re.compile(pattern), one, other)
    for pattern, one, other in (
        (r"7\((?:[mM]aj|MA|[mM]a|M)9\)", "9", "maj9"),
        (r"7\+(?:[mM]aj|MA|[mM]a|M)", "maj7", "maj7(#5)"),
        (r"(?:[mM]aj?|M)?6[-−–‑]9", "6/9", "6(b9)"),
        (r"(?:m|mi|min|Mi|-)6[-−–‑]9", "m6/9", "m6(b9)"),
    )
)
"""Qualities that may be one of two."""
_SIGNS = re.compile(r"\d|[b#♭♯](?=\d)|[-+°º△Δ∆øØ^]")
_TWICE = re.compile(r"(\d)\1+")
_MAJOR = re.compile(r"M(?![Ii])|[Mm]a(?!dd)|MA(?!DD)|[△Δ∆^]")
_MINOR = re.compile(r"m(?![A-Za-z])|m(?=add|sus|[Mm]aj|M|b\d)|mi|Mi|MI")

_SIGNS_OF_MAJOR, _SIGNS_OF_MINOR = frozenset("Mja△Δ∆^"), frozenset("mMi-")
"""One of them is left of either where it is misspelt."""


def _keeps_tones(quality: str, hint: str) -> bool:
    """Whether a slip of the pen may part the two: its figures and signs are those that are meant,
    and a minor or a major stays one."""
    figures = [_SIGNS.findall(_TWICE.sub(r"\1", text)) for text in (quality, hint)]
    return figures[0] == figures[1] and all(
        (kind.search(quality) is None or kind.search(hint) is not None)
        and (kind.search(hint) is None or not signs.isdisjoint(quality))
        for kind, signs in ((_MAJOR, _SIGNS_OF_MAJOR), (_MINOR, _SIGNS_OF_MINOR))
    )


def quality_hint(quality: str, is_quality: Callable[[str], bool]) -> tuple[str, ...]:
    """How a quality is written here that has another spelling, or the spelling with the same tones
    that is one slip of the pen away; none where that is not sure.

    ``is_quality`` says whether a text can be read.
    """
    if quality.startswith("x") and quality[1:] in BY_SPELLING:
        return (f'write a double sharp with two signs: "##{quality[1:]}"',)
    for pattern, one, other in _EITHER:
        if pattern.fullmatch(quality):
            return (f'it may be "{one}" or "{other}": write the one that is meant',)
    said = _SAID.get(re.sub(r"[-_]", "", quality).lower())
    own = _MEANT if len(quality) <= _LONGEST_QUALITY else ()
    known = (pattern.sub(meant, quality) for pattern, meant in own if pattern.fullmatch(quality))
    meant = said or next((one for one in known if is_quality(one)), None)
    meant = meant or next((one for one in _near(quality) if _keeps_tones(quality, one)), None)
    return (f'did you mean "{meant}"?',) if meant else ()


def _near(quality: str) -> Iterator[str]:
    """The spellings that are one slip of the pen away, a letter typed twice before all others, and
    the longest that it begins with.

    Looking up what is left without one character costs the same for every word, where
    comparing with the whole table would not.
    """
    # From the end: players know how a quality begins, so "mai7" is a major seventh.
    ends = range(min(len(quality), _LONGEST_QUALITY) - 1, -1, -1)
    slips = [quality[:i] + quality[i + 1 :] for i in ends]
    pairs = range(min(len(quality) - 1, _LONGEST_QUALITY))
    swaps = (quality[:i] + quality[i + 1] + quality[i] + quality[i + 2 :] for i in pairs)
    once = (quality[:i] + quality[i + 1 :] for i in pairs if quality[i] == quality[i + 1])
    less = _one_letter_less()
    yield from (spelling for spelling in (*once, *swaps) if spelling in BY_SPELLING)
    yield from filter(None, [less.get(quality)])
    yield from (slip for slip in slips if slip in BY_SPELLING and len(slip) > 1)
    yield from (less[slip] for slip in slips if len(slip) > 1 and slip in less)
    starts = (quality[:end] for end in range(min(len(quality), _LONGEST_QUALITY), 1, -1))
    yield from (start for start in starts if start in BY_SPELLING)
