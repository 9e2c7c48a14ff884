"""Annotations above the chords: changes, cues, endings, signs and where they lead.

Annotations of one system are stacked: each takes the lowest level on which it touches no
other, and is shifted left where it would run off the line.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from chartkit.arrange.arrangement import Announcement
from chartkit.chart.marks import MARKS, Mark, printed_mark
from chartkit.chart.model import Bar, Cue
from chartkit.diagnostics import Span
from chartkit.layout.boxes import BarBox, RowBox, Slot, SpacedRow
from chartkit.layout.capo_box import capo_box
from chartkit.layout.endings import ending_stretch
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName, Glyph, Item, Stroke, Text, moved_item
from chartkit.layout.metrics import Typesetter
from chartkit.layout.outlines import MARK_GLYPHS, SIGNS_BEHIND, glyph_aspect
from chartkit.layout.place_slots import slot_places
from chartkit.layout.strike_marks import OVER_ROOT, has_marks
from chartkit.layout.style import Style
from chartkit.layout.tempo import tempo_words

_APART = 6.0
"""Least room between two annotations on one level, at scale 1."""
_CHANGES: tuple[str, ...] = ("tempo", "feel", "meter", "capo", "key")
_CHANGES_APART = 14.0
"""The changes at a row in their order, and the room between two of them.  A tempo is read where it
stands, so it stands at the bar line it begins at."""
_SIGN_BEHIND = 1.3
"""The height of a sign after the words of a mark, in sizes of the type of cues."""
_CUE_INDENT = 5.0
"""How far from the bar line a cue begins, at scale 1: over the chord, clear of the bar's number."""
_NUMBER_WIDTH = 2.2
"""The room that is kept for a bar's number after a pick-up, in sizes of its type."""
_LEVEL = 1.38
"""The height of a level, in sizes of the type of cues."""
_MOST_LINES, _MOST_NARROW_LINES, _SMALLER = 3, 8, 0.92
"""The most lines of a long cue, the same on a phone, and the steps in which its type shrinks."""
_HAIR = 0.01
"""Points by which a line of a cue ends before its room does, against rounding."""
_WIDER = 1.05
"""The steps in which the lines of a cue get longer at the end of a row."""


class Annotation(NamedTuple):
    """Items around a baseline at y = 0, and the stretch of the line they take.

    Of several lines of text the last stands on the baseline, each line on a level of its own.
    One that ``sinks`` stands close over a chord, where other bars of the row have beams; one that
    is ``alone`` even where other bars have signs over their chords.
    """

    start: float
    end: float
    items: tuple[Item, ...]
    levels: int = 1
    sinks: bool = False
    alone: bool = False

    def moved(self, dx: float) -> "Annotation":
        """The annotation moved to the right by so many points."""
        items = tuple(moved_item(item, dx, 0) for item in self.items)
        return self._replace(start=self.start + dx, end=self.end + dx, items=items)


