"""A row of tokens parted at its bar lines."""

from collections.abc import Sequence

from chartkit.chart.model import BarLine, BarLineKind
from chartkit.interchange.sheet.token import TIMED, Token

Cell = tuple[int, list[Token]]


def cells_of(tokens: Sequence[Token]) -> tuple[list[Cell], list[BarLine]]:
    """What stands between bar lines, with the column where it begins, and the lines.

    Remarks before the first bar line of a row, and a meter alone between two, are for the bar
    that follows.
    """
    cells: list[Cell] = []
    lines: list[BarLine] = []
    opening: BarLine | None = None
    start, inside = 0, list[Token]()
    waiting: list[Token] = []
    for token in tokens:
        if token.kind != "bar":
            inside.append(token)
            continue
        line = _line(token.text)
        if _waits(inside, opening):
            waiting += inside
            line = opening if opening is not None and line == BarLine() else line
        elif (
            inside
            or (opening is not None and cells)
            or (opening is not None and line.kind != "repeat-start")
        ):
            _close(cells, lines, start, [*waiting, *inside], opening)
            waiting = []
        opening, start, inside = line, token.end, []
    if any(map(_makes_a_bar, inside)):
        _close(cells, lines, start, [*waiting, *inside], opening)
        opening = BarLine()
    elif cells:
        cells[-1][1].extend([*waiting, *inside])
    return cells, [*lines, opening or BarLine()]


def _waits(inside: Sequence[Token], opening: BarLine | None) -> bool:
    """Whether what stands between two bar lines is said of the bar after them."""
    kinds = {token.kind for token in inside}
    if kinds & {*TIMED, "simile", "rest"}:
        return False
    return bool(inside) and (opening is None or kinds == {"meter"})


def _makes_a_bar(token: Token) -> bool:
    """Whether it is a bar even with no bar line after it; a lone hold may be a filler."""
    return token.kind in (*TIMED, "simile", "rest") and not token.may_fill


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
