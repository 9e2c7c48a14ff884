"""Writes a chart out measure by measure, as MusicXML needs it.

Sections that share music get their own copy of it with the verses they sing, a simile over two
bars becomes two measures, and words sung before a bar line go to the measure before it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from chartkit.chart.marks import Mark
from chartkit.chart.model import (
    Bar,
    BarLine,
    BarLineKind,
    Chart,
    Meter,
    MusicRow,
    Segment,
    SettingRow,
    WordsRow,
)
from chartkit.chart.restated import restated_systems
from chartkit.chart.sung_lines import sung_lines, with_own_verses
from chartkit.chart.systems import System

NO_LINE = BarLine()


@dataclass(frozen=True, slots=True)
class VerseLine:
    """The words of one verse under a measure.

    ``number`` is the lyric's number, ``named`` whether the chart numbers the verse;
    ``last`` says that a row of words ends here, and ``after`` is what is sung before the
    next row's first bar.
    """

    number: int
    named: bool
    cell: tuple[Segment, ...]
    last: bool = False
    after: Segment = Segment()
    after_named: bool = False


@dataclass(frozen=True, slots=True)
class OutgoingMeasure:
    """One measure to be written.

    ``opening`` and ``closing`` are its two bar lines, ``part_of_two`` is 1 or 2 for the
    measures of a two-bar simile.  ``rests`` is 1 for a measure of rest, on the first of several
    their number.  ``instructions`` are cues that stood on rows of their own.
    """

    bar: Bar
    meter: Meter
    free: bool
    opening: BarLine = NO_LINE
    closing: BarLine = NO_LINE
    section: str = ""
    settings: tuple[SettingRow, ...] = ()
    instructions: tuple[str, ...] = ()
    lines: tuple[VerseLine, ...] = ()
    new_row: bool = False
    part_of_two: int = 0
    rests: int = 0


@dataclass(slots=True)
class _Flow:
    """The state from row to row: the meter, and what waits for the next measure."""

    meter: Meter
    section: str = ""
    settings: tuple[SettingRow, ...] = ()
    instructions: tuple[str, ...] = ()


def outgoing_measures(chart: Chart) -> tuple[OutgoingMeasure, ...]:
    """Every measure of the chart, in order."""
    flow = _Flow(chart.meter)
    measures: list[OutgoingMeasure] = []
    written_out = with_own_verses(restated_systems(chart), sung_lines(chart))
    for section, systems in zip(chart.sections, written_out, strict=True):
        flow.section = section.name
        first = len(measures)
        for system in systems:
            _gather_changes(system, flow)
            if system.music is not None:
                _add_row(measures, system.music, system.words, flow)
        if section.times > 1:
            _repeat(measures, first, section.times)
    return tuple(measures)


def _gather_changes(system: System, flow: _Flow) -> None:
    for row in system.above:
        if isinstance(row, SettingRow):
            flow.settings = (*flow.settings, row)
            if isinstance(row.value, Meter):
                flow.meter = row.value
        else:
            flow.instructions = (*flow.instructions, row.text)


def cannot_be_repeated(
    bars: tuple[Bar, ...], lines: tuple[BarLine, ...], free: bool = False
) -> bool:
    """Whether music has repeats, a pick-up or free time of its own, so that no repeat signs can
    stand around it."""
    own = any(line.kind.startswith("repeat") or line.endings for line in lines)
    return own or free or any(bar.pickup for bar in bars)


def _repeat(measures: list[OutgoingMeasure], first: int, times: int) -> None:
    """Repeat signs around a section that is played several times; a cue where it cannot have
    them."""
    if first < len(measures) and measures[first].bar.pickup and not measures[first].bar.strikes:
        first += 1
    played = measures[first:]
    if not played:
        return
    if any(cannot_be_repeated((m.bar,), (m.opening, m.closing), m.free) for m in played):
        measures[first] = replace(
            played[0], instructions=(f"{times} times", *played[0].instructions)
        )
        return
    measures[first] = replace(measures[first], opening=BarLine("repeat-start"))
    written = times if times > 2 else 0
    measures[-1] = replace(measures[-1], closing=BarLine("repeat-end", times=written))


def _add_row(
    measures: list[OutgoingMeasure], music: MusicRow, words: tuple[WordsRow, ...], flow: _Flow
) -> None:
    """Adds a row's measures, the words before its first bar to the measure before."""
    numbers = _lyric_numbers(words)
    has_pickup = music.free or music.lines[0].kind != "none"
    row: list[OutgoingMeasure] = []
    for i, bar in enumerate(music.bars):
        lines = tuple(
            VerseLine(
                number=number,
                named=words_row.verse is not None,
                cell=cells[i],
                last=i == _last_sung(cells),
            )
            for words_row, number in zip(words, numbers, strict=True)
            if i < len(cells := words_row.cells[has_pickup:])
        )
        row += _measures_of(bar, music, i, lines, flow)
    if measures and row:
        row[0] = replace(row[0], new_row=True)
        _open_repeat(measures, row)
    if has_pickup:
        sung = [(w, n, w.cells[0][0]) for w, n in zip(words, numbers, strict=True) if w.cells]
        _add_pickup(measures, row, [s for s in sung if s[2] != Segment()])
    measures += row


