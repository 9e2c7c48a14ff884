"""The systems of a whole chart, with key, meter, tempo and feel restated where they return to
earlier ones.

A section that shares another's music has that music's key, meter, tempo and feel.  What follows it
on its own goes on in the key and meter written last in the text, and at the tempo before it on the
page.  If one of them differs from what stands before it on the page, it is restated, as a copyist
would (common practice, no source).
"""

from dataclasses import replace

from chartkit.chart.keys import keys_at_start, written_key
from chartkit.chart.meters import meter_after, meters_at_start
from chartkit.chart.model import Chart, CueRow, Meter, SettingRow
from chartkit.chart.systems import System, all_systems
from chartkit.chart.tempi import Pace, paces
from chartkit.theory.key import Key

FIRST_TEMPO, FIRST_FEEL = "first tempo", "first feel"
"""Words for what comes back where the chart names it nowhere."""


def restated_systems(chart: Chart) -> tuple[tuple[System, ...], ...]:
    """The systems of every section, as they stand on a page that is read from top to bottom."""
    key, meter, pace = written_key(chart), chart.meter, None
    restated = []
    starts = zip(
        keys_at_start(chart),
        meters_at_start(chart),
        paces(chart),
        all_systems(chart),
        strict=True,
    )
    for own_key, own_meter, own_paces, systems in starts:
        if pace is not None and own_paces[0] != pace:
            systems = _at_pace(systems, pace, own_paces[0], own_meter)
        pace = own_paces[-1]
        if own_meter != meter:
            systems = _restated(systems, SettingRow("meter", own_meter))
        if own_key != key:
            systems = _restated(systems, SettingRow("key", own_key))
        for system in systems:
            key, meter = _key_after(system, key), _meter_after(system, meter)
        restated.append(systems)
    return tuple(restated)


def _at_pace(
    systems: tuple[System, ...], before: Pace, pace: Pace, meter: Meter
) -> tuple[System, ...]:
    """The systems with the tempo and the feel that come back above the first music."""
    first = next((system.music for system in systems if system.music is not None), None)
    beats = pace.beats(meter if first is None else first.bars[0].meter or meter)
    if pace.feel != before.feel:
        said = SettingRow("feel", pace.feel) if pace.feel else CueRow(FIRST_FEEL)
        systems = _restated(systems, said, "feel")
    if pace.quarters != before.quarters:
        tempo = CueRow(FIRST_TEMPO) if beats is None else SettingRow("tempo", round(beats))
        systems = _restated(systems, tempo, "tempo")
    return systems


def _restated(
    systems: tuple[System, ...], row: SettingRow | CueRow, name: str = ""
) -> tuple[System, ...]:
    """The systems with the row above the first music it applies to, unless another one of its name
    is there."""
    name = row.name if isinstance(row, SettingRow) else name
    for i, system in enumerate(systems):
        if any(isinstance(above, SettingRow) and above.name == name for above in system.above):
            return systems
        if system.music is None or (name == "meter" and system.music.free):
            continue
        if name == "meter" and system.music.bars[0].meter is not None:
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
