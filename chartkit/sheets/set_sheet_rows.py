"""The rows of the set sheet: a song's title and what to set up for it."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName, Item, Shape, Stroke, Text
from chartkit.layout.style import Style
from chartkit.sheets.set_sheet_look import (
    BESIDE_NUMBER,
    SMALLEST_ASIDE,
    GuitarCell,
    RowLook,
    SheetRow,
    after_meter,
    begin_at,
    count_in_size,
    setting_in,
    title_room,
)

_LIFTED, _OF_FREE, _OF_TITLE = 0.1, 0.8, 0.6
"""How far a title with something under it is lifted, in heights of the row; the part of the room
under it that this takes at most, and the part of the title's size (ours)."""
_METER_STEP, _SMALLEST_METER = 1.15, 6.0
"""How far under the tempo a meter stands, in sizes of its type, and its least size in points."""
_TWO_AND_ASIDE = 40.0
"""How high a row of one line is that holds a title on two lines and what is special tonight."""
_ROUNDING = 0.01
_INTERVAL = 3.0
"""How heavy the line of the interval is, in points: it is seen from above, as dark boxes are."""


def row_items(row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style) -> list[Item]:
    """A song's row, its top edge at ``top``."""
    columns, line = look.columns, look.line
    below = _meter_below(row, look)
    if not look.tall and below is None:
        row = replace(row, tempo=" · ".join(filter(None, (row.tempo, row.meter))))
    items: list[Item] = [*_number(row, top, look, fitter, style)]
    items += (
        _song_beside_aside(row, top, look, fitter, style)
        if look.tall
        else (_song_above_aside(row, top, look, fitter, style))
    )
    base = top + look.line_base
    items += _fitted(
        row.key, columns.key, base, font="strong", size=line, role="key", fitter=fitter
    )
    items += _fitted(
        row.first, columns.first_chord, base, font="plain", size=line, role="chord", fitter=fitter
    )
    items += _fitted(
        row.tempo, columns.tempo, base, font="plain", size=line, role="tempo", fitter=fitter
    )
    if below is not None:
        y, size = below
        items += _fitted(
            row.meter, columns.tempo, top + y, font="plain", size=size, role="meter", fitter=fitter
        )
    if look.tall:
        items += _beginning(row, top, look, fitter)
    for i, cell in enumerate(row.cells):
        if cell is not None:
            items += _cell(cell, i, top, look, fitter)
    # Names stand under the line: read after it, they leave it in one piece.
    items.sort(key=lambda item: isinstance(item, Text) and item.role == "guitar")
    return [*items, *_rules(row, top + look.height, look, style)]


def _rules(row: SheetRow, foot: float, look: RowLook, style: Style) -> Iterator[Item]:
    """The line under a row, heavy at the interval, and the bar of a song that runs on."""
    side, half = style.paper.side, min(look.height * 0.5, 40.0)
    right = style.paper.width - side
    if row.straight:
        yield Stroke(side, foot - half, side, foot + half, 2.2)
    if row.interval:
        yield Stroke(side, foot, right, foot, _INTERVAL)
    else:
        yield Stroke(side + 4, foot, right, foot, 0.35, 0.45)


def _meter_below(row: SheetRow, look: RowLook) -> tuple[float, float] | None:
    """The baseline, from the row's top, and the size of a meter under the tempo where all of a song
    is on one line; None where it stands beside it, or there is none."""
    room = (look.height - look.line_base) / (_METER_STEP + _DESCENT)
    size = min(look.line * _NAME, room)
    if look.tall or not (row.meter and row.tempo) or size < _SMALLEST_METER:
        return None
    return look.line_base + size * _METER_STEP, size


def _number(row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style) -> list[Text]:
    """The song's number, as large as the titles where it has the room, flush with their left."""
    number, side = str(row.number), style.paper.side
    room = look.columns.title[0] - side - BESIDE_NUMBER
    size = fitter.fitting_size(number, "plain", look.title, room)
    x = side + 5 + room - fitter.width(number, "plain", size)
    return [fitter.text(number, x, top + look.title_base, "plain", size, role="number")]


