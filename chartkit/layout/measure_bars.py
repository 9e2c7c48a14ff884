"""Measures bars: the slots in each, the room that they need, the notes that they stand for."""

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import (
    ArrangedBar,
    ArrangedStrike,
)
from chartkit.arrange.view import LineName
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Meter, Segment
from chartkit.chart.signs import SILENCE, Sign
from chartkit.layout.boxes import (
    BarBox,
    Needs,
    Slot,
    ThingsAbove,
    Word,
    tight_positions,
)
from chartkit.layout.fit import Fitter
from chartkit.layout.frames import FontName
from chartkit.layout.groups import groups_of
from chartkit.layout.labels import ChordLabel, ChordLabeller
from chartkit.layout.measure_words import HYPHEN_ROOM, WordMeasurer
from chartkit.layout.metrics import Typesetter
from chartkit.layout.place_slots import SPACING_POWER
from chartkit.layout.rhythm import Group, rest_value, signs_of
from chartkit.layout.signature import signature_type
from chartkit.layout.strike_marks import has_marks
from chartkit.layout.style import Style


def line_type(line: LineName, strong: LineName, style: Style) -> tuple[FontName, float]:
    """The font and size of a line of chord names: one is strong, a second guitar's bold."""
    if line == strong:
        return "strong", style.strong
    return ("strong" if line == "second" else "plain"), style.second


CHORD_GAP, WORD_GAP = 6.0, 4.0
"""Least room after a chord name and a word, at scale 1."""
PAD, DOTS_PAD = 5.0, 9.0
"""Room between a bar line and what follows, and what repeat dots add to it."""
SLASH_WIDTH, DOT_ROOM = 6.0, 5.0
"""Room for a slash, and for the dot after a slash or a chord."""
SHORTEST = 10.5
"""Room of the shortest note in a bar of exact notes, at scale 1; longer ones get more."""
TWO_BARS = 2
"""A simile for this many bars has their number over it."""
_EACH_DURATION = 3
"""Places after the point to which lengths of bars are compared."""
REST_WIDTH = 58.0
"""Least width of a rest of several bars, at scale 1."""


