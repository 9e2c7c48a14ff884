"""The spoken text of a row of music: its chords, and the signs drawn between them.

Screen readers read texts alone; rests, slashes, repeats and signs are drawn.  A row with any of
these is read as a player would say it; a row of chords alone needs no other text.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby

from chartkit.chart.marks import MARKS, MarkPlace, printed_mark
from chartkit.chart.model import BarLine
from chartkit.chart.signs import SILENCE, SLASH
from chartkit.layout.boxes import BarBox, RowBox, Slot
from chartkit.theory.chord_parts import PrintedChord

_SIMILE = ("", "the bar before again", "the two bars before again")


def spoken_row(row: RowBox, line: int) -> str:
    """The spoken text of a row, with the chord names of one of its lines; empty if the names are
    enough."""
    bars = [list(_bar(box, line)) for box in row.bars]
    plain = [name for box in row.bars for slot in box.slots for name in _name(slot, line)]
    if [word for bar in bars for word in bar] == plain:
        return ""
    return "; ".join(", ".join(_counted(bar)) for bar in bars if bar)


def _bar(box: BarBox, line: int) -> Iterator[str]:
    if box.opening.kind in ("repeat-start", "repeat-both"):
        yield "repeat from here"
    if box.opening.endings:
        yield f"ending {' and '.join(map(str, box.opening.endings))}"
    yield from _drawn_marks(box, "start")
    if box.bar.meter is not None and not box.opens:
        yield f"meter {box.bar.meter}"
    if box.bar.simile:
        yield _SIMILE[box.bar.simile]
    elif box.bar.rest:
        yield "rest" if box.bar.rest == 1 else f"rest {box.bar.rest} bars"
    else:
        for number, slot in enumerate(box.slots):
            yield from _slot(slot, line)
            yield from _drawn_marks(box, "beat", slot.onset if box.bar.length else number)
    if box.bar.simile or box.bar.rest:
        yield from _drawn_marks(box, "beat")
    if box.closing.kind in ("repeat-end", "repeat-both"):
        yield from _closing(box.closing)


def _drawn_marks(box: BarBox, place: MarkPlace, onset: int = 0) -> Iterator[str]:
    """The marks of a place that are drawn, and so have no words on the page."""
    for mark in box.bar.marks:
        if MARKS[mark.kind].drawn and (mark.place, mark.onset) == (place, onset):
            yield printed_mark(mark).lower()


def _closing(line: BarLine) -> Iterator[str]:
    if line.kind in ("repeat-end", "repeat-both"):
        yield f"repeat, {line.times} times in all" if line.times else "repeat"


def _name(slot: Slot, line: int) -> Iterator[str]:
    if slot.strike is not None:
        name: PrintedChord | None = slot.strike.names[line]
        yield "N.C." if name is None else name.plain()


def _slot(slot: Slot, line: int) -> Iterator[str]:
    if slot.sign == SILENCE:
        yield "rest"
    elif slot.held:
        yield "held"
    elif slot.sign == SLASH:
        yield "slash"
    elif slot.sign:
        yield "muted stroke"
    yield from _name(slot, line)
    if slot.strike is not None:
        marks = (
            (slot.strike.pushed, "early"),
            (slot.strike.stopped, "stopped"),
            (slot.strike.ringing, "left to ring"),
        )
        yield from (word for given, word in marks if given)


_COUNTED = {"rest": "rests", "slash": "slashes", "muted stroke": "muted strokes"}


def _counted(words: Iterable[str]) -> Iterator[str]:
    """The words, several alike after one another counted."""
    for word, same in groupby(words):
        count = len(list(same))
        if count > 1 and word in _COUNTED:
            yield f"{count} {_COUNTED[word]}"
        else:
            yield from [word] * count