def _song_beside_aside(
    row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style
) -> list[Text]:
    """The title on a line of its own, what is special tonight beside it at the right."""
    left, width = look.columns.title
    _, room, small = title_room(row, look.title, width, fitter)
    base, low = top + look.title_base, look.height * 0.2
    items = _title(row.title, (left, room), base, low, look.title, fitter)
    if row.aside:
        x = max(one.x + one.width for one in items) + small
        beside = (left + width - x + _ROUNDING, look.title_base)
        size, lines = _in_lines(row.aside, small, beside, fitter)
        items += [
            fitter.text(line, x, base - up * size * _ASIDE_STEP, "italic", size, role="aside")
            for up, line in zip(range(len(lines) - 1, -1, -1), lines, strict=True)
        ]
    return items


_ASIDE_STEP = 1.12
"""The distance of two lines beside a title, in sizes of their type."""


def _in_lines(
    words: str, size: float, room: tuple[float, float], fitter: Fitter
) -> tuple[float, list[str]]:
    """What is special tonight in a room so wide and high: on two lines, where they fit, smaller
    where they must be, before any word is left out; and the size of the type."""
    wide, high = room
    tried = max(fitter.fitting_size(words, "italic", size, wide), SMALLEST_ASIDE)
    if tried >= size * _AS_GOOD and fitter.width(words, "italic", tried) <= wide:
        return tried, [words]
    for part in (1.0, 0.85, 0.7, 0.0):
        small = max(size * part, SMALLEST_ASIDE)
        lines = fitter.wrapped(words, "italic", small, wide)
        if len(lines) == 2 and small * _TWO_LINES <= high:
            return small, lines
    if small * _TWO_LINES > high:
        return tried, [fitter.shortened(words, "italic", tried, wide)]
    return small, [lines[0], fitter.shortened(" ".join(lines[1:]), "italic", small, wide)]


_TWO_LINES, _AS_GOOD = 2.0, 0.85
"""How high two lines are over the lower one's baseline, in sizes of their type; and the part of its
size from which one line is as good as two."""


def _song_above_aside(
    row: SheetRow, top: float, look: RowLook, fitter: Fitter, style: Style
) -> list[Text]:
    """The title among all else, what is special tonight under it, as large as the row and the
    column allow, or else after it as far as there is room."""
    height, size = look.height, look.title
    left, width = look.columns.title
    aside = list[Text]()
    if row.aside and height * 0.58 >= size * 0.5 + style.small * 0.8 + 3:
        free = height * (1 + _LIFTED) - look.title_base - size * _DESCENT - _ABOVE_RULE
        most = max(style.small, min(free * _OF_FREE, size * _OF_TITLE))
        small = max(style.small, fitter.fitting_size(row.aside, "italic", most, width))
        shown = fitter.shortened(row.aside, "italic", small, width)
        foot = top + height - 3 - (small - style.small) * _DESCENT
        aside = [fitter.text(shown, left, foot, "italic", small, role="aside")]
    lifted = top + look.title_base - height * _LIFTED * bool(aside)
    low = 0.0 if aside and height < _TWO_AND_ASIDE else min(size * 0.72, height * 0.27)
    title = _title(row.title, (left, width), lifted, low, size, fitter)
    if row.aside and not aside:
        aside = _behind(row.aside, title, left + width, height, fitter, style)
        if not aside:
            title = _title(row.title, (left, width * _BESIDE_NOTE), lifted, low, size, fitter)
            aside = _behind(row.aside, title, left + width, height, fitter, style)
    return [*title, *aside]


_BESIDE_NOTE = 0.72
"""The part of its column that a long title takes where nothing is left for a note (ours)."""


def _behind(
    words: str, title: list[Text], right: float, height: float, fitter: Fitter, style: Style
) -> list[Text]:
    """What is special tonight after a title of one line, up to a right edge: on one line, or on
    two where the row has the height."""
    large = max(piece.size for piece in title[0].pieces)
    size, room = min(style.small, large), right - title[0].x - title[0].width - style.small
    if len(title) > 1 or room < size * _LEAST_ROOM:
        return []
    lines, middle = [words], title[0].y - large * _MIDDLE
    if fitter.width(words, "italic", size) > room and height >= size * _TWO_BEHIND:
        lines = fitter.wrapped(words, "italic", size, room)
    shown = [*lines[:1], *([" ".join(lines[1:])] if len(lines) > 1 else [])]
    shown = [fitter.shortened(line, "italic", size, room) for line in shown]
    first = middle + size * (_MIDDLE - _ASIDE_STEP * (len(shown) - 1) / 2)
    return [
        fitter.text(
            line, right - room, first + i * size * _ASIDE_STEP, "italic", size, role="aside"
        )
        for i, line in enumerate(shown)
    ]


