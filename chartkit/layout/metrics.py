"""The width of text as a protocol, so that layout never depends on a font library."""

from typing import Protocol
from unicodedata import bidirectional, category, normalize

from chartkit.chart.plain_signs import plain_spelling
from chartkit.layout.frames import FontName, Piece


def is_picture(character: str) -> bool:
    """Whether a character is a picture, as telephones put among words, or belongs to one: a symbol
    of Unicode, or what joins and colours such."""
    return category(character) in ("So", "Sk") or character in _BESIDE_PICTURES


def runs_from_right(text: str) -> bool:
    """Whether most letters of a text run from right to left, so that it begins at its right end."""
    if text.isascii():
        return False
    ways = [bidirectional(character) for character in text]
    return sum(way in ("R", "AL") for way in ways) > ways.count("L")


_BESIDE_PICTURES = "\ufe0e\ufe0f\u200d\u20e3"


class Metrics(Protocol):
    """The measures of fonts that layout needs."""

    def width(self, font: FontName, text: str) -> float:
        """The width of the text in ems: points for each point of type size."""

    def has(self, font: FontName, character: str) -> bool:
        """Whether the font can draw a character."""


_FALLBACKS: tuple[FontName, ...] = ("words", "plain", "music", "plain-signs", "own")
SIGNS_BESIDE: dict[FontName, FontName] = {
    "strong": "strong-signs",
    "title": "strong-signs",
    "plain": "plain-signs",
}
"""Where accidentals beside the letters of a font come from."""
_SIGNS = {"♩": (1.5, 0.0), "♪": (1.5, 0.0), "♭": (1.3, 0.033), "♯": (0.9, 0.2), "♮": (1.2, 0.25)}
"""Signs of the music font beside letters: their size as a part of the letters', and how far
they are lifted.  Drawn as they come, the flat reaches from 0.03 em below the baseline to
0.52, the sharp from 0.23 below to 0.59, the natural from 0.21 below to 0.4; so they stand on the
baseline and are as high as capitals of our faces, 0.71 (measured on the font files)."""
_JOINS = "AL"
"""Letters of Arabic and its kin, by their bidirectional class: they join, so that set one by one
they would be wrong, whatever the font."""
_AS_IT_COMES = (1.0, 0.0)
_TEXTS_AT_HAND = 8192
"""The most measured texts that a typesetter keeps, more than any song has: a book of thousands of
songs has new titles on every page."""


class Typesetter:
    """Measures text, and sends each character to a font that can draw it.

    A sign that no font has is set in its plain spelling, if it has one.  Other characters that no
    font has are gathered in ``missing``: letters are replaced by the replacement sign, pictures are
    left out.
    """

    def __init__(self, metrics: Metrics) -> None:
        self._metrics = metrics
        self._split_texts: dict[tuple[str, FontName], tuple[tuple[str, FontName], ...]] = {}
        self._set: dict[tuple[str, FontName, float, float], tuple[Piece, ...]] = {}
        self._widths: dict[tuple[str, FontName], float] = {}
        self._known: dict[FontName, set[str]] = {}
        self.missing: set[str] = set()

    def pieces(self, text: str, font: FontName, size: float, rise: float = 0) -> tuple[Piece, ...]:
        """The text as pieces, each in a font that has its characters."""
        wanted = (text, font, size, rise)
        known = self._set.get(wanted)
        if known is None:
            self._make_room()
            known = self._set[wanted] = tuple(
                [_piece(part, name, size, rise) for part, name in self._parts(text, font)]
            )
        return known

    def _make_room(self) -> None:
        if len(self._set) >= _TEXTS_AT_HAND:
            for kept in (self._set, self._split_texts, self._widths):
                kept.clear()

    def _parts(self, text: str, font: FontName) -> tuple[tuple[str, FontName], ...]:
        parts = self._split_texts.get((text, font))
        if parts is None:
            parts = self._split_texts[text, font] = self._split(text, font)
        return parts

    def width(self, pieces: tuple[Piece, ...]) -> float:
        """The width of pieces set one after the other, in points."""
        total = 0.0
        for piece in pieces:
            em = self._widths.get((piece.text, piece.font))
            if em is None:
                em = self._metrics.width(piece.font, piece.text)
                self._widths[piece.text, piece.font] = em
            total += em * piece.size - piece.back
        return total

    def _split(self, text: str, font: FontName) -> tuple[tuple[str, FontName], ...]:
        """The text in parts of one font each; letters typed apart from their accents are
        joined (Unicode normal form C), since fonts draw those in one piece."""
        if not text.isascii():
            text = normalize("NFC", text)
        known = self._known.setdefault(font, set())
        for character in set(text) - known:
            self._font_for(character, font)
        if known.issuperset(text):
            return ((text, font),)
        parts: list[tuple[str, FontName]] = []
        for character in self._without_pictures(text, font):
            name, shown = self._font_for(character, font)
            before = parts[-1] if parts else ("", "")
            if before[1] == name and (name != "music" or before[0][-1] == character):
                parts[-1] = (parts[-1][0] + shown, name)
            else:
                parts.append((shown, name))
        return tuple(parts)

    def _without_pictures(self, text: str, font: FontName) -> str:
        """The text without pictures that no font has, and without the gaps they leave."""
        kept = "".join(c for c in text if not is_picture(c) or self._font_for(c, font)[1])
        return text if kept == text else " ".join(kept.split())

    def _font_for(self, character: str, font: FontName) -> tuple[FontName, str]:
        beside = (SIGNS_BESIDE[font],) if font in SIGNS_BESIDE else ()
        for name in (font, *beside, *_FALLBACKS):
            joins = not character.isascii() and bidirectional(character) == _JOINS
            if not joins and self._metrics.has(name, character):
                self._known.setdefault(name, set()).add(character)
                return name, character
        plain = plain_spelling(character)
        if plain and all(self._metrics.has(font, one) for one in plain):
            return font, plain
        self.missing.add(character)
        return "words", "" if is_picture(character) else "\ufffd"


def _piece(text: str, font: FontName, size: float, rise: float) -> Piece:
    """A text of one font; signs of the music font have the size that letters beside them need."""
    scale, lifted = _SIGNS.get(text[:1], _AS_IT_COMES) if font == "music" else _AS_IT_COMES
    return Piece(text, font, size * scale, rise + size * lifted)
