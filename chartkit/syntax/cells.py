"""A music row cut at its bar lines."""

from dataclasses import dataclass, replace

from chartkit.chart.bar_lines import typed_bar_line
from chartkit.chart.model import MOST_TIMES, BarLine, BarLineKind
from chartkit.diagnostics import Span
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report


@dataclass(slots=True)
class Cell:
    """The stretch between two bar lines."""

    elements: list[Element]
    opening: BarLine
    start: int
    end: int
    faulty: bool = False
    closing: BarLineKind = "none"


def cells_of(elements: list[Element], end: int, report: Report) -> tuple[list[Cell], BarLine]:
    """The row cut at its bar lines, and the bar line that closes it."""
    cells: list[Cell] = []
    opening, content, start = BarLine("none"), list[Element](), elements[0].start
    before: Element | None = None
    for element in elements:
        at_line = not content and opening.kind in _ENDS_REPEAT
        if element.kind == "played" and at_line and not opening.times:
            opening = replace(opening, times=times_played(element, report))
        elif element.kind != "line":
            content.append(element)
        else:
            line = _line(element, report.offset)
            if at_line and before is not None and before.kind == "played":
                line = joined_lines(opening, line)
            elif not content and (opening.kind, line.kind) == ("repeat-end", "repeat-start"):
                line = replace(line, kind="repeat-both")
            elif content or opening.kind != "none":
                cells.append(
                    Cell(
                        elements=content,
                        opening=opening,
                        start=start,
                        end=element.start,
                        closing=line.kind,
                    )
                )
            opening, content, start = line, [], element.end
        before = element
    if content:
        cells.append(Cell(elements=content, opening=opening, start=start, end=end))
        opening = BarLine()
    return _with_leading_cue(cells), opening


_ENDS_REPEAT = ("repeat-end", "repeat-both")


def _line(element: Element, offset: int) -> BarLine:
    span = Span(offset + element.start, offset + element.end)
    return replace(typed_bar_line(element.value), span=span)


def times_played(element: Element, report: Report) -> int:
    """How often a repeat is played, as typed after its sign: ``x4``."""
    digits = element.value.strip("xX×")
    times = int(digits[:4])
    if not 2 <= times <= MOST_TIMES:
        report.add(
            "bad-times",
            element.start,
            element.end,
            f'a repeat cannot be played "{digits}" times',
            f"write x2 for twice, up to x{MOST_TIMES}",
        )
    return max(2, min(times, MOST_TIMES))


def _with_leading_cue(cells: list[Cell]) -> list[Cell]:
    """The cells with a cue typed before the first bar line put into the first bar."""
    first, *others = cells or [Cell(elements=[], opening=BarLine(), start=0, end=0)]
    cues_alone = first.elements and all(e.kind == "cue" for e in first.elements)
    if not others or first.opening.kind != "none" or not cues_alone:
        return cells
    others[0].elements[:0] = first.elements
    return others


_TELLING: tuple[BarLineKind, ...] = (
    "none",
    "single",
    "double",
    "repeat-start",
    "repeat-end",
    "repeat-both",
)


def joined_lines(first: BarLine, second: BarLine) -> BarLine:
    """The one line that stands for the two around a mark: the plain one gives way."""
    kinds = {first.kind, second.kind}
    if kinds == {"repeat-end", "repeat-start"}:
        telling = replace(second, kind="repeat-both")
    else:
        telling = max(second, first, key=lambda line: _TELLING.index(line.kind))
    times = first.times or second.times
    return replace(telling, endings=first.endings + second.endings, times=times)
