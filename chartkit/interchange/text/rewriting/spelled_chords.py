"""Chords in words, as somebody says them: "D minor, D minor, G, A seven" becomes ``Dm Dm G A7``.

Source of the words: common practice in the languages in which sheets are often written, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.intake_result import Findings
from chartkit.interchange.text.lines import Line, changed

_LONGEST, _FEWEST = 200, 2
_SAID = {
    "b": "flat bemol bémol bemolle",
    "#": "sharp dièse diese diesis sostenido sustenido",
    "m": "minor menor mineur minore moll",
    "maj": "major mayor maior majeur maggiore dur",
    "dim": "dim diminished vermindert diminué disminuido diminuto diminuito",
    "aug": "aug augmented übermäßig augmenté aumentado aumentato",
    "sus": "sus suspended",
    "2": "two",
    "4": "four fourth vier quatre cuatro quattro",
    "6": "six sixth sechs seis sei zes",
    "7": "seven seventh sieben sept siete sete sette zeven sju syv dominant",
    "5": "five fifth fünf cinq cinco cinque vijf",
    "9": "nine ninth neun neuf nueve nove negen",
    "/": "over slash über sur sobre",
}
"""What is said for each sign of a chord symbol."""
_SIGNS = {word: sign for sign, words in _SAID.items() for word in words.split()}
_WORDS = frozenset(_SIGNS)
_SIGNS_BETWEEN = str.maketrans(",;.-", "    ")
_ROOT = re.compile(r"[A-Ha-h]|do|r[eéè]|mi|fa|sol|la|si", re.IGNORECASE)
_THEN = frozenset(
    ["then", "and", "dann", "und", "puis", "et", "luego", "y", "poi", "e", "dan", "en"]
)
_PLAIN = re.compile(r"[A-H](?:[#b♯♭]m?\d{0,2}|m\d{0,2}|\d{1,2})")
_PIECE = re.compile(rf"{_PLAIN.pattern}(?!\w)|[^\W\d_]+|\S")
_LABEL = re.compile(r"\s*[^\W\d_][^:|*,]{0,24}:\s+")

_TWO_KEYS = re.compile(
    r"\W*[A-H]\S{0,4}\s+(?:major|minor|dur|moll|majeur|mineur|mayor|menor|maggiore|minore)\s*,?\s*"
    r"(?:then|dann|puis|luego|después|poi|dan|depois)\s+[A-H]\S{0,4}(?:\s+[^\W\d_]{3,8})?\W*",
    re.IGNORECASE,
)
"""The key of a song and the one to which it goes up ("C major, then D")."""


def with_chords_spelled(lines: Sequence[Line], findings: Findings) -> list[Line]:
    """The lines, those that are chords in words and nothing else with their symbols; each is
    reported."""
    return changed(lines, lambda line: _spelled(line, findings))


def _spelled(line: Line, findings: Findings) -> Line:
    text = line.text
    if not 0 < len(text) <= _LONGEST or "|" in text:
        return line
    if _WORDS.isdisjoint(text.casefold().translate(_SIGNS_BETWEEN).split()):
        return line  # a quick look
    label = _LABEL.match(text)
    start = label.end() if label is not None else 0
    symbols = _symbols_in(text[start:])
    if len(symbols) < _FEWEST or _TWO_KEYS.fullmatch(text) is not None:
        return line
    row = "  ".join(symbols)
    findings.guess(
        "chords-in-words", f'"{text[start:].strip()}" is read as the chords {row}', line.place()
    )
    return replace(line, text=text[:start] + row, columns=None)


def _symbols_in(text: str) -> list[str]:
    """The symbols of the chords that a text says; none where it says anything else, or says no
    more than letters."""
    chords: list[list[str]] = []
    begins, said = True, False
    for piece in _PIECE.findall(text):
        sign = _SIGNS.get(piece.casefold(), "")
        if piece in ",;." or (piece in _THEN and chords):
            begins = True
        elif sign and chords and not begins:
            chords[-1].append(sign)
            said = True
        elif _PLAIN.fullmatch(piece) is not None:
            chords.append([piece])
            begins = False
        elif _ROOT.fullmatch(piece) is None:
            if piece != "-":
                return []
        elif chords and chords[-1][-1] == "/":
            chords[-1].append(piece.capitalize())
        else:
            chords.append([piece.capitalize()])
            begins = False
    return [_symbol(*one) for one in chords] if said else []


def _symbol(root: str, *signs: str) -> str:
    """A chord symbol of its root and the signs said behind it; "major" is said of a seventh or
    for nothing."""
    said = list(signs)
    for at, sign in enumerate(said):
        if sign == "maj" and (at + 1 == len(said) or said[at + 1] not in ("7", "9")):
            said[at] = ""
    if "7" in said and said.index("7") + 1 < len(said) and said[said.index("7") + 1] == "7":
        said.remove("7")  # "dominant seven"
    return root + "".join(said)
