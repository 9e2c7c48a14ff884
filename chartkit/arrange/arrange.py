"""Names every chord of a chart for one player, on every line that is shown."""

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
from chartkit.arrange.key_areas import Area, song_areas
from chartkit.arrange.neighbours import with_repeats_moved, with_signature, with_ties
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.view import Line, View
from chartkit.chart.keys import keys_at_start, written_key
from chartkit.chart.meters import meter_after, meter_within, meters_at_start
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
from chartkit.chart.restated import restated_systems
from chartkit.chart.systems import System, plays_again
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord, moved_chord, simple_chord
from chartkit.theory.intended import meant_chord
from chartkit.theory.key import Key
from chartkit.theory.naming import Naming, key_words, named
from chartkit.theory.printed import PrintedChord, letter_name, number_name

_Namer = Callable[[Chord, bool], tuple[PrintedChord, ...]]


def arrange(chart: Chart, view: View, look: PageLook | None = None) -> Arrangement:
    """The song as a player reads it, played like that and looking like that."""
    look = look or PageLook()
    areas = song_areas(chart, view, look.reads)
    first = areas[written_key(chart)]
    capo = chart.capo if view.capo is None else view.capo
    lines = _lines(view, look, capo)
    namers = {key: _namer(area, lines, look.naming) for key, area in areas.items()}
    starts, meters = keys_at_start(chart), meters_at_start(chart)
    sections = tuple(
        ArrangedSection(
            name=section.name,
            times=section.times,
            systems=_systems(systems, (starts[i], meters[i]), areas, namers, lines, look.naming),
            again=again,
            whole=bool(again) and not section.same_as,
            span=section.span,
        )
        for i, (section, again, systems) in enumerate(
            zip(chart.sections, plays_again(chart), restated_systems(chart), strict=True)
        )
    )
    tempo = chart.setting("tempo")
    given = chart.key is not None or view.key is not None
    return Arrangement(
        title=chart.text("title") or "Untitled",
        writer=chart.text("writer"),
        language=chart.text("language") or "en",
        instrument=chart.text("instrument"),
        notes=chart.notes(),
        capo=capo,
        second_capo=view.second_capo,
        keys=first,
        key_given=given,
        reads=look.reads,
        naming=look.naming,
        meter=chart.meter,
        tempo=tempo if isinstance(tempo, int) else None,
        feel=chart.text("feel"),
        lines=lines,
        strong=_strong(look, lines),
        sections=sections,
    )


def _lines(view: View, look: PageLook, capo: Capo) -> tuple[Line, ...]:
    """The lines of chord names from the top.  Without a capo shapes and sounding chords are the
    same, so there is one line."""
    if look.show == "words":
        return ()
    if look.show == "numbers":
        return ("number",)
    shapes: list[Line] = ["shape"] if capo != NO_CAPO or look.show == "shapes" else []
    if view.second_capo not in (None, NO_CAPO):
        shapes.append("second")
    if look.show == "shapes":
        return tuple(shapes)
    if look.show == "sounding":
        return ("sounding",)
    return ("sounding", *shapes) if look.upper == "sounding" else (*shapes, "sounding")


def _strong(look: PageLook, lines: tuple[Line, ...]) -> Line:
    """The line that is set large and bold."""
    wanted: Line = "sounding" if look.strong == "sounding" else "shape"
    return wanted if wanted in lines or not lines else lines[0]


def printable(chord: Chord, key: Key, interval: int) -> Chord:
    """A chord of a written key moved by an interval, as it is printed.

    A chord that stays keeps its spelling; one that moves is first respelled as it was meant.
    """
    if not interval:
        return chord
    return simple_chord(moved_chord(meant_chord(chord, key), interval))