class BarMeasurer:
    """Measures the bars of an arrangement for one style.

    ``widest_name`` is the most room in points that a chord name takes in its own size.
    """

    def __init__(
        self,
        typesetter: Typesetter,
        style: Style,
        lines: tuple[LineName, ...],
        strong: LineName,
    ) -> None:
        self._fitter = Fitter(typesetter)
        self._style = style
        self._main = lines.index(strong)
        self._signature_type = signature_type(lines, style)
        self.words = WordMeasurer(typesetter, style)
        self.widest_name = style.line_width * 0.8
        self._labellers = [
            ChordLabeller(typesetter, *line_type(line, strong, style), self.widest_name)
            for line in lines
        ]

    def bar(
        self,
        arranged: ArrangedBar,
        opening: BarLine,
        closing: BarLine,
        words: tuple[tuple[Segment, ...], ...],
        free: bool,
    ) -> BarBox:
        """A bar between two bar lines, with the words of each verse; ``free`` is free time."""
        slots = self._slots(arranged, free, words)
        signature = self._signature(arranged.bar.meter)
        left = self._style.pt(PAD + DOTS_PAD * (opening.kind in ("repeat-start", "repeat-both")))
        left += signature
        right = self._style.pt(PAD + DOTS_PAD * (closing.kind in ("repeat-end", "repeat-both")))
        if free:
            left = right = 0.0
        bar, beat = arranged.bar, arranged.meter.beat
        lasts = float(beat) * bar.length / (TICKS_PER_BEAT * bar.lasts)
        filled = self._filled(bar, slots, beat, right)
        return BarBox(
            slots=filled.slots,
            needs=filled.needs,
            bar=bar,
            opening=opening,
            closing=closing,
            left_pad=left,
            right_pad=right,
            width=left + filled.content + right,
            beat=beat,
            tied=arranged.tied,
            signature=signature,
            duration=lasts,
            groups=filled.groups,
            opens=arranged.opens,
            lasts=round(lasts * max(1, bar.simile), _EACH_DURATION),
            over=_over(filled, bar, opening, closing, bool(signature)),
        )

    def _signature(self, meter: Meter | None) -> float:
        """The room that a time signature takes before the first chord."""
        if meter is None:
            return 0.0
        font, size, room = self._signature_type
        digits = (str(meter.count), str(meter.unit))
        return max(self._fitter.width(d, font, size) for d in digits) + room

    def bar_box(
        self, like: BarBox, slots: tuple[Slot, ...], broken: bool = False, continued: bool = False
    ) -> BarBox:
        """A bar like another one with these slots, its least width worked out."""
        filled = self._filled(like.bar, slots, like.beat, like.right_pad)
        return like._replace(
            over=_over(filled, like.bar, like.opening, like.closing, bool(like.signature)),
            lasts=round(like.duration * max(1, like.bar.simile), _EACH_DURATION),
            slots=filled.slots,
            needs=filled.needs,
            width=like.left_pad + filled.content + like.right_pad,
            broken=broken,
            continued=continued,
            groups=filled.groups,
        )

    def _filled(self, bar: Bar, slots: tuple[Slot, ...], beat: Fraction, pad: float) -> "_Filled":
        """The slots with their notes, and the room they take between the paddings, ``pad`` being
        the one at the right."""
        groups = groups_of(slots, beat) if bar.beats_written else ()
        slots = _with_values(slots, groups, beat)
        needs = self._spaced_needs(slots, groups, min(pad, self._style.pt(PAD)))
        content = tight_positions(slots, needs)[1]
        least = self._style.pt(REST_WIDTH if bar.rest else (14, 26, 62)[bar.simile])
        return _Filled(slots, needs, groups, max(content, least))

    def _spaced_needs(
        self, slots: tuple[Slot, ...], groups: tuple[Group, ...], under: float
    ) -> Needs:
        """The needs of slots; in a bar of exact notes each note has at least the room of its
        duration, so that a quarter beside sixteenths with words never looks shorter than they."""
        needs = self._needs(slots, under)
        if not groups:
            return needs
        shares = [slot.share for slot in slots] + [1.0]
        due: list[float] = [max(0.0, b - a) ** SPACING_POWER for a, b in pairwise(shares)]
        unit = self._style.pt(SHORTEST) / min(one for one in due if one)
        return tuple(
            (*wants, (i + 1, unit * one))
            for i, (wants, one) in enumerate(zip(needs, due, strict=True))
        )

    def _slots(
        self, arranged: ArrangedBar, free: bool, words: tuple[tuple[Segment, ...], ...]
    ) -> tuple[Slot, ...]:
        """The slots of a bar with the words sung from each: first a held start, then each
        strike."""
        begins = _begins(arranged, free)
        sung_from = [i for i, one in enumerate(begins) if one.strike is not None]
        if not sung_from or sung_from[0] > 0:
            sung_from.insert(0, 0)
        cells = {place: number for number, place in enumerate(sung_from)} if words else {}
        return tuple(
            Slot(
                share=one.share,
                labels=() if one.strike is None else self._labels(one.strike),
                words=self._sung(words, cells.get(i)),
                sign=one.sign,
                strike=one.strike,
                onset=one.onset,
                held=one.held,
            )
            for i, one in enumerate(begins)
        )

    def _labels(self, strike: ArrangedStrike) -> tuple[ChordLabel | None, ...]:
        """The labels of a strike on each line of chords."""
        silent = strike.names[0] is None
        return tuple(
            None if silent and i != self._main else labeller.label(name, strike.optional)
            for i, (labeller, name) in enumerate(zip(self._labellers, strike.names, strict=True))
        )

    def _sung(
        self, words: tuple[tuple[Segment, ...], ...], cell: int | None
    ) -> tuple[Word | None, ...]:
        """The words of each verse in a cell of a bar; ``cell`` is None where none is sung from."""
        if cell is None:
            return (None,) * len(words)
        return tuple(self.words.sung(cells[cell]) if cell < len(cells) else None for cells in words)

    # ---- room
    def _needs(self, slots: tuple[Slot, ...], under: float) -> Needs:
        """For every slot, how far each line's next occupant has to stand away.  Words may stand
        ``under`` the room that chords keep before a bar line: it ends above them."""
        needs: list[list[tuple[int, float]]] = [[] for _ in slots]
        last: dict[tuple[str, int], tuple[int, float]] = {}
        for i, slot in enumerate(slots):
            for line, room in self._rooms(slot):
                before = last.get(line)
                if before is not None:
                    lead = 0.0 if line[0] == "chord" else slot.hang(line[1])
                    needs[before[0]].append((i, before[1] + lead))
                last[line] = (i, room)
        for (kind, _), (at, room) in last.items():
            needs[at].append((len(slots), room - under * (kind == "words")))
        return tuple(map(tuple, needs))

    def _rooms(self, slot: Slot) -> list[tuple[tuple[str, int], float]]:
        """Which lines a slot occupies and how much of each, gap included."""
        pt = self._style.pt
        rooms: list[tuple[tuple[str, int], float]] = []
        dot = pt(DOT_ROOM) * slot.dotted
        if slot.sign:
            rooms.append((("chord", self._main), pt(SLASH_WIDTH + CHORD_GAP) + dot))
        for line, label in enumerate(slot.labels):
            tail = dot if line == self._main else 0.0
            width = 0.0 if label is None else label.width
            rooms.append((("chord", line), width + tail + pt(CHORD_GAP)))
        for verse, word in enumerate(slot.words):
            if word is not None:
                gap = HYPHEN_ROOM if word.split else WORD_GAP
                rooms.append((("words", verse), word.width - word.hang + pt(gap)))
        return rooms


