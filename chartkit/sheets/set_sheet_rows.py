"""The rows of the set sheet: a song's title and what to set up for it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName, Item, Shape, Stroke, Text
from chartkit.layout.style import Style
from chartkit.sheets.set_sheet_columns import (
    SheetColumns,
    common_size,
    stacked_columns,
    tall_columns,
)

_LARGEST_TITLE = 46.0
"""The largest title in points (ours)."""
_LOW_TITLE, _TALL_TITLE, _TALL_LINE = 0.5, 0.36, 0.25
"""Type as a share of its row's height: a title with all else beside it, one with a line to
itself, and what stands under that (ours)."""
_GUITAR_BELOW = 0.9
"""How far below a setting the name of its guitar stands at most, in ems of the setting."""
_TWO_AND_ASIDE = 40.0
"""How high a row of one line is that holds a title on two lines and what is special tonight."""
_AT_A_GLANCE = 23.0
"""The size in points that is read at a glance from 2 m: a letter is just made out where its
height is seen under five minutes of arc (the definition of normal sight, 6/6, in ISO 8596; from
memory), which at 2 m is 2.9 mm or capitals of type of 11.6 points; twice that is an assumption
of ours."""
_STACKED_TITLE, _STACKED_LINE, _STACKED_CELL = 0.32, 0.16, 0.2
"""The same where the guitarists have a line of their own: the title, the line under it, theirs."""
_WORTH_A_LINE = 1.2
"""How much larger settings must be on a line of their own (ours)."""
_ROOM_FOR_THREE = 84.0
"""How high a row of three lines is, in points, so that all are read standing (ours)."""
_ROOM_FOR_NAMES = 40.0
"""How high a row is whose line is lifted so that a guitar's name under it is read (ours)."""
_ROUNDING, _BESIDE_NUMBER = 0.01, 12.0
_ASIDE, _SMALLEST_ASIDE = 0.45, 8.5
"""The largest part of a title's line that what is special tonight may take, and its smallest
type in points."""


