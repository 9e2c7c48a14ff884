"""A music row: elements to bars, with every chord on its beat."""

from bisect import bisect_left
from dataclasses import replace

from chartkit.chart.model import (
    OPENING_MARKS,
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    Cue,
    Mark,
    MusicRow,
    Strike,
)
from chartkit.diagnostics import Span
from chartkit.syntax.beats import COUNTED, TIMED, check_beats, check_splits, slots_in, starts_of
from chartkit.syntax.cells import BAR_SIGNS, Cell, cells_of, joined_lines
from chartkit.syntax.elements import UNSTRUCK, Element
from chartkit.syntax.marks import attach, marks_in
from chartkit.syntax.meter_signs import read_meter
from chartkit.syntax.misfits import report_strays
from chartkit.syntax.report import Report
from chartkit.syntax.rests import read_rest
from chartkit.syntax.strikes import REST, MusicContext, strike_of, struck_in


def read_music(
    elements: list[Element], end: int, context: MusicContext, report: Report
) -> MusicRow | None:
    """The row of bars that the elements make; None when the row holds none.

    ``context`` is moved on past the row.  Mistakes go to the report, and the row is read to
    its end all the same.
    """
    comment = ""
    if elements and elements[-1].kind == "comment":
        comment = elements[-1].value
        elements = elements[:-1]
    if not any(element.kind == "line" for element in elements):
        bar = _free_bar(elements, context, report)
        row = None if bar is None else MusicRow((bar,), (), comment)
    else:
        cells, closing = cells_of(elements, end, report)
        row = _barred_row(cells, closing, comment, context, report)
    context.first_in_section = False
    return row


def _barred_row(
    cells: list[Cell], closing: BarLine, comment: str, context: MusicContext, report: Report
) -> MusicRow | None:
    bars: list[Bar] = []
    lines: list[BarLine] = []
    waiting: list[Mark] = []
    passed: BarLine | None = None
    marks_of: list[list[Mark]] = []
    faults = report.places_in_row()
    for cell in cells:
        opening = cell.opening if passed is None else joined_lines(passed, cell.opening)
        marks = marks_in(cell.elements, report)
        if cell.elements and all(element.kind == "mark" for element in cell.elements):
            waiting += (mark for mark in marks if mark.kind in OPENING_MARKS)
            attach(marks, marks_of, report)
            passed = opening
            continue
        if _comes_from_elsewhere(opening, [*waiting, *marks]):
            context.silence = ""
        cell.faulty = bisect_left(faults, cell.start) < bisect_left(faults, cell.end + 1)
        bars.append(_bar(cell, context, report))
        marks_of.append([*waiting, *marks])
        lines.append(opening)
        waiting, passed = [], None
        context.bars_before += bars[-1].lasts
    for mark in waiting:
        report.add(
            "mark-without-bar", *report.in_row(mark.span), f'"@{mark.kind}" has no bar after it',
            "write it inside the bar it belongs to",
        )  # fmt: skip
    if not bars:
        return None
    if passed is not None:
        closing = joined_lines(passed, closing)
    marked = (replace(b, marks=tuple(m)) if m else b for b, m in zip(bars, marks_of, strict=True))
    return MusicRow(tuple(marked), (*lines, closing), comment)


def _comes_from_elsewhere(opening: BarLine, marks: list[Mark]) -> bool:
    """Whether a bar may be played after another than the one written before it."""
    repeated = opening.endings or opening.kind in ("repeat-start", "repeat-both")
    return bool(repeated) or any(mark.kind in OPENING_MARKS for mark in marks)


def _bar(cell: Cell, context: MusicContext, report: Report) -> Bar:
    """One bar without its marks: strikes on their beats, cues in their places."""
    told = len(report.found)
    meter = read_meter(cell.elements, context, report)
    cell.faulty |= len(report.found) > told
    slots = slots_in(cell.elements)
    similes = [element for element in cell.elements if element.kind == "simile"]
    span = Span(cell.start + report.offset, cell.end + report.offset)
    beats = context.meter.beats
    pickup = context.first_in_section and cell.opening.kind == "none" and len(slots) < beats
    report_strays(cell.elements, report, cell.opening.kind)
    rest = read_rest(cell.elements, slots, report)
    if rest:
        cues = _cues(cell.elements, [0], report)
        length = beats * TICKS_PER_BEAT * rest
        context.silence = REST
        return Bar((), length, cues=cues, rest=rest, meter=meter, span=span)
    cell.faulty |= any(element.kind == "rest" for element in cell.elements)
    splits_fit = check_splits(slots, context.meter, report)
    if similes:
        _check_simile(similes, slots, cell.faulty, context, report)
        cell.faulty |= bool(slots)
    elif not slots:
        _report_empty(cell, report)
    written = any(e.kind in COUNTED or len(e.value) > 1 for e in slots)
    if pickup and not similes:
        starts = [i * TICKS_PER_BEAT for i in range(len(slots))]
        length = len(slots) * TICKS_PER_BEAT
        written = True
        _warn_pickup(cell, len(slots), report)
    else:
        if splits_fit and not _faulty(cell):
            check_beats(slots, written, context.meter, report)
        starts, length = starts_of(slots, written, context.meter), beats * TICKS_PER_BEAT
    starts = [*starts, length]
    struck = struck_in(slots, starts, context, report)
    if _faulty(cell):
        context.struck, context.silence = True, ""
    return Bar(
        tuple(struck.strikes), length * (2 if similes and similes[0].value == 2 else 1), written,
        similes[0].value if similes else 0, pickup and not similes,
        _cues(cell.elements, starts, report), (), 0, meter, tuple(struck.holds),
        tuple(struck.slashes), tuple(struck.silences), tuple(struck.mutes), span,
    )  # fmt: skip


