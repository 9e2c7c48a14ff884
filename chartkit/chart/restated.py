"""The systems of a whole chart, with key and meter restated where they return to earlier ones.

A section that shares another's music has that music's key and meter, and what follows it on its own
goes on in those written last in the text.  If either differs from what stands before it on the
page, it is restated, as a copyist would (common practice, no source).
"""

from dataclasses import replace

from chartkit.chart.keys import keys_at_start, written_key
from chartkit.chart.meters import meter_after, meters_at_start
from chartkit.chart.model import Chart, Meter, SettingRow
from chartkit.chart.systems import System, all_systems
from chartkit.theory.key import Key


def restated_systems(chart: Chart) -> tuple[tuple[System, ...], ...]:
    """The systems of every section, as they stand on a page that is read from top to bottom."""
    key, meter = written_key(chart), chart.meter
    restated = []
    starts = zip(keys_at_start(chart), meters_at_start(chart), all_systems(chart), strict=True)
    for own_key, own_meter, systems in starts:
        if own_meter != meter:
            systems = _restated(systems, SettingRow("meter", own_meter))
        if own_key != key:
            systems = _restated(systems, SettingRow("key", own_key))
        for system in systems:
            key, meter = _key_after(system, key), _meter_after(system, meter)
        restated.append(systems)
    return tuple(restated)


def _restated(systems: tuple[System, ...], row: SettingRow) -> tuple[System, ...]:
    """The systems with the setting above the first music it applies to, unless another one is
    there."""
    for i, system in enumerate(systems):
        if any(isinstance(above, SettingRow) and above.name == row.name for above in system.above):
            return systems
        if system.music is None or (row.name == "meter" and system.music.free):
            continue
        if row.name == "meter" and system.music.bars[0].meter is not None:
            return systems
        said = replace(system, above=(row, *system.above))
        return (*systems[:i], said, *systems[i + 1 :])
    return systems


def _key_after(system: System, key: Key) -> Key:
    said = [row.value for row in system.above if isinstance(row, SettingRow)]
    return next((value for value in reversed(said) if isinstance(value, Key)), key)


def _meter_after(system: System, meter: Meter) -> Meter:
    for row in system.above:
        if isinstance(row, SettingRow):
            meter = meter_after(row, meter)
    return meter if system.music is None else meter_after(system.music, meter)
