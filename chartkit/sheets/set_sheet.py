"""The set sheet for the stage floor: the whole night on one page, as large as it goes.

A row a song: number and title, key, first chord, tempo, then for every guitar where its capo
sits, how it is tuned and the first chord to finger.  What changes before a song stands in a
dark box, so it is seen from above.  The title is the largest thing of a row.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from chartkit.arrange.page_look import PaperName
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Page, Stroke
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import Style, style_for
from chartkit.sheets.set_sheet_columns import SheetColumns
from chartkit.sheets.set_sheet_look import GuitarCell, RowLook, SheetRow, laid_rows
from chartkit.sheets.set_sheet_rows import row_items

_LARGEST_ROW, _SMALLEST_ROW = 130.0, 20.0
"""The height of a row in points: as high as the songs allow, within these (ours).  Titles of ten
songs on A4 are still read at a glance from 2 m, those of twenty by normal sight, those of thirty
from a stand.  More songs are divided evenly among pages.
"""
_HEAD, _FOOT = 62.0, 16.0
_COLUMN_HEAD, _LEAST_HEAD = 1.4, 0.7
"""How much larger than small print the type over the columns is, to be read standing, and over
narrow columns at least (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSheet:
    """A set sheet laid out: ``height`` is that of a row in points, ``most`` how many rows a page
    holds, ``below`` what is the same all night, on a line under the rows."""

    name: str
    when_and_where: str
    guitarists: Sequence[str]
    rows: Sequence[SheetRow]
    below: str
    fitter: Fitter
    style: Style
    look: RowLook
    height: float
    most: int

    @property
    def count(self) -> int:
        """How many pages it has."""
        return max(1, -(-len(self.rows) // self.most))

    def pages(self) -> Iterator[Page]:
        """Its pages, one after the other."""
        fitter, style, columns = self.fitter, self.style, self.look.columns
        legend = _legend(self.rows, columns, self.count, fitter, style)
        for number in range(self.count):
            items = _head(self.name, self.when_and_where, fitter, style)
            items += _column_heads(self.rows, self.guitarists, columns, fitter, style)
            items += legend
            items += _below(self.below, fitter, style)
            if self.count > 1:
                items.append(_page_number(f"page {number + 1} of {self.count}", fitter, style))
            start = number * self.most
            for i, row in enumerate(self.rows[start : start + self.most]):
                top = style.paper.top + _HEAD + i * self.height
                items += row_items(row, top, self.look, fitter, style)
            yield Page(style.paper.width, style.paper.height, tuple(items))


def set_sheet(
    name: str,
    when_and_where: str,
    guitarists: Sequence[str],
    rows: Sequence[SheetRow],
    metrics: Metrics,
    *,
    paper: PaperName = "a4",
    below: str = "",
) -> SetSheet:
    """The set sheet: one page, and more only where rows would get too small to read.

    ``below`` says under the rows what is the same all night.
    """
    fitter, style = Fitter(Typesetter(metrics)), style_for(paper)
    foot = _FOOT + (style.small * _BELOW if below else 0.0)
    room = style.paper.height - style.paper.top - style.paper.bottom - _HEAD - foot
    pages = max(1, -(-len(rows) // max(1, int(room // _SMALLEST_ROW))))
    most = max(1, -(-len(rows) // pages))
    height = min(_LARGEST_ROW, room / most)
    rows, look = laid_rows(rows, len(guitarists), height, fitter, style)
    return SetSheet(
        name=name,
        when_and_where=when_and_where,
        guitarists=guitarists,
        rows=rows,
        below=below,
        fitter=fitter,
        style=style,
        look=look,
        height=height,
        most=most,
    )


def _head(name: str, when: str, fitter: Fitter, style: Style) -> list[Item]:
    side, top = style.paper.side, style.paper.top
    room = style.line_width * 0.62
    large = max(fitter.fitting_size(name, "title", style.title, room), style.title * 0.6)
    shown = fitter.shortened(name, "title", large, room)
    title = fitter.text(shown, side, top + 22, "title", large, role="title")
    items: list[Item] = [title]
    room = style.line_width - title.width - style.pt(16)
    fits = fitter.width(when, "italic", style.band) <= room
    lines = [when] if fits else when.split(" · ", 1)
    for i, line in enumerate(lines):
        place = fitter.shortened(line, "italic", style.band, room)
        x = style.paper.width - side - fitter.width(place, "italic", style.band)
        y = top + 22 - (len(lines) - 1 - i) * style.band * 1.2
        items.append(fitter.text(place, x, y, "italic", style.band, role="place"))
    base = top + _HEAD - 8
    items.append(Stroke(side, base + 5, style.paper.width - side, base + 5, 0.9))
    return items


def _column_heads(
    rows: Sequence[SheetRow],
    guitarists: Sequence[str],
    columns: SheetColumns,
    fitter: Fitter,
    style: Style,
) -> list[Item]:
    """The names of the columns, those of two words on two lines where a line is too narrow.

    A column in which no song has anything is not named.
    """
    base, size = style.paper.top + _HEAD - 8, style.small * _COLUMN_HEAD
    items = list[Item]()
    heads = [
        ("key" if any(row.key for row in rows) else "", columns.key),
        ("first chord" if any(row.first for row in rows) else "", columns.first_chord),
        ("tempo" if any(row.tempo for row in rows) else "", columns.tempo),
    ]
    heads += [(one, columns.guitar(i)) for i, one in enumerate(guitarists)]
    own = [
        fitter.fitting_size(word, "plain", size, width)
        for name, (_, width) in heads[:3]
        for word in ([name] if name and columns.stacked else name.split())
    ]
    size = max(style.foot * _LEAST_HEAD, min(own, default=size))
    for number, (name, (left, width)) in enumerate(heads):
        if not name:
            continue
        fits = number > 2 or fitter.width(name, "plain", size) <= width
        lines = [name] if fits else name.split()
        stacked = columns.stacked and number < 3
        for up, line in enumerate(reversed(lines), stacked):
            shown = fitter.shortened(line, "plain", size, width)
            y = base - up * size * 1.1
            items.append(fitter.text(shown, left, y, "plain", size, role="column", ink=SECOND_INK))
    return items


def _page_number(words: str, fitter: Fitter, style: Style) -> Item:
    """The page's number, flush with the right margin in the line of the legend."""
    x = style.paper.width - style.paper.side - fitter.width(words, "plain", style.small)
    y = style.paper.height - style.paper.bottom - 4
    return fitter.text(words, x, y, "plain", style.small, role="page", ink=SECOND_INK)


_BELOW = 1.7
"""The room of the line under the rows, in sizes of small print."""


def _below(words: str, fitter: Fitter, style: Style) -> list[Item]:
    """What is the same all night, above the legend."""
    if not words:
        return []
    y = style.paper.height - style.paper.bottom - 4 - style.small * _BELOW
    size = fitter.fitting_size(words, "plain", style.small * 1.2, style.line_width)
    size = max(size, style.small * 0.8)
    shown = fitter.shortened(words, "plain", size, style.line_width)
    return [fitter.text(shown, style.paper.side, y, "plain", size, role="below")]


_PAGE_NUMBER = 70.0
"""The room in points that the page's number takes beside the legend."""


def _legend(
    rows: Sequence[SheetRow], columns: SheetColumns, pages: int, fitter: Fitter, style: Style
) -> list[Item]:
    """What the signs on the sheet mean, as far as they stand on it."""
    legend = []
    if any(cell.changed for cell in _cells(rows)):
        legend.append("dark: change this before the song")
    if any(row.straight for row in rows):
        legend.append("bar at the left: straight on, no pause")
    if any(row.interval for row in rows):
        legend.append("heavy line: interval")
    if columns.narrow:
        legend.append("a fret number: capo   –: no capo   d1: tuned down a half step")
    if any("(" in cell.setting for cell in _cells(rows)):
        legend.append("2 (5-3): short capo at 2 over strings 5 to 3")
    if columns.short_moves and any(", then " in cell.setting for cell in _cells(rows)):
        legend.append("3>5: moved inside the song")
    if any(cell.first for cell in _cells(rows)):
        legend.append("beside it: the first chord to finger")
    if not legend:
        return []
    room = style.line_width - (_PAGE_NUMBER if pages > 1 else 0.0)
    if len(legend) > 1 and fitter.width(_APART.join(legend), "italic", style.small) > room:
        legend.pop()  # The last sign is the one best known without words.
    shown = fitter.shortened(_APART.join(legend), "italic", style.small, room)
    y = style.paper.height - style.paper.bottom - 4
    left = style.paper.side
    return [fitter.text(shown, left, y, "italic", style.small, role="legend", ink=SECOND_INK)]


_APART = "   "


def _cells(rows: Sequence[SheetRow]) -> Iterator[GuitarCell]:
    return (cell for row in rows for cell in row.cells if cell is not None)
