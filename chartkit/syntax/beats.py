"""The beats of a bar: which of its elements take up time, and whether they fit the meter."""

from chartkit.chart.model import TICKS_PER_BEAT, Meter
from chartkit.syntax.beat_hints import SPLITS, way_to_spread, way_to_write
from chartkit.syntax.elements import Element
from chartkit.syntax.report import Report

COUNTED = ("beat", "hold", "silence", "mute")
"""The kinds of elements that each are a beat."""
TIMED = ("group", *COUNTED)
"""The kinds of elements that take up time."""


def slots_in(elements: list[Element]) -> list[Element]:
    """The elements that take up time, in order: groups of chords, slashes and holds."""
    return [e for e in elements if e.kind in TIMED and not _missing(e)]


def _missing(group: Element) -> bool:
    return all(strike.kind == "missing" for strike in group.value)


def check_splits(slots: list[Element], meter: Meter, report: Report) -> bool:
    """Whether every beat is split into parts that it can have; reports those that are not."""
    fits = True
    for slot in slots:
        parts = len(slot.value)
        if parts not in SPLITS:
            fits = False
            report.add(
                "crowded-beat",
                slot.start,
                slot.end,
                f"{parts} parts in one beat: a beat can be split into 2, 3, 4 or 6",
                way_to_spread(slot, slots, meter.beats),
            )
    return fits


def check_beats(slots: list[Element], written: bool, meter: Meter, report: Report) -> None:
    """Reports a bar whose chords and slashes do not fit the meter."""
    beats, count = meter.beats, len(slots)
    if not count or (beats % count == 0 and not written) or count == beats:
        return
    report.add(
        "beats-do-not-fit" if written else "beats-unclear",
        slots[0].start,
        slots[-1].end,
        f"this bar has {count} beat{'s' if count > 1 else ''}, {meter} has {beats}{_each(meter)}"
        if written
        else f"{count} chords do not share the {beats} beats of {meter} equally",
        way_to_write(slots, written, meter.beats),
    )


_PARTS = {8: "eighths", 16: "sixteenths", 32: "thirty-seconds"}


def _each(meter: Meter) -> str:
    """How long the beats of a compound meter are."""
    return f", each of three {_PARTS.get(meter.unit, 'parts')}" if meter.compound else ""


def starts_of(slots: list[Element], written: bool, meter: Meter) -> list[int]:
    """The onset of each slot in ticks."""
    count = len(slots)
    even = not written and count and meter.beats % count == 0
    share = meter.beats // count * TICKS_PER_BEAT if even else TICKS_PER_BEAT
    return [i * share for i in range(count)]
