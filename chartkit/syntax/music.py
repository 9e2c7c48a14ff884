"""Music rows: from elements to bars, with every chord on its beat."""

from bisect import bisect_left
from dataclasses import dataclass, field, replace

from chartkit.chart.marks import Mark, ordered_marks
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Cue, MusicRow, Strike
from chartkit.diagnostics import Span
from chartkit.syntax.bar import read_bar
from chartkit.syntax.beats import COUNTED
from chartkit.syntax.cells import Cell, cells_of, joined_lines
from chartkit.syntax.elements import UNSTRUCK, Element
from chartkit.syntax.marks import marks_in, report_no_bar_before
from chartkit.syntax.report import Report
from chartkit.syntax.strikes import MusicContext, strike_of
from chartkit.syntax.unexpected import report_unknown_words


def read_music(
    elements: list[Element], end: int, context: MusicContext, report: Report
) -> MusicRow | None:
    """The row of bars that the elements make; None when the row holds none.

    ``context`` is advanced past the row. Mistakes go to the report; the row is still read to its
    end.
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
        row = _BarredRow(context, report).row(cells, closing, comment)
    context.first_in_section = False
    return row


@dataclass(slots=True)
class _BarredRow:
    """Reads the bars of one row.

    ``waiting`` are marks between two bar lines that belong to the next bar, ``passed`` is the
    bar line before them.
    """

    context: MusicContext
    report: Report
    bars: list[Bar] = field(default_factory=list)
    lines: list[BarLine] = field(default_factory=list)
    waiting: list[Mark] = field(default_factory=list)
    passed: BarLine | None = None

    def row(self, cells: list[Cell], closing: BarLine, comment: str) -> MusicRow | None:
        """The row; None where it has no bar."""
        faults = self.report.places_in_row()
        for cell in cells:
            cell.faulty = bisect_left(faults, cell.start) < bisect_left(faults, cell.end + 1)
            opening = cell.opening
            if self.passed is not None:
                opening = joined_lines(self.passed, opening)
            if cell.elements and all(element.kind == "mark" for element in cell.elements):
                self._take_marks(marks_in(cell.elements, (0,), self.report))
                self.passed = opening
            else:
                self._add_bar(cell, opening)
        self._report_waiting()
        if not self.bars:
            return None
        if self.passed is not None:
            closing = joined_lines(self.passed, closing)
        return MusicRow(tuple(self.bars), (*self.lines, closing), comment)

    def _add_bar(self, cell: Cell, opening: BarLine) -> None:
        if self._comes_from_elsewhere(cell, opening):
            self.context.silence = ""
        bar = read_bar(cell, self.context, self.report)
        self.bars.append(replace(bar, marks=ordered_marks((*self.waiting, *bar.marks))))
        self.lines.append(opening)
        self.waiting, self.passed = [], None
        self.context.bars_before += bar.lasts

    def _comes_from_elsewhere(self, cell: Cell, opening: BarLine) -> bool:
        """Whether a bar may be played after another than the one written before it."""
        repeated = opening.endings or opening.kind in ("repeat-start", "repeat-both")
        own = marks_in(cell.elements, (0,), Report())
        return bool(repeated) or any(m.opens_bar for m in (*self.waiting, *own))

    def _take_marks(self, marks: tuple[Mark, ...]) -> None:
        """Gives marks that stand alone between bar lines to the next bar, where they open it, or
        to the one before."""
        for mark in marks:
            if mark.opens_bar:
                self.waiting.append(mark)
            elif self.bars:
                last = self.bars[-1]
                mark = replace(mark, onset=_last_place(last) if mark.place == "beat" else 0)
                self.bars[-1] = replace(last, marks=ordered_marks((*last.marks, mark)))
            else:
                report_no_bar_before(mark, self.report)

    def _report_waiting(self) -> None:
        for mark in self.waiting:
            self.report.add(
                "mark-without-bar",
                *self.report.in_row(mark.span),
                f'"@{mark.kind}" has no bar after it',
                "write it inside the bar it belongs to",
            )


def _last_place(bar: Bar) -> int:
    """The onset of the last beat of a bar where its beats are written, else of its last chord."""
    if bar.beats_written:
        return bar.length - TICKS_PER_BEAT
    return bar.strikes[-1].onset if bar.strikes else 0


def _free_bar(elements: list[Element], context: MusicContext, report: Report) -> Bar | None:
    """A row without bar lines: chords in order, without beats."""
    report_unknown_words(elements, report)
    marks = marks_in(elements, tuple(range(len(elements))), report)
    _check_no_beats(elements, report)
    strikes: list[Strike] = []
    cues: list[Cue] = []
    for element in elements:
        if element.kind == "group":
            chords = (part for part in element.value if part.kind not in UNSTRUCK)
            strikes += [strike_of(written, 0, 0, context, report) for written in chords]
        elif element.kind == "cue":
            span = Span(element.start + report.offset, element.end + report.offset)
            cues.append(Cue(" ".join(element.value.split()), len(strikes), span))
    if not strikes:
        if marks:
            report.add(
                "mark-without-bar",
                elements[0].start,
                elements[-1].end,
                "a mark needs a bar to stand in",
                "write it inside the bar it belongs to: | Db @fine ||",
            )
        return None
    return Bar(tuple(strikes), cues=tuple(cues), marks=marks)


def _check_no_beats(elements: list[Element], report: Report) -> None:
    """Reports the first sign of a beat in a row without bar lines."""
    for element in elements:
        shared = element.kind == "group" and len(element.value) > 1
        if not shared and element.kind not in (*COUNTED, "simile", "rest", "meter"):
            continue
        message = "this row has no bar lines, so it has no beats either"
        if shared:
            message = "chords that share a beat need bar lines around them"
        report.add("no-beats", element.start, element.end, message, 'put "|" around the bars')
        return
