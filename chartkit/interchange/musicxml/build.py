"""Timed measures to the sections and rows of a chart."""

from dataclasses import dataclass, field, replace
from itertools import pairwise

from chartkit.chart.model import (
    Bar,
    BarLine,
    BarLineKind,
    Cue,
    MusicRow,
    Row,
    Section,
    Segment,
    SettingRow,
    WordsRow,
)
from chartkit.interchange.musicxml.bars import BarWriter, Written
from chartkit.interchange.musicxml.events import Edge, Measure
from chartkit.interchange.musicxml.timed import Timed, beat_units
from chartkit.interchange.musicxml.verses import EMPTY, Cell, cell_of, sung_by
from chartkit.interchange.taken import Findings
from chartkit.interchange.wording import setting_text

BARS_IN_A_ROW = 4
"""How many bars a row of a chart usually has; common practice, no source."""
_SLOWEST, _FASTEST = 10, 400
_MOST_REPEATS = 2


@dataclass(frozen=True, slots=True)
class _Column:
    """A bar with its measure and the words under it, one cell for each verse that sings."""

    timed: Timed
    written: Written
    words: dict[str, Cell]


@dataclass(slots=True)
class _Rows:
    """The rows of the section being written, and the row of bars not yet ended."""

    sections: list[Section] = field(default_factory=list)
    opened: Section | None = None
    rows: list[Row] = field(default_factory=list)
    columns: list[_Column] = field(default_factory=list)


def tempo_of(quarters: float, timed: Timed, units: int) -> int | None:
    """Beats of the meter a minute; None outside what a chart can say."""
    beats = round(quarters * float(beat_units(timed.meter, units) ** -1) * units)
    return beats if _SLOWEST <= beats <= _FASTEST else None


