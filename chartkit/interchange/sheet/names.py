"""How a sheet names its notes: letters, the German H and B, or do re mi.

Source of the names: common practice; in German B natural is H and B is B flat, in Romance
languages notes are sung syllables.
"""

import re
from dataclasses import dataclass
from typing import Literal

_SYLLABLES = {
    "DO": "C", "RE": "D", "RÉ": "D", "MI": "E", "FA": "F", "SOL": "G", "LA": "A", "SI": "B",
}  # fmt: skip
_SYLLABLE = re.compile(r"(DO|RE|RÉ|MI|FA|SOL|LA|SI|Do|Re|Ré|Mi|Fa|Sol|La|Si)(.*)")
_GERMAN = re.compile(r"H(?:m|is|7|maj|sus|dim|/|$|\d|#|-)")
_QUALITY = r"(?:[#b♭♯]?(?:m|-|maj|min|dim|sus|add|\d|\+|°)*\d*(?:/\S+)?)"


@dataclass(frozen=True, slots=True)
class Naming:
    """The way notes are named."""

    kind: Literal["letters", "german", "syllables"] = "letters"

    def letters(self, symbol: str) -> str | None:
        """The symbol with its root and bass as letters; None for what is none here."""
        if self.kind == "letters":
            return symbol
        root, slash, bass = symbol.partition("/")
        if self.kind == "german":
            return _from_german(root) + (slash and slash + _from_german(bass))
        found = _SYLLABLE.fullmatch(root)
        if found is None:
            return None
        low = _SYLLABLE.fullmatch(bass)
        bass = bass if low is None else _SYLLABLES[low[1].upper()] + low[2]
        return _SYLLABLES[found[1].upper()] + found[2] + slash + bass


def _from_german(symbol: str) -> str:
    if symbol.startswith("H"):
        return "B" + symbol[1:]
    if symbol.startswith("B") and not symbol.startswith(("Bb", "B♭", "B#")):
        return "Bb" + symbol[1:]
    return symbol


def naming_of(lines: list[str]) -> Naming:
    """The naming that a sheet's rows of short tokens use.

    Syllables where rows are made of them, German where a row of chords has an H, letters
    otherwise.
    """
    syllables = german = 0
    for line in lines:
        tokens = line.split()
        if not tokens or len(tokens) > 16 or max(map(len, tokens)) > 10:
            continue
        syllables += _all_syllables(tokens)
        german += _has_german(tokens)
    if syllables > 1:
        return Naming("syllables")
    return Naming("german" if german else "letters")


def _all_syllables(tokens: list[str]) -> bool:
    found = [_SYLLABLE.fullmatch(token) for token in tokens]
    fits = all(m is not None and re.fullmatch(_QUALITY, m[2]) for m in found)
    return fits and len({token.upper() for token in tokens}) > 1


def _has_german(tokens: list[str]) -> bool:
    chords = sum(re.fullmatch(rf"[A-H]{_QUALITY}", token) is not None for token in tokens)
    return chords * 2 > len(tokens) and any(_GERMAN.match(token) for token in tokens)
