"""A chart rewritten in another key, or as shapes: a chart again, to be printed as text."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from chartkit.arrange.key_areas import KeyArea, SongAreas, song_areas
from chartkit.arrange.view import View
from chartkit.chart.capos import capo_of_row, moves_capo, with_own_music
from chartkit.chart.intake_comments import without_proposal
from chartkit.chart.keys import written_key
from chartkit.chart.model import (
    Chart,
    MusicRow,
    Row,
    Section,
    SettingName,
    SettingRow,
    SettingValue,
    TopRow,
)
from chartkit.chart.moved_music import moved_row
from chartkit.theory.capo import Capo
from chartkit.theory.key import Key
from chartkit.theory.pitch import Pitch, PitchRange, transposed_pitch
from chartkit.theory.transposition import semitones_between


def rewritten_chart(chart: Chart, view: View, as_shapes: bool) -> Chart:
    """The chart with its chords moved to the view's key, as shapes for its capo if asked.

    Keys and the sung range move too; comments of a proposal, which quote chords as they were, are
    left out.  As shapes, the settings say so: ``chords: shapes``
    and the ``capo`` at which they sound.
    """
    own_capo = as_shapes and view.capo is None
    if moves_capo(chart) and (own_capo or chart.written_as_shapes):
        chart = with_own_music(chart)
    areas = song_areas(chart, view)
    place = _Place(written_key(chart), chart.capo)
    sections = []
    for section in chart.sections:
        rows: list[Row] = []
        for row in section.rows:
            rows += _rewritten_row(row, place, areas, view, as_shapes)
        sections.append(replace(section, rows=tuple(rows), as_typed=_typed_again(section, rows)))
    made = Chart(_moved_top(chart, areas, view, as_shapes), tuple(sections))
    return made if made.sections == chart.sections else without_proposal(made)


def _typed_again(section: Section, rows: list[Row]) -> Section | None:
    """What the text has of a section that is moved, with the key that it has now."""
    typed = section.as_typed
    key = next((row for row in rows if isinstance(row, SettingRow) and row.name == "key"), None)
    if typed is None or key is None:
        return typed
    made = (
        replace(row, value=key.value)
        if isinstance(row, SettingRow) and isinstance(row.value, Key)
        else row
        for row in typed.rows
    )
    return replace(typed, rows=tuple(made))


@dataclass(slots=True)
class _Place:
    """The written key and the capo that hold where the chart is being rewritten."""

    key: Key
    capo: Capo


def _rewritten_row(
    row: Row, place: _Place, areas: SongAreas, view: View, as_shapes: bool
) -> Iterator[Row]:
    """A row in its new key; where the capo is moved, the key of what follows is given if it is
    another."""
    if (capo := capo_of_row(row)) is not None:
        before = _new_key(areas.at(place.key, place.capo), as_shapes)
        place.capo = capo
        if view.capo is None:
            yield row
        after = _new_key(areas.at(place.key, place.capo), as_shapes)
        if after != before:
            yield SettingRow("key", after)
    elif isinstance(row, SettingRow) and isinstance(row.value, Key):
        place.key = row.value
        yield replace(row, value=_new_key(areas.at(place.key, place.capo), as_shapes))
    elif isinstance(row, MusicRow):
        area = areas.at(place.key, place.capo)
        yield moved_row(row, place.key, _interval(area, as_shapes))
    else:
        yield row


def moved_chart(chart: Chart, view: View) -> Chart:
    """The chart with its sounding chords in the key of the view, for the adviser."""
    return rewritten_chart(chart, view, as_shapes=False)


def _new_key(area: KeyArea, as_shapes: bool) -> Key:
    return area.shape if as_shapes else area.sounding


def _interval(area: KeyArea, as_shapes: bool) -> int:
    return area.to_shape if as_shapes else area.to_sounding


def _moved_top(chart: Chart, areas: SongAreas, view: View, as_shapes: bool) -> tuple[TopRow, ...]:
    area = areas.first
    capo = chart.capo if view.capo is None else view.capo
    values: dict[SettingName, SettingValue] = {"key": _new_key(area, as_shapes)}
    if as_shapes:
        values |= {"chords": "shapes", "capo": capo.setting}
    elif view.capo is not None:
        values["capo"] = view.capo.setting
    if chart.written_as_shapes and not as_shapes:
        values["chords"] = "sounding"
    sung = chart.setting("range")
    if isinstance(sung, PitchRange):
        values["range"] = _moved_range(sung, chart, area, view)
    return _with_settings(chart.top, values)


def _moved_range(sung: PitchRange, chart: Chart, area: KeyArea, view: View) -> PitchRange:
    """The sung range in the new key, moved the shorter way when only a key is named."""
    untouched = song_areas(chart, View()).first.sounding
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
