"""Sections that come again in another key or meter.

A heading that plays an earlier section again, alone or with "as", may have a ``key:`` or a
``meter:`` under it.  The music is then moved: chords by the interval between the two tonics, bars
to the length of the new meter, as a band means "the last chorus up a tone" (common practice, no
source).  In the chart such a section has music of its own; ``as_typed`` keeps what was typed.

It holds for that time alone: a later heading of the same name has the section's own key and meter.
"""

from dataclasses import dataclass, field, replace
from typing import Literal

from chartkit.chart.keys import written_key
from chartkit.chart.model import (
    Bar,
    Chart,
    Meter,
    MusicRow,
    Row,
    Section,
    SettingRow,
)
from chartkit.chart.moved_music import KeyAndMeter, NoPlace, moved_systems
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import System, is_bare, is_moved, music_sections, rows_of
from chartkit.diagnostics import Span
from chartkit.theory.key import Key

_MOST_BARS = 10_000
"""How many bars of moved music a chart may have in all; far more than any song has."""

Obstacle = Literal["mode", "meter", "length", "key-unknown"]


@dataclass(frozen=True, slots=True)
class Misfit:
    """A section that cannot be moved, or only by a guess (``key-unknown``).

    ``span`` is the place of the setting, ``old`` the key or meter of its music and ``new`` the one
    asked for; ``bar`` is the bar that has no place in the new meter.
    """

    name: str
    obstacle: Obstacle
    span: Span
    old: Key | Meter
    new: Key | Meter
    bar: Bar | None = None


@dataclass(frozen=True, slots=True)
class MovedSections:
    """A chart with the music of moved sections, and what could not be moved."""

    chart: Chart
    misfits: tuple[Misfit, ...] = ()


def moved_sections(chart: Chart) -> MovedSections:
    """The chart with music of their own for sections that come again in another key or meter."""
    chart = typed_chart(chart)
    if not any(map(is_moved, chart.sections)):
        return MovedSections(chart)
    mover = _Mover(chart, KeyAndMeter(chart.key, chart.meter), KeyAndMeter(chart.key, chart.meter))
    return MovedSections(replace(chart, sections=mover.sections()), tuple(mover.misfits))


def typed_chart(chart: Chart) -> Chart:
    """The chart with every section as it was typed."""
    if all(section.as_typed is None for section in chart.sections):
        return chart
    return replace(chart, sections=tuple(section.as_typed or section for section in chart.sections))


def compact_chart(chart: Chart) -> Chart:
    """The chart as it is written as text: sections as they were typed, if reading them gives the
    same music, else with the music that each of them has."""
    typed = typed_chart(chart)
    same = typed is chart or moved_sections(typed).chart == chart
    return typed if same else _without_typed(chart)


def _without_typed(chart: Chart) -> Chart:
    return replace(
        chart, sections=tuple(replace(section, as_typed=None) for section in chart.sections)
    )


def _names_another(section: Section) -> bool:
    return bool(section.same_as) or is_bare(section)


_Settings = tuple[SettingRow | None, SettingRow | None]


def _first(rows: tuple[Row, ...]) -> _Settings:
    """The first key and the first meter among rows, each None where there is none."""
    settings = [row for row in rows if isinstance(row, SettingRow)]
    return (
        next((row for row in settings if isinstance(row.value, Key)), None),
        next((row for row in settings if isinstance(row.value, Meter)), None),
    )


