"""How a part names the notes of chords that are typed as words: in German letters, in small
letters for minor, or by do re mi.

Common practice, no source.
"""

import re
from collections.abc import Iterable, Sequence

from chartkit.interchange.intake_result import SymbolReader
from chartkit.interchange.score.events import Measure
from chartkit.theory.chord import Chord

_GERMAN_ROOTS = {
    **{f"{letter}{flat}": "Bb" for letter in "BH" for flat in ("b", "♭")},
    **{f"{letter}is": f"{letter}#" for letter in "CDEFGA"},
    **{f"{letter}es": f"{letter}b" for letter in "CDG"},
    "Es": "Eb",
    "As": "Ab",
    "H": "B",
    "B": "Bb",
}
"""German names of roots, and Bb, which Scandinavians write beside H; common practice, no source."""
_GERMAN = re.compile("|".join(_GERMAN_ROOTS))
_GERMAN_NAME = re.compile(rf"(?:[^/]*/)?(?:{_GERMAN.pattern})")
_B = re.compile(r"(?:^|/)B")
_SMALL_LETTER = re.compile("[a-h]")
_DO_RE_MI = dict(zip(("do", "re", "ré", "mi", "fa", "sol", "la", "si"), "CDDEFGAB", strict=True))
_SYLLABLE = "|".join(sorted(_DO_RE_MI, key=len, reverse=True))
_SIGN = r"\s?(?:(?P<sharp>[#♯]|diesis|dièse|sostenido)|(?P<flat>bemolle|bémol|bemol|[b♭]))?"
_NAME = re.compile(rf"(?P<name>{_SYLLABLE}){_SIGN}", re.IGNORECASE)
_BETWEEN = re.compile(r"\s+")
_FEWEST = 3
"""The fewest chords named by do re mi that say that a part names all of them so (ours)."""


def as_the_part_types(measures: Sequence[Measure], read_symbol: SymbolReader) -> SymbolReader:
    """A reader that knows the names of notes in a part: German ones ("Es", "Fis", "H"), where B is
    B flat, small letters alone for minor chords ("a" beside "E7"), or do re mi."""
    texts = {one.text.strip() for measure in measures for one in measure.instructions}
    if _names_do_re_mi(texts, read_symbol):
        return lambda text: _from_do_re_mi(text, read_symbol)
    names = [text for text in texts if _GERMAN_NAME.match(text) and read_symbol(text) is None]
    german = sum(_from_german(text, read_symbol) is not None for text in names)
    small = sum(_SMALL_LETTER.fullmatch(text) is not None for text in texts) > 1
    if not (german or small):
        return read_symbol
    if german < 2 and not any(len(text) > 1 and read_symbol(text) for text in texts):
        return read_symbol  # a word alone

    def read(text: str) -> Chord | None:
        if small and _SMALL_LETTER.fullmatch(text):
            text = f"{text.upper()}m"
        chord = None if german and _B.search(text) else read_symbol(text)
        return _from_german(text, read_symbol) if chord is None and german else chord

    return read


def _from_german(text: str, read_symbol: SymbolReader) -> Chord | None:
    """The chord of a symbol whose root has its German name; None for any other."""
    chord, slash, bass = text.partition("/")
    root, low = _GERMAN.match(chord), _GERMAN.fullmatch(bass)
    if root is None and low is None:
        return None
    chord = _GERMAN_ROOTS[root[0]] + chord[root.end() :] if root is not None else chord
    return read_symbol(chord + slash + (_GERMAN_ROOTS[low[0]] if low is not None else bass))


def _names_do_re_mi(texts: Iterable[str], read_symbol: SymbolReader) -> bool:
    """Whether several texts are chords by do re mi, and one of them more than a name."""
    named = [text for text in texts if _from_do_re_mi(text, read_symbol) is not None]
    more = any(text.casefold() not in _DO_RE_MI for text in named)
    return more and len(named) >= _FEWEST


def _from_do_re_mi(text: str, read_symbol: SymbolReader) -> Chord | None:
    """The chord of a symbol whose root and bass are named by do re mi; None for any other."""
    chord, slash, bass = text.partition("/")
    root, low = _NAME.match(chord), _NAME.fullmatch(bass.strip())
    if root is None or (slash and low is None):
        return None
    rest = _BETWEEN.sub("", chord[root.end() :])
    return read_symbol(_letter(root) + rest + (f"/{_letter(low)}" if low is not None else ""))


def _letter(name: re.Match[str]) -> str:
    sign = "#" if name["sharp"] else "b" if name["flat"] else ""
    return _DO_RE_MI[name["name"].casefold()] + sign
