"""One bar: what stands between two bar lines, each chord on its beat."""

import re
from dataclasses import dataclass

from chartkit.chart.bar_lines import BAR_SIGNS
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Cue, Meter
from chartkit.diagnostics import Span
from chartkit.syntax.beats import COUNTED, TIMED, check_beats, check_splits, slots_in, starts_of
from chartkit.syntax.cells import Cell, joined_lines
from chartkit.syntax.elements import Element
from chartkit.syntax.marks import marks_in, with_jumps_joined
from chartkit.syntax.report import Report
from chartkit.syntax.rests import read_rest
from chartkit.syntax.settings import setting_value
from chartkit.syntax.strikes import REST, MusicContext, bar_strikes
from chartkit.syntax.unexpected import report_unknown_words


def read_bar(cell: Cell, context: MusicContext, report: Report) -> Bar:
    """The bar of a cell: strikes on their beats, cues and marks in their places.

    ``context`` is advanced past it.
    """
    errors = len(report.diagnostics)
    cell.elements = with_jumps_joined(cell.elements)
    meter = _read_meter(cell.elements, context, report)
    cell.faulty |= len(report.diagnostics) > errors
    slots = slots_in(cell.elements)
    report_unknown_words(cell.elements, report, cell.opening.kind)
    rest = read_rest(cell.elements, slots, report)
    if rest:
        return _rest_bar(cell, rest, meter, context, report)
    cell.faulty |= any(element.kind == "rest" for element in cell.elements)
    splits_fit = check_splits(slots, context.meter, report)
    simile = _read_simile(cell, slots, context, report)
    timing = _timing(cell, slots, splits_fit and not simile, context, report)
    pickup = timing.pickup and not simile
    struck = bar_strikes(slots, [*timing.starts, timing.length], context, report)
    if _faulty(cell):
        context.struck, context.silence = True, ""
    return Bar(
        strikes=tuple(struck.strikes),
        length=timing.length * max(1, simile),
        beats_written=timing.written,
        simile=simile,
        pickup=pickup,
        cues=_cues(cell.elements, [*timing.starts, timing.length], report),
        marks=marks_in(cell.elements, timing.starts, report),
        meter=meter,
        holds=tuple(struck.holds),
        slashes=tuple(struck.slashes),
        silences=tuple(struck.silences),
        mutes=tuple(struck.mutes),
        span=_span(cell, report),
    )


def _span(cell: Cell, report: Report) -> Span:
    return Span(cell.start + report.offset, cell.end + report.offset)


def _rest_bar(
    cell: Cell, rest: int, meter: Meter | None, context: MusicContext, report: Report
) -> Bar:
    context.silence = REST
    return Bar(
        length=context.meter.beats * TICKS_PER_BEAT * rest,
        cues=_cues(cell.elements, [0], report),
        marks=marks_in(cell.elements, (0,), report),
        rest=rest,
        meter=meter,
        span=_span(cell, report),
    )


def _read_simile(cell: Cell, slots: list[Element], context: MusicContext, report: Report) -> int:
    """How many bars before are played again: 0, 1 or 2.  Reports a bar with nothing to play."""
    similes = [element for element in cell.elements if element.kind == "simile"]
    if similes:
        _check_simile(similes, slots, cell.faulty, context, report)
        cell.faulty |= bool(slots)
        return int(similes[0].value)
    if not slots:
        _report_empty(cell, report)
    return 0


@dataclass(slots=True)
class _Timing:
    """Where the slots of a bar begin, in ticks, and how long it is; whether its beats are
    written, and whether it is a pick-up."""

    starts: tuple[int, ...]
    length: int
    written: bool
    pickup: bool = False