@dataclass(slots=True)
class _Mover:
    """Goes through the sections as they were typed.

    ``typed`` is the place in the text as the reader knows it, ``placed`` the place in the chart
    that is made; ``starts`` are the places at which the music of each section begins.
    """

    chart: Chart
    typed: KeyAndMeter
    placed: KeyAndMeter
    misfits: list[Misfit] = field(default_factory=list)
    bars: int = 0
    starts: list[KeyAndMeter] = field(default_factory=list)

    def sections(self) -> tuple[Section, ...]:
        """Every section, the moved ones with their music."""
        last: dict[str, int] = {}
        systems, where_written = restated_systems(self.chart), music_sections(self.chart)
        made = []
        for number, section in enumerate(self.chart.sections):
            name = section.same_as or section.name
            source = last.get(name.casefold()) if _names_another(section) else None
            written_in = where_written[number]
            if source is None or written_in is None:
                made.append(self._own(section))
            else:
                made.append(self._again(section, source, written_in, systems[number]))
            if made[-1].as_typed is None or not is_bare(section):
                last[section.name.casefold()] = number
        return tuple(made)

    def _own(self, section: Section) -> Section:
        """A section of its own music, with the key and the meter that the text has there."""
        rows = section.rows
        music = next((at for at, row in enumerate(rows) if isinstance(row, MusicRow)), None)
        start = self.typed.after(rows[:music])
        restated = () if music is None else _settings(start, self.placed.after(rows[:music]))
        self.starts.append(start)
        self.typed = self.placed = self.typed.after(rows)
        return replace(section, rows=(*restated, *rows), as_typed=section) if restated else section

    def _again(
        self, section: Section, source: int, written_in: int, systems: tuple[System, ...]
    ) -> Section:
        """A section that has the music of another, moved if it asks for it."""
        key, meter = _first(section.rows)
        there = self.starts[source]
        target = there.after(tuple(row for row in (key, meter) if row is not None))
        self.typed = self.typed.after(tuple(row for row in section.rows if _is_setting(row)))
        rows = None if target == there else self._moved(section, written_in, target, systems)
        self.starts.append(there if rows is None else target)
        if rows is None:
            self.placed = self.placed.after(tuple(row for row in section.rows if _is_setting(row)))
            return section
        self.placed = self.placed.after(rows)
        return replace(section, rows=rows, same_as="", as_typed=section)

    def _moved(
        self, section: Section, written_in: int, target: KeyAndMeter, systems: tuple[System, ...]
    ) -> tuple[Row, ...] | None:
        """The rows of a section moved from where they are written to another key or meter; None
        where they cannot be."""
        key, meter = _first(section.rows)
        start = self.starts[written_in]
        if key is not None and start.key is None:
            guess = written_key(self.chart)
            self._misfit(section, "key-unknown", key, guess, target.key or guess)
            start = replace(start, key=guess)
        if key is not None and start.key and target.key and target.key.mode != start.key.mode:
            self._misfit(section, "mode", key, start.key, target.key)
            return None
        self.bars += sum(len(system.music.bars) for system in systems if system.music is not None)
        row = meter or key or SettingRow("meter", target.meter, span=section.span)
        if self.bars > _MOST_BARS:
            if all(misfit.obstacle != "length" for misfit in self.misfits):
                self._misfit(section, "length", row, start.meter, target.meter)
            return None
        try:
            moved = moved_systems(systems, start, target)
        except NoPlace as at:
            self._misfit(section, "meter", row, start.meter, target.meter, at.bar)
            return None
        said = tuple(setting for setting in (key, meter) if setting is not None)
        restated = _settings(target, self.placed.after(said))
        return (*said, *restated, *rows_of(moved))

    def _misfit(
        self,
        section: Section,
        obstacle: Obstacle,
        row: SettingRow,
        old: Key | Meter,
        new: Key | Meter,
        bar: Bar | None = None,
    ) -> None:
        name = section.same_as or section.name
        self.misfits.append(
            Misfit(name=name, obstacle=obstacle, span=row.span, old=old, new=new, bar=bar)
        )


def _is_setting(row: Row) -> bool:
    return isinstance(row, SettingRow)


def _settings(wanted: KeyAndMeter, there: KeyAndMeter) -> tuple[SettingRow, ...]:
    """The settings that lead from one place to another."""
    rows = []
    if wanted.meter != there.meter:
        rows.append(SettingRow("meter", wanted.meter))
    if wanted.key is not None and wanted.key != there.key:
        rows.append(SettingRow("key", wanted.key))
    return tuple(rows)
