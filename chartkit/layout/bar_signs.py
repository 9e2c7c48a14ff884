"""Signs in place of chords: similes and rests of whole bars, slashes, muted strokes, rests."""

from dataclasses import dataclass

from chartkit.chart.signs import SILENCE, SLASH
from chartkit.layout.boxes import BarBox, Slot
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Dot, Glyph, Item, Stroke
from chartkit.layout.measure_bars import SLASH_WIDTH
from chartkit.layout.outlines import GlyphName, glyph_aspect
from chartkit.layout.rhythm import NoteValue
from chartkit.layout.style import Style

DOT = 1.45
"""The radius of a dot, at scale 1."""
SLASH_HEIGHT, SLASH_SLANT = 0.6, 0.85
"""The height of a slash, as part of the strong line's size, and how much of its room it fills."""
_SLASH, _CROSS = 2.7, 1.9
"""The thickness of a slash, heavy as note heads are, and of the cross of a muted stroke."""
_RESTS: dict[int, tuple[GlyphName, float]] = {
    -2: ("rest-1", 0.15),
    -1: ("rest-2", 0.15),
    0: ("rest-4", 0.82),
    1: ("rest-8", 0.5),
    2: ("rest-16", 0.77),
    3: ("rest-32", 1.04),
}
"""Rests by their flags, with their heights as parts of the strong line's size: in one
proportion, but for the two that are blocks."""
_BAR_LINE_TOP = 0.78
"""How far bar lines reach over the baseline of the first line, in type sizes."""
_LONG_REST = 46.0
"""The width of a rest of several bars, its number in the middle, at scale 1."""


@dataclass(frozen=True, slots=True)
class BarSigns:
    """Places the signs of one style."""

    fitter: Fitter
    style: Style

    def of_bar(self, box: BarBox, edge: float, width: float, baseline: float) -> list[Item]:
        """The sign of a bar that begins at ``edge``; nothing if it has none."""
        middle = edge + (width + box.left_pad - box.right_pad) / 2
        if box.bar.simile:
            return self._simile(box.bar.simile, middle, baseline)
        if box.bar.rest == 1:
            return self._bar_rest(middle, baseline)
        if box.bar.rest:
            return self._long_rest(box.bar.rest, middle, baseline)
        return []

    def of_slot(self, slot: Slot, x: float, baseline: float) -> list[Item]:
        """The sign of a slot: a slash, a muted stroke or a rest."""
        if slot.sign == SILENCE:
            return self._rest(slot, x, baseline)
        if slot.sign == SLASH:
            return self.slash(x, baseline)
        size, pt = self.style.strong, self.style.pt
        end = x + pt(SLASH_WIDTH) * SLASH_SLANT
        low = baseline - size * SLASH_HEIGHT / 2 + (end - x) / 2
        return [
            Stroke(x, low, end, low - (end - x), pt(_CROSS)),
            Stroke(x, low - (end - x), end, low, pt(_CROSS)),
        ]

    def slash(self, x: float, baseline: float) -> list[Item]:
        """A slash, as heavy as a note head."""
        end, top = x + self.style.pt(SLASH_WIDTH) * SLASH_SLANT, self.style.strong * SLASH_HEIGHT
        return [Stroke(x, baseline, end, baseline - top, self.style.pt(_SLASH))]

    def _rest(self, slot: Slot, x: float, baseline: float) -> list[Item]:
        value = slot.value or NoteValue(0)
        name, part = _RESTS[value.flags]
        height = self.style.strong * part
        middle = baseline - self.style.strong * SLASH_HEIGHT / 2
        items: list[Item] = [Glyph(x, middle + height / 2, height, name)]
        if value.dotted:
            dot = x + height * glyph_aspect(name) + self.style.pt(3.2)
            items.append(Dot(dot, middle - self.style.pt(1), self.style.pt(DOT)))
        return items

    def _simile(self, bars: int, middle: float, baseline: float) -> list[Item]:
        """The simile sign; one that lasts two bars stands over the line between them, with
        their number (E. Gould, *Behind Bars*, 2011; from memory)."""
        name: GlyphName = "simile" if bars == 1 else "simile2"
        height = self.style.strong * 0.78
        room = height * glyph_aspect(name)
        sign = Glyph(middle - room / 2, baseline + self.style.pt(0.5), height, name)
        if bars == 1:
            return [sign]
        number = self.fitter.text("2", 0, 0, "strong", self.style.small, role="simile")
        y = baseline - self.style.strong * _BAR_LINE_TOP - self.style.pt(1.5)
        return [sign, number._replace(x=middle - number.width / 2, y=y)]

    def _bar_rest(self, middle: float, baseline: float) -> list[Item]:
        """The rest of a whole bar: a block that hangs from a line."""
        pt, y = self.style.pt, baseline - self.style.strong * 0.5
        block = y + pt(0.4 + 1.8)
        return [
            Stroke(middle - pt(7), y, middle + pt(7), y, pt(0.8)),
            Stroke(middle - pt(4), block, middle + pt(4), block, pt(3.6)),
        ]

    def _long_rest(self, bars: int, middle: float, baseline: float) -> list[Item]:
        """A rest of several bars: their number in a heavy bar with upright ends."""
        pt, size = self.style.pt, self.style.strong
        number = self.fitter.text(str(bars), 0, baseline, "strong", size, role="rest")
        y, half = baseline - size * 0.36, number.width / 2 + pt(4)
        items: list[Item] = [number._replace(x=middle - number.width / 2)]
        for side in (-1, 1):
            end = middle + side * max(pt(_LONG_REST / 2), half + pt(12))
            near = middle + side * half
            items.append(Stroke(min(near, end), y, max(near, end), y, pt(3.2)))
            items.append(Stroke(end, y - pt(5), end, y + pt(5), pt(1.1)))
        return items
