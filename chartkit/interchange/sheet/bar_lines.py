"""A row of tokens parted at its bar lines."""

from collections.abc import Sequence

from chartkit.chart.model import BarLine, BarLineKind
from chartkit.interchange.sheet.tokens import Token

Cell = tuple[int, list[Token]]


def cells_of(tokens: Sequence[Token]) -> tuple[list[Cell], list[BarLine]]:
    """What stands between bar lines, with the column where it begins, and the lines."""
    cells: list[Cell] = []
    lines: list[BarLine] = []
    opening: BarLine | None = None
    start, inside = 0, list[Token]()
    for token in tokens:
        if token.kind != "bar":
            inside.append(token)
            continue
        line = _line(token.text)
        if inside or (opening is not None and cells):
            _close(cells, lines, start, inside, opening)
        elif opening is not None:
            cells_needed = line.kind != "repeat-start"
            if cells_needed:
                _close(cells, lines, start, inside, opening)
        opening, start, inside = line, token.end, []
    if any(token.kind in ("chord", "bass", "none", "beat", "simile") for token in inside):
        _close(cells, lines, start, inside, opening)
        opening = BarLine()
    elif inside and cells:
        cells[-1][1].extend(inside)
    return cells, [*lines, opening or BarLine()]


def _close(
    cells: list[Cell], lines: list[BarLine], start: int, inside: list[Token],
    opening: BarLine | None,
) -> None:  # fmt: skip
    cells.append((start, list(inside)))
    lines.append(opening or BarLine("none"))


def _line(text: str) -> BarLine:
    sign = text.rstrip("0123456789.")
    endings = tuple(int(n) for n in text[len(sign) :].split(".") if n)
    kinds: dict[tuple[bool, bool], BarLineKind] = {
        (True, True): "repeat-both",
        (True, False): "repeat-end",
        (False, True): "repeat-start",
        (False, False): "double" if "||" in sign else "single",
    }
    return BarLine(kinds[sign.startswith(":"), sign.endswith(":")], endings)
