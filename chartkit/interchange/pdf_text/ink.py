"""What is drawn on a page besides its letters: the colour they are in, and upright lines.

Source of the operators: ISO 32000-1, 8.4.4 (state), 8.5.2 (paths), 8.6.8 (colours).
"""

from typing import Any

_PALE = 0.55
"""From which lightness on a colour is pale; black has 0, white 1."""
_THIN, _SHORT, _TALL = 3.0, 6.0, 120.0
"""How wide a bar line is at most, and how high at least and at most, in points."""
_SHOWS = (b"Tj", b"TJ", b"'", b'"')
_MOST_SAVED = 64


class Ink:
    """Follows the operators of a page: ``pale`` tells of the text shown last, ``upright`` how
    many upright lines there are."""

    def __init__(self, page: Any) -> None:
        self.pale = False
        self.upright = 0
        self._light = 0.0
        self._saved: list[float] = []
        self._from: tuple[float, float] | None = None

    def before(self, operator: bytes, operands: list[Any], outer: Any, inner: Any) -> None:
        """Takes one operator, before it is carried out."""
        if operator in _SHOWS:
            self.pale = self._light >= _PALE
        elif operator == b"q":
            self._saved = [*self._saved[-_MOST_SAVED:], self._light]
        elif operator == b"Q":
            self._light = self._saved.pop() if self._saved else 0.0
        elif operator in (b"g", b"rg", b"k", b"sc", b"scn", b"m", b"l", b"re"):
            numbers = [float(one) for one in operands if isinstance(one, int | float)]
            self._draw(operator, numbers, outer)

    def _draw(self, operator: bytes, numbers: list[float], outer: Any) -> None:
        if operator == b"m":
            self._from = (numbers[0], numbers[1]) if len(numbers) == 2 else None
        elif operator == b"l" and self._from is not None and len(numbers) == 2:
            self._line(numbers[0] - self._from[0], numbers[1] - self._from[1], outer)
            self._from = numbers[0], numbers[1]
        elif operator == b"re" and len(numbers) == 4:
            self._line(numbers[2], numbers[3], outer)
        elif operator not in (b"l", b"re"):
            self._light = _lightness(numbers)

    def _line(self, wide: float, high: float, outer: Any) -> None:
        wide, high = abs(wide * outer[0] + high * outer[2]), abs(wide * outer[1] + high * outer[3])
        self.upright += wide <= _THIN and _SHORT <= high <= _TALL


def _lightness(colour: list[float]) -> float:
    """How light a grey, a colour of red, green and blue, or of four inks is."""
    if len(colour) == 4:
        return 1 - min(1.0, colour[3] + sum(colour[:3]) / 3)
    return sum(colour) / len(colour) if colour else 0.0
