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
from chartkit.arrange.capo_notices import with_capo_notices
from chartkit.arrange.key_areas import KeyArea, SongAreas, song_areas
from chartkit.arrange.page_look import PageLook
from chartkit.arrange.road_map import road_map
from chartkit.arrange.row_boundaries import with_repeats_moved, with_signature, with_ties
from chartkit.arrange.section_names import with_first_ones_numbered
from chartkit.arrange.view import LineName, View
from chartkit.chart.capos import capo_of_row, capos_in_order, capos_of_systems
from chartkit.chart.keys import key_of_row, keys_at_start
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
from chartkit.chart.playing_order import section_times
from chartkit.chart.restated import restated_systems
from chartkit.chart.sung_lines import sung_lines, with_own_verses
from chartkit.chart.systems import System, plays_again, sections_again, shared_sections
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.chord import Chord, moved_chord
from chartkit.theory.chord_parts import PrintedChord, letter_name, number_name
from chartkit.theory.key import Key
from chartkit.theory.naming import Naming, in_naming, key_words
from chartkit.theory.respelling import intended_chord, printed_chord

_NamesOfChord = Callable[[Chord, bool], tuple[PrintedChord, ...]]


def arrange(chart: Chart, view: View, look: PageLook | None = None) -> Arrangement:
    """The song as a player reads it with that view and look."""
    look = look or PageLook()
    areas = song_areas(chart, view, look.reads)
    first = areas.first
    capos = capos_in_order(chart) if view.capo is None else (view.capo,)
    lines = _lines(view, look, capos)
    given = chart.key is not None or view.key is not None
    namer = _ChordNamer(
        areas=areas,
        lines=lines,
        naming=look.naming,
        own_capo=view.capo is None,
        key_given=given,
        raises=chart.written_as_shapes,
    )
    tempo = chart.setting("tempo")
    arrangement = Arrangement(
        title=chart.text("title") or "Untitled",
        writer=chart.text("writer"),
        language=chart.text("language") or "en",
        instrument=chart.text("instrument"),
        notes=(*filter(None, (chart.text("part"),)), *chart.notes()),
        capo=capos[0],
        capo_moves=capos[1:],
        second_capo=view.second_capo,
        keys=first,
        key_given=given,
        reads=look.reads,
        naming=look.naming,
        meter=chart.meter,
        meter_given=chart.setting("meter") is not None,
        tempo=tempo if isinstance(tempo, int) else None,
        feel=chart.text("feel"),
        chord_lines=lines,
        strong=_strong(look, lines),
        sections=with_capo_notices(_sections(chart, namer, own_verses=look.show == "road-map")),
    )
    return road_map(arrangement) if look.show == "road-map" else arrangement


def _sections(chart: Chart, namer: "_ChordNamer", own_verses: bool) -> tuple[ArrangedSection, ...]:
    """The sections; with ``own_verses`` each has only the verses that it sings itself."""
    starts, meters = keys_at_start(chart), meters_at_start(chart)
    restated = restated_systems(chart)
    if own_verses:
        restated = with_own_verses(restated, sung_lines(chart))
    under = capos_of_systems(chart, restated)
    same_as = _plays_again(chart, under)
    whole = sections_again(chart)
    times = section_times(chart)
    sections = tuple(
        ArrangedSection(
            name=section.name,
            times=times[i],
            systems=_systems(systems, (starts[i], meters[i]), under[i], namer),
            same_as=same_as[i],
            whole=whole[i] is not None and (bool(same_as[i]) or section.as_typed is not None),
            span=section.span,
        )
        for i, (section, systems) in enumerate(zip(chart.sections, restated, strict=True))
    )
    return with_first_ones_numbered(sections)


def _plays_again(chart: Chart, capos: tuple[tuple[Capo, ...], ...]) -> tuple[str, ...]:
    """For each section the one whose music it has, where its shapes are the same: played under
    another capo it is printed in full."""
    return tuple(
        name if source is None or capos[source] == capos[i] else ""
        for i, (name, source) in enumerate(
            zip(plays_again(chart), shared_sections(chart), strict=True)
        )
    )


def _lines(view: View, look: PageLook, capos: tuple[Capo, ...]) -> tuple[LineName, ...]:
    """The lines of chord names from the top.  Without a capo, or with one that only brings strings
    tuned down back to pitch, shapes and sounding chords are the same, so there is one line; above a
    second guitar's it is the first guitar's.  A player of a transposing instrument fingers no
    shapes, unless a capo is asked for as well."""
    if look.show == "words":
        return ()
    if look.show == "numbers":
        return ("number",)
    if look.show == "road-map":
        return ("sounding",)
    has_shapes = look.show == "shapes" or any(capo != NO_CAPO for capo in capos)
    shapes: list[LineName] = ["shape"] if has_shapes else []
    if view.second_capo not in (None, NO_CAPO):
        shapes.append("second")
    if look.show == "shapes":
        return tuple(shapes)
    own_capo = view.capo is None and view.second_capo is None
    if look.show == "sounding" or (look.reads is not None and own_capo):
        return ("sounding",)
    if shapes == ["shape"] and not any(capo.raised or capo.strings for capo in capos):
        return ("shape",)
    sounds_above = look.upper == "sounding" or shapes == ["second"]
    return ("sounding", *shapes) if sounds_above else (*shapes, "sounding")


def _strong(look: PageLook, lines: tuple[LineName, ...]) -> LineName:
    """The line that is set large and bold."""
    wanted: LineName = "sounding" if look.strong == "sounding" else "shape"
    wanted = "sounding" if "shape" not in lines and "second" in lines else wanted
    return wanted if wanted in lines or not lines else lines[0]


