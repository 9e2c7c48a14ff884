"""The beats of a bar: which of its elements take up time, and whether they fit the meter."""

from itertools import accumulate, pairwise

from chartkit.chart.model import TICKS_PER_BEAT, Meter
from chartkit.syntax.elements import Element, StrikeText
from chartkit.syntax.report import Report

_SPLITS = (1, 2, 3, 4, 6)
"""Into how many equal parts a beat may be split; the last is the most."""
_GOING_ON = ("/", "_")
COUNTED = ("beat", "hold", "silence", "mute")
"""The kinds of elements that are a beat each by being written."""
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
        if parts not in _SPLITS:
            fits = False
            report.add(
                "crowded-beat", slot.start, slot.end,
                f"{parts} parts in one beat: a beat is split into 2, 3, 4 or 6",
                _one_way(slots, meter),
            )  # fmt: skip
    return fits


def check_beats(slots: list[Element], written: bool, meter: Meter, report: Report) -> None:
    """Reports a bar whose chords and slashes do not fit the meter."""
    beats, count = meter.beats, len(slots)
    if not count or (beats % count == 0 and not written) or count == beats:
        return
    report.add(
        "beats-do-not-fit" if written else "beats-unclear", slots[0].start, slots[-1].end,
        f"this bar has {count} beat{'s' if count > 1 else ''}, {meter} has {beats}"
        f"{' (its beat is dotted)' if meter.compound else ''}" if written
        else f"{count} chords do not share the {beats} beats of {meter} equally",
        _one_way(slots, meter),
    )  # fmt: skip


def starts_of(slots: list[Element], written: bool, meter: Meter) -> list[int]:
    """The onset of each slot in ticks."""
    count = len(slots)
    even = not written and count and meter.beats % count == 0
    share = meter.beats // count * TICKS_PER_BEAT if even else TICKS_PER_BEAT
    return [i * share for i in range(count)]


def _one_way(slots: list[Element], meter: Meter) -> str:
    """A hint that shows one way to write the bar so that its beats come out."""
    beats = meter.beats
    groups = [[_text(part) for part in slot.value] for slot in slots]
    if all(len(group) == 1 and group[0] in _GOING_ON for group in groups):
        if groups[0] == ["_"]:
            return f"write one hold or slash for each beat: {' '.join('_' + '/' * (beats - 1))}"
        return f"write one slash for each beat: {' '.join('/' * beats)}"
    kept = [group for i, group in enumerate(groups) if group != ["/"] or i == 0]
    shared = _shared_out(kept, beats)
    if not shared:
        return "spread these chords over more bars"
    shares = [beats // len(shared) + (i < beats % len(shared)) for i in range(len(shared))]
    shown = " ".join(
        " ".join([",".join(group), *"/" * (share - 1)])
        for group, share in zip(shared, shares, strict=True)
    )
    return f"give each beat a chord or a slash, for example: {shown}"


def _shared_out(groups: list[list[str]], beats: int) -> list[list[str]]:
    """The parts of the groups on at most so many beats; empty where they do not fit.

    Groups stay as they are where they can.
    """
    if len(groups) <= beats and all(len(group) in _SPLITS for group in groups):
        return groups
    parts = [part for group in groups for part in group]
    ends = accumulate(_sizes(len(parts), min(beats, len(parts))), initial=0)
    return [parts[start:end] for start, end in pairwise(ends)]


def _sizes(parts: int, beats: int) -> list[int]:
    """How many parts each beat gets, as evenly as splits allow; empty where none do."""
    sizes: list[int] = []
    for left in range(beats, 0, -1):
        even = -(-parts // left)
        fit = [n for n in _SPLITS if even <= n and _can_share(parts - n, left - 1)]
        if not fit:
            return []
        sizes.append(fit[0])
        parts -= fit[0]
    return sizes


def _can_share(parts: int, beats: int) -> bool:
    """Whether so many beats can be split into so many parts in all.  One part less than the
    most would take a beat of five."""
    return beats <= parts <= beats * _SPLITS[-1] and parts != beats * _SPLITS[-1] - 1


def _text(strike: StrikeText) -> str:
    return f"/{strike.text}" if strike.kind == "new_bass" else strike.text
