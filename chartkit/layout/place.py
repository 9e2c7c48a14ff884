"""From a line of boxes to placed items, one system of the page."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from chartkit.arrange.view import LineName
from chartkit.chart.signs import SILENCE, SLASH
from chartkit.layout.annotate import Annotation, Annotator
from chartkit.layout.bar_lines import bar_line_items
from chartkit.layout.bar_signs import BarSigns
from chartkit.layout.beams import BEAM_ROOM, TUPLET_ROOM
from chartkit.layout.boxes import RowBox, Slot, SpacedRow
from chartkit.layout.cues_sink import with_sinking
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import Item, Text, moved_item
from chartkit.layout.gutter import bar_number
from chartkit.layout.labels import LABEL_TOP
from chartkit.layout.measure_bars import line_type
from chartkit.layout.place_rhythm import RhythmPlacer
from chartkit.layout.place_slots import slot_places
from chartkit.layout.place_words import WordsPlacer
from chartkit.layout.repeat_times import placed_times, times_height, times_over, with_times
from chartkit.layout.signature import opening_signature, signature_items, signature_type
from chartkit.layout.spoken import spoken_row
from chartkit.layout.strike_marks import MARKS_ROOM, marks_over
from chartkit.layout.style import Style
from chartkit.layout.words_alone import alone_height, alone_items

SECOND_INK = 0.72
"""How dark the second line of chords is: lighter, still well above the contrast of 7 to 1
that the Web Content Accessibility Guidelines 2.1 ask of small text (level AAA)."""


_STACK_ROOM, _NAME_ROOM = LABEL_TOP, 0.8
"""The height of a line of chord names over its baseline, in type sizes: with stacked alterations,
and without."""
_TIE_ROOM = 1.3
"""How much lower words stand in a row with ties, in points at scale 1."""
# How far lines stand under one another, in sizes of the lower one.  The lines of a row are plainly
# closer than rows are to each other.
_NEXT_CHORDS = 1.1
"""Chords under chords."""
_UNDER_STACKS = 1.41
"""Chords under stacked alterations."""
_WORDS_UNDER = 1.14
"""Words under chords."""
_WORDS_UNDER_STACKS = 1.24
"""Words under stacked alterations."""
_NEXT_VERSE = 1.16
"""A verse under another."""
_WORDS_FOOT = 0.23
"""What words take under their baseline."""
_BAR_LINE_TOP = 0.74
"""How high bar lines reach over the baseline of the first chords, in its sizes: to the capitals."""


class PlacedSystem(NamedTuple):
    """A system's items around its own origin: left margin, top edge; and its height.

    ``rests`` says that its last bar ends in silence, a good place to turn the page.  ``hangs`` is
    what reaches under its height, into the gap over the next one.  ``baseline``
    is that of its first line of chords, on which a name stands in the gutter; 0 where words stand
    alone, from the margin on.  ``gap`` is the room over it where it goes on with the lines of the
    system before it: it is not the usual one, and does not grow.
    """

    items: tuple[Item, ...]
    height: float
    rests: bool = False
    baseline: float = 0.0
    hangs: float = 0.0
    gap: float | None = None


@dataclass(slots=True)
class _Heights:
    """Baselines of a system, from its top; ``over`` is what its annotations take."""

    chords: list[float]
    words: list[float]
    top: float
    foot: float
    bottom: float
    beam: float
    marks: float
    over: float


class Placer:
    """Places lines for one style.

    ``stacks`` says that somewhere in the song alterations stand over one another: lines of chords
    then stand further apart, in all systems alike.
    """

    def __init__(
        self,
        annotator: Annotator,
        style: Style,
        lines: tuple[LineName, ...],
        strong: LineName,
        stacks: bool,
    ) -> None:
        self._stacks = stacks
        self._annotator = annotator
        self._fitter = Fitter(annotator.typesetter)
        self._signs = BarSigns(self._fitter, style)
        self._style = style
        self._lines = lines
        self._main = lines.index(strong)
        self._sizes = [line_type(line, strong, style)[1] for line in lines]
        self._rhythm = RhythmPlacer(self._fitter, style, self._main, self._sizes[0])
        self._words = WordsPlacer(self._fitter, style)

    @property
    def lines(self) -> int:
        """How many lines of chords a system has."""
        return len(self._lines)

    def measured(self, line: SpacedRow) -> PlacedSystem:
        """The line as a system without its items: how high it is, and whether it rests."""
        row, above, times = line.row, 0.0, tuple[Text, ...]()
        if row.above or row.in_ending or row.over.noted:
            annotations, times = self._over(line, _edges(line))
            above = self._annotator.height(annotations)
        if not row.bars:
            height = above + alone_height(len(row.alone), self._style)
            return PlacedSystem((), height, gap=_gap(row))
        heights = self._heights(above, row, times)
        return PlacedSystem(
            items=(),
            height=heights.bottom,
            rests=_rests(line),
            baseline=heights.chords[0],
            gap=_gap(row),
        )

    def system(self, line: SpacedRow, ends: int = -1, last: bool = False) -> PlacedSystem:
        """The line as a system.  The song ends with bar number ``ends``, if that is not below 0;
        ``last`` says that the music or the page ends with this row."""
        edges = _edges(line)
        annotations, times = self._over(line, edges)
        above, items, sinking = self._annotator.stacked(annotations)
        if not line.row.bars:
            items += alone_items(line.row.alone, above, self._fitter, self._style)
            height = above + alone_height(len(line.row.alone), self._style)
            return PlacedSystem(tuple(items), height, gap=_gap(line.row))
        heights = self._heights(above, line.row, times)
        items += self._lowered(sinking, heights)
        items += placed_times(times, heights.top, self._style)
        places = [
            slot_places(box, width, edge)
            for box, width, edge in zip(line.row.bars, line.widths, edges, strict=False)
        ]
        items[:0] = self._numbers(line, edges, heights, items)
        if not line.row.free:
            top, foot = heights.top, heights.foot
            items += bar_line_items(
                line, edges, top=top, foot=foot, style=self._style, ends=ends, last=last
            )
        items += self._signatures(line, edges, heights)
        items += self._chords(line, places, edges, heights)
        items += self._marks(line, places, heights)
        items += self._rhythm.beams(line, places, heights.chords, heights.beam)
        items += self._rhythm.ties(line, places, edges, heights.chords[self._main])
        for verse in range(line.row.verses):
            items += self._words.verse(line, verse, places, edges, heights.words[verse])
        return PlacedSystem(
            items=tuple(items),
            height=heights.bottom,
            rests=_rests(line),
            baseline=heights.chords[0],
            gap=_gap(line.row),
        )

    def _numbers(
        self, line: SpacedRow, edges: list[float], heights: _Heights, items: Sequence[Item]
    ) -> list[Item]:
        """The number of the row's first bar; none at the first row."""
        if line.row.number <= 1:
            return []
        # A pick-up is not counted: the number stands at the bar after it, if that is free.
        after_pickup = len(edges) > 2 and line.row.bars[0].bar.pickup
        at = edges[1] if after_pickup else edges[0]
        number = bar_number(line.row.number, at, heights.top, self._fitter, self._style)
        if after_pickup and _is_taken(number, items):
            at = edges[0]
            number = bar_number(line.row.number, at, heights.top, self._fitter, self._style)
        # A song of one long row has no gutter, and needs no numbers.
        return [number] if number.x + number.width <= at else []

    def _over(
        self, line: SpacedRow, edges: list[float]
    ) -> tuple[list[Annotation], tuple[Text, ...]]:
        """What stands over a row, and the times of repeats that stand close over bar lines."""
        annotations = self._annotator.of_line(line, edges[:-1])
        low, high = times_over(line, edges, annotations, self._fitter, self._style)
        placed = with_sinking(with_times(annotations, high), line.row.bars, edges)
        return placed, low

    def _lowered(self, sinking: list[tuple[Item, bool]], heights: _Heights) -> Iterator[Item]:
        """What sinks, close over its chords: beams and signs of other bars leave room there."""
        over_name = heights.chords[0] - self._sizes[0] * _STACK_ROOM
        for item, alone in sinking:
            foot = heights.over if alone else heights.marks
            yield moved_item(item, 0, max(0.0, over_name - foot))

    def _heights(self, above: float, row: RowBox, times: tuple[Text, ...] = ()) -> _Heights:
        """The baselines; ``times`` have their room over the bar lines."""
        heights = self._heights_under(above, row)
        lift = times_height(self._style) - heights.top if times else 0.0
        return heights if lift <= 0 else self._heights_under(above + lift, row)

    def _heights_under(self, above: float, row: RowBox) -> _Heights:
        style = self._style
        if row.goes_on_in_words:
            return self._heights_of_words(above, row)
        signs, tuplet, beams, tall, _ = row.over
        # With nothing above them, signs reach into the room between systems.
        marks = above + style.pt(MARKS_ROOM if above else MARKS_ROOM / 2) * signs
        number = style.pt(TUPLET_ROOM) * tuplet
        beam = marks + number + style.pt(0.5)
        main = self._sizes[self._main if row.sounds_as_fingered else 0]
        names = main * (_STACK_ROOM if tall else _NAME_ROOM)
        first = marks + number + style.pt(BEAM_ROOM) * beams + names
        chords = [first]
        for size in self._sizes[1:]:
            down = 0.0 if row.sounds_as_fingered else size
            chords.append(chords[-1] + down * (_UNDER_STACKS if self._stacks else _NEXT_CHORDS))
        foot = chords[-1] + style.pt(3)
        under = _WORDS_UNDER_STACKS if self._stacks else _WORDS_UNDER
        tied = bool(row.verses) and self._main == len(chords) - 1 and row.has_ties
        under_tie = style.pt(_TIE_ROOM) * tied
        words = [
            chords[-1] + under_tie + style.words * (under + verse * _NEXT_VERSE)
            for verse in range(row.verses)
        ]
        bottom = words[-1] + style.words * _WORDS_FOOT if words else foot + style.pt(1)
        return _Heights(
            chords=chords,
            words=words,
            top=first - main * _BAR_LINE_TOP,
            foot=foot,
            bottom=bottom,
            beam=beam,
            marks=marks,
            over=above,
        )

    def _heights_of_words(self, above: float, row: RowBox) -> _Heights:
        """The baselines of a row without chords: words at the distance of lines of words."""
        size = self._style.words
        words = [
            above + size * (_NEXT_VERSE * (verse + 1) - _WORDS_FOOT) for verse in range(row.verses)
        ]
        first = words[0] if words else above
        bottom = (words[-1] if words else first) + size * _WORDS_FOOT
        lines = [first] * len(self._lines)
        return _Heights(lines, words, above, first, bottom, above, above, above)

    def _signatures(self, line: SpacedRow, edges: list[float], heights: _Heights) -> list[Item]:
        """Time signatures in the bars where they change."""
        type_ = signature_type(self._lines, self._style)
        middle = (heights.top + heights.foot) / 2
        items: list[Item] = []
        for i, (box, edge) in enumerate(zip(line.row.bars, edges, strict=False)):
            if box.bar.meter is not None and not box.continued:
                before_repeat = i == 0 and box.repeats_behind_signature
                x = edge if before_repeat else edge + box.left_pad - box.signature
                meter, first = box.bar.meter, heights.chords[0]
                if box.opens:
                    items.append(opening_signature(meter, x, first, middle, type_, self._fitter))
                else:
                    items += signature_items(meter, x, middle, type_, self._fitter)
        return items

    def _marks(self, line: SpacedRow, places: list[list[float]], heights: _Heights) -> list[Item]:
        """The signs over the beats that say how chords are struck: over a name, or its stem."""
        items: list[Item] = []
        over_name = heights.chords[0] - self._sizes[0] * _STACK_ROOM
        for box, xs in zip(line.row.bars, places, strict=True):
            tuplets = {i for group in box.groups if group.tuplet for i in group.slots}
            for i, (slot, x) in enumerate(zip(box.slots, xs, strict=True)):
                if slot.strike is not None:
                    over_beam = heights.marks if i in tuplets else heights.beam
                    foot = over_beam if box.groups else over_name
                    items += marks_over(slot.strike, x, foot, self._style)
        return items

    # ---- chords
    def _chords(
        self, line: SpacedRow, places: list[list[float]], edges: list[float], heights: _Heights
    ) -> list[Item]:
        items: list[Item] = self._spoken(line, heights.chords[self._main])
        for number, name in enumerate(self._lines):
            if number != self._main and line.row.sounds_as_fingered:
                continue
            for box, xs, edge, width in zip(
                line.row.bars, places, edges, line.widths, strict=False
            ):
                if number == self._main and not box.continued:
                    items += self._signs.of_bar(box, edge, width, heights.chords[number])
                for slot, x in zip(box.slots, xs, strict=True):
                    items += self._slot_line(slot, x, number, name, heights.chords[number])
        return items

    def _spoken(self, line: SpacedRow, baseline: float) -> list[Item]:
        """The spoken text of a row with more than chords, on an invisible text."""
        said = spoken_row(line.row, self._main)
        if not said:
            return []
        x = max(0.0, line.indent - self._style.pt(1))
        blank = self._fitter.text(" ", x, baseline, "plain", 1.0, role="spoken")
        return [blank._replace(spoken=said)]

    def _slot_line(
        self, slot: Slot, x: float, number: int, name: LineName, baseline: float
    ) -> list[Item]:
        if slot.sign and number == self._main:
            return self._signs.of_slot(slot, x, baseline)
        label = slot.labels[number] if number < len(slot.labels) else None
        if label is None:
            return []
        ink = 1.0 if number == self._main else SECOND_INK
        source = None if slot.strike is None else slot.strike.span
        if name == "count" and label.pieces[0].text == SLASH:
            return self._signs.slash(x, baseline)  # a hit on a road map
        return [Text(x, baseline, label.width, label.pieces, name, ink, source)]


def _is_taken(number: Text, items: Sequence[Item]) -> bool:
    """Whether another text stands where a number would."""
    high = number.pieces[0].size
    return any(
        isinstance(item, Text)
        and item.x < number.x + number.width
        and number.x < item.x + item.width
        and abs(item.y - number.y) < high
        for item in items
    )


def _gap(row: RowBox) -> float | None:
    """The room over a row of words alone, or of one verse without chords, that goes on from the one
    before it."""
    words = row.goes_on_in_words and row.verses == 1 if row.bars else row.goes_on
    return 0.0 if words else None


def _edges(line: SpacedRow) -> list[float]:
    """The left edge of every bar, and the right edge of the last."""
    edges = [line.indent]
    for width in line.widths:
        edges.append(edges[-1] + width)
    return edges


def _rests(line: SpacedRow) -> bool:
    """Whether the line ends in silence, so that a hand is free to turn the page."""
    last = line.row.bars[-1]
    if last.bar.rest or not last.slots:
        return bool(last.bar.rest)
    strike = last.slots[-1].strike
    return last.slots[-1].sign == SILENCE or (strike is not None and strike.names[0] is None)
