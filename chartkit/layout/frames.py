"""The result of layout, for PDF and SVG to draw: pages of placed and measured items.

Conventions
-----------
Lengths are points (1/72 inch).  ``x`` grows to the right from the page's left edge, ``y``
downwards from its top edge; a text's ``y`` is its baseline.  ``ink`` is how dark a thing is,
from 0 (paper) to 1 (full).  Items stand in reading order.
"""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from chartkit.diagnostics import Span
from chartkit.layout.choices import Choices
from chartkit.layout.outlines import GlyphName

FontName = Literal[
    "strong", "plain", "words", "italic", "title", "music", "own", "strong-signs", "plain-signs"
]
"""Fonts by their use: shapes, sounding chords, sung words, cues, title, musical signs, the
user's own for what the others lack, and accidentals in the weight of shapes and of sounding
chords."""


class Piece(NamedTuple):
    """A stretch of text in one font; ``rise`` lifts it above the baseline.

    It begins ``back`` points left of where the one before it ends: signs over one another.
    """

    text: str
    font: FontName
    size: float
    rise: float = 0.0
    back: float = 0.0


class Text(NamedTuple):
    """A line of pieces that follow one another, ``width`` points long altogether.

    ``role`` says what the text is; ``source`` is its place in the chart's text, if it has one.
    ``spoken`` is what a screen reader says for the whole line that it begins, if that is more than
    its texts.
    """

    x: float
    y: float
    width: float
    pieces: tuple[Piece, ...]
    role: str = ""
    ink: float = 1.0
    source: Span | None = None
    spoken: str = ""

    @property
    def plain(self) -> str:
        """The text without its type."""
        return "".join(piece.text for piece in self.pieces)


class Stroke(NamedTuple):
    """A straight line of a given thickness."""

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float
    ink: float = 1.0


class Shape(NamedTuple):
    """A polygon, filled or outlined (``thickness`` above 0)."""

    points: tuple[tuple[float, float], ...]
    thickness: float = 0.0
    ink: float = 1.0


class Dot(NamedTuple):
    """A filled circle around a point."""

    x: float
    y: float
    radius: float
    ink: float = 1.0


class Glyph(NamedTuple):
    """A musical sign drawn as an outline: ``x`` its left edge, ``y`` its lowest point."""

    x: float
    y: float
    height: float
    name: GlyphName
    ink: float = 1.0


Item = Text | Stroke | Shape | Dot | Glyph


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the document outline: a name and how far down its page it points."""

    name: str
    y: float


class Link(NamedTuple):
    """A place on a page that leads to another page of the document, counted from 0."""

    x: float
    y: float
    width: float
    height: float
    page: int


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a given size with everything on it."""

    width: float
    height: float
    items: tuple[Item, ...]
    bookmarks: tuple[Bookmark, ...] = ()
    links: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """All pages of a song and its description inside the file.

    ``missing`` holds the characters that none of our fonts can draw.  A ``dark`` document is drawn
    light on dark, for screens.  ``source`` is the chart's own text, which travels inside the file
    under ``source_name``; ``choices`` are those of the layout, to lay it out again in the same way.
    """

    title: str
    author: str
    language: str
    subject: str
    pages: tuple[Page, ...]
    missing: frozenset[str] = frozenset()
    dark: bool = False
    source: str = ""
    source_name: str = "song.chart"
    choices: Choices | None = None


def moved_item(item: Item, dx: float, dy: float) -> Item:
    """The item moved."""
    # Every item is moved several times; to match patterns of classes takes three times as long.
    if isinstance(item, Text):
        x, y, width, pieces, role, ink, source, spoken = item
        return Text(x + dx, y + dy, width, pieces, role, ink, source, spoken)
    if isinstance(item, Stroke):
        x0, y0, x1, y1, thickness, ink = item
        return Stroke(x0 + dx, y0 + dy, x1 + dx, y1 + dy, thickness, ink)
    if isinstance(item, Shape):
        points, thickness, ink = item
        return Shape(tuple([(x + dx, y + dy) for x, y in points]), thickness, ink)
    if isinstance(item, Dot):
        x, y, radius, ink = item
        return Dot(x + dx, y + dy, radius, ink)
    x, y, height, name, ink = item
    return Glyph(x + dx, y + dy, height, name, ink)