@dataclass(frozen=True, slots=True)
class GuitarCell:
    """A guitarist's setting for a song: the capo or tuning, the first shape, what changes.

    ``guitar`` stands under the setting: its name where the player has several, and whether its
    strings are tuned back.
    """

    setting: str
    first: str = ""
    guitar: str = ""
    changed: bool = False


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A song on the set sheet; a cell for each guitarist, None where they sit it out.

    ``straight`` says that it runs straight into the next.  ``meter`` is empty where it is the usual
    4/4; ``count_in`` says how it begins, and who.
    """

    number: int
    title: str
    key: str
    first: str
    tempo: str
    cells: tuple[GuitarCell | None, ...]
    straight: bool = False
    aside: str = ""
    meter: str = ""
    count_in: str = ""


@dataclass(frozen=True, slots=True)
class RowLook:
    """What all rows of a sheet share: sizes and baselines in points, from a row's top.

    ``tall`` rows have the title on a line of its own.  ``cell_base`` is the baseline of the
    settings, which is that of the line or one below it.  ``guitar`` is the baseline of the name
    under a setting, so that settings stand alike with one and without.
    """

    columns: SheetColumns
    height: float
    tall: bool
    title: float
    line: float
    setting: float
    shape: float
    title_base: float
    line_base: float
    cell_base: float
    guitar: float


def row_look(
    rows: Sequence[SheetRow], guitars: int, height: float, fitter: Fitter, style: Style
) -> RowLook:
    """The look of rows of that height: the title beside all else or above it, whichever lets
    it be larger; above it where it can be read at a glance there."""
    low = _low_look(rows, SheetColumns(guitars, style), height, fitter)
    tall = _tall_look(rows, guitars, height, fitter, style)
    if tall.title <= min(low.title, _AT_A_GLANCE):
        return low
    stacked = _stacked_look(rows, guitars, height, fitter, style)
    return stacked if stacked and stacked.setting > tall.setting * _WORTH_A_LINE else tall


def _low_look(
    rows: Sequence[SheetRow], columns: SheetColumns, height: float, fitter: Fitter
) -> RowLook:
    full = min(height * _LOW_TITLE, _LARGEST_TITLE)
    title = _size_in([row.title for row in rows], "strong", full, columns.title[1], fitter)
    line = min(title, full * 0.8)
    base = height * (0.4 if _guitars_named(rows) else 0.5) + line * 0.35
    return _with_cells(
        rows,
        RowLook(
            columns=columns,
            height=height,
            tall=False,
            title=title,
            line=line,
            setting=line,
            shape=line,
            title_base=base,
            line_base=base,
            cell_base=base,
            guitar=height * 0.87,
        ),
        fitter,
    )


def _tall_look(
    rows: Sequence[SheetRow], guitars: int, height: float, fitter: Fitter, style: Style
) -> RowLook:
    full = min(height * _TALL_TITLE, _LARGEST_TITLE)
    indent = fitter.width(str(max((row.number for row in rows), default=1)), "plain", full)
    columns = tall_columns(guitars, indent + _BESIDE_NUMBER, height * _TALL_LINE, style)
    width = columns.title[1]
    title = common_size([_title_room(row, full, width, fitter)[0] for row in rows], full)
    line = min(columns.size, title * 0.9)
    named = _guitars_named(rows)
    title_base, line_base = (0.4, 0.82)
    if named:
        title_base, line_base = (0.35, 0.7) if height >= _ROOM_FOR_NAMES else (0.38, 0.75)
    line_base *= height
    return _with_cells(
        rows,
        RowLook(
            columns=columns,
            height=height,
            tall=True,
            title=title,
            line=line,
            setting=line,
            shape=line,
            title_base=height * title_base,
            line_base=line_base,
            cell_base=line_base,
            guitar=min(height * 0.92, line_base + line * _GUITAR_BELOW),
        ),
        fitter,
    )


def _stacked_look(
    rows: Sequence[SheetRow], guitars: int, height: float, fitter: Fitter, style: Style
) -> RowLook | None:
    """Rows with the guitarists on a line of their own; None where they are not high enough, or
    nothing gets larger by it."""
    if height < _ROOM_FOR_THREE:
        return None
    full = min(height * _STACKED_TITLE, _LARGEST_TITLE)
    indent = fitter.width(str(max((row.number for row in rows), default=1)), "plain", full)
    room = style.line_width - indent - _BESIDE_NUMBER
    title = common_size([_title_room(row, full, room, fitter)[0] for row in rows], full)
    line, cell = (min(height * part, title * 0.9) for part in (_STACKED_LINE, _STACKED_CELL))
    columns = stacked_columns(guitars, indent + _BESIDE_NUMBER, line, cell, style)
    if columns is None:
        return None
    named = _guitars_named(rows)
    cell_base = height * (0.78 if named else 0.84)
    look = RowLook(
        columns=columns,
        height=height,
        tall=True,
        title=title,
        line=min(line, columns.size),
        setting=columns.cell,
        shape=columns.cell,
        title_base=height * 0.31,
        line_base=height * 0.53,
        cell_base=cell_base,
        guitar=min(height * 0.95, cell_base + columns.cell * _GUITAR_BELOW),
    )
    return _with_cells(rows, look, fitter)


def _with_cells(rows: Sequence[SheetRow], look: RowLook, fitter: Fitter) -> RowLook:
    """The look with one size for all settings and one for all first shapes.  A setting of two
    parts, or with the strings of a short capo, gets smaller alone."""
    cells = [cell for row in rows for cell in row.cells if cell is not None]
    if not cells:
        return look
    columns = look.columns
    settings = [_setting(cell, columns) for cell in cells]
    settings = [one for one in settings if "," not in one and "(" not in one]
    fits = [
        fitter.fitting_size(one, "strong", look.setting, columns.box(0)[1] - 8) for one in settings
    ]
    shapes = [cell.first for cell in cells if cell.first]
    return replace(
        look,
        setting=min(fits, default=look.setting),
        shape=_size_in(shapes, "plain", look.shape, columns.shape(0)[1], fitter),
    )


def _guitars_named(rows: Sequence[SheetRow]) -> bool:
    return any(cell is not None and cell.guitar for row in rows for cell in row.cells)


def _size_in(
    texts: Sequence[str], font: FontName, size: float, width: float, fitter: Fitter
) -> float:
    return common_size([fitter.fitting_size(one, font, size, width) for one in texts], size)


def short_setting(setting: str) -> str:
    """A setting as short as a narrow box asks for: ``3``, ``–``, ``d1``, ``2>4``."""
    setting = setting.replace("no capo", "–").replace("then off", "then –")
    return setting.replace(", then ", ">").replace("capo ", "").replace("down ", "d")


def _setting(cell: GuitarCell, columns: SheetColumns) -> str:
    if columns.narrow:
        return short_setting(cell.setting)
    return cell.setting.replace(", then ", ">") if columns.short_moves else cell.setting


def row_items(row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style) -> list[Item]:
    """A song's row, its top edge at ``top``."""
    side, columns, line = style.paper.side, look.columns, look.line
    if not _room_to_begin(look):
        # A low row has little room for words, so a note comes first and the meter by the tempo.
        beside = "" if look.tall else row.meter
        aside = (row.meter, row.count_in, row.aside) if look.tall else (row.aside, row.count_in)
        row = replace(
            row,
            tempo=" · ".join(filter(None, (row.tempo, beside))),
            aside=" · ".join(filter(None, aside)),
        )
    items: list[Item] = [*_number(row, top, look, fitter, style)]
    items += (
        _song_beside_aside(row, top, look, fitter, style)
        if look.tall
        else (_song_above_aside(row, top, look, fitter, style))
    )
    base = top + look.line_base
    items += _fitted(row.key, columns.key, base, "strong", line, "key", fitter)
    items += _fitted(row.first, columns.first, base, "plain", line, "chord", fitter)
    items += _fitted(row.tempo, columns.tempo, base, "plain", line, "tempo", fitter)
    if _room_to_begin(look):
        items += _beginning(row, top, look, fitter)
    for i, cell in enumerate(row.cells):
        if cell is not None:
            items += _cell(cell, i, top, look, fitter)
    # Names stand under the line: read after it, they leave it in one piece.
    items.sort(key=lambda item: isinstance(item, Text) and item.role == "guitar")
    foot, half = top + look.height, min(look.height * 0.5, 40.0)
    if row.straight:
        items.append(Stroke(side, foot - half, side, foot + half, 2.2))
    items.append(Stroke(side + 4, foot, style.paper.width - side, foot, 0.35, 0.45))
    return items


