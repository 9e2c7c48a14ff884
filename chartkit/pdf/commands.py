"""Placed items as the drawing commands of a PDF page (ISO 32000-1, chapters 8, 9 and 14.8).

The commands belong to no document yet, so that many workers can make them and a book can be
bound of them.  Numbers are rounded to a thousandth of a point.

Drawings come first, marked as artifacts, then texts, line after line in reading order; each
line is marked with a number by which the structure of the document calls it.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from chartkit.layout.faces import DARK_PAPER, LIGHT_INK, extra_weight
from chartkit.layout.frames import Dot, FontName, Glyph, Item, Piece, Shape, Stroke, Text
from chartkit.layout.outlines import outline
from chartkit.pdf.font_codes import encoded
from chartkit.pdf.fonts import Fonts
from chartkit.pdf.objects import text_string

_ROUND = 0.5522847498
"""How far the control points of a quarter circle lie along its tangents, in radii:
4/3 (√2 - 1)."""


def font_key(font: FontName, number: int) -> str:
    """The name by which commands call a set of a font's characters."""
    return f"{font}{number}"


FORM_LINE = "SongForm"
"""A structure type of our own for the form line; a paragraph to other programs."""
NOTE = "SongNote"
"""The same for the writer's notes at the head."""
_TAGS = {"title": "H1", "heading": "H2", "form": FORM_LINE, "follows": FORM_LINE, "note": NOTE}
_PARAGRAPH, ARTIFACT = "P", "Artifact"
_UNREAD = {
    "foot": "Footer",
    "bar-number": "LineNum",
    "continued": "Header",
    "opening-meter": "Header",
    "simile": "Header",
}
"""Roles of texts that are no part of what is read, and what they are as artifacts: running lines,
and numbers to find a bar by (ISO 32000-2, 14.8.2.2.2)."""


class ReadLine(NamedTuple):
    """A line as it is read: its structure type, and its text where that is in several pieces."""

    tag: str
    text: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """The commands of a page, and its lines of text by the numbers they are marked with."""

    commands: bytes
    lines: tuple[ReadLine, ...]


def page_commands(
    items: Iterable[Item],
    width: float,
    height: float,
    fonts: Fonts,
    dark: bool = False,
    first: int | None = 0,
) -> Drawing:
    """The commands that draw the items on a page of that size, the ink left as it was.

    Lines are numbered from ``first``; with None they are drawn over a page made before, and
    nothing of them is part of what is read.
    """
    writer = _Writer(height, fonts, dark)
    out = writer.out
    out.append(b"q")
    placed = list(items)
    texts = [item for item in placed if isinstance(item, Text)]
    out.append(b"/Artifact BMC")
    if dark and first is not None:
        out.append(_numbers(DARK_PAPER) + b" g 0 0 " + _numbers(width, height) + b" re f")
    for item in placed:
        if not isinstance(item, Text):
            writer.draw(item)
    out.append(b"EMC")
    lines: list[ReadLine] = []
    for (tag, _), group in groupby(texts, key=lambda text: (_tag_of(text), text.y)):
        line = list(group)
        if tag == ARTIFACT or first is None:
            out.append(_artifact(line[0].role))
        else:
            out.append(f"/{tag} <</MCID {first + len(lines)}>> BDC".encode())
            lines.append(ReadLine(tag, _read(line)))
        for text in line:
            writer.draw(text)
        out.append(b"EMC")
    out.append(b"Q\n")
    return Drawing(b"\n".join(out), tuple(lines))


def _artifact(role: str) -> bytes:
    kind = _UNREAD.get(role)
    if kind is None:
        return b"/Artifact BMC"
    return f"/Artifact <</Type /Pagination /Subtype /{kind}>> BDC".encode()


def _read(line: list[Text]) -> str:
    """The spoken text of a line if it is not its single text: its texts with spaces between them
    and split words whole, or a prepared text."""
    spoken = next((text.spoken for text in line if text.spoken), "")
    if spoken or len(line) == 1:
        return spoken
    return " ".join(text.plain for text in line).replace(" - ", "")


def _tag_of(text: Text) -> str:
    return ARTIFACT if text.role in _UNREAD else _TAGS.get(text.role, _PARAGRAPH)


def _shown(piece: Piece, fonts: Fonts) -> Iterator[bytes]:
    """The commands that show a piece, kerned where its font has kerning for it."""
    kerning, font = fonts.kerning(piece.font, piece.text), fonts.font(piece.font)
    stretches = encoded(font, piece.text)
    if kerning and len(stretches) == 1:
        start, letters = 0, list[bytes]()
        for letter, extra in kerning:
            run = encoded(font, piece.text[start : letter + 1])[0][1]
            letters.append(b"(%s) %s" % (run, _numbers(-extra)))
            start = letter + 1
        for _, run in encoded(font, piece.text[start:]):
            letters.append(b"(%s)" % run)
        key = font_key(piece.font, stretches[0][0]).encode()
        yield b"/%s %s Tf [%s] TJ" % (key, _numbers(piece.size), b" ".join(letters))
        return
    back = _numbers(piece.back / piece.size * 1000) if piece.back else b""
    for number, run in stretches:
        key = font_key(piece.font, number).encode()
        shown = b"[%s (%s)] TJ" % (back, run) if back else b"(%s) Tj" % run
        yield b"/%s %s Tf %s" % (key, _numbers(piece.size), shown)
        back = b""