@dataclass(slots=True)
class Annotator:
    """Makes and stacks the annotations of a system."""

    typesetter: Typesetter
    style: Style

    # ---- making
    def of_line(self, line: SpacedRow, bar_places: list[float]) -> list[Annotation]:
        """Every annotation of a system; ``bar_places`` has each bar's left edge."""
        edges = [*bar_places, bar_places[-1] + line.widths[-1]] if bar_places else [0.0]
        noted = [(i, box) for i, box in enumerate(line.row.bars) if box.over.noted]
        over_beats = [
            mark for i, box in noted for mark in self._over_beats(box, line.widths[i], edges[i])
        ]
        endings = self._endings(line.row, edges)
        if over_beats and endings:  # brackets stand on one level, above them all
            items = tuple(item for mark in over_beats for item in mark.items)
            over_beats = [Annotation(0.0, self.style.line_width, items)]
        annotations = over_beats + endings
        for i, box in noted:
            if not box.continued:
                annotations += self._marks(box.bar, edges[i], edges[i + 1])
        annotations += self._cues(line, noted, edges)
        # The first announcement of the text comes out on top.
        kept = self._number_kept(line.row, edges)
        return [*annotations, *kept, *reversed(list(self._announced(line)))]

    def _number_kept(self, row: RowBox, edges: list[float]) -> list[Annotation]:
        """Room for the number of the first full bar, which is not that of its pick-up."""
        if not row.above or len(edges) <= 2 or not row.bars[0].bar.pickup:
            return []
        return [Annotation(edges[1] - _NUMBER_WIDTH * self.style.bar_number, edges[1], ())]

    def _announced(self, line: SpacedRow) -> Iterator[Annotation]:
        """The announcements over a row from the top. Changes stand side by side if they fit the
        line, the tempo first."""
        said = [(one, self._announcement(one, line.indent, line.row)) for one in line.row.above]
        changes = [pair for pair in said if pair[0].kind in _CHANGES]
        changes.sort(key=lambda pair: _CHANGES.index(pair[0].kind))
        gap, x = self.style.pt(_CHANGES_APART), line.indent
        placed: list[Item] = []
        for _, made in changes:
            placed += (moved_item(item, x - line.indent, 0) for item in made.items)
            x += made.end - made.start + gap
        if len(changes) < 2 or x - gap > self.style.line_width:
            yield from (made for _, made in said)
            return
        for one, made in said:
            if one.kind not in _CHANGES:
                yield made
            elif placed:
                yield Annotation(line.indent, x - gap, tuple(placed))
                placed = []

    def _announcement(self, announcement: Announcement, x: float, row: RowBox) -> Annotation:
        size, text, source = self.style.cue, announcement.text, announcement.span
        if announcement.kind == "key":
            return self.text(f"Key: {text}", x, "strong", size, "change", source)
        if announcement.kind == "meter":
            return self.text(text, x, "strong", size * 1.15, "change", source)
        if announcement.kind == "capo":
            setter, room = Fitter(self.typesetter), self._room(x)
            return Annotation(x, *capo_box(text, x, room, source, setter, self.style))
        if announcement.kind == "tempo":
            beat = row.bars[0].beat if row.bars else Fraction(1, 4)
            return self.text(tempo_words(text, beat), x, "strong", size, "change", source)
        over_bar = announcement.kind == "cue" and bool(row.bars) and not row.free
        indent = self.style.pt(_CUE_INDENT) * over_bar
        return self.text(text, x + indent, "italic", size, announcement.kind, source)

    @property
    def _most_lines(self) -> int:
        return _MOST_NARROW_LINES if self.style.is_narrow else _MOST_LINES

    def _room(self, indent: float) -> float:
        """How wide a text over a row may be: as wide as the bars, so that it keeps off the gutter,
        or as wide as the line if the bars take little of it."""
        bars = self.style.line_width - indent
        return bars if bars > self.style.line_width / 2 else self.style.line_width

    def text(
        self,
        text: str,
        x: float,
        font: FontName,
        size: float,
        role: str,
        source: Span | None = None,
    ) -> Annotation:
        """A text annotation that begins at x, in several lines where it is too long for one."""
        pieces = self.typesetter.pieces(text, font, size)
        width, room = self.typesetter.width(pieces), self._room(x)
        if width <= room:
            return Annotation(x, x + width, (Text(x, 0, width, pieces, role, 1.0, source),))
        return self._in_lines(text, x, room, font=font, size=size, role=role, source=source)

    def _in_lines(
        self,
        text: str,
        x: float,
        room: float,
        *,
        font: FontName,
        size: float,
        role: str,
        source: Span | None,
    ) -> Annotation:
        """A long text in lines of much the same length, its type smaller where they are many."""
        fitter, leading = Fitter(self.typesetter), self.style.cue * _LEVEL
        most = self._most_lines
        size *= min(1.0, most * room / fitter.width(text, font, size))
        while len(fitter.hyphenated(text, font, size, room)) > most:
            size *= _SMALLER
        lines = fitter.balanced(text, font, size, room)
        items = tuple(
            fitter.text(line, x, -leading * rest, font, size, role=role, source=source)
            for line, rest in zip(lines, reversed(range(len(lines))), strict=True)
        )
        return Annotation(
            start=x, end=max(one.x + one.width for one in items), items=items, levels=len(items)
        )

    def _cues(
        self, line: SpacedRow, noted: list[tuple[int, BarBox]], edges: list[float]
    ) -> list[Annotation]:
        """The cues in the bars of a row, from its end: each knows how far it is to the next one."""
        placed, limit = list[Annotation](), self.style.line_width
        for i, box in reversed(noted):
            for cue in () if box.continued else reversed(box.bar.cues):
                made = self._cue(cue, box, line.widths[i], edges[i], (line.indent, limit))
                limit = min(limit, made.start - self.style.pt(_APART))
                placed.append(made)
        return placed[::-1]

    def _cue(
        self, cue: Cue, box: BarBox, width: float, edge: float, ends: tuple[float, float]
    ) -> Annotation:
        """A cue over the beat it stands before; one after the last beat inside the bar if it
        fits, else from the bar's beginning.  ``ends`` are where the row begins, and up to where no
        other cue stands."""
        pad, (indent, limit) = min(self.style.pt(5), box.left_pad), ends
        beat = self._beat_of(cue, box, width, edge) if cue.onset else edge + pad
        if beat is None:
            made = self.text(cue.text, indent, "italic", self.style.cue, "cue", cue.span)
            beat = edge + width - pad - (made.end - made.start)
            if beat >= edge:
                return made.moved(beat - indent)
            beat = edge + pad
        return self._before_next(cue, beat, limit) or self._from_beat(cue, beat, indent)

    def _before_next(self, cue: Cue, x: float, limit: float) -> Annotation | None:
        """A cue in lines that end before the next one begins, so that both stand close over their
        own bars; None where it is too long for that (common practice, no source)."""
        size, fitter = self.style.cue, Fitter(self.typesetter)
        room = limit - x - _HAIR
        if max(fitter.width(word, "italic", size) for word in cue.text.split()) > room:
            return None
        if len(fitter.wrapped(cue.text, "italic", size, room)) > _MOST_LINES:
            return None
        return self._in_lines(
            cue.text, x, room, font="italic", size=size, role="cue", source=cue.span
        )

    def _beat_of(self, cue: Cue, box: BarBox, width: float, edge: float) -> float | None:
        """Where the later beat stands that a cue is before; None for the end of the bar."""
        lasts = box.bar.length or len(box.bar.strikes)
        if not 0 < cue.onset < lasts:
            return None
        places = slot_places(box, width, edge)
        onsets = [slot.onset if box.bar.length else i for i, slot in enumerate(box.slots)]
        here = (x for at, x in zip(onsets, places, strict=True) if at >= cue.onset)
        return next(here, edge + width * cue.onset / lasts)

    def _from_beat(self, cue: Cue, x: float, indent: float) -> Annotation:
        """A cue from a beat on, over the bars after it; where the row ends too soon, in lines that
        begin as near to the beat as they can."""
        size, fitter = self.style.cue, Fitter(self.typesetter)
        made = self.text(cue.text, indent, "italic", size, "cue", cue.span).moved(x - indent)
        if made.end <= self.style.line_width:
            return made
        widths = (fitter.width(word, "italic", size) for word in cue.text.split())
        room = max([self.style.line_width - x, *widths])
        while len(fitter.wrapped(cue.text, "italic", size, room)) > self._most_lines:
            room *= _WIDER
        if room > self.style.line_width - indent:
            return made
        return self._in_lines(
            cue.text, x, room, font="italic", size=size, role="cue", source=cue.span
        )

    def _marks(self, bar: Bar, start: float, end: float) -> list[Annotation]:
        """The marks at the start of a bar, and those at its end, flush with it."""
        made = []
        for mark in bar.marks:
            if mark.place != "beat":
                sign = self._mark(mark)
                made.append(sign.moved(start if mark.opens_bar else end - sign.end))
        return made

    def _over_beats(self, box: BarBox, width: float, edge: float) -> Iterator[Annotation]:
        """Marks over beats, each in the middle over its chord or sign; over the middle of a bar
        that has none."""
        marks = [mark for mark in box.bar.marks if mark.place == "beat"]
        xs = slot_places(box, width, edge) if marks else []
        for mark in marks:
            middles = [
                x + self._half_width(slot)
                for i, (slot, x) in enumerate(zip(box.slots, xs, strict=True))
                if mark.onset == (slot.onset if box.bar.length else i)
            ]
            if box.bar.simile or box.bar.rest:
                middles = [edge + (box.left_pad + width - box.right_pad) / 2]
            if middles:
                sign = self._mark(mark)
                sign = sign.moved(middles[0] - sign.end / 2)
                yield sign._replace(sinks=not box.groups, alone=not box.over.signs)

    def _half_width(self, slot: Slot) -> float:
        """How far the middle of a slot's chord or sign is from where it begins; of the signs over
        its root where it has some, so that they stand over one another."""
        if slot.strike is not None and has_marks(slot.strike):
            return self.style.strong * OVER_ROOT
        widths = [label.width for label in slot.labels if label is not None]
        return widths[0] / 2 if widths else self.style.pt(3)

    def _mark(self, mark: Mark) -> Annotation:
        """A mark that begins at x = 0: its sign if it is drawn, else its words, and the sign after
        them where they have one."""
        size = self.style.cue
        if MARKS[mark.kind].drawn:
            name, share = MARK_GLYPHS[mark.kind]
            height = size * share
            return Annotation(
                0.0, height * glyph_aspect(name), (Glyph(0.0, size * 0.3, height, name),)
            )
        pieces = self.typesetter.pieces(printed_mark(mark), "strong", self.style.jump)
        width = self.typesetter.width(pieces)
        words = Text(0.0, 0, width, pieces, "direction", 1.0, mark.span)
        behind = SIGNS_BEHIND.get(mark.kind)
        if behind is None:
            return Annotation(0.0, width, (words,))
        height, x = size * _SIGN_BEHIND, width + size * 0.3
        sign = Glyph(x, size * 0.25, height, behind)
        return Annotation(0.0, x + height * glyph_aspect(behind), (words, sign))

    def _endings(self, row: RowBox, edges: list[float]) -> list[Annotation]:
        """Brackets over numbered endings; one that goes on from the row before is open at its
        left (common practice, no source)."""
        brackets = []
        for i, box in enumerate(row.bars):
            begins = bool(box.opening.endings) and not box.continued
            if begins or (i == 0 and row.in_ending):
                last, closed = ending_stretch(row.bars, i)
                numbers = box.opening.endings if begins else ()
                brackets.append(self._bracket(numbers, edges[i], edges[last + 1], closed))
        return brackets

    def _bracket(
        self, endings: tuple[int, ...], start: float, end: float, closed: bool
    ) -> Annotation:
        style = self.style
        end -= style.pt(2)
        top, foot, thin = -style.cue * 0.95, style.cue * 0.35, style.pt(0.7)
        items: list[Item] = [Stroke(start, top, end, top, thin)]
        if endings:
            numbers_text = ", ".join(map(str, endings)) + "."
            pieces = self.typesetter.pieces(numbers_text, "plain", style.small)
            width = self.typesetter.width(pieces)
            x, y = start + style.pt(3.5), -style.cue * 0.08
            items = [
                Text(x, y, width, pieces, "ending"),
                Stroke(start, foot, start, top, thin),
                *items,
            ]
        if closed:
            items.append(Stroke(end, top, end, foot, thin))
        # Brackets that meet stand on one level.
        return Annotation(start, end - style.pt(_APART), tuple(items))

    # ---- stacking
    def height(self, annotations: list[Annotation]) -> float:
        """The height they take when they are stacked."""
        return self._levels(annotations)[1] * self.style.cue * _LEVEL

    def stacked(
        self, annotations: list[Annotation]
    ) -> tuple[float, list[Item], list[tuple[Item, bool]]]:
        """The annotations stacked in levels: their height, the items that stay, and those that sink
        if nothing stands under them, each with whether it is alone over its chord.  Baselines are
        counted from the top."""
        level_height = self.style.cue * _LEVEL
        placed, count = self._levels(annotations)
        height = count * level_height
        out, sinking = list[Item](), list[tuple[Item, bool]]()
        for level, start, annotation in sorted(placed, key=lambda p: (-p[0], p[1])):
            baseline = height - level * level_height - self.style.cue * 0.4
            shift = start - annotation.start
            lowered = [moved_item(item, shift, baseline) for item in annotation.items]
            if annotation.sinks and not level:
                sinking += ((item, annotation.alone) for item in lowered)
            else:
                out += lowered
        return height, out, sinking

    def _levels(
        self, annotations: list[Annotation]
    ) -> tuple[list[tuple[int, float, Annotation]], int]:
        """Each annotation with its level and its left edge, shifted so that it ends in the line;
        and the count of levels."""
        gap = self.style.pt(_APART)
        levels: list[list[tuple[float, float]]] = []
        placed: list[tuple[int, float, Annotation]] = []
        for annotation in annotations:
            shift = min(0.0, self.style.line_width - annotation.end)
            start = max(0.0, annotation.start + shift)
            end = annotation.end + (start - annotation.start)
            level = self._free_level(levels, start - gap, end + gap, annotation.levels)
            levels += ([] for _ in range(level + annotation.levels - len(levels)))
            for taken in levels[level : level + annotation.levels]:
                taken.append((start, end))
            placed.append((level, start, annotation))
        return placed, len(levels)

    def _free_level(
        self, levels: list[list[tuple[float, float]]], start: float, end: float, count: int
    ) -> int:
        """The lowest of so many levels, one over another, on which a stretch touches no other."""
        free = [all(end <= a or start >= b for a, b in taken) for taken in levels]
        return next(n for n in range(len(levels) + 1) if all(free[n : n + count]))
