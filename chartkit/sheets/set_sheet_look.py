"""How large the rows of the set sheet are, and where what they say stands in them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName
from chartkit.layout.style import Style
from chartkit.sheets.set_sheet_columns import (
    RoomyColumns,
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
_LOW_LINE = 0.9
"""How large what stands beside a title is, as a part of the largest title (ours)."""
_GUITAR_BELOW = 0.9
"""How far below a setting the name of its guitar stands at most, in ems of the setting."""
_AT_A_GLANCE = 23.0
"""The size in points that is read at a glance from 2 m: a letter is just made out where its
height is seen under five minutes of arc (the definition of normal sight, 6/6, in ISO 8596; from
memory), which at 2 m is 2.9 mm or capitals of type of 11.6 points; twice that is an assumption
of ours."""
_STACKED_TITLE, _STACKED_LINE, _STACKED_CELL = 0.32, 0.16, 0.2
"""The same where the guitarists have a line of their own: the title, the line under it, the
guitarists' line."""
_WORTH_A_LINE = 1.2
"""How much larger settings must be on a line of their own (ours)."""
_ROOM_FOR_THREE = 84.0
"""How high a row of three lines is, in points, so that all are read standing (ours)."""
_ROOM_FOR_NAMES = 40.0
"""How high a row is whose line is lifted so that a guitar's name under it is read (ours)."""
_BESIDE_SETTING = 8.0
"""The room beside a setting in its box, in points."""
_ROUNDING = 1.0
"""What titles keep beside their own width, in points."""
_LEAST_SHAPE = 0.8
"""The size of short shapes as a part of the line's: long ones get smaller alone (ours)."""
BESIDE_NUMBER = 12.0
"""The room between a song's number and its title, in points (ours)."""
SMALLEST_ASIDE = 8.5
_ASIDE = 0.45
"""The smallest type of what is special tonight, in points, and the largest part of a title's line
that it may take."""


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

    ``straight`` says that it runs straight into the next, ``interval`` that the interval follows.
    ``meter`` is empty where it is the usual
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
    interval: bool = False


@dataclass(frozen=True, slots=True)
class RowLook:
    """The sizes and baselines that all rows of a sheet share, in points from a row's top.

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


def laid_rows(
    rows: Sequence[SheetRow], guitars: int, height: float, fitter: Fitter, style: Style
) -> tuple[tuple[SheetRow, ...], RowLook]:
    """The rows with their look.  Meter and count-in stand beside the tempo if those of every song
    fit there on one line; else the count-in, or both, are among what is special tonight, beside the
    title."""
    look = _row_look(rows, guitars, height, fitter, style)
    if not look.tall:
        # A low row has little room for words, so a note comes first and the meter by the tempo.
        joined = (_joined(row, (row.aside, row.count_in), row.meter) for row in rows)
        return tuple(joined), look
    moved = tuple(rows)
    if not all(_begins_beside(row, look, fitter) for row in moved):
        moved = tuple(_joined(row, (row.count_in, row.aside), row.meter) for row in rows)
        look = _row_look(moved, guitars, height, fitter, style)
    if not all(_begins_beside(row, look, fitter) for row in moved):
        moved = tuple(_joined(row, (row.meter, row.aside), "") for row in moved)
        look = _row_look(moved, guitars, height, fitter, style)
    return moved, look


def _joined(row: SheetRow, asides: tuple[str, ...], meter: str) -> SheetRow:
    return replace(row, aside=" · ".join(filter(None, asides)), meter=meter, count_in="")


_COUNT_IN, _LARGEST_COUNT_IN, _APART = 0.72, 14.0, 0.6
"""The type of a count-in beside the tempo as a part of the line's, its largest size in points, and
the room between it and the meter, in sizes of the line (ours)."""


def count_in_size(look: RowLook) -> float:
    """The size of a count-in beside the tempo, in points."""
    return min(look.line * _COUNT_IN, _LARGEST_COUNT_IN)


def begin_at(look: RowLook) -> tuple[float, float]:
    """The left and right edge of the room between the tempo and the guitarists."""
    columns = look.columns
    left = columns.tempo[0] + columns.tempo[1] + look.line * 0.4
    beside = columns.guitars and not columns.stacked
    right = columns.guitar(0)[0] - look.line * 0.5 if beside else columns.right
    return left, right


def after_meter(look: RowLook, width: float) -> float:
    """How far a count-in is from the left edge of a meter so wide."""
    return width + look.line * _APART


def _begins_beside(row: SheetRow, look: RowLook, fitter: Fitter) -> bool:
    """Whether a song's meter and count-in have room beside its tempo, in type that can be read."""
    left, right = begin_at(look)
    if row.count_in and count_in_size(look) < SMALLEST_ASIDE:
        return False
    if row.meter:
        left += after_meter(look, fitter.width(row.meter, "plain", look.line))
    return left + fitter.width(row.count_in, "italic", count_in_size(look)) <= right


