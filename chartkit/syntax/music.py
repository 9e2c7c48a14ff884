"""A music row: elements to bars, with every chord on its beat."""

from bisect import bisect_left
from dataclasses import dataclass, replace

from chartkit.chart.model import (
    OPENING_MARKS,
    TICKS_PER_BEAT,
    Bar,
    BarLine,
    BarLineKind,
    Cue,
    Mark,
    Meter,
    MusicRow,
    Strike,
)
from chartkit.diagnostics import Span
from chartkit.syntax.beats import MOST_IN_A_BEAT, check_beats, slots_in, starts_of
from chartkit.syntax.elements import Element, StrikeText
from chartkit.syntax.marks import attach, marks_in
from chartkit.syntax.misfits import report_strays
from chartkit.syntax.report import Report
from chartkit.syntax.symbol import NotAChord, read_symbol
from chartkit.theory.chord import Chord
from chartkit.theory.note import parse_note


@dataclass(slots=True)
class MusicContext:
    """What a music row needs to know of what came before it in the text."""

    meter: Meter = Meter(4, 4)
    chord: Chord | None = None
    bars_before: int = 0
    first_in_section: bool = True


@dataclass(slots=True)
class _Cell:
    """What stands between two bar lines."""

    elements: list[Element]
    opening: BarLine
    start: int
    end: int
    faulty: bool = False


def bar_line(text: str) -> tuple[BarLineKind, tuple[int, ...]]:
    """The kind of a bar line as typed, and the endings it begins: ``:|2.`` → repeat-end, (2,)."""
    sign = text.rstrip("0123456789.")
    endings = tuple(int(number) for number in text[len(sign) :].split(".") if number)
    kinds: dict[tuple[bool, bool], BarLineKind] = {
        (True, True): "repeat-both",
        (True, False): "repeat-end",
        (False, True): "repeat-start",
        (False, False): "double" if "||" in sign else "single",
    }
    return kinds[sign.startswith(":"), sign.endswith(":")], endings


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
        cells, closing = _cells(elements, end, report.offset)
        row = _barred_row(cells, closing, comment, context, report)
    context.first_in_section = False
    return row


def _cells(elements: list[Element], end: int, offset: int) -> tuple[list[_Cell], BarLine]:
    """The row cut at its bar lines, and the line that closes it."""
    cells: list[_Cell] = []
    opening, content, start = BarLine("none"), list[Element](), elements[0].start
    for element in elements:
        if element.kind != "line":
            content.append(element)
            continue
        kind, endings = bar_line(element.value)
        line = BarLine(kind, endings, Span(offset + element.start, offset + element.end))
        if content or opening.kind != "none":
            if not content and (opening.kind, kind) == ("repeat-end", "repeat-start"):
                line = BarLine("repeat-both", endings, line.span)
            else:
                cells.append(_Cell(content, opening, start, element.start))
        opening, content, start = line, [], element.end
    if content:
        cells.append(_Cell(content, opening, start, end))
        opening = BarLine()
    return _with_leading_cue(cells), opening


def _with_leading_cue(cells: list[_Cell]) -> list[_Cell]:
    """The cells with a cue typed before the first bar line put into the first bar."""
    first, *others = cells or [_Cell([], BarLine(), 0, 0)]
    cues_alone = first.elements and all(e.kind == "cue" for e in first.elements)
    if not others or first.opening.kind != "none" or not cues_alone:
        return cells
    others[0].elements[:0] = first.elements
    return others


def _barred_row(
    cells: list[_Cell], closing: BarLine, comment: str, context: MusicContext, report: Report
) -> MusicRow | None:
    bars: list[Bar] = []
    lines: list[BarLine] = []
    waiting: list[Mark] = []
    passed: BarLine | None = None
    marks_of: list[list[Mark]] = []
    faults = report.places_in_row()
    for cell in cells:
        opening = cell.opening if passed is None else _joined_lines(passed, cell.opening)
        marks = marks_in(cell.elements, report)
        if cell.elements and all(element.kind == "mark" for element in cell.elements):
            waiting += (mark for mark in marks if mark.kind in OPENING_MARKS)
            attach(marks, marks_of, report)
            passed = opening
            continue
        cell.faulty = bisect_left(faults, cell.start) < bisect_left(faults, cell.end + 1)
        bars.append(_bar(cell, context, report))
        marks_of.append([*waiting, *marks])
        lines.append(opening)
        waiting, passed = [], None
        context.bars_before += max(1, bars[-1].simile)
    for mark in waiting:
        report.add(
            "mark-without-bar", *report.in_row(mark.span), f'"@{mark.kind}" has no bar after it',
            "write it inside the bar it belongs to",
        )  # fmt: skip
    if not bars:
        return None
    if passed is not None:
        closing = _joined_lines(passed, closing)
    marked = (replace(b, marks=tuple(m)) if m else b for b, m in zip(bars, marks_of, strict=True))
    return MusicRow(tuple(marked), (*lines, closing), comment)


_TELLING: tuple[BarLineKind, ...] = (
    "none", "single", "double", "repeat-start", "repeat-end", "repeat-both",
)  # fmt: skip


def _joined_lines(first: BarLine, second: BarLine) -> BarLine:
    """The one line that stands for the two around a mark: the plain one gives way."""
    kinds = {first.kind, second.kind}
    if kinds == {"repeat-end", "repeat-start"}:
        return BarLine("repeat-both", first.endings + second.endings, second.span)
    telling = max(second, first, key=lambda line: _TELLING.index(line.kind))
    return replace(telling, endings=first.endings + second.endings)


