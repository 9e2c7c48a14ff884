"""Text that a page places piece by piece, kept apart.

pypdf gives the texts of one height together and says where the first begins; the letters of the
others would then stand where those before them end.  Source of the operators: ISO 32000-1, 9.4.2
(text positions), 9.3.5 (leading).
"""

from typing import Any

_PLAIN = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_SHOWS = (b"Tj", b"TJ", b"'", b'"')
_MOST_SAVED = 64
_MOST = 400_000
"""More operators than a page of text has."""
Operation = tuple[Any, bytes]


def part_texts(page: Any) -> None:
    """Makes each text of a page that has a place of its own one to pypdf too; a page whose content
    does not read stays as it is."""
    from pypdf.generic import ContentStream, NameObject

    try:
        content = page["/Contents"].get_object()
        if isinstance(content, ContentStream):
            return
        content = ContentStream(content, page.pdf, "bytes")
        if len(content.operations) <= _MOST:
            content.operations = _parted(content.operations)
            page[NameObject("/Contents")] = content
    except (MemoryError, RecursionError):
        raise
    except Exception:
        return  # a file from elsewhere may be wrong in any way; pypdf says how when it reads it


class _Place:
    """Follows where the line of text begins."""

    def __init__(self) -> None:
        self.matrix = _PLAIN
        self.lead = 0.0
        self._saved: list[float] = []

    def take(self, operator: bytes, numbers: list[float]) -> None:
        """Takes an operator that places text."""
        if operator == b"BT":
            self.matrix = _PLAIN
        elif operator == b"Tm":
            self.matrix = tuple(numbers) if len(numbers) == len(_PLAIN) else _PLAIN  # type: ignore[assignment]
        elif operator in (b"Td", b"TD") and len(numbers) > 1:
            self._move(numbers[0], numbers[1])
            self.lead = -numbers[1] if operator == b"TD" else self.lead
        elif operator in (b"T*", b"'", b'"'):
            self._move(0.0, -self.lead)
        elif operator == b"TL" and numbers:
            self.lead = numbers[0]
        elif operator == b"q":
            self._saved = [*self._saved[-_MOST_SAVED:], self.lead]
        elif operator == b"Q" and self._saved:
            self.lead = self._saved.pop()

    def _move(self, x: float, y: float) -> None:
        a, b, c, d, e, f = self.matrix
        self.matrix = a, b, c, d, e + x * a + y * c, f + x * b + y * d


def _parted(operations: list[Operation]) -> list[Operation]:
    """The operators of a page; before each place within a text the text ends and begins anew, with
    an operand that says so."""
    from pypdf.generic import FloatObject, NullObject

    place = _Place()
    made: list[Operation] = []
    shown = False
    for operands, operator in operations:
        numbers = [float(one) for one in operands if isinstance(one, int | float)]
        place.take(operator, numbers)
        shown = (shown and operator not in (b"BT", b"ET")) or operator in _SHOWS
        if not shown or operator not in (b"Tm", b"Td", b"TD"):
            made.append((operands, operator))
            continue
        if operator == b"TD":
            made.append(([FloatObject(place.lead)], b"TL"))
        matrix = [FloatObject(number) for number in place.matrix]
        made += [([], b"ET"), ([NullObject()], b"BT"), (matrix, b"Tm")]
        shown = False
    return made
