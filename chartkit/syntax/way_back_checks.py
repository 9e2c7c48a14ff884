"""Checks of what a change holds for: music of its own after a section that came again in another
key, and changes that no music follows."""

from collections.abc import Iterator

from chartkit.chart.keys import key_of_row, written_key
from chartkit.chart.meters import meter_after
from chartkit.chart.model import Chart, Meter, MusicRow, Row, Section, SettingName, SettingRow
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import System, shared_sections
from chartkit.diagnostics import has_errors
from chartkit.syntax.misfits import with_moved_sections
from chartkit.syntax.report import Report

_NAMES = ("key", "meter")
_HOLD = (*_NAMES, "tempo", "feel", "capo")
"""Settings that hold from where they stand on."""


def with_ways_back_checked(chart: Chart, report: Report) -> Chart:
    """The chart with the music of its moved sections; warns of a section in the key or the meter
    written last, where the section before it has come again in another one: whoever reads from the
    top takes it to be in that.

    Of a section that is moved, or moved back, the rows count that were typed.
    """
    chart = with_moved_sections(chart, report)
    if not has_errors(tuple(report.diagnostics)):
        _check_changes_at_the_end(chart, report)
    comes_again = any(one.as_typed is not None for one in chart.sections)
    if not comes_again and all(source is None for source in shared_sections(chart)):
        return chart
    if has_errors(tuple(report.diagnostics)):
        return chart
    if not any(_changes(row, chart.meter) for one in chart.sections for row in one.rows):
        return chart
    before = ""
    holds: dict[SettingName, str] = {"key": str(written_key(chart)), "meter": str(chart.meter)}
    restated = restated_systems(chart)
    for section, systems in zip(chart.sections, restated, strict=True):
        for system in systems:
            for row in _changes_above(system):
                if before and not _is_typed(row, section):
                    _warn(section, before, row, holds[row.name], report)
                holds[row.name] = str(row.value)
            holds["meter"] = _meter_in(system, holds["meter"])
        before = section.name
    return chart


def _changes_above(system: System) -> Iterator[SettingRow]:
    """The rows above a system that change the key or the meter."""
    for row in system.above:
        if isinstance(row, SettingRow) and row.name in _NAMES:
            yield row


def _is_typed(change: SettingRow, section: Section) -> bool:
    """Whether a change stands in the text, or in a section without music of its own, which is
    played as the section it plays again."""
    typed = (section.as_typed or section).rows
    return change in typed or not any(isinstance(row, MusicRow) for row in typed)


def _check_changes_at_the_end(chart: Chart, report: Report) -> None:
    """Warns of a change after the last music of a section that nothing after it is played with:
    music that comes again has its own key, meter, tempo and feel, but not its own capo."""
    held = set[str]()
    for section, source in reversed(list(zip(chart.sections, shared_sections(chart), strict=True))):
        typed = (section.as_typed or section).rows
        behind = list[SettingRow]()
        for row in typed:
            if isinstance(row, MusicRow):
                behind = []
            elif isinstance(row, SettingRow) and row.name in _HOLD:
                behind.append(row)
        if any(isinstance(row, MusicRow) for row in typed):
            for row in (row for row in behind if row.name not in held):
                report.warn(
                    "change-for-nothing",
                    *row.span,
                    f"this {row.name} is for no music",
                    "write it above the music that it is for, or leave it out",
                )
            held |= {*_HOLD}
        elif source is not None or section.as_typed is not None:
            held.add("capo")


def _changes(row: Row, meter: Meter) -> bool:
    """Whether a row changes the key or the meter."""
    return key_of_row(row) is not None or meter_after(row, meter) != meter


def _meter_in(system: System, meter: str) -> str:
    bars = () if system.music is None else system.music.bars
    return next((str(bar.meter) for bar in reversed(bars) if bar.meter is not None), meter)


def _warn(section: Section, before: str, row: SettingRow, other: str, report: Report) -> None:
    report.warn(
        "written-last",
        *section.span,
        f'"{section.name or "this section"}" is in {row.value}, the {row.name} written last, but '
        f'"{before}" before it is in {other}',
        f'to go on in that, write "{row.name}: {other}" under the heading',
        f'to keep what holds now, write "{row.name}: {row.value}" there',
    )
