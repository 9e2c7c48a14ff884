"""A road map: the song for somebody who counts it and plays no chords, such as a drummer or a
lighting operator.

Steady bars are grouped in fours, with a number for each four; bars with a rhythm of their own
(hits, stops, pushes, rests) are written out, and so is the sign that repeats them.
Rows in free time stand as their words.  Cues, meters, tempi, endings, repeats and jumps stay, and
each section has the first words of every verse that it sings.  Counting in fours is common
practice, no source.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedStrike,
    ArrangedSystem,
    Arrangement,
)
from chartkit.arrange.first_words import first_words, text_of, whole_lines
from chartkit.arrange.repeated_hits import plays_on, with_hits_repeated
from chartkit.chart.marks import MarkPlace
from chartkit.chart.model import TICKS_PER_BEAT, Bar, BarLine, BarLineKind
from chartkit.chart.signs import plain_slashes
from chartkit.theory.capo import NO_CAPO
from chartkit.theory.chord_parts import NamePart, PrintedChord

BARS_A_COUNT = 4
_COUNTS_A_ROW = 4
_COUNTS = ("one bar", "two bars", "three bars", "four bars")
_HIT = PrintedChord(NamePart("/", 0), "")


@dataclass(frozen=True, slots=True)
class CountedBar(Bar):
    """Some steady bars, counted as one place."""

    counted: int = 1

    @property
    def lasts(self) -> int:
        """How many bars it stands for."""
        return self.counted


def road_map(arrangement: Arrangement) -> Arrangement:
    """The arrangement with its chords counted instead of named."""
    sections = tuple(map(_section, with_hits_repeated(arrangement.sections)))
    return replace(
        arrangement,
        chord_lines=("count",),
        strong="count",
        capo=NO_CAPO,
        capo_moves=(),
        second_capo=None,
        notes=(*_legend(sections), *arrangement.notes),
        sections=sections,
    )


def _legend(sections: tuple[ArrangedSection, ...]) -> tuple[str, ...]:
    """What the numbers of the page mean, by the largest of them; nothing where it has none."""
    systems = (system for section in sections for system in section.systems)
    bars = (arranged.bar for system in systems for arranged in system.bars)
    most = max((bar.counted for bar in bars if isinstance(bar, CountedBar)), default=0)
    return (f"{most} means: play {_COUNTS[most - 1]}",) if most else ()


def _section(section: ArrangedSection) -> ArrangedSection:
    systems = list(_systems(section))
    if not any(system.words for system in systems):
        first = next((i for i, system in enumerate(systems) if system.bars), None)
        if first is not None:
            quoted = first_words(section, len(systems[first].bars))
            systems[first] = replace(systems[first], words=quoted)
        elif quoted := first_words(section, 0):
            systems.append(ArrangedSystem((), (), quoted[:1], ()))
    return replace(section, systems=tuple(systems))


# ---- rows


@dataclass(frozen=True, slots=True)
class _Place:
    """A bar with the lines around it, and whether a row of the chart ends with it."""

    bar: ArrangedBar
    before: BarLine
    after: BarLine
    ends_row: bool = False


def _systems(section: ArrangedSection) -> Iterator[ArrangedSystem]:
    """The rows of a section; steady ones are joined unless something is announced between them."""
    waiting: list[_Place] = []
    above: tuple[Announcement, ...] = ()
    for system in section.systems:
        announced = tuple(
            announcement for announcement in system.above if announcement.kind != "key"
        )
        if announced and waiting:
            yield from _rows(waiting, above)
            waiting, above = [], ()
        above += announced
        if not system.bar_lines and system.bars:
            yield replace(_free(system), above=above)
            above = ()
        for bar, before, after in zip(
            system.bars, system.bar_lines, system.bar_lines[1:], strict=False
        ):
            waiting.append(_Place(bar, before, after, ends_row=bar is system.bars[-1]))
    if waiting or above:
        yield from _rows(waiting, above)


def _free(system: ArrangedSystem) -> ArrangedSystem:
    """A row in free time as its words, since players follow the singer; a stroke for each
    chord where it has none, or where something is said beside the chords."""
    sung = any(map(text_of, system.words))
    if sung and not any(bar.bar.cues or bar.bar.marks for bar in system.bars):
        return replace(system, bars=(), words=whole_lines(system.words, 0))
    bars = tuple(replace(bar, strikes=tuple(map(_hit, bar.strikes))) for bar in system.bars)
    return replace(system, bars=bars, words=whole_lines(system.words, len(bars)))


def _rows(places: list[_Place], above: tuple[Announcement, ...]) -> Iterator[ArrangedSystem]:
    """The bars in rows of a few counts."""
    counted = list(_counted(places))
    if not counted:
        yield ArrangedSystem((), (), (), above)
        return
    starts = _row_starts(counted)
    for start, end in zip(starts, (*starts[1:], len(counted)), strict=True):
        row = counted[start:end]
        lines = [row[0].before, *(place.after for place in row)]
        for i in range(1, len(row)):
            lines[i] = _joined(lines[i], row[i].before)
        if start:
            lines[0] = _at_row_start(lines[0])
        if start + len(row) < len(counted):
            lines[-1] = _at_row_end(lines[-1])
        bars = tuple(place.bar for place in row)
        goes_on = start > 0 and not counted[start - 1].ends_row
        yield ArrangedSystem(bars, tuple(lines), (), () if start else above, goes_on)


def _row_starts(counted: list[_Place]) -> list[int]:
    """The numbers of the places that begin a row; a pick-up counts for none.  An ending that a row
    has no room for begins the next one, so that its bracket stands in one piece."""
    starts, counts, ending = [0], 0, -1
    for i, place in enumerate(counted):
        if place.before.endings:
            ending = i
        if counts == _COUNTS_A_ROW:
            at = ending if ending > starts[-1] else i
            starts.append(at)
            counts = sum(not one.bar.bar.pickup for one in counted[at:i])
        counts += not place.bar.bar.pickup
        if _ends_ending(place):
            ending = -1
    return starts


def _ends_ending(place: _Place) -> bool:
    """Whether an ending that a place stands in is over after it."""
    return place.ends_row or bool(place.after.endings) or not _plain_line(place.after)


def _at_row_start(line: BarLine) -> BarLine:
    """The part of a bar line that stands before its second bar, if a row begins there."""
    opens = line.kind in ("repeat-start", "repeat-both")
    return replace(line, kind="repeat-start" if opens else "single", times=0)


def _at_row_end(line: BarLine) -> BarLine:
    """The part of a bar line that stands after its first bar, if a row ends there."""
    kinds: dict[BarLineKind, BarLineKind] = {"repeat-both": "repeat-end", "repeat-start": "single"}
    return replace(line, kind=kinds.get(line.kind, line.kind), endings=())


def _joined(ends: BarLine, opens: BarLine) -> BarLine:
    if opens.kind in ("none", "single"):
        return replace(ends, endings=opens.endings or ends.endings)
    if ends.kind in ("none", "single"):
        return opens
    return replace(ends, endings=opens.endings or ends.endings)


def _counted(places: list[_Place]) -> Iterator[_Place]:
    """Runs of steady bars counted in fours, every other bar as it is played.  A run may begin with
    a segno and end with a jump: they stand at its edges."""
    run: list[_Place] = []
    for place in places:
        joins = run and _plain_line(place.before) and _plain_line(run[-1].after)
        joins = joins and _is_steady(place.bar, "end") and _is_steady(run[-1].bar, "start")
        if run and not (joins and _same_meter(run[-1], place)):
            yield from _in_fours(run)
            run = []
        if _is_steady(place.bar, "start") or _is_steady(place.bar, "end"):
            run.append(place)
        elif plays_on(place.bar):
            yield replace(place, bar=_marked(place.bar))
        else:
            yield replace(place, bar=_written_out(place.bar))
    yield from _in_fours(run)


def _plain_line(line: BarLine) -> bool:
    return line.kind in ("none", "single") and not line.endings


def _same_meter(one: _Place, other: _Place) -> bool:
    return one.bar.meter == other.bar.meter


def _in_fours(run: list[_Place]) -> Iterator[_Place]:
    count = sum(place.bar.bar.lasts for place in run)
    given = 0
    while given < count:
        bars = min(BARS_A_COUNT, count - given)
        given += bars
        before = run[0].before if given == bars else BarLine()
        after = run[-1].after if given == count else BarLine()
        marks = run[0].bar.bar.marks if given == bars else ()
        if given == count and len(run) > 1:
            marks += run[-1].bar.bar.marks
        counted = _count(run[0].bar, bars, first=given == bars)
        ends_row = given == count and run[-1].ends_row
        marked = replace(counted, bar=replace(counted.bar, marks=marks))
        yield _Place(marked, before, after, ends_row)


def _marked(arranged: ArrangedBar) -> ArrangedBar:
    """A steady bar with marks or cues, or a sign that repeats steady bars, counted by itself."""
    counted, bar = _count(arranged, arranged.bar.lasts, first=True), arranged.bar
    return replace(counted, bar=replace(counted.bar, marks=bar.marks, cues=bar.cues))


def _count(bar: ArrangedBar, bars: int, first: bool) -> ArrangedBar:
    """A place that stands for some steady bars, with their number in it."""
    length = bar.meter.beats * TICKS_PER_BEAT
    number = PrintedChord(NamePart(str(bars), 0), "")
    strike = ArrangedStrike(
        names=(number,),
        onset=0,
        length=length,
        pushed=False,
        stopped=False,
        ringing=False,
        optional=False,
    )
    counted = CountedBar(
        length=length,
        meter=bar.bar.meter if first else None,
        span=bar.bar.span,
        counted=bars,
    )
    return ArrangedBar(counted, (strike,), bar.meter)


# ---- single bars


def _is_steady(arranged: ArrangedBar, edge: MarkPlace) -> bool:
    """Whether the bar only keeps playing, apart from a mark at that edge of it."""
    bar = arranged.bar
    marked = any(mark.place != edge for mark in bar.marks) or (bar.marks and bar.simile)
    return plays_on(arranged) and not (bar.cues or marked)


def _written_out(arranged: ArrangedBar) -> ArrangedBar:
    """A bar with its rhythm as strokes: slashes, rests, and hits where a chord is pushed, stopped
    or left to ring.  N.C. through a whole bar stays: no chord is no silence for a drummer or a bass
    player (common practice, no source)."""
    bar = arranged.bar
    if _stays_as_typed(arranged):
        return arranged
    if bar.length and not bar.beats_written and len(arranged.strikes) == 1 and _is_held(bar):
        # One stroke under the fermata: more would say to play on.
        return replace(arranged, strikes=tuple(map(_hit, arranged.strikes)))
    hits = tuple(strike for strike in arranged.strikes if _is_hit(strike))
    silent = tuple(strike for strike in arranged.strikes if None in strike.names)
    if not (bar.beats_written or hits or silent):
        return replace(arranged, bar=replace(bar, strikes=(), beats_written=True), strikes=())
    plain = [s.onset for s in arranged.strikes if s not in hits and s not in silent]
    written = replace(
        bar,
        strikes=tuple(s for s in bar.strikes if s.onset in {hit.onset for hit in hits}),
        beats_written=True,
        slashes=_slashes(bar, plain),
        silences=_silences(bar, hits, silent),
    )
    if not bar.beats_written:
        written = replace(written, holds=_held_beats(written, plain))
    return replace(arranged, bar=written, strikes=tuple(map(_hit, hits)))


def _stays_as_typed(arranged: ArrangedBar) -> bool:
    """Whether a bar is a rest, a simile sign, or has no chord from its first beat to its last."""
    bar, strikes = arranged.bar, arranged.strikes
    without_chords = not bar.beats_written and all(None in strike.names for strike in strikes)
    return bool(bar.rest or bar.simile or (strikes and without_chords))


def _is_hit(strike: ArrangedStrike) -> bool:
    """Whether a chord is struck in a way that everybody plays together."""
    return strike.pushed or strike.stopped or strike.ringing


def _slashes(bar: Bar, plain: Iterable[int]) -> tuple[int, ...]:
    """The slashes of a bar written out: those typed, and plain strikes between the beats."""
    inside = (onset for onset in plain if onset % TICKS_PER_BEAT or _shares_beat(onset, bar))
    return tuple(sorted({*bar.slashes, *inside}))


def _silences(
    bar: Bar, hits: Iterable[ArrangedStrike], silent: Iterable[ArrangedStrike]
) -> tuple[int, ...]:
    """The beats without sound in a bar written out: rests, N.C., and what follows a stop."""
    silences = {*bar.silences, *(beat for strike in silent for beat in _beats_of(strike))}
    if not bar.beats_written:
        stopped = (strike for strike in hits if strike.stopped)
        silences |= {beat for strike in stopped for beat in _beats_after(strike)}
    return tuple(sorted(silences))


def _beats_of(strike: ArrangedStrike) -> range:
    """The beats of a silence, by their onsets."""
    return range(strike.onset, strike.onset + strike.length, TICKS_PER_BEAT)


def _beats_after(strike: ArrangedStrike) -> range:
    """The beats that begin after a strike, up to the next one."""
    first = strike.onset - strike.onset % TICKS_PER_BEAT + TICKS_PER_BEAT
    return range(first, strike.onset + strike.length, TICKS_PER_BEAT)


def _is_held(bar: Bar) -> bool:
    """Whether a fermata stands over its first beat."""
    return any(mark.holds_time and not mark.onset for mark in bar.marks)


def _shares_beat(onset: int, bar: Bar) -> bool:
    """Whether the beat that begins there is split."""
    signs = (*bar.slashes, *bar.holds, *bar.silences, *bar.mutes, *(s.onset for s in bar.strikes))
    return any(onset < sign < onset + TICKS_PER_BEAT for sign in signs)


def _held_beats(bar: Bar, struck: list[int]) -> tuple[int, ...]:
    """The beats on which nothing new is struck, where the bar did not write its beats."""
    there = {*struck, *(s.onset for s in bar.strikes), *bar.silences}
    stopped = {s.onset for s in bar.strikes if s.stopped}
    held, sounding = [], False
    for beat in plain_slashes(replace(bar, strikes=())):
        if beat in there:
            sounding = beat not in stopped and beat not in bar.silences
        elif sounding:
            held.append(beat)
    return tuple(held)


def _hit(strike: ArrangedStrike) -> ArrangedStrike:
    return replace(strike, names=(_HIT,), optional=False)