def _timing(
    cell: Cell, slots: list[Element], checked: bool, context: MusicContext, report: Report
) -> _Timing:
    """The timing of a bar; with ``checked``, beats that do not fit its meter are reported."""
    meter = context.meter
    unopened = context.first_in_section and cell.opening.kind == "none"
    if unopened and len(slots) < meter.beats and not _has_simile(cell):
        _warn_pickup(cell, len(slots), report)
        starts = tuple(i * TICKS_PER_BEAT for i in range(len(slots)))
        return _Timing(starts, len(slots) * TICKS_PER_BEAT, written=True, pickup=True)
    written = any(slot.kind in COUNTED or len(slot.value) > 1 for slot in slots)
    if checked and not _faulty(cell):
        check_beats(slots, written, meter, report)
    starts = tuple(starts_of(slots, written, meter))
    return _Timing(starts, meter.beats * TICKS_PER_BEAT, written)


def _has_simile(cell: Cell) -> bool:
    return any(element.kind == "simile" for element in cell.elements)


_SAYS_PICKUP = re.compile(r"\(?(?:pick-?\s?up|up-?beat)\)?", re.IGNORECASE)
"""A cue that says what a bar is: a bar of one beat has no slashes to show it."""


def _warn_pickup(cell: Cell, beats: int, report: Report) -> None:
    meant = any(
        e.kind in COUNTED or (e.kind == "cue" and _SAYS_PICKUP.fullmatch(str(e.value)))
        for e in cell.elements
    )
    if beats and not meant and not _faulty(cell):
        report.warn(
            "read-as-pickup",
            cell.elements[0].start,
            cell.elements[-1].end,
            f"this stands before the first bar line and is read as a pick-up of "
            f"{beats} beat{'s' if beats > 1 else ''}",
            'if it is a whole bar, write "|" before it; if it is a pick-up, write a slash for '
            'each further beat, or the cue "pick-up" before a single one',
        )


def _faulty(cell: Cell) -> bool:
    """Whether something in the bar was already reported, so that its beats are unknown."""
    return cell.faulty or any(
        e.kind in ("unknown", "unclosed_cue", "played") for e in cell.elements
    )


def _report_empty(cell: Cell, report: Report) -> None:
    if _faulty(cell):
        return
    meters = [element.value for element in cell.elements if element.kind == "meter"]
    if meters:
        report.add(
            "empty-bar",
            cell.start,
            cell.end,
            "there is nothing to play after this time signature",
            f"write it in the first bar it applies to: | {meters[0]} C ... |",
        )
        return
    report.add(
        "empty-bar",
        cell.start - len("|") if cell.end == cell.start else cell.start,
        cell.end,
        "there is nothing to play in this bar" if cell.elements else "this bar is empty",
        *_one_line(cell),
        "write % to play the bar before again, / for each beat the chord goes on, rest or N.C.",
    )


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
            "simile-not-alone",
            sign.start,
            sign.end,
            "a simile sign stands alone in its bar",
            "one sign says that the whole bar before is played again",
        )
        context.struck, context.silence = True, ""
    elif context.bars_before < sign.value:
        report.add(
            "nothing-to-repeat",
            sign.start,
            sign.end,
            "there is no bar before this one to play again"
            if sign.value == 1
            else "there are not two bars before this one to play again",
        )
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


# ---- time signatures
def _read_meter(elements: list[Element], context: MusicContext, report: Report) -> Meter | None:
    """The time signature at the start of the bar, which holds from there on; None without one."""
    timed = [element for element in elements if element.kind not in ("cue", "mark")]
    meter: Meter | None = None
    for element in elements:
        if element.kind != "meter":
            continue
        if element is not timed[0]:
            _report_meter_inside(element, report)
            continue
        try:
            value = setting_value("meter", element.value)
        except ValueError as reason:
            report.add("bad-meter", element.start, element.end, str(reason))
            continue
        if isinstance(value, Meter):
            context.meter = meter = value
    return meter


def _report_meter_inside(element: Element, report: Report) -> None:
    if element.value == "6/9":
        report.add(
            "chord-typed-apart",
            element.start,
            element.end,
            '"6/9" looks like the end of a chord',
            'join "6/9" to its root: "C6/9"',
        )
        return
    report.add(
        "meter-inside-bar",
        element.start,
        element.end,
        f"the time signature {element.value} does not stand first in its bar",
        f"a change of meter needs a bar line before it: | {element.value} ...",
    )
