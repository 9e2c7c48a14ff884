"""Note names of other languages, in chord symbols and in keys: Fis, Hm, D/Fis, la mineur.

German: H is B natural, a sharp adds "is", a flat "es" or "s".  Syllables are those of the Latin
countries (``theory/naming.py``).
"""

import re

from chartkit.theory.naming import LETTER_OF, note_from_german

_GERMAN = re.compile(r"([A-H])(is|es|s(?!us))?")
_GERMAN_BASS = re.compile(r"([A-Ha-h])(is|es|s)?")
_SMALL = re.compile(r"([acdfg]is|h)([0-9]*)")
_SYLLABLE_KEY = re.compile(
    r"(do|r[eé]|mi|fa|sol|la|si)(?:[\s-]?([b#♭♯]|b[eé]mol(?:le)?|di[eè]se|diesis|sostenido))?"
    r"(?:[\s-]+(ma[a-z]*|mi[a-z]*|me[a-z]*))?",
    re.IGNORECASE,
)


def from_german(text: str) -> str:
    """The symbol in letters and signs that one with German note names means; empty if it has
    none: ``F#m`` for ``Fism``, ``D/F#`` for ``D/Fis``, ``F#m7`` for ``fis7``."""
    small = _SMALL.fullmatch(text)
    if small is not None:
        return f"{note_from_german(small[1][0].upper(), small[1][1:])}m{small[2]}"
    over, slash, low = text.rpartition("/")
    bass = _GERMAN_BASS.fullmatch(low) if slash else None
    foreign_bass = bass is not None and bool(bass[2] or bass[1] in "Hh")
    symbol = over if foreign_bass else text
    root = _GERMAN.match(symbol)
    if root is not None and (root[1] == "H" or root[2]):
        symbol = note_from_german(root[1], root[2] or "") + symbol[root.end() :]
    elif not foreign_bass:
        return ""
    if bass is None or not foreign_bass:
        return symbol
    return f"{symbol}/{note_from_german(bass[1].upper(), bass[2] or '')}"


def key_from_syllables(text: str) -> str:
    """The key in letters that one with a syllable means; empty if it has none: ``A minor`` for
    ``la mineur``, ``Eb major`` for ``mi bémol majeur``."""
    match = _SYLLABLE_KEY.fullmatch(text)
    if match is None:
        return ""
    sign = (match[2] or "").lower()
    written = "" if not sign else "b" if sign[0] in "b♭" else "#"
    minor = (match[3] or "").lower().startswith(("mi", "me"))
    return f"{LETTER_OF[match[1].lower()]}{written} {'minor' if minor else 'major'}"
