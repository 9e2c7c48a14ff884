"""Where the capo sits, as the chart is written.

A ``capo:`` row inside the song moves the capo there, and it stays until the next such row, down
the page: unlike a key, a capo is no part of the music that a later section shares, but of the
guitar.  A section with the music of another is played with the capo where it then is, unless the
music it shares moves it.
"""

from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from chartkit.chart.model import Chart, CueRow, Section, SettingRow
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import (
    System,
    all_systems,
    music_sections,
    placed_systems,
    rows_of,
)
from chartkit.theory.capo import Capo


def capo_of_row(row: object) -> Capo | None:
    """The capo that a row inside a song moves to; None for any other row."""
    if not isinstance(row, SettingRow) or row.name != "capo":
        return None
    if isinstance(row.value, Capo):
        return row.value
    return Capo.from_number(row.value) if isinstance(row.value, int) else None


def capo_after(above: tuple[CueRow | SettingRow, ...], capo: Capo) -> Capo:
    """The capo after the rows above some music, where it sat at this one before them."""
    for row in above:
        capo = capo_of_row(row) or capo
    return capo


def moves_capo(chart: Chart) -> bool:
    """Whether the capo is moved inside the song."""
    return any(capo_of_row(row) is not None for section in chart.sections for row in section.rows)


def capos_in_order(chart: Chart) -> tuple[Capo, ...]:
    """The capo at the start and after every move, in the order of the page."""
    capos = [chart.capo]
    if moves_capo(chart):
        for section in capos_of_systems(chart, all_systems(chart)):
            capos += (new for old, new in pairwise((capos[-1], *section)) if new != old)
    return tuple(capos)


def capos_of_systems(
    chart: Chart, systems: Iterable[Iterable[System]]
) -> tuple[tuple[Capo, ...], ...]:
    """For each section the capo of each of its systems, down the page."""
    capo, capos = chart.capo, []
    for section in systems:
        of_section = []
        for system in section:
            capo = capo_after(system.above, capo)
            of_section.append(capo)
        capos.append(tuple(of_section))
    return tuple(capos)


def capos_of_rows(chart: Chart) -> dict[tuple[int, int, int], Capo]:
    """Where the capo sits in each row of music as it is played, by ``(section, written_in, row)``:
    the number of the section being played, and those of the section and the row that hold its
    music.

    ``{(2, 0, 1): Capo(3)}`` says that the third section, which has the music of the first, is
    played at fret 3 in that one's second row.  Empty if the capo stays in one place.
    """
    if not moves_capo(chart):
        return {}
    systems = all_systems(chart)
    capos = {}
    for section, (placed, own, at) in enumerate(
        zip(placed_systems(chart), systems, capos_of_systems(chart, systems), strict=True)
    ):
        with_music = [
            capo for capo, system in zip(at, own, strict=True) if system.music is not None
        ]
        for (written_in, row, _), capo in zip(placed, with_music, strict=False):
            capos[section, written_in, row] = capo
    return capos


def with_own_music(chart: Chart) -> Chart:
    """The chart with music of their own for sections that share it, where one of them is played
    under another capo than it was written under: chords can then be written for each capo.

    Such sections lose their comments.
    """
    systems = restated_systems(chart)
    capos = [
        [capo for capo, system in zip(*pair, strict=True) if system.music is not None]
        for pair in zip(capos_of_systems(chart, systems), systems, strict=True)
    ]
    where_written = music_sections(chart)
    # All that share the music of one section: names then lead to the same music as before.
    apart = {
        written_in
        for number, written_in in enumerate(where_written)
        if written_in is not None and capos[number] != capos[written_in]
    }
    sections = (
        _written_out(section, systems[number])
        if written_in in apart and written_in != number
        else section
        for number, (section, written_in) in enumerate(
            zip(chart.sections, where_written, strict=True)
        )
    )
    return replace(chart, sections=tuple(sections))


def chart_under(chart: Chart, capo: Capo) -> Chart:
    """The chart with only the music that is played under a capo, which is its own."""
    systems = restated_systems(chart)
    capos = capos_of_systems(chart, systems)
    sections = tuple(
        _written_out(
            section,
            tuple(
                system
                for system, capo_there in zip(systems[i], capos[i], strict=True)
                if capo_there == capo
            ),
        )
        for i, section in enumerate(chart.sections)
    )
    top = tuple(row for row in chart.top if capo_of_row(row) is None)
    return Chart((*top, SettingRow("capo", capo.setting)), sections)


def _written_out(section: Section, systems: tuple[System, ...]) -> Section:
    return replace(section, rows=rows_of(systems), same_as="", as_typed=None)