def _namer(area: Area, lines: tuple[Line, ...], naming: Naming) -> _Namer:
    """Names a written chord on every line; each distinct chord is named once."""
    known: dict[tuple[Chord, bool], tuple[PrintedChord, ...]] = {}

    intervals = {"shape": area.to_shape, "second": area.to_second, "sounding": area.to_read}

    def on(line: Line, chord: Chord, bass_only: bool) -> PrintedChord:
        if line == "number":
            meant = moved_chord(meant_chord(chord, area.written), area.to_sounding)
            return named(number_name(meant, area.sounding, bass_only), naming)
        moved = printable(chord, area.written, intervals[line])
        return named(letter_name(moved, bass_only), naming)

    def names(chord: Chord, bass_only: bool) -> tuple[PrintedChord, ...]:
        printed = known.get((chord, bass_only))
        if printed is None:
            printed = tuple(on(line, chord, bass_only) for line in lines)
            known[chord, bass_only] = printed
        return printed

    return names


def _systems(
    systems: tuple[System, ...],
    start: tuple[Key, Meter],
    areas: dict[Key, Area],
    namers: dict[Key, _Namer],
    lines: tuple[Line, ...],
    naming: Naming,
) -> tuple[ArrangedSystem, ...]:
    arranged = []
    key, meter = start
    for one in systems:
        system = with_signature(one)
        for row in system.above:
            if isinstance(row, SettingRow) and isinstance(row.value, Key):
                key = row.value
            meter = meter_after(row, meter)
        above = tuple(_announcement(row, areas, lines, naming) for row in system.above)
        arranged.append(_system(system, above, namers[key], len(lines), meter))
        meter = meter if system.music is None else meter_within(system.music.bars, meter)
    return with_ties(with_repeats_moved(arranged))


def _system(
    system: System, above: tuple[Announcement, ...], names: _Namer, lines: int, meter: Meter
) -> ArrangedSystem:
    music = system.music
    if music is None:
        alone = tuple(WordsLine(row.verse, row.cells[0][0], ()) for row in system.words)
        return ArrangedSystem((), (), alone, above)
    bars = []
    for bar in music.bars:
        meter = bar.meter or meter
        bars.append(ArrangedBar(bar, _strikes(bar, names, lines), meter))
    words = tuple(_words_line(row, music) for row in system.words)
    return ArrangedSystem(tuple(bars), music.lines, words, above)


def _strikes(bar: Bar, names: _Namer, lines: int) -> tuple[ArrangedStrike, ...]:
    silent: tuple[None, ...] = (None,) * lines
    return tuple(
        ArrangedStrike(
            names=silent if s.chord is None else names(s.chord, s.bass_only),
            onset=s.onset,
            length=s.length,
            pushed=s.pushed,
            stopped=s.stopped,
            ringing=s.ringing,
            optional=s.optional,
            span=s.span,
        )
        for s in bar.strikes
    )


def _words_line(row: WordsRow, music: MusicRow) -> WordsLine:
    if music.free or music.lines[0].kind != "none":
        return WordsLine(row.verse, row.cells[0][0], row.cells[1:])
    return WordsLine(row.verse, Segment(), row.cells)


def _announcement(
    row: CueRow | SettingRow, areas: dict[Key, Area], lines: tuple[Line, ...], naming: Naming
) -> Announcement:
    if isinstance(row, CueRow):
        return Announcement("cue", row.text, row.span)
    if isinstance(row.value, Key):
        return Announcement("key", key_change(areas[row.value], lines, naming), row.span)
    if isinstance(row.value, Meter):
        return Announcement("meter", str(row.value), row.span)
    return Announcement("tempo" if row.name == "tempo" else "feel", str(row.value), row.span)


def key_change(area: Area, lines: tuple[Line, ...], naming: Naming) -> str:
    """The announcement of a change of key, for the lines shown."""
    parts = [
        f"{key_words(key, naming)} shapes"
        for line, key in (("shape", area.shape), ("second", area.second))
        if line in lines
    ]
    if not parts:
        return key_words(area.read, naming)
    if "sounding" in lines:
        parts.append(f"sounds {key_words(area.sounding, naming)}")
        if area.read != area.sounding:
            parts.append(f"written in {key_words(area.read, naming)}")
    return ", ".join(parts)
