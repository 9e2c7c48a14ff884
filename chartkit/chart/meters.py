"""Which meter holds where."""

from chartkit.chart.model import Bar, Chart, Meter, MusicRow, Row, SettingRow
from chartkit.chart.systems import shared_sections


def meter_of_row(row: object) -> Meter | None:
    """The meter that a row changes to; None for any other row."""
    return row.value if isinstance(row, SettingRow) and isinstance(row.value, Meter) else None


def meter_after(row: Row, meter: Meter) -> Meter:
    """The meter that holds after a row that begins in this one."""
    if isinstance(row, MusicRow):
        return meter_within(row.bars, meter)
    return meter_of_row(row) or meter


def meter_within(bars: tuple[Bar, ...], meter: Meter) -> Meter:
    """The meter of the last of these bars; ``meter`` holds at the first."""
    return next((bar.meter for bar in reversed(bars) if bar.meter is not None), meter)


def meters_at_start(chart: Chart) -> tuple[Meter, ...]:
    """The meter in which each section's music begins.

    A section with the music of another has that other's meter.
    """
    meters: list[Meter] = []
    meter = chart.meter
    for section, source in zip(chart.sections, shared_sections(chart), strict=True):
        meters.append(meter if source is None else meters[source])
        for row in section.rows:
            meter = meter_after(row, meter)
    return tuple(meters)
