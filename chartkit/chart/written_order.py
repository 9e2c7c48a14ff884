"""The bars of a chart laid out in one line, as they stand on the page.

Sections that share another's music are laid out with that music.  Each bar knows the lines
around it, the key and the meter it stands under and, where it is a simile sign, what it
repeats.  How they are *played* is the business of ``playing_order``.
"""

from dataclasses import dataclass, replace

from chartkit.chart.copies import copied_bar, kept_marks
from chartkit.chart.keys import key_of_row
from chartkit.chart.meters import meter_after
from chartkit.chart.model import (
    Bar,
    BarLine,
    Chart,
    Meter,
    MusicRow,
    Strike,
)
from chartkit.chart.systems import music_sections
from chartkit.theory.key import Key


@dataclass(frozen=True, slots=True)
class WrittenBar:
    """A bar on the page.

    ``section`` is the section it is played in, ``written_in`` the one its rows stand in (another
    for shared music), ``row`` counts that section's rows of every kind, ``bar`` the bars of
    the row.  ``before`` and ``after`` are the lines around it, those of two rows that meet
    joined.  ``contents`` are the strikes of each bar it stands for: one, two for ``%%``,
    more for a long rest.
    """

    section: int
    written_in: int
    row: int
    bar: int
    written: Bar
    before: BarLine
    after: BarLine
    contents: tuple[tuple[Strike, ...], ...]
    key: Key | None
    meter: Meter

    @property
    def length(self) -> int:
        """Ticks of each bar it stands for, 0 in free time."""
        return self.written.length // max(1, len(self.contents))

    @property
    def opens_repeat(self) -> bool:
        """Whether a repeat starts before it."""
        return self.before.kind in ("repeat-start", "repeat-both")

    @property
    def closes_repeat(self) -> bool:
        """Whether a repeat ends after it."""
        return self.after.kind in ("repeat-end", "repeat-both")

    @property
    def endings(self) -> tuple[int, ...]:
        """The numbers of the ending that starts at it."""
        return self.before.endings


def written_order(chart: Chart) -> tuple[WrittenBar, ...]:
    """Every bar in the order of the page, shared sections with the music they share.

    A key or meter in the rows of a section holds from there on down the page; shared music
    keeps the key and meter of the place where it was first written.
    """
    own: dict[int, tuple[WrittenBar, ...]] = {}
    key, meter = chart.key, chart.meter
    earlier: list[tuple[Strike, ...]] = []
    for index, section in enumerate(chart.sections):
        if section.same_as:
            continue
        bars: list[WrittenBar] = []
        for row_index, row in enumerate(section.rows):
            key = key_of_row(row) or key
            if isinstance(row, MusicRow):
                bars += _row_bars(row, row_index, index, key, meter, earlier)
            meter = meter_after(row, meter)
        own[index] = tuple(bars)
    placed = list[WrittenBar]()
    where_written = music_sections(chart)
    kept_in = kept_marks(chart, where_written)
    for index, written_in in enumerate(where_written):
        bars_there = () if written_in is None else own.get(written_in, ())
        if written_in is not None and written_in != index:
            bars_there = tuple(
                replace(bar, section=index, written=copied_bar(bar.written, kept_in[index]))
                for bar in bars_there
            )
        placed += bars_there
    return _joined(placed)


def _row_bars(
    row: MusicRow,
    row_index: int,
    section: int,
    key: Key | None,
    meter: Meter,
    earlier: list[tuple[Strike, ...]],
) -> list[WrittenBar]:
    """The bars of one row; ``earlier`` holds the strikes of all bars so far and grows."""
    bars = []
    for i, bar in enumerate(row.bars):
        meter = bar.meter or meter
        contents = _contents(bar, earlier)
        earlier += contents
        before = row.lines[i] if row.lines else BarLine("none")
        after = row.lines[i + 1] if row.lines else BarLine("none")
        bars.append(
            WrittenBar(
                section=section,
                written_in=section,
                row=row_index,
                bar=i,
                written=bar,
                before=before,
                after=after,
                contents=contents,
                key=key,
                meter=meter,
            )
        )
    return bars


def _contents(bar: Bar, earlier: list[tuple[Strike, ...]]) -> tuple[tuple[Strike, ...], ...]:
    """What the bar stands for: its own strikes, or those of the bars before it.

    A simile sign means the bars before it on the page (common practice, no source).  With
    nothing before it, it stands for empty bars.  A rest is a silence in every bar.
    """
    if bar.rest:
        return ((Strike(None, 0, bar.length // bar.rest),),) * bar.rest
    if not bar.simile:
        return (bar.strikes,)
    missing = ((),) * max(0, bar.simile - len(earlier))
    return (*missing, *earlier[-bar.simile :])


def _joined(bars: list[WrittenBar]) -> tuple[WrittenBar, ...]:
    """The bars, with the two bar lines at which rows meet joined into one that has the signs of
    both."""
    joined = list(bars)
    for i in range(1, len(joined)):
        one, other = joined[i - 1], joined[i]
        if one.section == other.section and one.row == other.row:
            continue
        opens = other.opens_repeat or one.after.kind in ("repeat-start", "repeat-both")
        closes = one.closes_repeat or other.before.kind in ("repeat-end", "repeat-both")
        endings = other.before.endings or one.after.endings
        if opens:
            joined[i] = other = replace(other, before=BarLine("repeat-start", endings))
        elif endings:
            joined[i] = replace(other, before=BarLine(other.before.kind, endings))
        if closes:
            line = one.after if one.after.times or not other.before.times else other.before
            joined[i - 1] = replace(
                one, after=BarLine("repeat-end", one.after.endings, line.times, line.span)
            )
    return tuple(joined)
