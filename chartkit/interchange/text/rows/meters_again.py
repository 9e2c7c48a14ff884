"""Music that comes again where another meter is counted by now: its own meter is written again."""

from collections.abc import Sequence
from dataclasses import replace

from chartkit.chart.model import TICKS_PER_BEAT, Bar, Meter, MusicRow, Row, Section, SettingRow


def with_meters_again(sections: Sequence[Section], meter: Meter) -> list[Section]:
    """The sections, each with the meters that the lengths of its bars ask for.

    Rows are copied where a sheet says that a section's music comes again.  Where another meter
    began in between, a copy would have too many beats for it.  ``meter`` is the one at the top.
    """
    counted = [meter]
    result: list[Section] = []
    for one in sections:
        rows = _with_meters(one.rows, counted)
        result.append(one if len(rows) == len(one.rows) else replace(one, rows=rows))
    return result


def _with_meters(rows: Sequence[Row], counted: list[Meter]) -> tuple[Row, ...]:
    """The rows; ``counted`` holds the meters so far, the one that is counted now last."""
    result: list[Row] = []
    for row in rows:
        if isinstance(row, SettingRow) and isinstance(row.value, Meter):
            counted.append(row.value)
        elif isinstance(row, MusicRow) and not row.free:
            needed = _needed(row, counted)
            if needed is not None:
                result.append(SettingRow("meter", needed))
                counted.append(needed)
            counted += [bar.meter for bar in row.bars if bar.meter is not None]
        result.append(row)
    return tuple(result)


def _needed(row: MusicRow, counted: Sequence[Meter]) -> Meter | None:
    """The earlier meter that the first full bar of a row asks for, where the one that is counted
    does not fit it; None where it fits, or none does."""
    first = next((bar for bar in row.bars if _is_full(bar)), None)
    if first is None or first.meter is not None or _fits(first, counted[-1]):
        return None
    return next((meter for meter in reversed(counted) if _fits(first, meter)), None)


def _is_full(bar: Bar) -> bool:
    return bool(bar.length) and not bar.pickup and not bar.simile


def _fits(bar: Bar, meter: Meter) -> bool:
    return bar.length == meter.beats * TICKS_PER_BEAT * bar.lasts
