"""Follows the graphics of a page: the colour of its letters, straight lines, and dots.

Source of the operators: ISO 32000-1, 8.4.4 (state), 8.5.2 (paths), 8.6.8 (colours),
9.3 (state of the text).
"""

from typing import Any

_PALE = 0.55
"""A colour is pale from this lightness on; black has 0, white 1."""
_SMALLEST_DOT, _LARGEST_DOT = 0.8, 4.2
"""How wide and high a dot of a repeat is, in points (ours)."""
_THINNEST_BOX = 5.0
"""From how many units of its page on a box is wide and high, and no line drawn as one (ours)."""
_ROUND = 0.3
"""By what share its width and its height may differ."""
_FILLS = (b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*")
_STROKES = (b"S", b"s", b"B", b"b", b"B*", b"b*")
_SMALLEST_RING, _LARGEST_RING, _CORNERS = 9.0, 32.0, 8
"""How wide a ring around a letter is, in points, and of more than how many points its line is
(ours)."""
_ENDS = (*_FILLS, b"S", b"s", b"n")
_SHOWS = (b"Tj", b"TJ", b"'", b'"')
_DRAWS = (b"g", b"rg", b"k", b"sc", b"scn", b"m", b"l", b"re", b"w", b"c", b"v", b"y")
_MOST_SAVED = 64
_MOST_BYTES = 4
_MOST_LINES = 20_000
"""More lines than a page of music has; what is drawn after them is passed over."""
_SPACES = (b"Tc", b"Tw", b"Tz")
Spacing = tuple[float, float, float]
"""What is added behind each letter and behind each blank, in units of the text, and how wide the
letters are set (ISO 32000-1, 9.3)."""
_EVEN: Spacing = (0.0, 0.0, 1.0)
_WIDEST = 20.0
Point = tuple[float, float]

Shape = tuple[Point, Point, int]
"""The lower left and the upper right corner of the box around a path, and of how many parts it is;
none for a single straight line."""


class Ink:
    """Follows the operators of a page: ``pale`` and ``mark``, its structure type, tell of the text
    shown last, ``spacing`` of how it is spaced, ``begins`` holds the bytes that it begins with,
    ``lines`` the two ends of each straight line and thin box with their thickness, ``dots`` the
    middle of each small round spot, ``shapes`` the box around each path, in points of the page."""

    def __init__(self) -> None:
        self.pale = False
        self.mark = ""
        self.begins = b""
        self._marks: list[str] = []
        self.lines: list[tuple[Point, Point, float]] = []
        self.dots: list[Point] = []
        self._light = 0.0
        self._thick = 1.0
        self._spacing = _EVEN
        self._saved: list[tuple[float, float, Spacing]] = []
        self.spacing = _EVEN
        self._from: Point | None = None
        self._curves: list[list[Point]] = []
        self.shapes: list[Shape] = []
        self._path: list[list[Point]] = []

    def before(self, operator: bytes, operands: list[Any], outer: Any, inner: Any) -> None:
        """Takes one operator, before it is carried out."""
        if operator in _SHOWS:
            self.pale = self._light >= _PALE
            self.mark = self._marks[-1] if self._marks else ""
            self.begins = self.begins or _first_bytes(operands)
            self.spacing = self._spacing
        elif operator in (b"BMC", b"BDC"):
            around = self._marks[-1] if self._marks else ""
            self._marks = [*self._marks[-_MOST_SAVED:], _mark_of(operands, around)]
        elif operator == b"EMC":
            self._marks = self._marks[:-1]
        elif operator == b"q":
            self._saved = [*self._saved[-_MOST_SAVED:], (self._light, self._thick, self._spacing)]
        elif operator == b"Q":
            kept = self._saved.pop() if self._saved else (0.0, 1.0, _EVEN)
            self._light, self._thick, self._spacing = kept
        elif operator in _SPACES:
            self._space(operator, operands)
        elif operator in _ENDS:
            if operator in _STROKES:
                self._ring(outer)
            self._shape(operator in _FILLS, operator in _STROKES, outer)
            self._end_path(operator in _FILLS, outer)
        elif operator in _DRAWS:
            numbers = [float(one) for one in operands if isinstance(one, int | float)]
            self._draw(operator, numbers, outer)
            self._follow(operator, numbers)

    def _space(self, operator: bytes, operands: list[Any]) -> None:
        number = float(operands[0]) if operands and isinstance(operands[0], int | float) else 0.0
        between, in_blanks, wide = self._spacing
        if operator == b"Tz":
            wide = min(_WIDEST, max(1 / _WIDEST, number / 100))
        elif operator == b"Tc":
            between = number
        else:
            in_blanks = number
        self._spacing = between, in_blanks, wide

    def _draw(self, operator: bytes, numbers: list[float], outer: Any) -> None:
        if operator == b"m":
            self._from = (numbers[0], numbers[1]) if len(numbers) == 2 else None
            if self._from is not None and len(self._curves) < _MOST_SAVED:
                self._curves.append([self._from])
        elif operator == b"w":
            self._thick = numbers[0] if numbers else self._thick
        elif operator in (b"c", b"v", b"y"):
            self._bend(numbers)
        elif operator == b"l" and self._from is not None and len(numbers) == 2:
            to = numbers[0], numbers[1]
            self._line(self._from, to, self._thick, outer)
            self._from = to
            self._curves = self._curves[:-1]
        elif operator == b"re" and len(numbers) == 4:
            self._box(numbers[0], numbers[1], numbers[2], numbers[3], outer)
        elif operator not in (b"l", b"re"):
            self._light = _lightness(numbers)

    def _box(self, x: float, y: float, wide: float, high: float, outer: Any) -> None:
        """A thin box as the line through the middle of its longer sides, any other as its sides."""
        if min(abs(wide), abs(high)) > _THINNEST_BOX:
            for at in (0.0, 1.0):
                across, up = x + at * wide, y + at * high
                self._line((across, y), (across, y + high), self._thick, outer)
                self._line((x, up), (x + wide, up), self._thick, outer)
        elif abs(wide) < abs(high):
            self._line((x + wide / 2, y), (x + wide / 2, y + high), abs(wide), outer)
        else:
            self._line((x, y + high / 2), (x + wide, y + high / 2), abs(high), outer)
        self._dot([(x, y), (x + wide, y + high)], outer)

    def _line(self, start: Point, end: Point, thick: float, outer: Any) -> None:
        if len(self.lines) < _MOST_LINES:
            scale = abs(outer[0] * outer[3] - outer[1] * outer[2]) ** 0.5
            self.lines.append((_placed(start, outer), _placed(end, outer), thick * scale))

    def _bend(self, numbers: list[float]) -> None:
        """Takes the points of a curve, whose last is where it ends."""
        points = list(zip(numbers[::2], numbers[1::2], strict=False))
        if self._curves and points and len(self._curves[-1]) < _MOST_SAVED:
            self._curves[-1] += points
            self._from = points[-1]

    def _end_path(self, filled: bool, outer: Any) -> None:
        """Ends a path, whose small round parts are dots where it is filled."""
        for points in self._curves if filled else ():
            if len(points) > 1:
                self._dot(points, outer)
        self._curves = []

    def _follow(self, operator: bytes, numbers: list[float]) -> None:
        """Takes the points of the path that is drawn now."""
        points = list(zip(numbers[::2], numbers[1::2], strict=False))
        if operator == b"re" and len(points) == 2:
            (x, y), (wide, high) = points
            points = [(x, y), (x + wide, y + high)]
        elif operator not in (b"m", b"l", b"c", b"v", b"y"):
            return
        if operator in (b"m", b"re"):
            self._path = [*self._path[-_MOST_SAVED:], points]
        elif self._path and len(self._path[-1]) < 4 * _MOST_SAVED:
            self._path[-1] += points

    def _shape(self, filled: bool, stroked: bool, outer: Any) -> None:
        """Takes the path that ends here as a shape, unless nothing of it shows."""
        points = [_placed(point, outer) for part in self._path for point in part]
        if points and (filled or stroked) and len(self.shapes) < _MOST_LINES:
            xs, ys = zip(*points, strict=True)
            line = len(points) == 2 and not filled
            parts = 0 if line else len(self._path)
            self.shapes.append(((min(xs), min(ys)), (max(xs), max(ys)), parts))
        self._path = []

    def _ring(self, outer: Any) -> None:
        """Takes a round line as the upright sides of the box around it."""
        for points in self._curves:
            placed = [_placed(point, outer) for point in points]
            (left, right), (low, high) = ((min(of), max(of)) for of in zip(*placed, strict=True))
            wide, tall = right - left, high - low
            ring = _SMALLEST_RING <= wide <= _LARGEST_RING and abs(wide - tall) <= _ROUND * wide
            if ring and len(points) > _CORNERS and len(self.lines) < _MOST_LINES:
                self.lines += [((at, low), (at, high), self._thick) for at in (left, right)]

    def _dot(self, points: list[Point], outer: Any) -> None:
        placed = [_placed(point, outer) for point in points]
        (left, right), (low, high) = ((min(of), max(of)) for of in zip(*placed, strict=True))
        wide, tall = right - left, high - low
        even = abs(wide - tall) <= _ROUND * max(wide, tall)
        small = min(wide, tall) >= _SMALLEST_DOT and max(wide, tall) <= _LARGEST_DOT
        if even and small and len(self.dots) < _MOST_LINES:
            self.dots.append(((left + right) / 2, (low + high) / 2))


def _first_bytes(operands: list[Any]) -> bytes:
    """The first bytes of the text that an operator shows."""
    for operand in operands:
        for one in operand if isinstance(operand, list) else [operand]:
            shown = getattr(one, "original_bytes", one)
            if isinstance(shown, bytes) and shown:
                return shown[:_MOST_BYTES]
    return b""


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