class _Filled(NamedTuple):
    """The slots of a bar with their notes, and the least room they take in points."""

    slots: tuple[Slot, ...]
    needs: Needs
    groups: tuple[Group, ...]
    content: float


class _Begin(NamedTuple):
    """A place in a bar where something begins: a strike or a sign; neither in an empty bar."""

    share: float
    onset: int = 0
    strike: ArrangedStrike | None = None
    sign: Sign | None = None
    held: bool = False


def _begins(arranged: ArrangedBar, free: bool) -> list[_Begin]:
    """Every place of a bar, in order."""
    bar, strikes = arranged.bar, arranged.strikes
    if free:
        count = max(1, len(strikes))
        return [_Begin(i / count, strike.onset, strike) for i, strike in enumerate(strikes)]
    struck = [_Begin(strike.onset / bar.length, strike.onset, strike) for strike in strikes]
    if not bar.beats_written:
        return struck or [_Begin(0.0)]
    signs = [
        _Begin(onset / bar.length, onset, None, sign, onset in bar.holds)
        for onset, sign in signs_of(bar)
    ]
    return sorted([*struck, *signs], key=lambda one: one.onset)


def _over(
    filled: _Filled, bar: Bar, opening: BarLine, closing: BarLine, has_signature: bool
) -> ThingsAbove:
    """The things over the chords of a bar."""
    strikes = [slot.strike for slot in filled.slots if slot.strike is not None]
    signs = bar.simile == TWO_BARS or any(map(has_marks, strikes))
    stacked = [label.stacked for slot in filled.slots for label in slot.labels if label]
    over_beats = any(mark.place == "beat" for mark in bar.marks)
    noted = bar.marks or bar.cues or opening.endings or closing.times
    return ThingsAbove(
        signs=signs,
        tuplet=any(group.tuplet for group in filled.groups),
        beams=bool(filled.groups),
        tall=signs or any(stacked) or over_beats or bool(filled.groups) or has_signature,
        noted=bool(noted),
    )


def _with_values(
    slots: tuple[Slot, ...], groups: tuple[Group, ...], beat: Fraction
) -> tuple[Slot, ...]:
    """The slots with the notes and rests that share beats, and rests that fill theirs."""
    values = {i: rest_value(beat) for i, slot in enumerate(slots) if slot.sign == SILENCE}
    for group in groups:
        values |= zip(group.slots, group.values, strict=True)
    if not values and not any(slot.value for slot in slots):
        return slots
    return tuple(slot._replace(value=values.get(i)) for i, slot in enumerate(slots))