def _said_whole(text: Text) -> bytes:
    """The plain text of a text with stacked signs, for copying and searching."""
    said, before = "", None
    for piece in text.pieces:
        stacked = before is not None and before.rise != piece.rise and piece.back > 0
        said += ("/" if text.role == "opening-meter" else ",") * stacked + piece.text
        before = piece
    return text_string(said).encode()


def _numbers(*values: float) -> bytes:
    """Numbers as short as they can be written."""
    return " ".join(map(_number, values)).encode()


def _number(value: float) -> str:
    written = f"{value:.3f}"
    # Most numbers have no zeros at their end to be left out.
    return written if written[-1] != "0" else written.rstrip("0").rstrip(".") or "0"


class _Writer:
    """Gathers the commands of one page, setting the ink only when it changes."""

    def __init__(self, height: float, fonts: Fonts, dark: bool) -> None:
        self.out: list[bytes] = []
        self._height = height
        self._fonts = fonts
        self._dark = dark
        self._fill = self._stroke = -1.0 if dark else 1.0

    def _gray(self, ink: float) -> bytes:
        """The grey of an ink: on a dark page from the paper's dark up to light."""
        if self._dark:
            return _numbers(DARK_PAPER + ink * (LIGHT_INK - DARK_PAPER))
        return _numbers(1 - ink)

    def draw(self, item: Item) -> None:
        """Adds the commands of one item."""
        match item:
            case Text():
                self._text(item)
            case Stroke():
                self._line(item)
            case Shape():
                self._shape(item)
            case Dot():
                self._dot(item)
            case Glyph():
                self._glyph(item)

    def _ink_fill(self, ink: float) -> None:
        if ink != self._fill:
            self.out.append(self._gray(ink) + b" g")
            self._fill = ink

    def _ink_stroke(self, ink: float, thickness: float) -> None:
        self.out.append(_numbers(thickness) + b" w")
        if ink != self._stroke:
            self.out.append(self._gray(ink) + b" G")
            self._stroke = ink

    def _text(self, item: Text) -> None:
        """A text as one text object, so that readers of the file get it in one piece."""
        self._ink_fill(item.ink)
        parts = [b"BT " + _numbers(item.x, self._height - item.y) + b" Td"]
        rise = 0.0
        for i, piece in enumerate(item.pieces):
            if piece.rise != rise:
                parts.append(_numbers(piece.rise) + b" Ts")
                rise = piece.rise
            extra = extra_weight(item.pieces, i)
            if extra:
                self._ink_stroke(item.ink, piece.size * extra)
                parts.append(b"2 Tr")
            parts += _shown(piece, self._fonts)
            if extra:
                parts.append(b"0 Tr")
        parts.append(b"0 Ts ET" if rise else b"ET")
        whole = b" ".join(parts)
        if any(piece.back for piece in item.pieces):
            whole = b"/Span <</ActualText %s>> BDC %s EMC" % (_said_whole(item), whole)
        self.out.append(whole)

    def _line(self, item: Stroke) -> None:
        self._ink_stroke(item.ink, item.thickness)
        start = _numbers(item.x0, self._height - item.y0)
        end = _numbers(item.x1, self._height - item.y1)
        self.out.append(b"%s m %s l S" % (start, end))

    def _shape(self, item: Shape) -> None:
        path = b" ".join(
            _numbers(x, self._height - y) + (b" l" if i else b" m")
            for i, (x, y) in enumerate(item.points)
        )
        if item.thickness:
            self._ink_stroke(item.ink, item.thickness)
            self.out.append(path + b" s")
        else:
            self._ink_fill(item.ink)
            self.out.append(path + b" h f")

    def _dot(self, item: Dot) -> None:
        self._ink_fill(item.ink)
        x, y, r = item.x, self._height - item.y, item.radius
        k = r * _ROUND
        arcs = (
            (x + r, y + k, x + k, y + r, x, y + r),
            (x - k, y + r, x - r, y + k, x - r, y),
            (x - r, y - k, x - k, y - r, x, y - r),
            (x + k, y - r, x + r, y - k, x + r, y),
        )
        drawn = b" ".join(_numbers(*arc) + b" c" for arc in arcs)
        self.out.append(_numbers(x + r, y) + b" m " + drawn + b" f")

    def _glyph(self, item: Glyph) -> None:
        self._ink_fill(item.ink)
        self.out.append(b" ".join(self._outline(item)) + b" f")

    def _outline(self, item: Glyph) -> Iterator[bytes]:
        segments, left, low, height = outline(item.name)
        scale = item.height / height
        x0, y0 = item.x - left * scale, self._height - item.y - low * scale
        for command, values in segments:
            placed = (value * scale + (y0 if i % 2 else x0) for i, value in enumerate(values))
            yield (_numbers(*placed) + b" " if command != "h" else b"") + command.encode()