class SectionWriter:
    """Writes the sections.  ``verses`` gives each verse its number; ``units`` are those to a
    quarter note."""

    def __init__(self, verses: dict[str, int], units: int, findings: Findings) -> None:
        self.verses = verses
        self.units = units
        self.findings = findings
        self.bars = BarWriter(findings)
        self.state = _Rows()
        self.pickup: dict[str, Segment] = {}

    def sections(self, timed: tuple[Timed, ...]) -> tuple[Section, ...]:
        """All sections; what holds at the start of the first measure is left to the top."""
        before = Edge()
        for now in timed:
            self._measure(now, before)
            before = now.measure.right
        self._end_section()
        return tuple(self.state.sections)

    def _measure(self, timed: Timed, before: Edge) -> None:
        measure, state = timed.measure, self.state
        if timed.sung_before:
            self._sung_pickup(measure)
            return
        if measure.section or state.opened is None:
            self._end_section()
            state.opened = Section(measure.section)
        if self.bars.bars:
            self._changes(timed)
        starts_over = self._breaks(measure, before)
        written = self.bars.write(timed, starts_over or before.repeat or bool(measure.left.endings))
        self._tell_times(measure)
        words = {
            verse: cell
            for verse in self.verses
            if (cell := cell_of(sung_by(measure, verse), written.starts)) != EMPTY
        }
        written = replace(written, bar=_with_times(written, measure))
        state.columns.append(_Column(timed, written, words))
        if measure.free:
            self._end_row()

    def _breaks(self, measure: Measure, before: Edge) -> bool:
        """Ends the row of bars where a new one should begin; says whether it did."""
        columns = self.state.columns
        ends = (
            (
                measure.free
                or measure.left.repeat
                or ((before.repeat or before.double) and not measure.left.endings)
                or len(columns) >= _room(columns, measure)
            )
            if columns
            else False
        )
        if ends:
            self._end_row()
        return not columns and not self.state.rows

    def _sung_pickup(self, measure: Measure) -> None:
        """Keeps the words of a pick-up without chords for the row that follows."""
        for verse in self.verses:
            cell = cell_of(sung_by(measure, verse), (0,))
            if cell != EMPTY:
                self.pickup[verse] = cell[0]

    # ---- changes
    def _changes(self, timed: Timed) -> None:
        measure = timed.measure
        found: list[SettingRow] = []
        if measure.key is not None:
            found.append(SettingRow("key", measure.key))
        if measure.meter is not None:
            found.append(SettingRow("meter", measure.meter))
        if measure.tempo is not None:
            beats = tempo_of(measure.tempo, timed, self.units)
            if beats is not None:
                found.append(SettingRow("tempo", beats))
            else:
                self.findings.leave_out(
                    "tempo-out-of-reach", f"a tempo of {measure.tempo:g} quarter notes a minute",
                    f"measure {measure.number}",
                )  # fmt: skip
        if measure.feel:
            found.append(SettingRow("feel", setting_text(measure.feel)))
        if found:
            self._end_row()
            self.state.rows += found

    def _tell_times(self, measure: Measure) -> None:
        if measure.right.times > _MOST_REPEATS:
            self.findings.guess(
                "many-times", f"a part played {measure.right.times} times: told in a cue",
                f"measure {measure.number}",
            )  # fmt: skip

    # ---- ends
    def _end_section(self) -> None:
        self._end_row()
        state = self.state
        if state.opened is not None and (state.opened.name or state.rows):
            state.sections.append(replace(state.opened, rows=tuple(state.rows)))
        state.opened, state.rows = None, []

    def _end_row(self) -> None:
        columns = self.state.columns
        if not columns:
            return
        self.state.columns = []
        music = _music_row(columns)
        self.state.rows.append(music)
        self.state.rows += self._words(columns, music)

    def _words(self, columns: list[_Column], music: MusicRow) -> list[WordsRow]:
        pickups, self.pickup = self.pickup, {}
        sung = [
            v for v in self.verses if v in pickups or any(v in column.words for column in columns)
        ]
        bare = len(self.verses) == 1 or (len(sung) == 1 and self.verses[sung[0]] == 1)
        rows = []
        for verse in sung:
            cells = tuple(column.words.get(verse, EMPTY) for column in columns)
            if music.free or music.lines[0].kind != "none":
                cells = ((pickups.get(verse, Segment()),), *cells)
            rows.append(WordsRow(cells, None if bare else self.verses[verse]))
        return rows


def _room(columns: list[_Column], following: Measure) -> int:
    """How many bars the row holds; a later ending stays on the row of the first."""
    room = BARS_IN_A_ROW + columns[0].written.bar.pickup
    return 2 * room if following.left.endings and following.left.endings != (1,) else room


def _with_times(written: Written, measure: Measure) -> Bar:
    bar = written.bar
    if measure.right.times <= _MOST_REPEATS:
        return bar
    at = bar.cues[-1].onset if bar.cues else 0 if not bar.simile else bar.length
    return replace(bar, cues=(*bar.cues, Cue(f"{measure.right.times} times", at)))


def _music_row(columns: list[_Column]) -> MusicRow:
    bars = tuple(column.written.bar for column in columns)
    measures = [column.timed.measure for column in columns]
    if measures[0].free:
        return MusicRow(bars)
    lines = [_opening_line(measures[0], bars[0].pickup)]
    lines += [_line(a.right, b.left) for a, b in pairwise(measures)]
    return MusicRow(bars, (*lines, _line(measures[-1].right, Edge())))


def _opening_line(first: Measure, pickup: bool) -> BarLine:
    if pickup:
        return BarLine("none")
    return BarLine("repeat-start" if first.left.repeat else "single", first.left.endings)


def _line(right: Edge, left: Edge) -> BarLine:
    """The one line between two measures."""
    kinds: dict[tuple[bool, bool], BarLineKind] = {
        (True, True): "repeat-both", (True, False): "repeat-end", (False, True): "repeat-start",
    }  # fmt: skip
    plain: BarLineKind = "double" if right.double or left.double else "single"
    return BarLine(kinds.get((right.repeat, left.repeat), plain), left.endings)