def _bar(cell: _Cell, context: MusicContext, report: Report) -> Bar:
    """One bar without its marks: strikes on their beats, cues in their places."""
    slots = slots_in(cell.elements)
    similes = [element for element in cell.elements if element.kind == "simile"]
    span = Span(cell.start + report.offset, cell.end + report.offset)
    beats = context.meter.beats
    pickup = context.first_in_section and cell.opening.kind == "none" and len(slots) < beats
    report_strays(cell.elements, report)
    if similes:
        _check_simile(similes, slots, context, report)
    elif not slots:
        _report_empty(cell, report)
    written = any(e.kind == "beat" or len(e.value) > 1 for e in slots)
    if pickup and not similes:
        starts = [i * TICKS_PER_BEAT for i in range(len(slots))]
        length = len(slots) * TICKS_PER_BEAT
        written = True
        _warn_pickup(cell, len(slots), report)
    else:
        if not _faulty(cell):
            check_beats(slots, written, context.meter, report)
        starts, length = starts_of(slots, written, context.meter), beats * TICKS_PER_BEAT
    starts = [*starts, length]
    strikes = _strikes(slots, starts, context, report)
    return Bar(
        strikes, length * (2 if similes and similes[0].value == 2 else 1), written,
        similes[0].value if similes else 0, pickup and not similes,
        _cues(cell.elements, starts, report), span=span,
    )  # fmt: skip


def _warn_pickup(cell: _Cell, beats: int, report: Report) -> None:
    if beats and not _faulty(cell) and not any(e.kind == "beat" for e in cell.elements):
        report.warn(
            "read-as-pickup", cell.elements[0].start, cell.elements[-1].end,
            f"this stands before the first bar line and is read as a pick-up of "
            f"{beats} beat{'s' if beats > 1 else ''}",
            'if it is a whole bar, write "|" before it; if not, give its beats slashes',
        )  # fmt: skip


def _faulty(cell: _Cell) -> bool:
    """Whether something in the bar was already reported, so that its beats cannot be told."""
    return cell.faulty or any(e.kind in ("unknown", "unclosed_cue") for e in cell.elements)


def _report_empty(cell: _Cell, report: Report) -> None:
    if _faulty(cell):
        return
    report.add(
        "empty-bar", cell.start - len("|") if cell.end == cell.start else cell.start,
        cell.end, "there is nothing to play in this bar" if cell.elements else "this bar is empty",
        "write % to play the bar before again, / for each beat the chord goes on, or N.C.",
    )  # fmt: skip


def _check_simile(
    similes: list[Element], slots: list[Element], context: MusicContext, report: Report
) -> None:
    sign = similes[0]
    if slots or len(similes) > 1:
        report.add(
            "simile-not-alone", sign.start, sign.end, "a simile sign stands alone in its bar",
            "one sign says that the whole bar before is played again",
        )  # fmt: skip
    elif context.bars_before < sign.value:
        report.add(
            "nothing-to-repeat", sign.start, sign.end,
            "there is no bar before this one to play again" if sign.value == 1
            else "there are no two bars before this one to play again",
        )  # fmt: skip


def _strikes(
    slots: list[Element], starts: list[int], context: MusicContext, report: Report
) -> tuple[Strike, ...]:
    found: list[Strike] = []
    for slot, start, end in zip(slots, starts, starts[1:], strict=False):
        if slot.kind == "beat":
            if found:
                found[-1] = replace(found[-1], length=end - found[-1].onset)
            continue
        if len(slot.value) > MOST_IN_A_BEAT:
            report.add(
                "crowded-beat", slot.start, slot.end,
                f"{len(slot.value)} chords in one beat: at most {MOST_IN_A_BEAT} fit",
            )  # fmt: skip
        share = (end - start) // len(slot.value)
        for i, written in enumerate(slot.value):
            found.append(_strike(written, start + i * share, share, context, report))
    return tuple(found)


def _strike(
    written: StrikeText, onset: int, length: int, context: MusicContext, report: Report
) -> Strike:
    chord: Chord | None = None
    if written.kind == "chord":
        chord = _chord(written, report)
    elif written.kind == "new_bass":
        chord = _over_new_bass(written, context, report)
    if chord is not None:
        context.chord = chord
    return Strike(
        chord, onset, length, written.kind == "new_bass", written.pushed, written.stopped,
        written.ringing, written.optional,
        Span(written.start + report.offset, written.end + report.offset),
    )  # fmt: skip


def _chord(written: StrikeText, report: Report) -> Chord | None:
    found = read_symbol(written.text)
    at = written.symbol_at
    if isinstance(found, NotAChord):
        report.add(found.code, at + found.start, at + found.end, found.message, *found.hints)
        return None
    if written.text.startswith("Do"):
        report.warn(
            "reads-as-diminished", at, at + len(written.text),
            f'"{written.text}" is read as D with a diminished quality, not as a syllable',
            f'write "Ddim" for the diminished chord, "C{written.text[2:]}" for the note do',
        )  # fmt: skip
    return found


def _over_new_bass(written: StrikeText, context: MusicContext, report: Report) -> Chord | None:
    if context.chord is None:
        report.add(
            "bass-without-chord", written.start, written.end,
            f'"/{written.text}" is a new bass under the chord before, and there is none',
            f'write the whole chord, such as "C/{written.text}"',
        )  # fmt: skip
        return None
    return replace(context.chord, bass=parse_note(written.text))


def _cues(elements: list[Element], starts: list[int], report: Report) -> tuple[Cue, ...]:
    cues, passed = [], 0
    for element in elements:
        if element.kind in ("group", "beat"):
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
                )  # fmt: skip
            strikes += [_strike(written, 0, 0, context, report) for written in element.value]
        elif element.kind == "cue":
            cues.append(Cue(" ".join(element.value.split()), len(strikes), span))
        elif element.kind in ("beat", "simile"):
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
