"""A chart rewritten in another key, or as shapes: a chart again, to be printed as text."""

from dataclasses import replace

from chartkit.arrange.arrange import printable
from chartkit.arrange.key_areas import Area, song_areas
from chartkit.arrange.view import View
from chartkit.chart.keys import written_key
from chartkit.chart.model import (
    Bar,
    Chart,
    MusicRow,
    Row,
    Section,
    SettingName,
    SettingRow,
    SettingValue,
    Strike,
    TopRow,
)
from chartkit.theory.key import Key
from chartkit.theory.pitch import Pitch, PitchRange, transposed_pitch
from chartkit.theory.transposition import semitones_between


def rewritten(chart: Chart, view: View, as_shapes: bool) -> Chart:
    """The chart with its chords moved to the view's key, as shapes for its capo if asked.

    Keys and the sung range move too.  As shapes, the settings say so: ``chords: shapes``
    and the ``capo`` at which they sound.
    """
    areas = song_areas(chart, view)
    key = written_key(chart)
    sections = []
    for section in chart.sections:
        rows: list[Row] = []
        for row in section.rows:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
                rows.append(replace(row, value=_new_key(areas[key], as_shapes)))
            elif isinstance(row, MusicRow):
                rows.append(_moved_row(row, key, _interval(areas[key], as_shapes)))
            else:
                rows.append(row)
        sections.append(_section(section, rows))
    return Chart(_moved_top(chart, areas, view, as_shapes), tuple(sections))


def moved_chart(chart: Chart, view: View) -> Chart:
    """The chart with its sounding chords in the key of the view, for the adviser."""
    return rewritten(chart, view, as_shapes=False)


def _section(section: Section, rows: list[Row]) -> Section:
    return replace(section, rows=tuple(rows))


def _new_key(area: Area, as_shapes: bool) -> Key:
    return area.shape if as_shapes else area.sounding


def _interval(area: Area, as_shapes: bool) -> int:
    return area.to_shape if as_shapes else area.to_sounding


def _moved_row(row: MusicRow, key: Key, interval: int) -> MusicRow:
    if interval == 0:
        return row
    return replace(row, bars=tuple(_moved_bar(bar, key, interval) for bar in row.bars))


def _moved_bar(bar: Bar, key: Key, interval: int) -> Bar:
    return replace(
        bar, strikes=tuple(_moved_strike(strike, key, interval) for strike in bar.strikes)
    )


def _moved_strike(strike: Strike, key: Key, interval: int) -> Strike:
    if strike.chord is None:
        return strike
    return replace(strike, chord=printable(strike.chord, key, interval))


def _moved_top(
    chart: Chart, areas: dict[Key, Area], view: View, as_shapes: bool
) -> tuple[TopRow, ...]:
    area = areas[written_key(chart)]
    capo = chart.capo if view.capo is None else view.capo
    values: dict[SettingName, SettingValue] = {"key": _new_key(area, as_shapes)}
    if as_shapes:
        values |= {"chords": "shapes", "capo": capo.raised}
    elif view.capo is not None:
        values["capo"] = view.capo.raised
    if chart.written_as_shapes and not as_shapes:
        values["chords"] = "sounding"
    sung = chart.setting("range")
    if isinstance(sung, PitchRange):
        values["range"] = _moved_range(sung, chart, area, view)
    return _with_settings(chart.top, values)


def _moved_range(sung: PitchRange, chart: Chart, area: Area, view: View) -> PitchRange:
    """The sung range in the new key, moved the shorter way when only a key is named."""
    untouched = song_areas(chart, View())[area.written].sounding
    interval = area.sounding.tonic - untouched.tonic
    semitones = semitones_between(untouched, area.sounding) if view.by is None else view.by
    if view.by is None and semitones > 6:
        semitones -= 12

    def moved(pitch: Pitch) -> Pitch:
        return transposed_pitch(pitch, interval, semitones)

    return PitchRange(moved(sung.lowest), moved(sung.highest))


def _with_settings(
    top: tuple[TopRow, ...], values: dict[SettingName, SettingValue]
) -> tuple[TopRow, ...]:
    """The rows with some settings replaced where they stand, the others after the last."""
    rows: list[TopRow] = []
    left = dict(values)
    last = 0
    for row in top:
        if isinstance(row, SettingRow):
            row = replace(row, value=left.pop(row.name, row.value))
            last = len(rows) + 1
        rows.append(row)
    rows[last:last] = [SettingRow(name, value) for name, value in left.items()]
    return tuple(rows)
