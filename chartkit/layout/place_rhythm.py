"""Stems, beams and ties of a line, placed."""

from dataclasses import dataclass
from itertools import pairwise

from chartkit.arrange.road_map import CountedBar
from chartkit.chart.model import Bar
from chartkit.layout.bar_signs import SLASH_HEIGHT, SLASH_SLANT
from chartkit.layout.beams import BeamNote, beam_items, tie
from chartkit.layout.boxes import BarBox, Slot, SpacedRow
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item
from chartkit.layout.measure_bars import SLASH_WIDTH
from chartkit.layout.strike_marks import OVER_ROOT
from chartkit.layout.style import Style

_OVER_ROOT = 0.84
"""How high a stem ends above a chord's baseline, as part of its size: just over the root."""


@dataclass(frozen=True, slots=True)
class PlacedSlot:
    """A slot with its place, the bar it stands in and whether it is the first of it."""

    slot: Slot
    x: float
    bar: int
    first: bool


@dataclass(frozen=True, slots=True)
class RhythmPlacer:
    """Places the rhythm of one style.

    ``main`` is the number of the line of chords that slashes stand in; ``top_size`` the type
    size of the first line, over which stems end.
    """

    fitter: Fitter
    style: Style
    main: int
    top_size: float

    def beams(
        self, line: SpacedRow, places: list[list[float]], chords: list[float], beam: float
    ) -> list[Item]:
        """Stems and beams over what shares a beat; ``chords`` are the baselines of its lines,
        ``beam`` is the height of the beams' upper edge."""
        items: list[Item] = []
        for box, xs in zip(line.row.bars, places, strict=True):
            for group in box.groups:
                notes = [self._note(box.slots[i], xs[i], chords) for i in group.slots]
                items += beam_items(group, notes, beam, self.style, self.fitter)
        return items

    def _note(self, slot: Slot, x: float, chords: list[float]) -> BeamNote:
        pt, size, baseline = self.style.pt, self.style.strong, chords[self.main]
        if slot.sign:
            head = x + pt(SLASH_WIDTH) * SLASH_SLANT
            return BeamNote(
                head, baseline - size * SLASH_HEIGHT, head + pt(2.6), baseline - size * 0.2
            )
        label = slot.labels[self.main] if slot.labels else None
        end = x + (0.0 if label is None else label.width)
        foot = chords[0] - self.top_size * _OVER_ROOT
        return BeamNote(
            x + self.style.strong * OVER_ROOT, foot, end + pt(2.4), baseline - size * 0.3
        )

    # ---- ties
    def ties(
        self, line: SpacedRow, places: list[list[float]], edges: list[float], baseline: float
    ) -> list[Item]:
        """Ties from what sounds to the slashes that hold it; half a tie at either side of a
        line's end or a time signature, and after a bar that shows no notes: a sign that repeats
        bars, or a number that counts them."""
        pt, y = self.style.pt, baseline + self.style.pt(1.0)
        slots = list(_placed(line, places))
        items: list[Item] = []
        if slots and slots[0].slot.held:
            items.append(self._into(line.row.bars[0], slots[0].x, edges[0], y))
        for before, now in pairwise(slots):
            if not now.slot.held:
                continue
            start = self._start(before)
            if _shows_no_notes(line.row.bars[before.bar].bar):
                items.append(self._into(line.row.bars[now.bar], now.x, edges[now.bar], y))
            elif now.first and line.row.bars[now.bar].signature:
                edge = edges[now.bar]
                items.append(tie(min(start, edge - pt(6)), edge - pt(1.5), y, self.style))
                items.append(self._into(line.row.bars[now.bar], now.x, edge, y))
            else:
                items.append(tie(min(start, now.x - pt(4)), now.x + pt(2), y, self.style))
        if slots and line.row.bars[-1].tied and not _shows_no_notes(line.row.bars[-1].bar):
            end = edges[-1] - pt(1.5)
            start = min(self._start(slots[-1]), end - pt(6))
            items.append(tie(start, end, y, self.style))
        return items

    def _into(self, box: BarBox, x: float, edge: float, y: float) -> Item:
        """The second half of a tie, from the bar line or time signature to a slash."""
        start = edge + (box.left_pad if box.signature else 0.0)
        return tie(
            min(start + self.style.pt(0.8), x - self.style.pt(4)),
            x + self.style.pt(2),
            y,
            self.style,
        )

    def _start(self, placed: PlacedSlot) -> float:
        """Where a tie begins: under the root of a chord or the middle of a slash; after the names
        of a chord of several lines, since it would run between them."""
        names = [label.width for label in placed.slot.labels if label is not None]
        return placed.x + (max(names) if len(names) > 1 else self.style.pt(4))


def _shows_no_notes(bar: Bar) -> bool:
    return bool(bar.simile) or isinstance(bar, CountedBar)


def _placed(line: SpacedRow, places: list[list[float]]) -> list[PlacedSlot]:
    return [
        PlacedSlot(slot, x, bar, i == 0)
        for bar, (box, xs) in enumerate(zip(line.row.bars, places, strict=True))
        for i, (slot, x) in enumerate(zip(box.slots, xs, strict=True))
    ]
