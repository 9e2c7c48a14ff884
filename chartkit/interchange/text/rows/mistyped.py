"""Chords with a slip of the finger in them.

Source of the slips: common practice, no source.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

_LETTER = re.compile(
    r"(?P<root>[A-G])(?P<again>(?<=A)[aA]|(?<=B)B|(?<=C)[cC]|(?<=D)[dD]|(?<=E)[eE]|(?<=F)[fF]|"
    r"(?<=[Gg])[gG]|(?<=[ADEG])B)(?P<rest>m?(?:maj)?\d{0,2})"
)
"""A letter struck twice ("Gg"), or a flat with a capital ("EB")."""
_CHORD = re.compile(
    r"(?P<root>[A-G][#b♯♭]?)(?P<quality>[a-z0-9]{2,8})(?P<bass>/[A-G][#b♯♭]?)?", re.ASCII
)
_SCANNED_M = re.compile(r"(?P<root>[A-H][#b♯♭]?)rn(?P<rest>\d{0,2}(?:/[A-H][#b♯♭]?)?)")
"""An "m" as scanners read it ("Arn")."""
_ORDINAL = re.compile(r"((?:m|min|maj|dim)?(?:6|7|9|11|13))th")
_SIGN_BEHIND = re.compile(r"(?P<root>[A-G][#b♯♭]?m?)(?P<number>9|13)[-−]")
"""A flat tension with its sign behind it ("C9-"), as it is typed in Brazil, Italy and Spain; a dash
behind another chord may part it from the next."""
_SIXTH_AND_NINTH = re.compile(r"(?P<sixth>[A-G][#b♯♭]?m?6)[-−–‑]9")
"""A sixth and a ninth with a dash between them ("C6-9")."""
_CHANGE = re.compile(
    r"\((?:maj?|Maj?|M|add|sus|no|omit|dim|aug|alt|[-+b#♭♯△,/\d]|m(?=\d))+\)", re.ASCII
)
_WITH_FIGURE = (
    *("sus4", "sus2", "7sus4", "9sus4", "maj7", "maj9", "maj13", "mmaj7", "min7", "min9"),
    *("dim7", "aug7", "add9", "add2", "add4", "add11"),
)
"""Qualities in which a slip can be no word: a figure stands in them."""
_IN_LETTERS = ("maj", "min", "dim", "aug")
_TWICE = re.compile(r"(m|\d)\1|([a-z])\2(?=[a-z]*\d)")
_FEWEST_LEFT = 3


def is_change(text: str) -> bool:
    """Whether a text in parentheses behind a chord belongs to its symbol, also where it cannot be
    read there."""
    return _CHANGE.fullmatch(text) is not None


@lru_cache(maxsize=1)
def _meant() -> dict[str, str]:
    """The quality that each slip means; what two qualities could be means none."""
    found: dict[str, set[str]] = {}
    for quality in _WITH_FIGURE:
        for slip in (*_swapped(quality), *_shortened(quality)):
            found.setdefault(slip, set()).add(quality)
    for quality in _IN_LETTERS:
        for slip in _swapped(quality):
            found.setdefault(slip, set()).add(quality)
    whole = {*_WITH_FIGURE, *_IN_LETTERS}
    found["mn"] = {"min"}
    return {slip: min(of) for slip, of in found.items() if len(of) == 1 and slip not in whole}


def _swapped(quality: str) -> Iterator[str]:
    """A word with two letters that changed places."""
    for at, (one, other) in enumerate(pairwise(quality)):
        if one != other:
            yield quality[:at] + other + one + quality[at + 2 :]


def _shortened(quality: str) -> Iterator[str]:
    """A word without one of its letters, its figures whole."""
    for at, one in enumerate(quality):
        short = quality[:at] + quality[at + 1 :]
        if one.isalpha() and len(short) >= _FEWEST_LEFT:
            yield short


def slips_of(symbol: str) -> Iterator[str]:
    """The chords that may be meant by a text that is none, the likeliest first."""
    if (letter := _LETTER.fullmatch(symbol)) is not None:
        twice = letter["root"].casefold() == letter["again"].casefold() and symbol[:2] != "BB"
        yield letter["root"] + ("" if twice else "b") + letter["rest"]
    if (scanned := _SCANNED_M.fullmatch(symbol)) is not None:
        yield f"{scanned['root']}m{scanned['rest']}"
    if (behind := _SIGN_BEHIND.fullmatch(symbol)) is not None:
        yield f"{behind['root']}7(b{behind['number']})"
    if (sixth := _SIXTH_AND_NINTH.fullmatch(symbol)) is not None:
        yield f"{sixth['sixth']}/9"
    yield from _with_quality(symbol)


def _with_quality(symbol: str) -> Iterator[str]:
    match = _CHORD.fullmatch(symbol)
    if match is None:
        return
    quality, bass = match["quality"], match["bass"] or ""
    if (ordinal := _ORDINAL.fullmatch(quality)) is not None:
        yield match["root"] + ordinal[1] + bass
    if (meant := _meant().get(quality)) is not None:
        yield match["root"] + meant + bass
    once = _TWICE.sub(lambda twice: twice[0][0], quality, count=1)
    if once != quality and once != "ma":  # "Emma" is a name
        yield match["root"] + once + bass