def _number(row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style) -> list[Text]:
    """The song's number, as large as the titles where it has the room, flush with their left."""
    number, side = str(row.number), style.paper.side
    room = look.columns.title[0] - side - _BESIDE_NUMBER
    size = fitter.fitting_size(number, "plain", look.title, room)
    x = side + 5 + room - fitter.width(number, "plain", size)
    return [fitter.text(number, x, top + look.title_base, "plain", size, "number")]


def _title_room(
    row: SheetRow, size: float, width: float, fitter: Fitter
) -> tuple[float, float, float]:
    """The size at which a title fits the line beside its aside, the room it has there, and the
    size of the aside."""
    small = max(_SMALLEST_ASIDE, min(size * 0.55, 16.0))
    aside = min(fitter.width(row.aside, "italic", small) + small, width * _ASIDE)
    room = width - aside if row.aside else width
    return fitter.fitting_size(row.title, "strong", size, room), room, small


def _song_beside_aside(
    row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style
) -> list[Text]:
    """The title on a line of its own, what is special tonight beside it at the right."""
    left, width = look.columns.title
    _, room, small = _title_room(row, look.title, width, fitter)
    base, low = top + look.title_base, look.height * 0.2
    items = _title(row.title, (left, room), base, low, look.title, fitter)
    if row.aside:
        beside = width - room - small + _ROUNDING
        small = max(fitter.fitting_size(row.aside, "italic", small, beside), _SMALLEST_ASIDE)
        shown = fitter.shortened(row.aside, "italic", small, beside)
        x = max(one.x + one.width for one in items) + small
        items.append(fitter.text(shown, x, base, "italic", small, "aside"))
    return items


def _song_above_aside(
    row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style
) -> list[Text]:
    """The title among all else, what is special tonight small under it, or else behind it as far
    as there is room."""
    height, size = look.height, look.title
    left, width = look.columns.title
    aside = list[Text]()
    if row.aside and height * 0.58 >= size * 0.5 + style.small * 0.8 + 3:
        shown = fitter.shortened(row.aside, "italic", style.small, width)
        aside = [fitter.text(shown, left, top + height - 3, "italic", style.small, "aside")]
    lifted = top + look.title_base - height * 0.1 * bool(aside)
    low = 0.0 if aside and height < _TWO_AND_ASIDE else min(size * 0.72, height * 0.27)
    title = _title(row.title, (left, width), lifted, low, size, fitter)
    if row.aside and not aside:
        aside = _behind(row.aside, title, left + width, fitter, style)
    return [*title, *aside]


def _behind(
    words: str, title: list[Text], right: float, fitter: Fitter, style: Style
) -> list[Text]:
    """What is special tonight behind a title of one line, up to a right edge."""
    size = min(style.small, max(piece.size for piece in title[0].pieces))
    x = title[0].x + title[0].width + size
    if len(title) > 1 or right - x < size * _LEAST_ROOM:
        return []
    shown = fitter.shortened(words, "italic", size, right - x)
    return [fitter.text(shown, x, title[0].y, "italic", size, "aside")]


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
        fitter.text(line, left, up + i * low * 1.16, "strong", low, "song")
        for i, line in enumerate((first, second))
    ]


