"""The set sheet for the stage floor: the whole night on one page, as large as it goes.

A row a song: number, title, key, tempo, then for every guitar where its capo sits, how it is
tuned and the first chord to finger.  What changes before a song stands in a dark box, so it
is seen from above.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Document, FontName, Item, Page, Shape, Stroke, Text
from chartkit.layout.metrics import Metrics, Typesetter
from chartkit.layout.place import SECOND_INK
from chartkit.layout.style import PaperName, Style, style_for
from chartkit.sheets.set_sheet_columns import SheetColumns

_LARGEST_ROW, _SMALLEST_ROW = 54.0, 13.0
"""The height of a row in points: as high as the songs allow, within these (ours)."""
_HEAD, _FOOT = 62.0, 16.0
_TYPE, _LARGEST_TYPE = 0.5, 21.0
"""The largest type as a share of its row's height, and in points (ours)."""
_TWO_AND_ASIDE = 40.0
"""How high a row is that holds a title on two lines and what is special tonight, in points."""
_BOX = 0.6
"""The share of a guitarist's column that the setting takes; the rest is the first shape's."""


@dataclass(frozen=True, slots=True)
class GuitarCell:
    """A guitarist's setting for a song: the capo or tuning, the first shape, what changes.

    ``guitar`` is named where the player has several.
    """

    setting: str
    first: str = ""
    guitar: str = ""
    changed: bool = False


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A song on the set sheet; a cell for each guitarist, None where they sit it out."""

    number: int
    title: str
    key: str
    first: str
    tempo: str
    cells: tuple[GuitarCell | None, ...]
    straight: bool = False
    aside: str = ""


def set_sheet(
    name: str,
    when_and_where: str,
    guitarists: Sequence[str],
    rows: Sequence[SheetRow],
    metrics: Metrics,
    paper: PaperName = "a4",
) -> Document:
    """The set sheet: one page, and more only where rows would get too small to read."""
    typesetter = Typesetter(metrics)
    fitter, style = Fitter(typesetter), style_for(paper)
    room = style.paper.height - style.paper.top - style.paper.bottom - _HEAD - _FOOT
    most = max(1, int(room // _SMALLEST_ROW))
    height = min(_LARGEST_ROW, room / max(1, min(most, len(rows))))
    columns = SheetColumns(len(guitarists), style)
    full = min(height * _TYPE, _LARGEST_TYPE)
    size = _title_size([row.title for row in rows], full, columns, fitter)
    pages = []
    for start in range(0, max(1, len(rows)), most):
        items = _head(name, when_and_where, guitarists, columns, fitter, style)
        items += _legend(rows, columns, fitter, style)
        for i, row in enumerate(rows[start : start + most]):
            top = style.paper.top + _HEAD + i * height
            items += _row(row, top, height, size, columns, fitter, style)
        pages.append(Page(style.paper.width, style.paper.height, tuple(items)))
    return Document(
        f"{name}: set sheet", "", "en", when_and_where, tuple(pages),
        frozenset(typesetter.missing),
    )  # fmt: skip


def short_setting(setting: str) -> str:
    """A setting as short as a narrow box asks for: ``3``, ``–``, ``d1``."""
    return setting.replace("no capo", "–").replace("capo ", "").replace("down ", "d")


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
    place = fitter.shortened(when, "italic", style.band, room)
    x = style.paper.width - side - fitter.width(place, "italic", style.band)
    items.append(fitter.text(place, x, top + 22, "italic", style.band, "place"))
    base, size = top + _HEAD - 8, style.small
    heads = [("key", columns.key), ("first", columns.first), ("tempo", columns.tempo)]
    heads += [(one, columns.guitar(i)) for i, one in enumerate(guitarists)]
    for told, (left, width) in heads:
        fitted = fitter.shortened(told, "plain", size, width)
        items.append(fitter.text(fitted, left, base, "plain", size, "column", SECOND_INK))
    items.append(Stroke(side, base + 5, style.paper.width - side, base + 5, 0.9))
    return items


def _legend(
    rows: Sequence[SheetRow], columns: SheetColumns, fitter: Fitter, style: Style
) -> list[Item]:
    """What the signs on the sheet mean, as far as they stand on it."""
    told = []
    if any(cell is not None and cell.changed for row in rows for cell in row.cells):
        told.append("dark: change this first")
    if any(row.straight for row in rows):
        told.append("bar at the left: straight on, no pause")
    if columns.narrow:
        told.append("a fret number: capo   –: no capo   d1: tuned down a half step")
    y = style.paper.height - style.paper.bottom - 4
    shown = fitter.shortened("   ".join(told), "italic", style.small, style.line_width)
    left = style.paper.side
    return (
        [fitter.text(shown, left, y, "italic", style.small, "legend", SECOND_INK)] if told else []
    )


def _title_size(titles: Sequence[str], size: float, columns: SheetColumns, fitter: Fitter) -> float:
    """One size for all titles: that at which nine in ten fit; the longest get smaller alone."""
    fitting = sorted(fitter.fitting_size(one, "strong", size, columns.title[1]) for one in titles)
    return max(fitting[len(fitting) // 10], size * 0.5) if fitting else size


def _row(
    row: SheetRow, top: float, height: float, size: float, columns: SheetColumns, fitter: Fitter,
    style: Style,
) -> list[Item]:  # fmt: skip
    side, full = style.paper.side, min(height * _TYPE, _LARGEST_TYPE)
    base = top + height * 0.5 + size * 0.3
    number = str(row.number)
    x = side + 18 - fitter.width(number, "plain", size * 0.8)
    items: list[Item] = [fitter.text(number, x, base, "plain", size * 0.8, "number", SECOND_INK)]
    asides = _aside(row.aside, columns, top, height, size, fitter, style)
    lifted = base - height * 0.1 if asides else base
    low = 0.0 if asides and height < _TWO_AND_ASIDE else min(size * 0.72, height * 0.27)
    items += [*_title(row.title, columns.title, lifted, low, size, fitter), *asides]
    items += _fitted(row.key, columns.key, base, "strong", full * 0.78, "key", fitter)
    items += _fitted(row.first, columns.first, base, "plain", full * 0.78, "chord", fitter)
    items += _fitted(row.tempo, columns.tempo, base, "plain", full * 0.78, "tempo", fitter)
    for i, cell in enumerate(row.cells):
        if cell is not None:
            items += _cell(cell, i, columns, top, height, full * 0.86, fitter)
    foot = top + height
    if row.straight:
        items.append(Stroke(side, top - height * 0.5, side, top + height * 0.5, 2.2))
    items.append(Stroke(side + 4, foot, style.paper.width - side, foot, 0.35, 0.45))
    return items


def _title(
    title: str, column: tuple[float, float], base: float, low: float, size: float, fitter: Fitter
) -> list[Text]:
    """The title on one line; in two of the size ``low`` where that keeps it larger.  With 0
    there is no room for two."""
    left, width = column
    if not low or fitter.fitting_size(title, "strong", size, width) >= low:
        return _fitted(title, column, base, "strong", size, "song", fitter)
    first, *rest = fitter.wrapped(title, "strong", low, width)
    if not rest:
        return _fitted(title, column, base, "strong", size, "song", fitter)
    second = fitter.shortened(" ".join(rest), "strong", low, width)
    up = base - size * 0.3 + low * 0.3 - low * 0.58
    return [
        fitter.text(told, left, up + i * low * 1.16, "strong", low, "song")
        for i, told in enumerate((first, second))
    ]


def _aside(
    told: str, columns: SheetColumns, top: float, height: float, size: float, fitter: Fitter,
    style: Style,
) -> list[Text]:  # fmt: skip
    """What is special tonight, small under the title, where the row is high enough for it."""
    if not told or height * 0.58 < size * 0.5 + style.small * 0.8 + 3:
        return []
    left, width = columns.title
    shown = fitter.shortened(told, "italic", style.small, width)
    return [fitter.text(shown, left, top + height - 3, "italic", style.small, "aside")]


def _fitted(
    told: str, column: tuple[float, float], base: float, font: FontName, size: float, role: str,
    fitter: Fitter,
) -> list[Text]:  # fmt: skip
    """A text in its column: smaller where it must be, shortened past that."""
    left, width = column
    if not told:
        return []
    fitting = max(fitter.fitting_size(told, font, size, width), size * 0.4)
    shown = fitter.shortened(told, font, fitting, width)
    return [fitter.text(shown, left, base, font, fitting, role)]


def _cell(
    cell: GuitarCell, number: int, columns: SheetColumns, top: float, height: float, size: float,
    fitter: Fitter,
) -> list[Item]:  # fmt: skip
    """A guitarist's setting: in a dark box where it changes; the first shape beside it."""
    left, width = columns.guitar(number)
    base = top + height * (0.39 if cell.guitar else 0.5) + size * 0.3
    setting = short_setting(cell.setting) if columns.narrow else cell.setting
    setting_room = (left + 4, width * _BOX - 8)
    items: list[Item] = []
    if cell.changed:
        right, edge = left + width * _BOX, height * 0.07
        low, high = top + height - edge, top + edge
        items.append(Shape(((left, high), (right, high), (right, low), (left, low))))
    for text in _fitted(setting, setting_room, base, "strong", size, "setting", fitter):
        items.append(text._replace(ink=0.0 if cell.changed else 1.0))
    if cell.guitar:
        under, small = top + height * 0.85, max(size / 2, min(5.0, height * 0.25))
        for text in _fitted(cell.guitar, setting_room, under, "plain", small, "guitar", fitter):
            items.append(text._replace(ink=0.0 if cell.changed else SECOND_INK))
    first = (left + width * (_BOX + 0.04), width * (0.96 - _BOX))
    items += _fitted(cell.first, first, base, "plain", size, "first", fitter)
    return items
