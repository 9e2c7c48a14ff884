"""Writes names of notes as most sheets of their language have them: without the accents of
Portuguese and Spanish ("Dó", "Lám"), and with one s where Swedish has two ("Fiss7").

Source of the names: common practice, no source.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from chartkit.interchange.text.lines import Line, changed
from chartkit.interchange.text.vocabulary.key_words import ACCENTS

_LONGEST = 200
_QUALITY = r"(?:[#b♭♯]|m|M|-|\+|°|º|ø|maj|min|dim|aug|sus|add|\d|\(|\))*"
_SYLLABLE = r"(?:D[oóòO]|R[eéèE]|M[iíì]|F[aáàA]|S[oóòO]l|L[aáàA]|S[iíì])"
_LETTER = r"[A-H](?:iss?|ess?|ss?(?!us)|[#b♭♯])?"
_BETWEEN = r"[|:%/.–-]{1,3}|[x×]?\d{1,2}[x×]?|\(|\)"


def _chord(root: str) -> re.Pattern[str]:
    return re.compile(rf"\(?{root}{_QUALITY}(?:/{root})?\)?[,;]?|{_BETWEEN}")


_OF_SYLLABLES, _OF_LETTERS = _chord(_SYLLABLE), _chord(_LETTER)
_TWO_S = re.compile(r"(?<=[A-H][ie])ss|(?<=[AE]s)s(?!u)")
_NAME = re.compile(r"\s*[*_]{0,2}[^\W\d_][^:|*]{0,24}(?::[*_]{0,2}|[*_]{1,2}:?)\s+")
"""A section's name before its chords, with a colon or between stars."""


def with_plain_note_names(lines: Sequence[Line]) -> list[Line]:
    """The lines, rows of chords with their notes as they are usually spelled, in their columns."""
    return changed(lines, _plain)


def _plain(line: Line) -> Line:
    text = line.text
    if len(text) > _LONGEST or not text:
        return line
    accented = not text.isascii() and text.translate(ACCENTS) != text
    doubled = "ss" in text and _TWO_S.search(text) is not None
    if not (accented or doubled):
        return line
    name = _NAME.match(text)
    start = name.end() if name is not None else 0
    tokens = text[start:].split()
    if accented and tokens and all(map(_OF_SYLLABLES.fullmatch, tokens)):
        return replace(line, text=text[:start] + text[start:].translate(ACCENTS))
    if doubled and tokens and all(map(_OF_LETTERS.fullmatch, tokens)):
        return replace(line, text=text[:start] + _in_columns(text[start:]))
    return line


def _in_columns(row: str) -> str:
    """A row with one s for two, a blank behind each chord that became shorter."""
    return re.sub(r"\S+", lambda word: _TWO_S.sub("s", word[0]).ljust(len(word[0])), row).rstrip()
