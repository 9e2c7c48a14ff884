"""Which key holds where, as the chart is written."""

from chartkit.chart.model import Chart, SettingRow
from chartkit.chart.systems import shared_sections
from chartkit.chart.walk import iter_chords
from chartkit.theory.key import Key
from chartkit.theory.key_estimate import likely_key


def key_of_row(row: object) -> Key | None:
    """The key that a row changes to; None for any other row."""
    return row.value if isinstance(row, SettingRow) and isinstance(row.value, Key) else None


def written_key(chart: Chart) -> Key:
    """The key of the chart as written; where none is given, the likeliest by its chords."""
    if chart.key is not None:
        return chart.key
    last = len(chart.sections) - 1
    source = shared_sections(chart)[last] if chart.sections else None
    ending = list(iter_chords((chart.sections[source],))) if source is not None else []
    return likely_key(list(iter_chords(chart.sections)), ending[-1] if ending else None)


def keys_at_start(chart: Chart) -> tuple[Key, ...]:
    """The written key in which each section's music begins.

    A section with the music of another has that other's key.
    """
    keys: list[Key] = []
    key = written_key(chart)
    for section, source in zip(chart.sections, shared_sections(chart), strict=True):
        keys.append(key if source is None else keys[source])
        for row in section.rows:
            key = key_of_row(row) or key
    return tuple(keys)
