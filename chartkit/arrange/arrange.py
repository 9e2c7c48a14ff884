"""Chart and view to arrangement: every chord named for the player, line by line."""

from collections.abc import Callable

from chartkit.arrange.arrangement import (
    Announcement,
    ArrangedBar,
    ArrangedSection,
    ArrangedStrike,
    ArrangedSystem,
    Arrangement,
    WordsLine,
)
from chartkit.arrange.key_areas import Area, keys_at_start, song_areas, written_key
from chartkit.arrange.view import Line, View
from chartkit.chart.model import (
    Bar,
    Chart,
    CueRow,
    Meter,
    MusicRow,
    Segment,
    SettingRow,
    WordsRow,
)
from chartkit.chart.systems import System, section_systems
from chartkit.theory.chord import Chord, moved_chord, simple_chord
from chartkit.theory.intended import meant_chord
from chartkit.theory.key import Key, key_name
from chartkit.theory.printed import PrintedChord, letter_name, number_name

_Namer = Callable[[Chord, bool], tuple[PrintedChord, ...]]


def arrange(chart: Chart, view: View) -> Arrangement:
    """The song as a player with that view reads it."""
    areas = song_areas(chart, view)
    first = areas[written_key(chart)]
    capo = chart.capo if view.capo is None else view.capo
    lines = _lines(view, capo)
    namers = {key: _namer(area, lines) for key, area in areas.items()}
    starts = keys_at_start(chart)
    sections = tuple(
        ArrangedSection(
            section.name,
            section.times,
            _systems(section_systems(chart, i), starts[i], areas, namers, lines),
        )
        for i, section in enumerate(chart.sections)
    )
    tempo = chart.setting("tempo")
    given = chart.key is not None or view.key is not None
    return Arrangement(
        chart.text("title") or "Untitled", chart.text("writer"), chart.text("language") or "en",
        chart.text("instrument"), chart.notes(), capo, first.shape, first.sounding,
        first.reading, given, chart.meter, tempo if isinstance(tempo, int) else None,
        chart.text("feel"), lines, sections,
    )  # fmt: skip


def _lines(view: View, capo: int) -> tuple[Line, ...]:
    """The lines of chord names, strongest first; without a capo shapes are what sounds."""
    if view.show == "words":
        return ()
    if view.reads_up:
        return ("transposed",)
    if view.show == "numbers":
        return ("number",)
    if view.show == "shapes":
        return ("shape",)
    if view.show == "sounding" or capo == 0:
        return ("sounding",)
    return ("shape", "sounding")


def printable(chord: Chord, key: Key, interval: int) -> Chord:
    """A chord of a written key moved by an interval, as it is printed.

    One that stays keeps its spelling; one that moves is first read as it was meant.
    """
    if not interval:
        return chord
    return simple_chord(moved_chord(meant_chord(chord, key), interval))


def _namer(area: Area, lines: tuple[Line, ...]) -> _Namer:
    """Names a written chord on every line; each distinct chord is named once."""
    known: dict[tuple[Chord, bool], tuple[PrintedChord, ...]] = {}

    def on(line: Line, chord: Chord, bass_only: bool) -> PrintedChord:
        if line == "shape":
            return letter_name(printable(chord, area.written, area.to_shape), bass_only)
        if line == "sounding":
            return letter_name(printable(chord, area.written, area.to_sounding), bass_only)
        if line == "transposed":
            return letter_name(printable(chord, area.written, area.to_reading), bass_only)
        meant = moved_chord(meant_chord(chord, area.written), area.to_sounding)
        return number_name(meant, area.sounding, bass_only)

    def names(chord: Chord, bass_only: bool) -> tuple[PrintedChord, ...]:
        found = known.get((chord, bass_only))
        if found is None:
            found = tuple(on(line, chord, bass_only) for line in lines)
            known[chord, bass_only] = found
        return found

    return names


def _systems(
    systems: tuple[System, ...],
    key: Key,
    areas: dict[Key, Area],
    namers: dict[Key, _Namer],
    lines: tuple[Line, ...],
) -> tuple[ArrangedSystem, ...]:
    arranged = []
    for system in systems:
        for row in system.above:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
        above = tuple(_announcement(row, areas, lines) for row in system.above)
        arranged.append(_system(system, above, namers[key], len(lines)))
    return tuple(arranged)


def _system(
    system: System, above: tuple[Announcement, ...], names: _Namer, lines: int
) -> ArrangedSystem:
    music = system.music
    if music is None:
        return ArrangedSystem((), (), (), above)
    bars = tuple(ArrangedBar(bar, _strikes(bar, names, lines)) for bar in music.bars)
    words = tuple(_words_line(row, music) for row in system.words)
    return ArrangedSystem(bars, music.lines, words, above)


def _strikes(bar: Bar, names: _Namer, lines: int) -> tuple[ArrangedStrike, ...]:
    silent: tuple[None, ...] = (None,) * lines
    return tuple(
        ArrangedStrike(
            silent if s.chord is None else names(s.chord, s.bass_only),
            s.onset, s.length, s.pushed, s.stopped, s.ringing, s.optional,
        )
        for s in bar.strikes
    )  # fmt: skip


def _words_line(row: WordsRow, music: MusicRow) -> WordsLine:
    if music.free or music.lines[0].kind != "none":
        return WordsLine(row.verse, row.cells[0][0], row.cells[1:])
    return WordsLine(row.verse, Segment(), row.cells)


def _announcement(
    row: CueRow | SettingRow, areas: dict[Key, Area], lines: tuple[Line, ...]
) -> Announcement:
    if isinstance(row, CueRow):
        return Announcement("cue", row.text)
    if isinstance(row.value, Key):
        return Announcement("key", key_change(areas[row.value], lines))
    if isinstance(row.value, Meter):
        return Announcement("meter", str(row.value))
    return Announcement("tempo" if row.name == "tempo" else "feel", str(row.value))


def key_change(area: Area, lines: tuple[Line, ...]) -> str:
    """What is said where the key changes, for the lines shown."""
    if "shape" not in lines:
        return key_name(area.reading if "transposed" in lines else area.sounding)
    if area.shape == area.sounding:
        return key_name(area.shape)
    shapes = f"{key_name(area.shape)} shapes"
    return f"{shapes}, sounds {key_name(area.sounding)}" if "sounding" in lines else shapes