def _names_of_chord(area: KeyArea, lines: tuple[LineName, ...], naming: Naming) -> _NamesOfChord:
    """Names a written chord on every line; each distinct chord is named once."""
    known: dict[tuple[Chord, bool], tuple[PrintedChord, ...]] = {}

    intervals = {"shape": area.to_shape, "second": area.to_second, "sounding": area.to_read}

    def on(line: LineName, chord: Chord, bass_only: bool) -> PrintedChord:
        if line == "number":
            meant = moved_chord(intended_chord(chord, area.written), area.to_sounding)
            return in_naming(number_name(meant, area.sounding, bass_only), naming)
        moved = printed_chord(chord, area.written, intervals[line])
        return in_naming(letter_name(moved, bass_only), naming)

    def names(chord: Chord, bass_only: bool) -> tuple[PrintedChord, ...]:
        printed = known.get((chord, bass_only))
        if printed is None:
            printed = tuple(on(line, chord, bass_only) for line in lines)
            known[chord, bass_only] = printed
        return printed

    return names


class _ChordNamer:
    """Names chords for the lines shown, in every area of the song.

    With ``own_capo`` the capo is the chart's, and its moves are announced; ``raises`` says that a
    move changes what sounds, as it does where the chords are written as shapes.  ``said`` is the
    key and the capo of the row before, None before the first.
    """

    def __init__(
        self,
        areas: SongAreas,
        lines: tuple[LineName, ...],
        naming: Naming,
        own_capo: bool,
        key_given: bool,
        raises: bool,
    ) -> None:
        self.areas = areas
        self.lines = lines
        self.naming = naming
        self.own_capo = own_capo
        self.key_given = key_given
        self.raises = raises
        self.said: tuple[Key, Capo] | None = None
        self._known: dict[tuple[Key, Capo], _NamesOfChord] = {}

    def names_under(self, key: Key, capo: Capo) -> _NamesOfChord:
        """The names of the chords of a written key under one of the chart's capos."""
        if (key, capo) not in self._known:
            area = self.areas.at(key, capo)
            self._known[key, capo] = _names_of_chord(area, self.lines, self.naming)
        return self._known[key, capo]


def _systems(
    systems: tuple[System, ...],
    start: tuple[Key, Meter],
    capos: tuple[Capo, ...],
    namer: _ChordNamer,
) -> tuple[ArrangedSystem, ...]:
    arranged = []
    key, meter = start
    for written, capo in zip(systems, capos, strict=True):
        system = with_signature(written)
        for row in system.above:
            key = key_of_row(row) or key
            meter = meter_after(row, meter)
        above = _announcements(system, key, capo, namer)
        namer.said = key, capo
        names = namer.names_under(key, capo)
        arranged.append(_system(system, above, names, len(namer.lines), meter))
        meter = meter if system.music is None else meter_within(system.music.bars, meter)
    return with_ties(with_repeats_moved(arranged))


def _system(
    system: System, above: tuple[Announcement, ...], names: _NamesOfChord, lines: int, meter: Meter
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


def _strikes(bar: Bar, names: _NamesOfChord, lines: int) -> tuple[ArrangedStrike, ...]:
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


def _announcements(
    system: System, key: Key, capo: Capo, namer: _ChordNamer
) -> tuple[Announcement, ...]:
    """What stands above a system, in its own order."""
    announcements = []
    for row in system.above:
        if key_of_row(row) is not None and namer.said == (key_of_row(row), capo):
            continue  # A key that is written once more changes nothing.
        if capo_of_row(row) is None:
            announcements.append(_announcement(row, capo, namer))
        elif namer.own_capo and "shape" in namer.lines:
            announcements.append(
                Announcement("capo", _capo_move(system, key, capo, namer), row.span)
            )
    return tuple(announcements)


def _capo_move(system: System, key: Key, capo: Capo, namer: _ChordNamer) -> str:
    """The announcement of a move of the capo: the fret, and the shapes with the key that sounds,
    unless a change of key beside it names them."""
    words = "Capo off" if capo == NO_CAPO else str(capo).capitalize()
    changes = (row.value for row in system.above if isinstance(row, SettingRow))
    if not namer.key_given or any(isinstance(value, Key) for value in changes):
        return words
    area = namer.areas.at(key, capo)
    sentence = f"{words}: {key_words(area.shape, namer.naming)} shapes"
    if namer.raises:
        sentence += f", sounds {key_words(area.sounding, namer.naming)}"
    return sentence


def _announcement(row: CueRow | SettingRow, capo: Capo, namer: _ChordNamer) -> Announcement:
    if isinstance(row, CueRow):
        return Announcement("cue", row.text, row.span)
    if isinstance(row.value, Key):
        area = namer.areas.at(row.value, capo)
        return Announcement("key", key_change(area, namer.lines, namer.naming), row.span)
    if isinstance(row.value, Meter):
        return Announcement("meter", str(row.value), row.span)
    return Announcement("tempo" if row.name == "tempo" else "feel", str(row.value), row.span)


def key_change(area: KeyArea, lines: tuple[LineName, ...], naming: Naming) -> str:
    """The announcement of a change of key, for the lines shown."""
    whose = "second guitar " * ("shape" in lines)
    shapes = (("", "shape", area.shape), (whose, "second", area.second))
    parts = [
        f"{whose}{key_words(key, naming)} shapes" for whose, line, key in shapes if line in lines
    ]
    alike = area.shape == area.sounding == area.read and "second" not in lines
    if alike or not parts:
        return key_words(area.read, naming)
    if "sounding" in lines:
        parts.append(f"sounds {key_words(area.sounding, naming)}")
        if area.read != area.sounding:
            parts.append(f"written in {key_words(area.read, naming)}")
    return ", ".join(parts)
