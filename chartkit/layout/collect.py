"""Step one: from an arrangement to measured boxes."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedStrike,
    ArrangedSystem,
    WordsLine,
)
from chartkit.arrange.page_look import Form
from chartkit.arrange.view import LineName
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, Meter, Segment
from chartkit.chart.signs import SILENCE, Sign
from chartkit.layout.boxes import (
    BarBox,
    LineAlone,
    Needs,
    RowBox,
    SectionBox,
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
from chartkit.layout.shared_rows import SharedRows
from chartkit.layout.signature import signature_size
from chartkit.layout.strike_marks import has_marks
from chartkit.layout.style import Style, page_room
from chartkit.layout.sung_again import (
    announcements_of,
    name_without_number,
    new_announcements,
    stanza_texts,
    sung_again,
)


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


_LINES_A_VERSE, _OVER_WORDS = 1.17, 14
"""The height of a verse in lines of its own size, and how many such lines stand above them."""


class Collector:
    """Measures an arrangement for one style."""

    def __init__(
        self,
        typesetter: Typesetter,
        style: Style,
        lines: tuple[LineName, ...],
        strong: LineName,
        shared: SharedRows | None = None,
    ) -> None:
        self.fitter = Fitter(typesetter)
        self._shared = shared
        self._style = style
        self._main = lines.index(strong)
        self.words = WordMeasurer(typesetter, style)
        self._widest = style.line_width * 0.8
        self._labellers = [
            ChordLabeller(typesetter, *line_type(line, strong, style), self._widest)
            for line in lines
        ]

    def sections(
        self, sections: Sequence[ArrangedSection], form: Form = "full"
    ) -> tuple[SectionBox, ...]:
        """Every section with its rows measured; those that come again as ``form`` says."""
        sung: dict[str, tuple[str, ...]] = {}
        said: dict[str, tuple[Announcement, ...]] = {}
        boxes = []
        for section in sections:
            words = sung_again(section) if form in ("words", "line") else ()
            box = self._section(section, form, words, sung)
            if not box.rows:
                box = replace(
                    box, said=new_announcements(section, said.get(section.again.casefold(), ()))
                )
            boxes.append(box)
            sung[section.name.casefold()] = words or sung.get(section.again.casefold(), ())
            said.setdefault(section.name.casefold(), announcements_of(section))
        return tuple(boxes)

    def _section(
        self,
        section: ArrangedSection,
        form: Form,
        words: tuple[str, ...],
        sung: dict[str, tuple[str, ...]],
    ) -> SectionBox:
        if section.again and form in ("words", "line"):
            alike = form == "words" and name_without_number(section.name) == name_without_number(
                section.again
            )
            before = sung.get(section.again.casefold(), ()) if alike else ()
            again_words = () if section.whole and form == "line" else words
            return SectionBox(
                name=section.name,
                times=section.times,
                rows=(),
                again=section.again,
                words=again_words or before,
                source=section.span,
            )
        rows = tuple(row for system in section.systems for row in self._rows(system))
        return SectionBox(section.name, section.times, rows, source=section.span)

    def _rows(self, system: ArrangedSystem) -> Iterable[RowBox]:
        if system.words and not system.bars:
            return (self._words_alone(system),)
        stacks = self._short_stacks(system)
        if self._shared is None:
            return map(self._row, stacks)
        shared, widest = self._shared, self._widest
        return (shared.row(stack, widest, self._row) for stack in stacks)

    @staticmethod
    def _words_alone(system: ArrangedSystem) -> RowBox:
        """A stanza of words without music."""
        texts = zip(stanza_texts(system), system.words, strict=True)
        lines = tuple(LineAlone(text, 0.0, words.pickup.span) for text, words in texts)
        return RowBox(bars=(), pickups=(), verses=0, above=system.above, alone=lines)

    def _short_stacks(self, system: ArrangedSystem) -> Iterator[ArrangedSystem]:
        """The system, its music printed again where its verses would not fit a page."""
        most = max(
            1, int(page_room(self._style) / self._style.words / _LINES_A_VERSE) - _OVER_WORDS
        )
        yield system if len(system.words) <= most else replace(system, words=system.words[:most])
        for start in range(most, len(system.words), most):
            yield replace(system, words=system.words[start : start + most], above=())

    def _row(self, system: ArrangedSystem) -> RowBox:
        free = not system.lines
        lines = system.lines or (BarLine("none"),) * (len(system.bars) + 1)
        bars = tuple(
            self._bar(bar, lines[i], lines[i + 1], tuple(w.bars[i] for w in system.words), free)
            for i, bar in enumerate(system.bars)
        )
        pickups = tuple(
            self.words.sung(words.pickup) if words.pickup.text else None for words in system.words
        )
        numbers = tuple(
            self.words.word(f"{number}.") if number else None for number in _numbers(system.words)
        )
        return RowBox(
            bars=bars,
            pickups=pickups,
            verses=len(system.words),
            above=system.above,
            free=free,
            cut=0,
            numbers=numbers,
            goes_on=system.goes_on,
        )

    # ---- bars
    def _bar(
        self,
        arranged: ArrangedBar,
        opening: BarLine,
        closing: BarLine,
        words: tuple[tuple[Segment, ...], ...],
        free: bool,
    ) -> BarBox:
        slots = self._slots(arranged, free, words)
        signature = self._signature(arranged.bar.meter)
        left = self._style.pt(PAD + DOTS_PAD * (opening.kind in ("repeat-start", "repeat-both")))
        left += signature
        right = self._style.pt(PAD + DOTS_PAD * (closing.kind in ("repeat-end", "repeat-both")))
        if free:
            left = right = 0.0
        bar, beat = arranged.bar, arranged.meter.beat
        lasts = float(beat) * bar.length / (TICKS_PER_BEAT * bar.lasts)
        filled = self._filled(bar, slots, beat)
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
        size = signature_size(len(self._labellers), self._style)
        digits = (str(meter.count), str(meter.unit))
        return max(self.fitter.width(d, "strong", size) for d in digits) + self._style.pt(PAD)

    def bar_box(
        self, like: BarBox, slots: tuple[Slot, ...], broken: bool = False, continued: bool = False
    ) -> BarBox:
        """A bar like another one with these slots, its least width worked out."""
        filled = self._filled(like.bar, slots, like.beat)
        return replace(
            like,
            over=_over(filled, like.bar, like.opening, like.closing, bool(like.signature)),
            lasts=round(like.duration * max(1, like.bar.simile), _EACH_DURATION),
            slots=filled.slots,
            needs=filled.needs,
            width=like.left_pad + filled.content + like.right_pad,
            broken=broken,
            continued=continued,
            groups=filled.groups,
        )

    def _filled(self, bar: Bar, slots: tuple[Slot, ...], beat: Fraction) -> "_Filled":
        """The slots with their notes, and the room they take between the paddings."""
        groups = groups_of(slots, beat) if bar.beats_written else ()
        slots = _with_values(slots, groups, beat)
        needs = self._spaced_needs(slots, groups)
        content = tight_positions(slots, needs)[1]
        least = self._style.pt(REST_WIDTH if bar.rest else (14, 26, 62)[bar.simile])
        return _Filled(slots, needs, groups, max(content, least))

    def _spaced_needs(self, slots: tuple[Slot, ...], groups: tuple[Group, ...]) -> Needs:
        """The needs of slots; in a bar of exact notes each note has at least the room of its
        duration, so that a quarter beside sixteenths with words never looks shorter than they."""
        needs = self.needs(slots)
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
    def needs(self, slots: tuple[Slot, ...]) -> Needs:
        """For every slot, how far each line's next occupant has to stand away."""
        needs: list[list[tuple[int, float]]] = [[] for _ in slots]
        last: dict[tuple[str, int], tuple[int, float]] = {}
        for i, slot in enumerate(slots):
            for line, room in self._rooms(slot):
                before = last.get(line)
                if before is not None:
                    lead = 0.0 if line[0] == "chord" else slot.hang(line[1])
                    needs[before[0]].append((i, before[1] + lead))
                last[line] = (i, room)
        for at, room in last.values():
            needs[at].append((len(slots), room))
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
    signs = bar.simile == TWO_BARS or any(
        slot.strike is not None and has_marks(slot.strike) for slot in filled.slots
    )
    stacked = any(
        label is not None and label.stacked for slot in filled.slots for label in slot.labels
    )
    over_beats = any(mark.place == "beat" for mark in bar.marks)
    noted = bar.marks or bar.cues or opening.endings or closing.times
    return ThingsAbove(
        signs=signs,
        tuplet=any(group.tuplet for group in filled.groups),
        beams=bool(filled.groups),
        tall=signs or stacked or over_beats or bool(filled.groups) or has_signature,
        noted=bool(noted),
    )


def _numbers(words: tuple[WordsLine, ...]) -> list[str]:
    """The numbers before lines of words: those they are known by, or were typed with in a stack;
    the lines of a stack without any are verses in their order."""
    known = [line.number for line in words]
    if len(words) < 2:
        return known
    typed = [line.verse for line in words]
    if not any(known) and not any(typed):
        return [str(number) for number in range(1, len(words) + 1)]
    return [
        number or ("" if verse is None else str(verse))
        for number, verse in zip(known, typed, strict=True)
    ]


def _with_values(
    slots: tuple[Slot, ...], groups: tuple[Group, ...], beat: Fraction
) -> tuple[Slot, ...]:
    """The slots with the notes and rests that share beats, and rests that fill theirs."""
    values = {i: rest_value(beat) for i, slot in enumerate(slots) if slot.sign == SILENCE}
    for group in groups:
        values |= zip(group.slots, group.values, strict=True)
    if not values and not any(slot.value for slot in slots):
        return slots
    return tuple(replace(slot, value=values.get(i)) for i, slot in enumerate(slots))