def _row_look(
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
    line = min(title, full * _LOW_LINE)
    columns, title = _roomy(rows, columns, title, line, fitter)
    line = min(line, title)
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


def _roomy(
    rows: Sequence[SheetRow], columns: SheetColumns, title: float, line: float, fitter: Fitter
) -> tuple[SheetColumns, float]:
    """The columns, with more room for the settings where they need it and the titles leave it, and
    the size of the titles, which give some up that are larger than can be read at a glance."""
    cells = [cell for row in rows for cell in row.cells if cell is not None]
    if not cells or columns.narrow:
        return columns, title
    settings = (setting_in(cell, columns) for cell in cells)
    widest = max(fitter.width(one, "strong", line) for one in settings) + _BESIDE_SETTING
    needed = (widest - columns.box(0)[1]) * columns.guitars
    if needed <= 0:
        return _closer(rows, columns, title, -needed, fitter), title
    asides = (" · ".join(filter(None, (row.aside, row.count_in))) for row in rows)
    least = max(fitter.width(aside, "italic", columns.style.small) for aside in asides)
    em = max(fitter.width(row.title, "strong", 1.0) for row in rows)
    given = min(title, max(_AT_A_GLANCE, (columns.title[1] - needed) / em))
    spare = min(needed, columns.title[1] - max(least, em * given) - _ROUNDING)
    if spare <= 0:
        return columns, title
    return RoomyColumns(columns.guitars, columns.style, spare / columns.guitars), given


def _closer(
    rows: Sequence[SheetRow], columns: SheetColumns, title: float, spare: float, fitter: Fitter
) -> SheetColumns:
    """The columns with so many points at most taken from the settings, which do not need them, for
    what is special tonight after a title, on two lines."""
    size = columns.style.small
    ends = [
        fitter.width(row.title, "strong", title)
        + size
        + fitter.width(" · ".join(filter(None, (row.aside, row.count_in))), "italic", size) * _HALF
        for row in rows
        if row.aside or row.count_in
    ]
    lack = min(spare, max(ends, default=0.0) - columns.title[1])
    if lack <= 0:
        return columns
    return RoomyColumns(columns.guitars, columns.style, -lack / columns.guitars)


_HALF = 0.6
"""The longer of two lines as a part of one (ours)."""


def _tall_look(
    rows: Sequence[SheetRow], guitars: int, height: float, fitter: Fitter, style: Style
) -> RowLook:
    full = min(height * _TALL_TITLE, _LARGEST_TITLE)
    indent = fitter.width(str(max((row.number for row in rows), default=1)), "plain", full)
    line = height * _TALL_LINE
    setting = _longest_setting(rows, line, fitter)
    columns = tall_columns(guitars, indent + BESIDE_NUMBER, line, style, setting)
    width = columns.title[1]
    title = common_size([title_room(row, full, width, fitter)[0] for row in rows], full)
    line = min(columns.size, title * 0.9)
    named = _guitars_named(rows)
    title_base, line_base = (0.4, 0.82)
    if named:
        title_base, line_base = (0.35, 0.7) if height >= _ROOM_FOR_NAMES else (0.38, 0.72)
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
    room = style.line_width - indent - BESIDE_NUMBER
    title = common_size([title_room(row, full, room, fitter)[0] for row in rows], full)
    line, cell = (min(height * part, title * 0.9) for part in (_STACKED_LINE, _STACKED_CELL))
    columns = stacked_columns(guitars, indent + BESIDE_NUMBER, line, cell, style)
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
    settings = [setting_in(cell, columns) for cell in cells]
    settings = [one for one in settings if "," not in one and "(" not in one]
    fits = [
        fitter.fitting_size(one, "strong", look.setting, columns.box(0)[1] - _BESIDE_SETTING)
        for one in settings
    ]
    shapes = [cell.first for cell in cells if cell.first]
    return replace(
        look,
        setting=min(fits, default=look.setting),
        shape=max(
            _size_in(shapes, "plain", look.shape, columns.shape(0)[1], fitter),
            look.shape * _LEAST_SHAPE,
        ),
    )


def _longest_setting(rows: Sequence[SheetRow], size: float, fitter: Fitter) -> float:
    """The room that the longest setting takes in its box, in ems of that size."""
    settings = (cell.setting for row in rows for cell in row.cells if cell is not None)
    wide = max((fitter.width(one, "strong", size) for one in settings), default=0.0)
    return (wide + _BESIDE_SETTING) / size


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


def setting_in(cell: GuitarCell, columns: SheetColumns) -> str:
    """The words of a cell's setting that fit the room of its column."""
    if columns.narrow:
        return short_setting(cell.setting)
    return cell.setting.replace(", then ", ">") if columns.short_moves else cell.setting


def title_room(
    row: SheetRow, size: float, width: float, fitter: Fitter
) -> tuple[float, float, float]:
    """The size at which a title fits the line beside its aside, the room it has there, and the
    size of the aside."""
    small = max(SMALLEST_ASIDE, min(size * 0.55, 16.0))
    aside = min(fitter.width(row.aside, "italic", small) + small, width * _ASIDE)
    room = width - aside if row.aside else width
    return fitter.fitting_size(row.title, "strong", size, room), room, small