def _open_repeat(measures: list[OutgoingMeasure], row: list[OutgoingMeasure]) -> None:
    """A repeat that begins with the last line of a row begins with the next row's first."""
    kind = measures[-1].closing.kind
    if kind not in ("repeat-start", "repeat-both") or row[0].free:
        return
    ends: BarLineKind = "repeat-end" if kind == "repeat-both" else "single"
    closing = BarLine(ends, times=measures[-1].closing.times)
    measures[-1] = replace(measures[-1], closing=closing)
    row[0] = replace(row[0], opening=replace(row[0].opening, kind="repeat-start"))


def _last_sung(cells: tuple[tuple[Segment, ...], ...]) -> int:
    """The last cell with words; a line ends there."""
    return max((i for i, cell in enumerate(cells) if set(cell) != {Segment()}), default=-1)


def _lyric_numbers(words: tuple[WordsRow, ...]) -> list[int]:
    """A lyric number for each row of a stack: its verse, or the first that is free."""
    taken = {row.verse for row in words if row.verse}
    numbers: dict[int, None] = {}
    fresh = 1
    for row in words:
        while fresh in taken:
            fresh += 1
        number = row.verse if row.verse and row.verse not in numbers else fresh
        numbers[number] = None
        taken.add(number)
    return list(numbers)


def _measures_of(
    bar: Bar, music: MusicRow, i: int, lines: tuple[VerseLine, ...], flow: _Flow
) -> Iterator[OutgoingMeasure]:
    opening, closing = (NO_LINE, NO_LINE) if music.free else (music.lines[i], music.lines[i + 1])
    flow.meter = bar.meter or flow.meter
    last = i == len(music.bars) - 1
    measure = OutgoingMeasure(
        bar=bar,
        meter=flow.meter,
        free=music.free,
        opening=opening,
        closing=closing if last else _left_half(closing),
        section=flow.section,
        settings=flow.settings,
        instructions=flow.instructions,
        lines=lines,
    )
    if i:
        measure = replace(measure, opening=_right_half(opening))
    flow.section, flow.settings, flow.instructions = "", (), ()
    if bar.rest:
        yield from _rests(measure)
        return
    if bar.simile != 2:
        yield measure
        return
    at_start, others = _marks_apart(bar)
    first = replace(bar, marks=at_start)
    yield replace(measure, closing=NO_LINE, part_of_two=1, bar=first)
    second = replace(bar, cues=(), marks=others)
    yield OutgoingMeasure(second, flow.meter, free=False, closing=measure.closing, part_of_two=2)


def _marks_apart(bar: Bar) -> tuple[tuple[Mark, ...], tuple[Mark, ...]]:
    """The marks that open a bar, and its other marks."""
    opening = tuple(mark for mark in bar.marks if mark.opens_bar)
    return opening, tuple(mark for mark in bar.marks if not mark.opens_bar)


def _rests(measure: OutgoingMeasure) -> Iterator[OutgoingMeasure]:
    """A measure for each bar of a rest; cues and opening marks go to the first, the others to
    the last."""
    bar = measure.bar
    one = Bar((), bar.length // bar.rest, rest=1)
    opening, ending = _marks_apart(bar)
    for i in range(bar.rest):
        last = i == bar.rest - 1
        yield replace(
            measure if not i else OutgoingMeasure(one, measure.meter, free=False),
            bar=replace(
                one,
                cues=() if i else bar.cues,
                marks=(*(() if i else opening), *(ending if last else ())),
            ),
            closing=measure.closing if last else NO_LINE,
            rests=1 if i else bar.rest,
        )


def _left_half(line: BarLine) -> BarLine:
    """The part of a bar line that belongs to the bar before it."""
    kind = {"repeat-both": "repeat-end", "repeat-start": "single"}.get(line.kind, line.kind)
    return BarLine(kind, times=line.times)  # type: ignore[arg-type]


def _right_half(line: BarLine) -> BarLine:
    """The part of a bar line that belongs to the bar after it."""
    starts = line.kind in ("repeat-both", "repeat-start")
    return BarLine("repeat-start" if starts else "single", line.endings)


def _add_pickup(
    measures: list[OutgoingMeasure],
    row: list[OutgoingMeasure],
    sung: list[tuple[WordsRow, int, Segment]],
) -> None:
    """Gives the words of a pick-up to the measure before, or to one of their own."""
    if not sung:
        return
    if not measures:
        lines = tuple(
            VerseLine(number, words.verse is not None, (segment,))
            for words, number, segment in sung
        )
        first = OutgoingMeasure(
            Bar(pickup=True),
            row[0].meter,
            free=False,
            lines=lines,
            settings=row[0].settings,
            section=row[0].section,
        )
        row[0] = replace(row[0], settings=(), section="")
        measures.append(first)
        return
    before = measures[-1]
    lines_by_number = {line.number: line for line in before.lines}
    for words, number, segment in sung:
        old = lines_by_number.get(number, VerseLine(number=number, named=False, cell=(), last=True))
        lines_by_number[number] = replace(old, after=segment, after_named=words.verse is not None)
    measures[-1] = replace(before, lines=tuple(lines_by_number.values()))
