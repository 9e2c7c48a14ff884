"""Checks of the way back: music of its own behind a section that came again in another key."""

from chartkit.chart.keys import key_of_row, written_key
from chartkit.chart.meters import meter_after
from chartkit.chart.model import Chart, Meter, MusicRow, Row, Section, SettingRow
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import System, shared_sections
from chartkit.diagnostics import has_errors
from chartkit.syntax.misfits import with_moved_sections
from chartkit.syntax.report import Report

_NAMES = ("key", "meter")


def with_ways_back_checked(chart: Chart, report: Report) -> Chart:
    """The chart with the music of its moved sections; warns of a section in the key or the meter
    written last, where the section before it has come again in another one: whoever reads from the
    top takes it to be in that.

    Of a section that is moved, or moved back, the rows count that were typed.
    """
    chart = with_moved_sections(chart, report)
    comes_again = any(one.as_typed is not None for one in chart.sections)
    if not comes_again and all(source is None for source in shared_sections(chart)):
        return chart
    if has_errors(tuple(report.diagnostics)):
        return chart
    if not any(_changes(row, chart.meter) for one in chart.sections for row in one.rows):
        return chart
    before, holds = "", [str(written_key(chart)), str(chart.meter)]
    restated = restated_systems(chart)
    for section, systems in zip(chart.sections, restated, strict=True):
        typed = (section.as_typed or section).rows
        has_music = any(isinstance(row, MusicRow) for row in typed)
        for system in systems:
            for row in system.above:
                if not (isinstance(row, SettingRow) and row.name in _NAMES):
                    continue
                place = _NAMES.index(row.name)
                if has_music and before and row not in typed:
                    _warn(section, before, row, holds[place], report)
                holds[place] = str(row.value)
            holds[1] = _meter_in(system, holds[1])
        before = section.name
    return chart


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
