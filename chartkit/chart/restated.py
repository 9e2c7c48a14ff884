"""The systems of a whole chart as a page has them: key, meter, tempo and feel restated where they
return to earlier ones, repeats opened where they go back to.

A section that shares another's music has that music's key, meter, tempo and feel.  What follows it
on its own goes on in the key and meter written last in the text, and at the tempo before it on the
page.  If one of them differs from what stands before it on the page, it is restated, as a copyist
would (common practice, no source).  A change after the last music of a section stands over the
music it applies to, and not before a heading.

A repeat sign without its other half leads back to the top of the song (E. Gould, *Behind Bars*,
2011; from memory); so every other repeat is opened where the language says that it goes back to.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from chartkit.chart.keys import keys_at_start, written_key
from chartkit.chart.meters import meter_after, meters_at_start
from chartkit.chart.model import (
    BarLine,
    BarLineKind,
    Chart,
    CueRow,
    Meter,
    MusicRow,
    Segment,
    SettingRow,
)
from chartkit.chart.repeats import find_repeats
from chartkit.chart.systems import System, all_systems, placed_systems, shared_sections
from chartkit.chart.tempi import Pace, paces
from chartkit.chart.walk import iter_music
from chartkit.chart.written_order import written_order
from chartkit.theory.key import Key

FIRST_TEMPO, FEEL_ENDS = "first tempo", "{feel} ends"
"""Words for what comes back where the chart names it nowhere: nobody knows a feel that was not
written, so the one before ends."""


def restated_systems(chart: Chart) -> tuple[tuple[System, ...], ...]:
    """The systems of every section, as they stand on a page that is read from top to bottom."""
    key, meter, pace, capo = written_key(chart), chart.meter, None, list[SettingRow]()
    restated = []
    starts = zip(
        keys_at_start(chart),
        meters_at_start(chart),
        paces(chart),
        _without_changes_at_ends(chart),
        strict=True,
    )
    for own_key, own_meter, own_paces, (systems, behind) in starts:
        if pace is not None and own_paces[0] != pace:
            systems = _at_pace(systems, pace, own_paces[0], own_meter)
        pace = own_paces[-2] if behind else own_paces[-1]
        if capo and any(system.music is not None for system in systems):
            systems, capo = _restated(systems, capo[-1]), []
        capo += [row for row in behind if row.name == "capo"]
        if own_meter != meter:
            systems = _restated(systems, SettingRow("meter", own_meter))
        if own_key != key:
            systems = _restated(systems, SettingRow("key", own_key))
        for system in systems:
            key, meter = _key_after(system, key), _meter_after(system, meter)
        restated.append(systems)
    return _with_repeats_opened(chart, restated)


def _without_changes_at_ends(
    chart: Chart,
) -> Iterator[tuple[tuple[System, ...], list[SettingRow]]]:
    """The systems of every section without the settings after its last music, and those settings.

    After the last music of the song they stay where they were typed: nothing follows.
    """
    every = all_systems(chart)
    typed_last = shared_sections(chart)[-1:] == (None,)
    for number, systems in enumerate(every, 1):
        last = systems[-1] if systems else None
        stays = typed_last and number == len(every)
        if stays or last is None or last.music is not None or last.words:
            yield systems, []
            continue
        behind = [row for row in last.above if isinstance(row, SettingRow)]
        cues = tuple(row for row in last.above if isinstance(row, CueRow))
        yield (*systems[:-1], *([replace(last, above=cues)] if cues else [])), behind


def _at_pace(
    systems: tuple[System, ...], before: Pace, pace: Pace, meter: Meter
) -> tuple[System, ...]:
    """The systems with the tempo and the feel that come back above the first music."""
    first = next((system.music for system in systems if system.music is not None), None)
    beats = pace.beats(meter if first is None else first.bars[0].meter or meter)
    if pace.feel != before.feel:
        said = (
            SettingRow("feel", pace.feel)
            if pace.feel
            else CueRow(FEEL_ENDS.format(feel=before.feel))
        )
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


# ---- repeats
_CLOSES: tuple[BarLineKind, ...] = ("repeat-end", "repeat-both")
_Place = tuple[int, int, int]
"""The section and the row that hold a bar, and its number in the row."""


def _with_repeats_opened(
    chart: Chart, sections: Sequence[tuple[System, ...]]
) -> tuple[tuple[System, ...], ...]:
    """The systems of every section with a sign where each repeat begins, but at the top."""
    opened = _bars_to_open(chart)
    if not opened:
        return tuple(sections)
    return tuple(
        tuple(_opened(systems, [(home, row) for home, row, _ in placed], opened))
        for systems, placed in zip(sections, placed_systems(chart), strict=True)
    )


def _bars_to_open(chart: Chart) -> set[_Place]:
    """The bars to which a repeat goes back that the writer has not opened."""
    if not any(line.kind in _CLOSES for row in iter_music(chart.sections) for line in row.lines):
        return set()
    bars = written_order(chart)
    starts = {repeat.start for repeat in find_repeats(bars).backs.values()}
    places = (bars[start] for start in starts if start and not bars[start].opens_repeat)
    return {(bar.written_in, bar.row, bar.bar) for bar in places}


def _opened(
    systems: tuple[System, ...], rows: list[tuple[int, int]], opened: set[_Place]
) -> Iterator[System]:
    places = iter(rows)
    for system in systems:
        if system.music is not None:
            system = _system_opened(system, system.music, next(places), opened)
        yield system


def _system_opened(
    system: System, row: MusicRow, place: tuple[int, int], opened: set[_Place]
) -> System:
    """The system with its repeats opened.  A row that began without a bar line has one then, so
    that its words get an empty pick-up before it."""
    lines = tuple(
        _opening(line) if (*place, at) in opened else line for at, line in enumerate(row.lines)
    )
    if lines == row.lines:
        return system
    words = system.words
    if row.lines[0].kind == "none" != lines[0].kind:
        words = tuple(replace(row, cells=((Segment(),), *row.cells)) for row in words)
    return replace(system, music=replace(row, lines=lines), words=words)


def _opening(line: BarLine) -> BarLine:
    """The line, opening a repeat as well."""
    return replace(line, kind="repeat-both" if line.kind in _CLOSES else "repeat-start")