_LEAST_ROOM, _TWO_BEHIND, _MIDDLE = 4.5, 2.5, 0.36
"""Ems that a word or two take, the height of a row with two lines after its title, in sizes of
their type, and the middle of capitals over the baseline, in ems."""


def _title(
    title: str, column: tuple[float, float], base: float, low: float, size: float, fitter: Fitter
) -> list[Text]:
    """The title on one line; in two of the size ``low`` where that keeps it larger.  With 0
    there is no room for two."""
    left, width = column
    if not low or fitter.fitting_size(title, "strong", size, width) >= low:
        return _fitted(title, column, base, font="strong", size=size, role="song", fitter=fitter)
    first, *rest = fitter.wrapped(title, "strong", low, width)
    if not rest:
        return _fitted(title, column, base, font="strong", size=size, role="song", fitter=fitter)
    second = fitter.shortened(" ".join(rest), "strong", low, width)
    up = base - size * 0.3 + low * 0.3 - low * 0.58
    return [
        fitter.text(line, left, up + i * low * 1.16, "strong", low, role="song")
        for i, line in enumerate((first, second))
    ]


def _fitted(
    words: str,
    column: tuple[float, float],
    base: float,
    *,
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
    return [fitter.text(shown, left, base, font, fitting, role=role)]


def _cell(cell: GuitarCell, number: int, top: float, look: RowLook, fitter: Fitter) -> list[Item]:
    """A guitarist's setting: in a dark box where it changes; the first shape beside it.

    A guitar's name is longer than its setting, so its box takes the shape in where a song's line is
    its own.
    """
    left, width = look.columns.box(number)
    base, room = top + look.cell_base, (left + 4, width - 8)
    apart = look.guitar - look.cell_base
    below_shape, below_setting = (
        (apart - size * _DESCENT) / _ASCENT for size in (look.shape, look.setting)
    )
    wide = bool(cell.guitar) and look.tall and below_shape >= _SMALLEST_NAME
    whole = look.columns.guitar(number)[1] if wide else width
    ink, items = 0.0 if cell.changed else 1.0, list[Item]()
    under, small = top + look.guitar, max(look.setting * _NAME, min(5.0, look.height * 0.25))
    small = min(small, below_setting, below_shape if wide else small)
    if cell.changed:
        high, low = top + look.height * 0.07, top + look.height * 0.93
        if look.tall:
            pad = look.setting * _PAD
            high = base - look.setting * _CAPITAL - pad
            low = (under + small * _DESCENT if cell.guitar else base) + pad
            low = min(low, top + look.height - _ABOVE_RULE)
        right = left + whole
        items.append(Shape(((left, high), (right, high), (right, low), (left, low))))
    setting, size = setting_in(cell, look.columns), look.setting
    fitted = partial(_fitted, fitter=fitter)
    for text in fitted(setting, room, base, font="strong", size=size, role="setting"):
        items.append(_centred(text, room)._replace(ink=ink))
    if cell.guitar:
        below = (left + 4, whole - 8)
        for text in fitted(cell.guitar, below, under, font="plain", size=small, role="guitar"):
            items.append(_centred(text, below)._replace(ink=ink))
    shape, size = look.columns.shape(number), look.shape
    for text in fitted(cell.first, shape, base, font="plain", size=size, role="first"):
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


def _beginning(row: SheetRow, top: float, look: RowLook, fitter: Fitter) -> list[Text]:
    """The meter and how the song begins, in the room left of the guitarists."""
    left, _ = begin_at(look)
    base, items = top + look.line_base, list[Text]()
    if row.meter:
        meter = fitter.text(row.meter, left, base, "plain", look.line, role="meter")
        items.append(meter)
        left += after_meter(look, meter.width)
    if row.count_in:
        size = count_in_size(look)
        items.append(fitter.text(row.count_in, left, base, "italic", size, role="count-in"))
    return items
