"""From rows of measures to the sections and rows of a chart."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from chartkit.chart.model import (
    MOST_TIMES,
    Bar,
    BarLine,
    BarLineKind,
    Cue,
    MusicRow,
    Row,
    Section,
    SettingRow,
    WordsRow,
)
from chartkit.diagnostics import Span
from chartkit.interchange.intake_result import Findings
from chartkit.interchange.score.bars import BarAndStarts, BarWriter
from chartkit.interchange.score.events import NO_EDGE, Edge, Measure, SungSyllable
from chartkit.interchange.score.rows import rows_of, sections_of
from chartkit.interchange.score.systems import Systems
from chartkit.interchange.score.timed import RowOfMeasures, Timed, beat_units
from chartkit.interchange.score.words import EMPTY, Cell, cell_of, sung_in
from chartkit.interchange.wording import setting_text

_SLOWEST, _FASTEST = 10, 400


def tempo_of(quarters: float, timed: Timed, units: int) -> int | None:
    """Beats per minute in the meter; None if a chart cannot say it."""
    beats = round(quarters * units / beat_units(timed.meter, units))
    return beats if _SLOWEST <= beats <= _FASTEST else None


@dataclass(slots=True)
class SectionWriter:
    """Writes the sections.

    ``verses`` gives each verse its number; ``units`` are those to a quarter note; ``joins_alike``
    writes a row once whose words are the same in several verses that differ elsewhere; ``whole``
    are all words of each verse.
    """

    verses: dict[str, int]
    units: int
    findings: Findings
    bars: BarWriter
    joins_alike: bool = True
    whole: dict[str, list[str]] = field(default_factory=dict)

    def sections(self, timed: tuple[Timed, ...], systems: Systems) -> tuple[Section, ...]:
        """All sections; what holds at the start of the first measure goes to the top of the chart.

        ``systems`` says how far its rows are those of the source.
        """
        for one in (one for now in timed for one in now.measure.sung):
            self.whole.setdefault(one.verse, []).append(one.text)
        rows = rows_of(timed, systems)
        before = Edge()
        sections = []
        for name, own_rows in sections_of(rows):
            written: list[Row] = []
            for i, row in enumerate(own_rows):
                written += self._row(row, before, first_in_section=i == 0)
                before = row.measures[-1].measure.right
            sections.append(Section(name, tuple(written)))
        return tuple(sections)

    def _row(self, row: RowOfMeasures, before: Edge, first_in_section: bool) -> list[Row]:
        changes = self._changes(row.measures[0]) if self.bars.bars else []
        written = []
        for i, timed in enumerate(row.measures):
            left = timed.measure.left
            after_break = before.repeat or bool(left.endings) or (first_in_section and not i)
            one = self._bar(timed, after_break, not i)
            if i and timed.measure.meter is not None:
                one = one._replace(bar=replace(one.bar, meter=timed.measure.meter))
            written.append(one)
            before = timed.measure.right
        music = _music_row([one.bar for one in written], [t.measure for t in row.measures])
        music = replace(music, span=self._numbered(row))
        return [*changes, music, *self._words(row, written, music)]

    def _numbered(self, row: RowOfMeasures) -> Span:
        """The number of a row, under which the places of its measures are known from here on."""
        number = len(self.bars.bars)  # grows from row to row
        for timed in row.measures:
            self.findings.rows.setdefault(f"measure {timed.measure.number}", number)
        return Span(number, number)

    def _bar(self, timed: Timed, after_break: bool, opens_row: bool) -> BarAndStarts:
        written = self.bars.write(timed, after_break, opens_row)
        times = timed.measure.right.times
        if times <= MOST_TIMES:
            return written
        self.findings.guess(
            "many-times",
            f"a part played {times} times: said in a cue",
            f"measure {timed.measure.number}",
        )
        return written._replace(bar=_with_cue(written.bar, f"{times} times"))

    def _changes(self, timed: Timed) -> list[Row]:
        measure = timed.measure
        changes: list[Row] = []
        if measure.key is not None:
            changes.append(SettingRow("key", measure.key))
        if measure.capo is not None:
            changes.append(SettingRow("capo", measure.capo))
        if measure.meter is not None:
            changes.append(SettingRow("meter", measure.meter))
        beats = None if measure.tempo is None else tempo_of(measure.tempo, timed, self.units)
        if beats is not None:
            changes.append(SettingRow("tempo", beats))
        elif measure.tempo is not None:
            self.findings.leave_out(
                "tempo-out-of-reach",
                f"a tempo of {measure.tempo:g} quarter notes a minute",
                f"measure {measure.number}",
            )
        if measure.feel:
            changes.append(SettingRow("feel", setting_text(measure.feel)))
        return changes

    # ---- words
    def _words(self, row: RowOfMeasures, written: list[BarAndStarts], music: MusicRow) -> list[Row]:
        sung_here = [sung_in(timed.measure) for timed in row.measures]
        singing = set(row.before).union(*sung_here)
        under = {
            verse: self._under(
                row,
                row.before.get(verse, ()),
                [one.get(verse, ()) for one in sung_here],
                written,
                music,
            )
            for verse in sorted(singing, key=self.verses.__getitem__)
        }
        sung = {verse: cells for verse, cells in under.items() if any(c != EMPTY for c in cells)}
        if self.joins_alike and len(sung) > 1 and self._is_refrain(sung):
            return [WordsRow(next(iter(sung.values())))]
        only = len(self.verses) == 1
        rows: list[Row] = []
        for verse, cells in sung.items():
            number = self.verses[verse]
            bare = (only or (len(sung) == 1 and number == 1)) and not _is_named(row, verse)
            rows.append(WordsRow(cells, None if bare else number))
        return rows

    def _is_refrain(self, sung: dict[str, tuple[Cell, ...]]) -> bool:
        """Whether the words under a row are those of several verses that differ elsewhere."""
        alike = len(set(sung.values())) == 1
        return alike and len({" ".join(self.whole[verse]) for verse in sung}) == len(sung)

    def _under(
        self,
        row: RowOfMeasures,
        before: tuple[SungSyllable, ...],
        sung: Sequence[tuple[SungSyllable, ...]],
        written: list[BarAndStarts],
        music: MusicRow,
    ) -> tuple[Cell, ...]:
        """The cells of one verse: the pick-up where the row has a place for it, then a cell a
        bar; ``before`` and ``sung`` are its syllables before the row and in each measure."""
        bars = [(words, one.starts) for words, one in zip(sung, written, strict=True)]
        has_pickup = music.free or music.lines[0].kind != "none"
        if not has_pickup:
            bars[0] = (_at_start(before) + bars[0][0], bars[0][1])
            before = ()
        elif music.free and not before:
            first = row.measures[0].measure.struck
            start = first[0].onset if first else 0
            before = tuple(s for s in bars[0][0] if s.onset < start)
            bars[0] = (tuple(s for s in bars[0][0] if s.onset >= start), bars[0][1])
        cells = tuple(cell_of(sung, starts) for sung, starts in bars)
        if music.free:
            cells = (cells[0] + EMPTY * (len(bars[0][1]) - len(cells[0])),)
        return (cell_of(before, (0,)), *cells) if has_pickup else cells


def _at_start(sung: tuple[SungSyllable, ...]) -> tuple[SungSyllable, ...]:
    return tuple(one._replace(onset=0) for one in sung)


def _is_named(row: RowOfMeasures, verse: str) -> bool:
    sung = (one for timed in row.measures for one in timed.measure.sung if one.verse == verse)
    return any(one.named for one in (*sung, *row.before.get(verse, ())))


def _with_cue(bar: Bar, text: str) -> Bar:
    at = bar.cues[-1].onset if bar.cues else 0 if not bar.simile else bar.length
    return replace(bar, cues=(*bar.cues, Cue(text, at)))


# ---- bar lines


def _music_row(bars: list[Bar], measures: list[Measure]) -> MusicRow:
    if measures[0].free:
        return MusicRow(tuple(bars))
    lines = [_opening_line(measures[0], bars[0].pickup)]
    lines += [_line(a.right, b.left) for a, b in pairwise(measures)]
    return MusicRow(tuple(bars), (*lines, _line(measures[-1].right, Edge())))


def _opening_line(first: Measure, pickup: bool) -> BarLine:
    if pickup:
        return BarLine("none")
    plain: BarLineKind = "double" if first.left.double else "single"
    return BarLine("repeat-start" if first.left.repeat else plain, first.left.endings)


_REPEATS: dict[tuple[bool, bool], BarLineKind] = {
    (True, True): "repeat-both",
    (True, False): "repeat-end",
    (False, True): "repeat-start",
}
"""The line between two measures by whether a repeat ends before it and begins after it."""


_PLAIN_LINE = BarLine()


def _line(right: Edge, left: Edge) -> BarLine:
    """The one line between two measures."""
    if right == NO_EDGE == left:
        return _PLAIN_LINE
    plain: BarLineKind = "double" if right.double or left.double else "single"
    times = right.times if right.repeat and 2 < right.times <= MOST_TIMES else 0
    return BarLine(_REPEATS.get((right.repeat, left.repeat), plain), left.endings, times)