def _fitted(
    words: str,
    column: tuple[float, float],
    base: float,
    font: FontName,
    size: float,
    role: str,
    fitter: Fitter,
) -> list[Text]:
    """A text in its column: smaller where it must be, shortened past that."""
    left, width = column
    if not words:
        return []
    fitting = max(fitter.fitting_size(words, font, size, width), size * 0.4)
    shown = fitter.shortened(words, font, fitting, width)
    return [fitter.text(shown, left, base, font, fitting, role)]


def _cell(cell: GuitarCell, number: int, top: float, look: RowLook, fitter: Fitter) -> list[Item]:
    """A guitarist's setting: in a dark box where it changes; the first shape beside it.

    A guitar's name is longer than its setting, so its box takes the shape in where a song's line is
    its own.
    """
    left, width = look.columns.box(number)
    base, room = top + look.cell_base, (left + 4, width - 8)
    apart = look.guitar - look.cell_base
    below_shape = (apart - look.shape * _DESCENT) / _ASCENT
    wide = bool(cell.guitar) and look.tall and below_shape >= _SMALLEST_NAME
    whole = look.columns.guitar(number)[1] if wide else width
    ink, items = 0.0 if cell.changed else 1.0, list[Item]()
    under, small = top + look.guitar, max(look.setting * _NAME, min(5.0, look.height * 0.25))
    small = min(small, below_shape if wide else apart / _ASCENT)
    if cell.changed:
        high, low = top + look.height * 0.07, top + look.height * 0.93
        if look.tall:
            pad = look.setting * _PAD
            high = base - look.setting * _CAPITAL - pad
            low = (under + small * _DESCENT if cell.guitar else base) + pad
            low = min(low, top + look.height - _ABOVE_RULE)
        right = left + whole
        items.append(Shape(((left, high), (right, high), (right, low), (left, low))))
    setting = _setting(cell, look.columns)
    for text in _fitted(setting, room, base, "strong", look.setting, "setting", fitter):
        items.append(_centred(text, room)._replace(ink=ink))
    if cell.guitar:
        below = (left + 4, whole - 8)
        for text in _fitted(cell.guitar, below, under, "plain", small, "guitar", fitter):
            items.append(_centred(text, below)._replace(ink=ink))
    shape = look.columns.shape(number)
    for text in _fitted(cell.first, shape, base, "plain", look.shape, "first", fitter):
        items.append(text._replace(ink=ink) if wide else text)
    return items


_NAME, _SMALLEST_NAME = 0.7, 5.0
"""The name of a guitar in parts of the line above it, and the least size in points at which it has
the whole column (ours)."""
_ABOVE_RULE = 1.6
"""How far above the line under a row its dark boxes end, in points."""
_CAPITAL, _ASCENT, _DESCENT, _PAD = 0.714, 0.98, 0.25, 0.34
"""The height of capitals and of the tallest letters and the depth of descenders in ems (of the
font), and the dark above and below a setting."""


def _centred(text: Text, room: tuple[float, float]) -> Text:
    left, width = room
    return text._replace(x=left + max(0.0, width - text.width) / 2)


def _begin_at(look: RowLook) -> tuple[float, float]:
    """The left and right edge of the room between the tempo and the guitarists."""
    columns = look.columns
    left = columns.tempo[0] + columns.tempo[1] + look.line * 0.4
    beside = columns.guitars and not columns.stacked
    right = columns.guitar(0)[0] - look.line * 0.5 if beside else columns.right
    return left, right


def _room_to_begin(look: RowLook) -> bool:
    """Whether a meter and a count-in stand beside the tempo rather than beside the title."""
    left, right = _begin_at(look)
    return look.tall and right - left > look.line * _LEAST_ROOM


_LEAST_ROOM = 4.5
"""Ems that a meter and a word or two take."""


def _beginning(row: SheetRow, top: float, look: RowLook, fitter: Fitter) -> list[Text]:
    """The meter and how the song begins, in the room left of the guitarists."""
    left, right = _begin_at(look)
    base, items = top + look.line_base, list[Text]()
    if row.meter:
        meter = fitter.text(row.meter, left, base, "plain", look.line, "meter")
        items.append(meter)
        left += meter.width + look.line * 0.6
    room = right - left
    if row.count_in and room > look.line * 2:
        size = min(look.line * 0.72, 14.0)
        lines = fitter.wrapped(row.count_in, "italic", size, room)[:2]
        lines[-1:] = [fitter.shortened(lines[-1], "italic", size, room)]
        # Two lines reach under the others', so that none runs into the title.
        first = base - size * 0.4 * (len(lines) - 1)
        items += [
            fitter.text(line, left, first + i * size * 1.15, "italic", size, "count-in")
            for i, line in enumerate(lines)
        ]
    return items
