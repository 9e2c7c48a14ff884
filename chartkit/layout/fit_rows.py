"""Rows that fit the line.

A row too long for the line breaks at a bar; a bar too long for the line breaks at a chord,
and words too long for one chord at a space.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby, pairwise

from chartkit.chart.model import TICKS_PER_BEAT, BarLine
from chartkit.chart.numbered_names import name_without_number
from chartkit.layout.boxes import BarBox, RowBox, SectionBox, Slot, Word
from chartkit.layout.break_rows import BarEnd, LongRow, best_row_breaks
from chartkit.layout.choices import Choices
from chartkit.layout.collect import Collector
from chartkit.layout.cut_alike import FittingRow, numbers_cut_alike, same_music_alike
from chartkit.layout.endings import endings_carried
from chartkit.layout.grids import line_indent
from chartkit.layout.style import Style
from chartkit.layout.words_alone import stanza_rows

_WIDEST_PICKUP = 0.4
"""The largest part of a line that one pick-up may take; a longer one gets a row to itself."""


def fitted_sections(
    sections: tuple[SectionBox, ...],
    collector: Collector,
    style: Style,
    indent: float,
    choices: Choices,
    measuring: bool = False,
) -> list[tuple[RowBox, ...]]:
    """The rows of every section, long ones cut into parts that fit the line.

    While ``measuring``, what goes on from row to row is left out but for endings: it makes no row
    higher.

    Where most rows of some number of bars in sections of a kind have to be cut, all are: half of
    a verse in short lines and half in long ones is harder to follow than either.  In columns, which
    are there to save a page, nearly all have to be.
    """
    fitting = [
        [
            _fitting_row(part, collector, style, indent)
            for row in section.rows
            for part in (stanza_rows(row, collector.fitter, style) if row.alone else (row,))
        ]
        for section in sections
    ]
    if choices.cut_alike:
        fitting = same_music_alike(sections, fitting)
    by_kind: dict[str, list[FittingRow]] = {}
    kinds = [name_without_number(section.name) for section in sections]
    for kind, rows in zip(kinds, fitting, strict=True):
        by_kind.setdefault(kind, []).extend(rows)
    cut = {kind: numbers_cut_alike(rows, choices.columns > 1) for kind, rows in by_kind.items()}
    join = _with_endings if measuring else _joined
    return [
        join(list(_lines_of(rows, cut[kind]))) for kind, rows in zip(kinds, fitting, strict=True)
    ]


def _lines_of(rows: list[FittingRow], alike: set[int]) -> Iterator[RowBox]:
    """The rows of a section, each in as many parts as it takes."""
    long: list[LongRow | None] = []
    for one in rows:
        row, room, widths = one
        is_cut = len(row.bars) in alike and not row.free
        if is_cut or one.is_long:
            # A row that would fit is cut if its line is a little shorter than it is.
            ends = _bar_ends(row.bars, widths)
            long.append(LongRow(ends, min(room, sum(widths) - 1) if is_cut else room))
        else:
            long.append(None)
    starts = iter(best_row_breaks([one for one in long if one is not None]))
    for one, cut in zip(rows, long, strict=True):
        yield from _parts(one.row, (0,) if cut is None else next(starts))


def _joined(rows: list[RowBox]) -> tuple[RowBox, ...]:
    """The rows of a section, each with what of its words and endings goes on from the one before
    it, and into the one after."""
    joined, carried = [], endings_carried(rows)
    split: dict[int, bool] = {}
    for i, row in enumerate(rows):
        verses = range(row.verses)
        before = tuple(split.get(verse, False) for verse in verses)
        after = tuple(i + 1 < len(rows) and _begins_held(rows[i + 1], verse) for verse in verses)
        joined.append(replace(row, split_before=before, held_after=after, in_ending=carried[i]))
        for verse in verses:
            said = [word for word in row.words_of(verse) if not word.held]
            if said or row.words_of(verse):
                split[verse] = said[-1].split if said else split.get(verse, False)
    return tuple(joined)


def _with_endings(rows: list[RowBox]) -> tuple[RowBox, ...]:
    """The same with endings alone."""
    carried = zip(rows, endings_carried(rows), strict=True)
    return tuple(replace(row, in_ending=True) if goes_on else row for row, goes_on in carried)


def _begins_held(row: RowBox, verse: int) -> bool:
    words = row.words_of(verse)
    pickup = row.pickups[verse] if verse < len(row.pickups) else None
    return bool(words) and words[0].held and pickup is None


def _fitting_row(row: RowBox, collector: Collector, style: Style, indent: float) -> FittingRow:
    row = _with_short_pickup(row, collector, style)
    room = style.line_width - line_indent(row, style, indent)
    if row.widest_bar > room:
        bars = tuple(part for bar in row.bars for part in _fitting_bars(bar, collector, room))
        row = replace(row, bars=bars)
    return FittingRow(row, room, row.widths)


def _parts(row: RowBox, starts: tuple[int, ...]) -> Iterator[RowBox]:
    """The row cut where its lines begin."""
    if len(starts) == 1:
        yield row
        return
    ends = (*starts[1:], len(row.bars))
    fullest = max(b - a for a, b in zip(starts, ends, strict=True))
    for start, end in zip(starts, ends, strict=True):
        bars = row.bars[start:end]
        if start:
            part = RowBox(
                bars=bars,
                pickups=(),
                verses=row.verses,
                above=(),
                free=row.free,
                cut=fullest,
                numbers=row.numbers,
                goes_on=True,
            )
            yield _without_silent_verses(replace(part, numbers=_numbers_sung(part)))
        else:
            yield replace(row, bars=bars, cut=fullest)


def _without_silent_verses(row: RowBox) -> RowBox:
    """A later part of a row without the verses that have no words in it. If syllables are held,
    verses above others keep their room, since each goes on from the part before."""
    words = [word for box in row.bars for slot in box.slots for word in slot.words if word]
    kept = [verse for verse in range(row.verses) if row.words_of(verse)]
    if kept and any(word.held for word in words):
        kept = list(range(kept[-1] + 1))
    if len(kept) == row.verses:
        return row
    bars = tuple(
        box._replace(slots=tuple(_with_verses(slot, kept) for slot in box.slots))
        for box in row.bars
    )
    numbers = tuple(row.numbers[verse] for verse in kept if verse < len(row.numbers))
    return replace(row, bars=bars, verses=len(kept), numbers=numbers)


def _with_verses(slot: Slot, kept: list[int]) -> Slot:
    sung = (slot.words[verse] for verse in kept if verse < len(slot.words))
    return slot._replace(words=tuple(sung))


def _numbers_sung(row: RowBox) -> tuple[Word | None, ...]:
    """The numbers of the verses that have words in the row."""
    return tuple(n if row.words_of(verse) else None for verse, n in enumerate(row.numbers))


def _bar_ends(bars: tuple[BarBox, ...], widths: tuple[float, ...]) -> tuple[BarEnd, ...]:
    ends, count, in_ending = [], 0, False
    for bar, following, width in zip(bars, (*bars[1:], None), widths, strict=True):
        count += not bar.broken
        in_ending = (in_ending and bar.opening.kind == "single") or bool(bar.opening.endings)
        starts_ending = following is not None and bool(following.opening.endings)
        at_sign = starts_ending or bar.closing.kind != "single"
        ends.append(BarEnd(width, count, bar.broken, at_sign, in_ending and not at_sign))
    return tuple(ends)


def _with_short_pickup(row: RowBox, collector: Collector, style: Style) -> RowBox:
    """A pick-up too long to stand before the bar line becomes a bar of its own."""
    if not row.bars or row.pickup_width <= style.line_width * _WIDEST_PICKUP:
        return row
    first = row.bars[0]
    open_line = BarLine("none")
    written = replace(first.bar, simile=0)
    like = first._replace(opening=open_line, closing=open_line, bar=written)
    own = collector.bars.bar_box(like, (Slot(0.0, words=row.pickups),), broken=True, continued=True)
    return replace(row, bars=(own, *row.bars), pickups=())


def _fitting_bars(bar: BarBox, collector: Collector, room: float) -> list[BarBox]:
    """The bar whole, or in parts when it is wider than the line."""
    if bar.width <= room:
        return [bar]
    inner = room - bar.left_pad - bar.right_pad
    slots = [part for slot in bar.slots for part in _fitting_slots(slot, collector, inner)]

    def fits(some: list[Slot]) -> bool:
        return collector.bars.bar_box(bar, _reshared(some)).width <= room

    beats = _beats_of(bar, slots)
    units = [u for beat in beats for u in ([beat] if fits(beat) else [[slot] for slot in beat])]
    groups: list[list[Slot]] = [[]]
    for unit in units:
        if groups[-1] and not fits([*groups[-1], *unit]):
            groups.append([])
        groups[-1] += unit
    even = _evenly(units, len(groups))
    groups = even if all(map(fits, even)) else groups
    last = len(groups) - 1
    parts = [
        collector.bars.bar_box(bar, _reshared(group), broken=i < last, continued=i > 0)
        for i, group in enumerate(groups)
    ]
    held = [*(group[0].held for group in groups[1:]), bar.tied]
    return [part._replace(tied=tied) for part, tied in zip(parts, held, strict=True)]


def _evenly(units: list[list[Slot]], count: int) -> list[list[Slot]]:
    """The slots of units in so many groups of as many units each as can be: of four chords two
    stand in each half."""
    ends = [-(-len(units) * i // count) for i in range(count + 1)]
    return [[slot for unit in units[a:b] for slot in unit] for a, b in pairwise(ends)]


def _beats_of(bar: BarBox, slots: list[Slot]) -> list[list[Slot]]:
    """The slots in what should not be torn: beats where they are written, else one by one."""
    if not bar.bar.beats_written:
        return [[slot] for slot in slots]
    beats = groupby(slots, key=lambda slot: slot.onset // TICKS_PER_BEAT)
    return [list(beat) for _, beat in beats]


def _reshared(slots: list[Slot]) -> tuple[Slot, ...]:
    """The slots with their shares spread over the part of the bar they now fill."""
    start, end = slots[0].share, 1.0
    span = max(end - start, 0.01)
    return tuple(slot._replace(share=(slot.share - start) / span) for slot in slots)


def _fitting_slots(slot: Slot, collector: Collector, room: float) -> Iterator[Slot]:
    """The slot, its words carried on in further slots where they are wider than the line."""
    wrapped = [collector.bars.words.wrapped(word, room) if word else [] for word in slot.words]
    yield slot._replace(words=tuple(parts[0] if parts else None for parts in wrapped))
    for i in range(1, max(map(len, wrapped), default=1)):
        words: tuple[Word | None, ...] = tuple(p[i] if i < len(p) else None for p in wrapped)
        yield Slot(slot.share, words=words, onset=slot.onset)
