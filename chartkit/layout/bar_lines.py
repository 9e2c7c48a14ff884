"""Bar lines, repeat signs and the final bar line as strokes and dots."""

from dataclasses import dataclass

from chartkit.chart.model import BarLine
from chartkit.layout.boxes import SpacedRow
from chartkit.layout.frames import Dot, Item, Stroke
from chartkit.layout.style import Style

_THIN = 0.8
"""How thick a bar line is, in points at scale 1, as are all lengths here."""
_THICK = 2.4
"""How thick the thick line of a repeat or of the end is."""
_APART = 2.6
"""How far the lines of a double line are apart."""
_DOT = 1.25
"""The radius of the dots of a repeat."""
_BARS_OF_SIMILE = 2


def bar_line_items(
    row: SpacedRow,
    edges: list[float],
    *,
    top: float,
    foot: float,
    style: Style,
    ends: int,
    last: bool,
) -> list[Item]:
    """Every bar line of a row between two heights.  The song ends with bar number ``ends``, if
    that is not below 0; ``last`` says that the music or the page ends here.  A repeat that opens
    the row stands after its time signature."""
    bars = row.row.bars
    draw = _Drawing.at_scale(top, foot, style)
    items: list[Item] = []
    if not bars[0].bar.pickup and not bars[0].continued:
        behind = bars[0].signature if bars[0].repeats_behind_signature else 0.0
        items += draw.at_start(bars[0].opening, edges[0] + behind)
    for i, box in enumerate(bars):
        if box.bar.simile == _BARS_OF_SIMILE:
            between = (edges[i] + box.left_pad + edges[i + 1] - box.right_pad) / 2
            items += draw.single(between)
        if box.broken:
            continue
        if i == ends and box.closing.kind in ("single", "double"):
            items += draw.final(edges[i + 1])
        elif i + 1 < len(bars):
            items += draw.between(box.closing, edges[i + 1])
        else:
            items += draw.at_end(box.closing, edges[i + 1], last)
    return items


@dataclass(frozen=True, slots=True)
class _Drawing:
    """Draws bar lines between two heights; every length is in points."""

    top: float
    foot: float
    thin: float
    thick: float
    apart: float
    dot: float

    @classmethod
    def at_scale(cls, top: float, foot: float, style: Style) -> "_Drawing":
        thin, thick, apart, dot = map(style.pt, (_THIN, _THICK, _APART, _DOT))
        return cls(top=top, foot=foot, thin=thin, thick=thick, apart=apart, dot=dot)

    def at_start(self, line: BarLine, x: float) -> list[Item]:
        """The line that opens a row; one that only closes the bar before is a single one."""
        match line.kind:
            case "double":
                return [self._stroke(x), self._stroke(x + self.apart)]
            case "repeat-start" | "repeat-both":
                return self._repeat_start(x)
            case _:
                return self.single(x)

    def between(self, line: BarLine, x: float) -> list[Item]:
        """The line between two bars of a row."""
        match line.kind:
            case "double":
                return self._double(x)
            case "repeat-start":
                return self._repeat_start(x, self.thin)
            case "repeat-end":
                return self._repeat_end(x)
            case "repeat-both":
                return self._repeat_both(x)
            case _:
                return self.single(x)

    def at_end(self, line: BarLine, x: float, last: bool) -> list[Item]:
        """The line that ends a row, the ``last`` one at least with a double line; one that only
        opens the next is a single one."""
        match line.kind:
            case "single" if last:
                return self._double(x)
            case "double":
                return self._double(x)
            case "repeat-end" | "repeat-both":
                return self._repeat_end(x)
            case _:
                return self.single(x)

    def final(self, x: float) -> list[Item]:
        """The line with which the music ends."""
        return [self._stroke(x - self.thick - self.apart), self._thick(x - self.thick / 2)]

    def single(self, x: float) -> list[Item]:
        return [self._stroke(x)]

    def _double(self, x: float) -> list[Item]:
        return [self._stroke(x - self.apart), self._stroke(x)]

    def _repeat_start(self, x: float, before: float = 0) -> list[Item]:
        """A repeat sign to the right of ``x``, whose thick line begins ``before`` it."""
        right = x + self.thick
        return [
            self._thick(x + self.thick / 2 - before),
            self._stroke(right + self.apart * 0.7),
            *self._dots(right + self.apart * 2.2),
        ]

    def _repeat_end(self, x: float) -> list[Item]:
        left = x - self.thick
        return [
            *self._dots(left - self.apart * 2.2),
            self._stroke(left - self.apart * 0.7),
            self._thick(x - self.thick / 2),
        ]

    def _repeat_both(self, x: float) -> list[Item]:
        left, right = x - self.thick / 2, x + self.thick / 2
        return [
            *self._dots(left - self.apart * 1.9),
            self._stroke(left - self.apart * 0.6),
            self._thick(x),
            self._stroke(right + self.apart * 0.6),
            *self._dots(right + self.apart * 1.9),
        ]

    def _stroke(self, x: float) -> Stroke:
        return Stroke(x, self.top, x, self.foot, self.thin)

    def _thick(self, x: float) -> Stroke:
        return Stroke(x, self.top, x, self.foot, self.thick)

    def _dots(self, x: float) -> list[Item]:
        middle, space = (self.top + self.foot) / 2, (self.foot - self.top) / 7
        return [Dot(x, middle - space, self.dot), Dot(x, middle + space, self.dot)]
