"""The chart of a sheet of which every line was read: what only all sections together settle."""

from chartkit.chart.model import SETTING_NAMES, Chart, Meter, MusicRow, SettingRow
from chartkit.interchange.text.building.chart_builder import Sheet
from chartkit.interchange.text.building.foot_cues import with_cues_at_their_sections
from chartkit.interchange.text.building.settled_sections import settled
from chartkit.interchange.text.rows.given_chords import without_given
from chartkit.interchange.text.rows.meters_again import with_meters_again
from chartkit.interchange.text.song_form.played_order import in_playing_order
from chartkit.theory.key import Key


def has_music(sheet: Sheet) -> bool:
    """Whether any chords or rests were read."""
    return any(isinstance(row, MusicRow) for one in sheet.earlier.sections for row in one.rows)


def whole_chart(sheet: Sheet) -> Chart:
    """The chart of a sheet whose last section has ended."""
    kept = without_given(sheet.earlier.sections, sheet.used, sheet.given.values())
    key = sheet.top.get("key")
    home = key if isinstance(key, Key) else None
    sections = tuple(settled(kept, sheet.like_later, sheet.findings, home))
    if sheet.roadmap:
        played = in_playing_order(sections, sheet.roadmap)
        sheet.notes += [sheet.roadmap_note] * (played is None)
        sections = played or sections
    sections = with_cues_at_their_sections(sections, sheet.roadmap_line)
    sections = tuple(with_meters_again(sections, _first_meter(sheet)))
    top = [SettingRow(name, sheet.top[name]) for name in SETTING_NAMES if name in sheet.top]
    top += [SettingRow("shape", shape) for shape in sheet.shapes]
    notes = [SettingRow("note", note) for note in sheet.notes if note]
    return Chart((*top, *notes), sections)


def _first_meter(sheet: Sheet) -> Meter:
    meter = sheet.top.get("meter")
    return meter if isinstance(meter, Meter) else Meter(4, 4)
