"""Checks of navigation in a whole chart: marks and repeats that lead nowhere."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from chartkit.chart.marks import Mark, MarkKind
from chartkit.chart.model import Chart, MusicRow
from chartkit.chart.repeats import find_repeats
from chartkit.chart.written_order import WrittenBar, written_order
from chartkit.diagnostics import Span, has_errors
from chartkit.syntax.report import Report


def check_navigation(chart: Chart, music: Sequence[MusicRow], report: Report) -> None:
    """Warns of marks without their other half, repeats left open and endings out of order."""
    marks = [mark for row in music for bar in row.bars for mark in bar.marks]
    heading = next((s.name for s in chart.sections if s.name.casefold().startswith("coda")), "")
    _check_marks(marks, heading, report)
    _check_repeats(music, report)
    # Music that a later section shares is looked at where it is written.
    own = replace(
        chart, sections=tuple(section for section in chart.sections if not section.same_as)
    )
    bars = written_order(own)
    if not has_errors(tuple(report.diagnostics)):  # a number that could not be read may be the one
        for endings in _repeats_endings(bars):
            _check_endings(endings, report)
        _check_music_before(bars, report)
    _check_times(bars, report)


def _check_marks(marks: list[Mark], heading: str, report: Report) -> None:
    """Warns of marks without their other half; ``heading`` is the name of a section that is a coda
    by its name, if there is one."""
    kinds = {mark.kind for mark in marks}
    to_a_coda = any(mark.until == "coda" for mark in marks)
    for second in [mark for mark in marks if mark.kind == "coda"][1:]:
        report.warn(
            "two-codas",
            *second.span,
            "there is a coda before this one already",
            "take one of them out",
        )
    for mark in marks:
        _check_jump(mark, kinds, heading, report)
        if not to_a_coda:
            _check_coda(mark, kinds, heading, report)


def _check_jump(mark: Mark, kinds: set[MarkKind], heading: str, report: Report) -> None:
    """Warns of a jump whose destination, or the place where it ends, is missing."""
    if mark.kind == "D.S." and "segno" not in kinds:
        report.warn(
            "no-segno",
            *mark.span,
            "D.S. leads to a segno, and there is none",
            "write @segno in the bar to go back to",
        )
    if mark.until == "coda" and not {"coda", "to-coda"} <= kinds:
        missing = "@coda" if "coda" not in kinds else "@to-coda"
        report.warn(
            "no-coda",
            *mark.span,
            f'"al coda" needs {missing}, and there is none',
            f"write @to-coda where the players leave, and @coda {_goes_on(heading)}",
        )
    if mark.until == "fine" and "fine" not in kinds:
        report.warn(
            "no-fine",
            *mark.span,
            '"al fine" needs a fine, and there is none',
            "write @fine at the end of the last bar",
        )


def _check_coda(mark: Mark, kinds: set[MarkKind], heading: str, report: Report) -> None:
    """Warns of a coda sign without the "to coda" that leads to it, or the other way round. If there
    is an "al coda", only that is reported."""
    if mark.kind == "to-coda" and "coda" not in kinds:
        report.warn(
            "no-coda",
            *mark.span,
            '"to coda" leads to a coda, and there is none',
            f"write @coda {_goes_on(heading)}",
        )
    # Without a jump the sign only names the section, and is reached by playing on.
    if mark.kind == "coda" and "to-coda" not in kinds and kinds & {"D.C.", "D.S."}:
        report.warn(
            "no-coda",
            *mark.span,
            "nothing leads to this coda",
            "write @to-coda in the bar from which the song goes there",
        )


def _goes_on(heading: str) -> str:
    """Where the coda sign stands, in words."""
    return f'in the first bar under "== {heading}"' if heading else "in the bar where they go on"


def _check_repeats(music: Sequence[MusicRow], report: Report) -> None:
    open_at: Span | None = None
    for row in music:
        for line in row.lines:
            if line.kind in ("repeat-end", "repeat-both"):
                open_at = None
            if line.kind in ("repeat-start", "repeat-both"):
                if open_at is not None:
                    _warn_open(open_at, report)
                open_at = line.span
    if open_at is not None:
        _warn_open(open_at, report)


def _warn_open(span: Span, report: Report) -> None:
    report.warn(
        "repeat-left-open",
        *span,
        "this repeat is never closed",
        'write ":|" after the last bar that is played again',
    )


def _check_times(bars: Sequence[WrittenBar], report: Report) -> None:
    """Warns of a repeat count that is lower than the number of its endings."""
    for last, repeat in find_repeats(bars).backs.items():
        said = bars[last].after.times
        if said and said < repeat.times:
            report.warn(
                "times-and-endings",
                *bars[last].after.span,
                f"this repeat is played {said} times, but its endings go up to {repeat.times}",
                "the endings decide; to play it more often, count every time, the last ending "
                f'included: ":| x{repeat.times + 1}"',
            )


def _check_music_before(bars: Sequence[WrittenBar], report: Report) -> None:
    """Warns of a first ending right after a repeat that is closed already."""
    ends = False
    for last, bar in pairwise(bars):
        ends = bool(last.endings) or (ends and not _begins_afresh(last, bar))
        if 1 in bar.endings and last.closes_repeat and not ends:
            report.warn(
                "ending-after-repeat",
                *last.after.span,
                "the repeat is closed before its first ending, so only the ending is repeated",
                'close it after the first ending: "|: G | C |1. D :|2. G |"',
            )


def _repeats_endings(bars: Sequence[WrittenBar]) -> Iterator[list[WrittenBar]]:
    """The bars at which endings start, gathered by the repeat they belong to."""
    endings = list[WrittenBar]()
    for last, bar in zip([None, *bars], bars, strict=False):
        if endings and last is not None and _begins_afresh(last, bar):
            yield endings
            endings = []
        if bar.endings:
            endings.append(bar)
    yield endings


def _begins_afresh(last: WrittenBar, bar: WrittenBar) -> bool:
    """Whether a repeat with endings is over before a bar, as playing takes it."""
    if bar.opens_repeat:
        return True
    if bar.endings:
        return bar.section != last.section and 1 in bar.endings
    return last.closes_repeat or last.after.kind == "double" or bar.section != last.section


def _check_endings(endings: list[WrittenBar], report: Report) -> None:
    """Warns of a number given twice, of one left out, and of an ending with nothing before it."""
    every = {number for bar in endings for number in bar.endings}
    seen = set[int]()
    for bar in endings:
        for number in bar.endings:
            span = bar.before.span
            if number in seen:
                report.warn(
                    "endings-out-of-order",
                    *span,
                    f"there are two endings {number} in this repeat",
                    'number them 1, 2, 3; a new repeat begins at "|:"',
                )
            elif number > 1 and number - 1 not in every:
                report.warn(
                    "endings-out-of-order",
                    *span,
                    f"there is an ending {number}, but no ending {number - 1}",
                    f'if it is for both times, write "|{number - 1}.{number}."',
                )
            seen.add(number)
