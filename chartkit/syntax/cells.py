"""A music row cut at its bar lines."""

from dataclasses import dataclass, replace

from chartkit.chart.model import BarLine, BarLineKind
from chartkit.diagnostics import Span
from chartkit.syntax.elements import Element


@dataclass(slots=True)
class Cell:
    """What stands between two bar lines."""

    elements: list[Element]
    opening: BarLine
    start: int
    end: int
    faulty: bool = False
    closing: BarLineKind = "none"


BAR_SIGNS: dict[BarLineKind, str] = {
    "single": "|", "double": "||", "repeat-start": "|:", "repeat-end": ":|", "repeat-both": ":|:",
}  # fmt: skip
"""How each kind of bar line is typed."""


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


def cells_of(elements: list[Element], end: int, offset: int) -> tuple[list[Cell], BarLine]:
    """The row cut at its bar lines, and the line that closes it."""
    cells: list[Cell] = []
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
                cells.append(Cell(content, opening, start, element.start, closing=kind))
        opening, content, start = line, [], element.end
    if content:
        cells.append(Cell(content, opening, start, end))
        opening = BarLine()
    return _with_leading_cue(cells), opening


def _with_leading_cue(cells: list[Cell]) -> list[Cell]:
    """The cells with a cue typed before the first bar line put into the first bar."""
    first, *others = cells or [Cell([], BarLine(), 0, 0)]
    cues_alone = first.elements and all(e.kind == "cue" for e in first.elements)
    if not others or first.opening.kind != "none" or not cues_alone:
        return cells
    others[0].elements[:0] = first.elements
    return others


_TELLING: tuple[BarLineKind, ...] = (
    "none", "single", "double", "repeat-start", "repeat-end", "repeat-both",
)  # fmt: skip


def joined_lines(first: BarLine, second: BarLine) -> BarLine:
    """The one line that stands for the two around a mark: the plain one gives way."""
    kinds = {first.kind, second.kind}
    if kinds == {"repeat-end", "repeat-start"}:
        return BarLine("repeat-both", first.endings + second.endings, second.span)
    telling = max(second, first, key=lambda line: _TELLING.index(line.kind))
    return replace(telling, endings=first.endings + second.endings)
