"""How wide text is: a protocol, so that layout never meets a real font library."""

from typing import Protocol
from unicodedata import normalize

from chartkit.layout.frames import FontName, Piece


class Metrics(Protocol):
    """What layout needs to know of fonts."""

    def width(self, font: FontName, text: str) -> float:
        """The width of the text in ems: points for each point of type size."""

    def has(self, font: FontName, character: str) -> bool:
        """Whether the font can draw a character."""


_FALLBACKS: tuple[FontName, ...] = ("words", "plain", "music", "own")
_NOTE, _NOTE_SIZE = "♩", 1.5
"""The music font draws a quarter note small beside letters."""


class Typesetter:
    """Measures text, and sends each character to a font that can draw it.

    Characters that no font has are replaced by the replacement sign and gathered in
    ``missing``.
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
        found = self._set.get(wanted)
        if found is None:
            found = self._set[wanted] = tuple(
                Piece(part, name, size * _NOTE_SIZE if _NOTE in part else size, rise)
                for part, name in self._parts(text, font)
            )
        return found

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
            total += em * piece.size
        return total

    def _split(self, text: str, font: FontName) -> tuple[tuple[str, FontName], ...]:
        """The text in parts of one font each; letters typed apart from their accents are
        joined (Unicode normal form C), since fonts draw those in one piece."""
        if not text.isascii():
            text = normalize("NFC", text)
        known = self._known.setdefault(font, set())
        if known.issuperset(text):
            return ((text, font),)
        parts: list[tuple[str, FontName]] = []
        for character in text:
            name, shown = self._font_for(character, font)
            if parts and parts[-1][1] == name:
                parts[-1] = (parts[-1][0] + shown, name)
            else:
                parts.append((shown, name))
        return tuple(parts)

    def _font_for(self, character: str, font: FontName) -> tuple[FontName, str]:
        for name in (font, *_FALLBACKS):
            if self._metrics.has(name, character):
                self._known.setdefault(name, set()).add(character)
                return name, character
        self.missing.add(character)
        return "words", "\ufffd"
