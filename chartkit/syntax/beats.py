"""The beats of a bar: which of its elements take up time, and whether they fit the meter."""

from chartkit.chart.model import TICKS_PER_BEAT, Meter
from chartkit.syntax.elements import Element, StrikeText
from chartkit.syntax.report import Report

MOST_IN_A_BEAT = 4
"""How many chords may share one beat."""
_GOING_ON = ("/", "_")
TIMED = ("group", "beat", "hold")
"""The kinds of elements that take up time."""


def slots_in(elements: list[Element]) -> list[Element]:
    """The elements that take up time, in order: groups of chords, slashes and holds."""
    return [e for e in elements if e.kind in TIMED and not _missing(e)]


def _missing(group: Element) -> bool:
    return all(strike.kind == "missing" for strike in group.value)


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
    groups = [",".join(_text(s) for s in e.value) for e in slots]
    beats = meter.beats
    if all(group in _GOING_ON for group in groups):
        return f"write one slash for each beat: {' '.join('/' * beats)}"
    if sum(len(e.value) for e in slots if e.kind == "group") > beats * MOST_IN_A_BEAT:
        return "spread these chords over more bars"
    chords = [group for i, group in enumerate(groups) if group not in _GOING_ON or i == 0]
    while len(chords) > beats:
        pairs = zip(chords[::2], [*chords[1::2], ""], strict=False)
        chords = [",".join(filter(None, pair)) for pair in pairs]
    shares = [beats // len(chords) + (i < beats % len(chords)) for i in range(len(chords))]
    shown = " ".join(
        " ".join([chord, *"/" * (share - 1)]) for chord, share in zip(chords, shares, strict=True)
    )
    return f"give each beat a chord or a slash, for example: {shown}"


def _text(strike: StrikeText) -> str:
    return f"/{strike.text}" if strike.kind == "new_bass" else strike.text
