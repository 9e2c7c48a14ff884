"""How wide text is: a protocol, so that layout never meets a real font library."""

from typing import Protocol

from chartkit.layout.frames import FontName, Piece


class Metrics(Protocol):
    """What layout needs to know of fonts."""

    def width(self, font: FontName, text: str) -> float:
        """The width of the text in ems: points for each point of type size."""

    def has(self, font: FontName, character: str) -> bool:
        """Whether the font can draw a character."""


_FALLBACKS: tuple[FontName, ...] = ("words", "plain", "music")
_NOTE, _NOTE_SIZE = "♩", 1.5
"""The music font draws a quarter note small beside letters."""


class Typesetter:
    """Measures text, and sends each character to a font that can draw it.

    Characters that no font has are replaced by the replacement sign and gathered in
    ``missing``.
    """

    def __init__(self, metrics: Metrics) -> None:
        self._metrics = metrics
        self._pieces: dict[tuple[str, FontName], tuple[tuple[str, FontName], ...]] = {}
        self._widths: dict[tuple[str, FontName], float] = {}
        self.missing: set[str] = set()

    def pieces(self, text: str, font: FontName, size: float, rise: float = 0) -> tuple[Piece, ...]:
        """The text as pieces, each in a font that has its characters."""
        split = self._pieces.get((text, font))
        if split is None:
            split = self._pieces[text, font] = self._split(text, font)
        return tuple(
            Piece(part, name, size * _NOTE_SIZE if _NOTE in part else size, rise)
            for part, name in split
        )

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
                return name, character
        self.missing.add(character)
        return "words", "\N{REPLACEMENT CHARACTER}"
