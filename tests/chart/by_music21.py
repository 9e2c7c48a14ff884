"""The playing order of a chart as music21 unrolls it.

music21 takes the first coda sign for the place to leave at, and wants to know which bars an
ending lasts: here up to a repeat or a double bar line, and one bar where there is none.
"""

from music21 import bar, note, repeat, spanner, stream

from chartkit.chart.marks import Mark
from chartkit.chart.model import Chart
from chartkit.chart.written_order import WrittenBar, written_order

_JUMPS = {
    ("D.C.", ""): repeat.DaCapo,
    ("D.C.", "fine"): repeat.DaCapoAlFine,
    ("D.C.", "coda"): repeat.DaCapoAlCoda,
    ("D.S.", ""): repeat.DalSegno,
    ("D.S.", "fine"): repeat.DalSegnoAlFine,
    ("D.S.", "coda"): repeat.DalSegnoAlCoda,
    ("fine", ""): repeat.Fine,
    ("to-coda", ""): repeat.Coda,
    ("segno", ""): repeat.Segno,
    ("coda", ""): repeat.Coda,
}


def heard_by_music21(chart: Chart) -> str:
    """The roots of a chart with one chord a bar, as music21 plays its bars."""
    part = stream.Part()
    bars = written_order(chart)
    measures = [_measure(number, one) for number, one in enumerate(bars, 1)]
    for measure in measures:
        part.append(measure)
    for first, one in enumerate(bars):
        if one.endings:
            held = measures[first : _last_of_ending(bars, first) + 1]
            part.insert(0, spanner.RepeatBracket(held, number=",".join(map(str, one.endings))))
    return " ".join(sounded.name for sounded in part.expandRepeats().recurse().notes)


def _measure(number: int, one: WrittenBar) -> stream.Measure:
    measure = stream.Measure(number=number)
    measure.append(note.Note(f"{one.written.strikes[0].chord}4", quarterLength=4))
    if one.opens_repeat:
        measure.leftBarline = bar.Repeat(direction="start")
    if one.closes_repeat:
        measure.rightBarline = bar.Repeat(direction="end", times=one.after.times or None)
    for mark in one.written.marks:
        _put(measure, mark)
    return measure


def _put(measure: stream.Measure, mark: Mark) -> None:
    sign = _JUMPS[mark.kind, mark.until]()
    if mark.kind in ("segno", "coda"):
        measure.insert(0, sign)
    else:
        measure.append(sign)


def _last_of_ending(bars: tuple[WrittenBar, ...], first: int) -> int:
    for last in range(first, len(bars)):
        one = bars[last]
        if one.closes_repeat or one.after.kind == "double":
            return last
        if last + 1 < len(bars) and bars[last + 1].endings:
            break
    return first
