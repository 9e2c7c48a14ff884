"""Follows the graphics of a page: the colour of its letters, and straight lines.

Source of the operators: ISO 32000-1, 8.4.4 (state), 8.5.2 (paths), 8.6.8 (colours).
"""

from typing import Any

_PALE = 0.55
"""A colour is pale from this lightness on; black has 0, white 1."""
_SHOWS = (b"Tj", b"TJ", b"'", b'"')
_MOST_SAVED = 64
_MOST_LINES = 20_000
"""More lines than a page of music has; what is drawn after them is passed over."""
Point = tuple[float, float]


class Ink:
    """Follows the operators of a page: ``pale`` and ``mark``, its structure type, tell of the text
    shown last, ``lines`` holds the two ends of each straight line and thin box, in points of the
    page."""

    def __init__(self) -> None:
        self.pale = False
        self.mark = ""
        self._marks: list[str] = []
        self.lines: list[tuple[Point, Point]] = []
        self._light = 0.0
        self._saved: list[float] = []
        self._from: Point | None = None

    def before(self, operator: bytes, operands: list[Any], outer: Any, inner: Any) -> None:
        """Takes one operator, before it is carried out."""
        if operator in _SHOWS:
            self.pale = self._light >= _PALE
            self.mark = self._marks[-1] if self._marks else ""
        elif operator in (b"BMC", b"BDC"):
            around = self._marks[-1] if self._marks else ""
            self._marks = [*self._marks[-_MOST_SAVED:], _mark_of(operands, around)]
        elif operator == b"EMC":
            self._marks = self._marks[:-1]
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
            to = numbers[0], numbers[1]
            self._line(self._from, to, outer)
            self._from = to
        elif operator == b"re" and len(numbers) == 4:
            self._box(numbers[0], numbers[1], numbers[2], numbers[3], outer)
        elif operator not in (b"l", b"re"):
            self._light = _lightness(numbers)

    def _box(self, x: float, y: float, wide: float, high: float, outer: Any) -> None:
        """A box as the line through the middle of its longer sides."""
        if abs(wide) < abs(high):
            self._line((x + wide / 2, y), (x + wide / 2, y + high), outer)
        else:
            self._line((x, y + high / 2), (x + wide, y + high / 2), outer)

    def _line(self, start: Point, end: Point, outer: Any) -> None:
        if len(self.lines) < _MOST_LINES:
            self.lines.append((_placed(start, outer), _placed(end, outer)))


def _placed(point: Point, outer: Any) -> Point:
    """A point through a matrix (ISO 32000-1, 8.3.3)."""
    x, y = point
    return x * outer[0] + y * outer[2] + outer[4], x * outer[1] + y * outer[3] + outer[5]


def _mark_of(operands: list[Any], around: str) -> str:
    """The structure type of marked content; of an artifact its subtype (14.6 and 14.8.2.2), of
    a span that of what is around it."""
    tag = str(operands[0]).lstrip("/") if operands else ""
    if tag == "Span":
        return around
    more = operands[1] if len(operands) > 1 and isinstance(operands[1], dict) else {}
    return str(more.get("/Subtype", tag)).lstrip("/") if tag == "Artifact" else tag


def _lightness(colour: list[float]) -> float:
    """How light a grey, a colour of red, green and blue, or of four inks is."""
    if len(colour) == 4:
        return 1 - min(1.0, colour[3] + sum(colour[:3]) / 3)
    return sum(colour) / len(colour) if colour else 0.0
