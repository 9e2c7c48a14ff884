"""What the letters of music fonts say beside chords and over staves.

A PDF has them as letters of private use.  Those of chords are accidentals and qualities; others
are marks to the players, and repeated bars.  Clefs, notes, rests and flags say nothing here.
Source of the letters: SMuFL 1.4 (standard accidentals, chord symbols, repeats, holds and pauses),
from memory, and the Unicode block of musical symbols.
"""

SIGN = "sign"
"""Marks a piece that is a sign of a music font alone."""

_IN_CHORDS = {
    "\ue260": "b",
    "\ue261": "♮",
    "\ue262": "#",
    "\ue263": "##",
    "\ue264": "bb",
    "\ued60": "b",
    "\ued61": "♮",
    "\ued62": "#",
    "\ued63": "##",
    "\ued64": "bb",
    "\ue870": "°",
    "\ue871": "ø",
    "\ue872": "+",
    "\ue873": "△",
    "\ue874": "-",
    "\ue875": "(",
    "\ue876": ")",
    "\ue877": "(",
    "\ue878": ")",
    "\ue879": "(",
    "\ue87a": ")",
    "\ue87b": "/",
    "\ue87c": "/",
}
_SEGNO, _CODA, _FERMATA = "(segno)", "(coda sign)", "(fermata)"
_MARKS = {
    "\ue047": _SEGNO,
    "\ue048": _CODA,
    "\ue049": _CODA,
    "\ue04a": _SEGNO,
    "\ue04b": _SEGNO,
    "𝄋": _SEGNO,
    "𝄌": _CODA,
    **{chr(0xE4C0 + at): _FERMATA for at in range(12)},
    "𝄐": _FERMATA,
}
_BARS_AGAIN = {"\ue500": "%", "\ue501": "%%", "\U0001d10d": "%"}
MARKS_SAID = frozenset(_MARKS.values())
BARS_SAID = frozenset(_BARS_AGAIN.values())
SAID = {**_IN_CHORDS, **_MARKS, **_BARS_AGAIN}
"""What is read for each letter."""
IN_CHORDS = frozenset(_IN_CHORDS.values())


def is_sign(text: str) -> bool:
    """Whether a text is letters of music fonts alone, among them at least one that is read."""
    plain = "".join(text.split())
    private = all(letter in SAID or "\ue000" <= letter <= "\uf8ff" for letter in plain)
    return private and any(letter in SAID for letter in plain)
