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
from chartkit.sheets.set_sheet_look import GuitarCell, RowLook, SheetRow, row_look
from chartkit.sheets.set_sheet_rows import row_items

_LARGEST_ROW, _SMALLEST_ROW = 130.0, 13.0
"""The height of a row in points: as high as the songs allow, within these (ours).  Titles of ten
songs on A4 are still read at a glance from 2 m, those of twenty by normal sight.
"""
_HEAD, _FOOT = 62.0, 16.0
_COLUMN_HEAD = 1.4
"""How much larger than small print the type over the columns is, to be read standing (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSheet:
    """A set sheet laid out: ``height`` is that of a row in points, ``most`` how many rows a page
    holds."""

    name: str
    when_and_where: str
    guitarists: Sequence[str]
    rows: Sequence[SheetRow]
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
        legend = _legend(self.rows, columns, fitter, style)
        for number in range(self.count):
            items = _head(self.name, self.when_and_where, self.guitarists, columns, fitter, style)
            items += legend
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
    paper: PaperName = "a4",
) -> SetSheet:
    """The set sheet: one page, and more only where rows would get too small to read."""
    fitter, style = Fitter(Typesetter(metrics)), style_for(paper)
    room = style.paper.height - style.paper.top - style.paper.bottom - _HEAD - _FOOT
    most = max(1, int(room // _SMALLEST_ROW))
    height = min(_LARGEST_ROW, room / max(1, min(most, len(rows))))
    return SetSheet(
        name=name,
        when_and_where=when_and_where,
        guitarists=guitarists,
        rows=rows,
        fitter=fitter,
        style=style,
        look=row_look(rows, len(guitarists), height, fitter, style),
        height=height,
        most=most,
    )


def _head(
    name: str,
    when: str,
    guitarists: Sequence[str],
    columns: SheetColumns,
    fitter: Fitter,
    style: Style,
) -> list[Item]:
    side, top = style.paper.side, style.paper.top
    room = style.line_width * 0.62
    large = max(fitter.fitting_size(name, "title", style.title, room), style.title * 0.6)
    shown = fitter.shortened(name, "title", large, room)
    title = fitter.text(shown, side, top + 22, "title", large, "title")
    items: list[Item] = [title]
    room = style.line_width - title.width - style.pt(16)
    fits = fitter.width(when, "italic", style.band) <= room
    lines = [when] if fits else when.split(" · ", 1)
    for i, line in enumerate(lines):
        place = fitter.shortened(line, "italic", style.band, room)
        x = style.paper.width - side - fitter.width(place, "italic", style.band)
        y = top + 22 - (len(lines) - 1 - i) * style.band * 1.2
        items.append(fitter.text(place, x, y, "italic", style.band, "place"))
    base, size = top + _HEAD - 8, style.small * _COLUMN_HEAD
    heads = [("key", columns.key), ("first", columns.first), ("tempo", columns.tempo)]
    heads += [(one, columns.guitar(i)) for i, one in enumerate(guitarists)]
    own = [fitter.fitting_size(name, "plain", size, width) for name, (_, width) in heads[:3]]
    size = max(style.foot, min(own))
    for number, (name, (left, width)) in enumerate(heads):
        up = size * 1.25 if columns.stacked and number < 3 else 0.0
        shown = fitter.shortened(name, "plain", size, width)
        items.append(fitter.text(shown, left, base - up, "plain", size, "column", SECOND_INK))
    items.append(Stroke(side, base + 5, style.paper.width - side, base + 5, 0.9))
    return items


def _legend(
    rows: Sequence[SheetRow], columns: SheetColumns, fitter: Fitter, style: Style
) -> list[Item]:
    """What the signs on the sheet mean, as far as they stand on it."""
    legend = []
    if any(cell.changed for cell in _cells(rows)):
        legend.append("dark: change this first")
    if any(row.straight for row in rows):
        legend.append("bar at the left: straight on, no pause")
    if columns.narrow:
        legend.append("a fret number: capo   –: no capo   d1: tuned down a half step")
    if any("(" in cell.setting for cell in _cells(rows)):
        legend.append("2 (5-3): short capo at 2 over strings 5 to 3")
    if columns.short_moves and any(", then " in cell.setting for cell in _cells(rows)):
        legend.append("3>5: moved inside the song")
    y = style.paper.height - style.paper.bottom - 4
    shown = fitter.shortened("   ".join(legend), "italic", style.small, style.line_width)
    left = style.paper.side
    return (
        [fitter.text(shown, left, y, "italic", style.small, "legend", SECOND_INK)] if legend else []
    )


def _cells(rows: Sequence[SheetRow]) -> Iterator[GuitarCell]:
    return (cell for row in rows for cell in row.cells if cell is not None)
