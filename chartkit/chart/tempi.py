"""How fast each row is played, and with what feel.

A tempo counts the beats of the meter it is written in.  Where the meter changes and no new tempo is
written, the notes keep their length: an eighth of 7/8 is as long as an eighth of the 5/4 after it
(common practice, no source).  So what is kept from row to row is the number of quarter notes a
minute.

A section with the music of another begins at that one's tempo, and what follows it goes on at the
tempo that it ends with, as it stands on the page (common practice, no source).
"""

from dataclasses import dataclass, replace
from fractions import Fraction

from chartkit.chart.meters import meter_within, meters_at_start
from chartkit.chart.model import Chart, Meter, SettingRow
from chartkit.chart.systems import System, all_systems, music_sections, placed_systems


@dataclass(frozen=True, slots=True)
class Pace:
    """Quarter notes a minute, None where no tempo is written; and the feel, empty where none is."""

    quarters: Fraction | None
    feel: str

    def beats(self, meter: Meter) -> Fraction | None:
        """How many beats of the meter go to a minute; None where no tempo is written."""
        return None if self.quarters is None else self.quarters / (4 * meter.beat)


def paces(chart: Chart) -> tuple[tuple[Pace, ...], ...]:
    """For each section the pace that it begins with, then that of each of its systems."""
    tempo = chart.setting("tempo")
    quarters = tempo * 4 * chart.meter.beat if isinstance(tempo, int) else None
    pace = Pace(quarters, chart.text("feel"))
    result: list[tuple[Pace, ...]] = []
    sections = zip(all_systems(chart), music_sections(chart), meters_at_start(chart), strict=True)
    for number, (systems, written_in, meter) in enumerate(sections):
        if written_in is not None and written_in != number:
            pace = result[written_in][0]
        of_section = [pace]
        for system in systems:
            pace, meter = _after(system, pace, meter)
            of_section.append(pace)
        result.append(tuple(of_section))
    return tuple(result)


def paces_of_rows(chart: Chart) -> dict[tuple[int, int, int], Pace]:
    """The pace of each row of music as it is played: by the section being played, and the section
    and the row that hold the music."""
    rows_paces = {}
    every = zip(placed_systems(chart), all_systems(chart), paces(chart), strict=True)
    for section, (placed, systems, (_, *own)) in enumerate(every):
        with_music = [
            pace for pace, system in zip(own, systems, strict=True) if system.music is not None
        ]
        for (written_in, row, _), pace in zip(placed, with_music, strict=False):
            rows_paces[section, written_in, row] = pace
    return rows_paces


def _after(system: System, pace: Pace, meter: Meter) -> tuple[Pace, Meter]:
    """The pace of a system that follows one of this pace and meter, and the meter in which it
    ends."""
    said = [row for row in system.above if isinstance(row, SettingRow)]
    meter = next((row.value for row in reversed(said) if isinstance(row.value, Meter)), meter)
    if system.music is not None:
        meter = system.music.bars[0].meter or meter
    for row in said:
        if row.name == "tempo" and isinstance(row.value, int):
            pace = replace(pace, quarters=row.value * 4 * meter.beat)
        elif row.name == "feel":
            pace = replace(pace, feel=str(row.value))
    return pace, meter if system.music is None else meter_within(system.music.bars, meter)