def _warn_pickup(cell: Cell, beats: int, report: Report) -> None:
    if beats and not _faulty(cell) and not any(e.kind in COUNTED for e in cell.elements):
        report.warn(
            "read-as-pickup", cell.elements[0].start, cell.elements[-1].end,
            f"this stands before the first bar line and is read as a pick-up of "
            f"{beats} beat{'s' if beats > 1 else ''}",
            'if it is a whole bar, write "|" before it; if not, give its beats slashes',
        )  # fmt: skip


def _faulty(cell: Cell) -> bool:
    """Whether something in the bar was already reported, so that its beats cannot be told."""
    return cell.faulty or any(
        e.kind in ("unknown", "unclosed_cue", "played") for e in cell.elements
    )


def _report_empty(cell: Cell, report: Report) -> None:
    if _faulty(cell):
        return
    meters = [element.value for element in cell.elements if element.kind == "meter"]
    if meters:
        report.add(
            "empty-bar", cell.start, cell.end, "there is nothing to play after this time signature",
            f"it stands in the first bar it is for: | {meters[0]} C ... |",
        )  # fmt: skip
        return
    report.add(
        "empty-bar", cell.start - len("|") if cell.end == cell.start else cell.start,
        cell.end, "there is nothing to play in this bar" if cell.elements else "this bar is empty",
        *_one_line(cell),
        "write % to play the bar before again, / for each beat the chord goes on, rest or N.C.",
    )  # fmt: skip


def _one_line(cell: Cell) -> tuple[str, ...]:
    """A hint at two bar lines typed with a blank between them that are likely to be one."""
    lines = {cell.opening.kind, cell.closing}
    if cell.elements or len(lines) == 1 or "none" in lines or cell.end == cell.start:
        return ()
    sign = BAR_SIGNS[joined_lines(cell.opening, BarLine(cell.closing)).kind]
    return (f'if this is one bar line, write it without a blank: "{sign}"',)


def _check_simile(
    similes: list[Element],
    slots: list[Element],
    faulty: bool,
    context: MusicContext,
    report: Report,
) -> None:
    sign = similes[0]
    if faulty:
        context.struck = True
    elif slots or len(similes) > 1:
        report.add(
            "simile-not-alone", sign.start, sign.end, "a simile sign stands alone in its bar",
            "one sign says that the whole bar before is played again",
        )  # fmt: skip
        context.struck, context.silence = True, ""
    elif context.bars_before < sign.value:
        report.add(
            "nothing-to-repeat", sign.start, sign.end,
            "there is no bar before this one to play again" if sign.value == 1
            else "there are no two bars before this one to play again",
        )  # fmt: skip
        context.struck = True


def _cues(elements: list[Element], starts: list[int], report: Report) -> tuple[Cue, ...]:
    cues, passed = [], 0
    for element in elements:
        if element.kind in TIMED:
            passed += 1
        elif element.kind == "cue":
            text = " ".join(element.value.split())
            span = Span(element.start + report.offset, element.end + report.offset)
            cues.append(Cue(text, starts[min(passed, len(starts) - 1)], span))
    return tuple(cues)


def _free_bar(elements: list[Element], context: MusicContext, report: Report) -> Bar | None:
    """A row without bar lines: chords in order, without beats."""
    report_strays(elements, report)
    marks = marks_in(elements, report)
    strikes: list[Strike] = []
    cues: list[Cue] = []
    for element in elements:
        span = Span(element.start + report.offset, element.end + report.offset)
        if element.kind == "group":
            if len(element.value) > 1:
                report.add(
                    "no-beats", element.start, element.end,
                    "chords that share a beat need bar lines around them",
                    'put "|" around the bars',
                )  # fmt: skip
            chords = (part for part in element.value if part.kind not in UNSTRUCK)
            strikes += [strike_of(written, 0, 0, context, report) for written in chords]
        elif element.kind == "cue":
            cues.append(Cue(" ".join(element.value.split()), len(strikes), span))
        elif element.kind in (*COUNTED, "simile", "rest", "meter"):
            report.add(
                "no-beats", element.start, element.end,
                "this row has no bar lines, so it has no beats either",
                'put "|" around the bars',
            )  # fmt: skip
    if not strikes:
        if marks:
            report.add(
                "mark-without-bar", elements[0].start, elements[-1].end,
                "a mark needs a bar to stand in",
                "write it inside the bar it belongs to: | Db @fine ||",
            )  # fmt: skip
        return None
    return Bar(tuple(strikes), cues=tuple(cues), marks=marks)
