"""One measure as an element: attributes, bar lines, directions, harmonies, slash notes."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from xml.etree.ElementTree import Element

from chartkit.chart.capos import capo_of_row
from chartkit.chart.marks import Mark, MarkPlace, printed_mark
from chartkit.chart.model import (
    TICKS_PER_BEAT,
    Bar,
    Meter,
    Segment,
    SettingRow,
    Strike,
)
from chartkit.interchange.musicxml.mark_elements import MARK_ELEMENTS, MarkElements
from chartkit.interchange.musicxml.notes import PICK_UP
from chartkit.interchange.musicxml.write_notes import (
    DIVISIONS,
    Slash,
    child,
    harmony_element,
    note_element,
    rest_element,
    share_words,
    slashes_of,
    tick_divisions,
)
from chartkit.interchange.score.outgoing import OutgoingMeasure, VerseLine
from chartkit.theory.chord import Chord
from chartkit.theory.key import Key
from chartkit.theory.shape_text import Frets

FREE_METER = Meter(4, 4)
"""In free time every chord is given a quarter note to stand over."""


def timed_bar(out: OutgoingMeasure) -> Bar:
    """The bar with a length and an onset for each chord, also in free time and for words
    alone."""
    bar = out.bar
    if not out.free:
        return bar if bar.length else replace(bar, length=TICKS_PER_BEAT)
    strikes = tuple(
        replace(strike, onset=i * TICKS_PER_BEAT, length=TICKS_PER_BEAT)
        for i, strike in enumerate(bar.strikes)
    )
    cues = tuple(
        replace(cue, onset=min(cue.onset, len(strikes)) * TICKS_PER_BEAT) for cue in bar.cues
    )
    return replace(bar, strikes=strikes, cues=cues, length=len(strikes) * TICKS_PER_BEAT)


def pushed_into(out: OutgoingMeasure, following: OutgoingMeasure | None) -> Strike | None:
    """The first chord of the following measure, when it is pushed and so belongs to the end
    of this one; None where a repeat or a section stands between."""
    if following is None or out.free or following.free or out.bar.pickup or out.part_of_two:
        return None
    if out.rests:
        return None
    between = out.closing.kind.startswith("repeat") or following.opening.kind == "repeat-start"
    if between or following.opening.endings or following.section:
        return None
    first = following.bar.strikes[0] if following.bar.strikes else None
    alone = len(_in_beat(following.bar, 0)) == 1
    return first if first and first.pushed and first.chord and not first.onset and alone else None


def _in_beat(bar: Bar, beat: int) -> list[Strike]:
    return [strike for strike in bar.strikes if strike.onset // TICKS_PER_BEAT == beat]


def _pushes_kept(bar: Bar) -> Bar:
    """The bar with only those pushes that can be recognised by where a chord is struck: alone on a
    beat, and a chord."""

    def is_kept(strike: Strike) -> bool:
        beat, off = divmod(strike.onset, TICKS_PER_BEAT)
        return off == 0 and strike.chord is not None and len(_in_beat(bar, beat)) == 1

    return replace(
        bar, strikes=tuple(replace(s, pushed=s.pushed and is_kept(s)) for s in bar.strikes)
    )


def notes_of(
    out: OutgoingMeasure, before: OutgoingMeasure | None, following: OutgoingMeasure | None
) -> list[Slash]:
    """The slash notes of a measure with their chords and words."""
    bar = _pushes_kept(timed_bar(out)) if not out.free else timed_bar(out)
    if out.free:
        bar = replace(bar, strikes=tuple(replace(s, pushed=False) for s in bar.strikes))
    meter = FREE_METER if out.free else out.meter
    length = bar.length // (2 if out.part_of_two else 1) * tick_divisions(meter)
    first_pushed = before is not None and pushed_into(before, out) is not None
    notes = slashes_of(bar, length, meter, pushed_into(out, following), first_pushed)
    if following is not None and not following.free and 0 in following.bar.holds:
        notes[-1].tied_from = True
    if out.bar.pickup and not out.bar.length:
        notes[0].played = False
    share_words(notes, out.lines, bar, first_pushed)
    return notes


def fill_measure(
    measure: Element,
    out: OutgoingMeasure,
    before: OutgoingMeasure | None,
    following: OutgoingMeasure | None,
    fingered: Callable[[Chord], Frets | None],
) -> None:
    """Adds directions, harmonies and notes to a measure that has its attributes; ``fingered``
    gives the shape of a sounding chord."""
    for text in out.instructions:
        write_words(measure, text)
    _write_marks(measure, out, "start")
    cues = _cues_in_divisions(out)
    if out.rests:
        _fill_rest(measure, out, [text for _, text in cues])
        return
    notes = notes_of(out, before, following)
    over_beats = _marks_over_notes(out, notes)
    for note in notes:
        while cues and cues[0][0] <= note.start:
            write_words(measure, cues.pop(0)[1])
        marks = over_beats.get(note.start, [])
        _append_directions(measure, marks)
        if note.strike is not None:
            chord = note.strike.chord
            frets = fingered(chord) if chord is not None else None
            measure.append(harmony_element(note.strike, frets))
        element = note_element(note)
        _add_notations(element, marks)
        for lyric in _lyrics(note.sung):
            element.append(lyric)
        measure.append(element)
    for _, text in cues:
        write_words(measure, text)
    _write_marks(measure, out, "end")


def _write_marks(measure: Element, out: OutgoingMeasure, place: MarkPlace) -> None:
    """Adds the marks of a place in the bar as directions."""
    _append_directions(measure, [mark for mark in out.bar.marks if mark.place == place])


def _marks_over_notes(out: OutgoingMeasure, notes: list[Slash]) -> dict[int, list[Mark]]:
    """The marks over beats, by where the note begins that each stands over."""
    tick = tick_divisions(FREE_METER if out.free else out.meter)
    ticks_of_onset = TICKS_PER_BEAT if out.free else 1
    over: dict[int, list[Mark]] = {}
    for mark in out.bar.marks:
        if mark.place == "beat":
            at = mark.onset * ticks_of_onset * tick
            start = max((note.start for note in notes if note.start <= at), default=0)
            over.setdefault(start, []).append(mark)
    return over


def _append_directions(measure: Element, marks: Iterable[Mark]) -> None:
    """Adds a direction for each mark that is no notation of a note."""
    for mark in marks:
        if not _elements_of(mark).notation:
            measure.append(_mark_direction(mark))


def _add_notations(note: Element, marks: Iterable[Mark]) -> None:
    """Adds to a note the marks over it that are notations."""
    for elements in dict.fromkeys(map(_elements_of, marks)):
        if not elements.notation:
            continue
        parent = note
        *groups, tag = ("notations", *elements.notation.split("/"))
        for group in groups:
            known = parent.find(group)
            parent = child(parent, group) if known is None else known
        child(parent, tag, **({"type": elements.notation_type} if elements.notation_type else {}))


def _elements_of(mark: Mark) -> MarkElements:
    return MARK_ELEMENTS.get(mark.kind, MarkElements())


def _fill_rest(measure: Element, out: OutgoingMeasure, cues: list[str]) -> None:
    """A rest of the whole measure; what is sung in it is hung on it."""
    for text in cues:
        write_words(measure, text)
    over = [mark for mark in out.bar.marks if mark.place == "beat"]
    _append_directions(measure, over)
    rest = rest_element(out.bar.length * tick_divisions(out.meter))
    _add_notations(rest, over)
    first = [(line, line.cell[0]) for line in out.lines if line.cell]
    first += [(line, line.after) for line in out.lines]
    for lyric in _lyrics([(line, segment) for line, segment in first if segment != Segment()]):
        rest.append(lyric)
    measure.append(rest)
    _write_marks(measure, out, "end")


def _cues_in_divisions(out: OutgoingMeasure) -> list[tuple[int, str]]:
    tick = tick_divisions(FREE_METER if out.free else out.meter)
    return [(0 if out.bar.simile else cue.onset * tick, cue.text) for cue in timed_bar(out).cues]


def write_words(measure: Element, text: str) -> None:
    """Words over the staff."""
    direction = child(measure, "direction", placement="above")
    child(child(direction, "direction-type"), "words", text)


def _mark_direction(mark: Mark) -> Element:
    direction = Element("direction", placement="above")
    kind, elements = child(direction, "direction-type"), _elements_of(mark)
    if elements.sign:
        child(kind, elements.sign)
    elif elements.sound:
        child(kind, "words", printed_mark(mark))
    else:
        # Bold, because nothing else tells it from a cue.
        child(kind, "words", printed_mark(mark), **{"font-weight": "bold"})
    if elements.sound:
        child(direction, "sound", **{elements.sound: elements.sound_value})
    return direction


def _lyrics(sung: list[tuple[VerseLine, Segment]]) -> Iterator[Element]:
    for line, segment in sorted(sung, key=lambda pair: pair[0].number):
        lyric = Element("lyric", number=str(line.number))
        if name := _name_of(line, segment):
            lyric.set("name", name)
        if segment.held:
            child(lyric, "extend", type="stop")
        else:
            child(lyric, "syllabic", "begin" if segment.split else "single")
            child(lyric, "text", segment.text)
        if line.last and segment is not line.after and segment is _last_of(line):
            child(lyric, "end-line")
        yield lyric


def _name_of(line: VerseLine, segment: Segment) -> str:
    """The name of a lyric: a verse if the chart numbers it, a pick-up if it is sung before the next
    row."""
    if segment is not line.after:
        return "verse" if line.named else ""
    return f"verse {PICK_UP}" if line.after_named else PICK_UP


def _last_of(line: VerseLine) -> Segment | None:
    said = [segment for segment in line.cell if segment != Segment()]
    return said[-1] if said else None


def attributes_element(
    out: OutgoingMeasure, meter_before: tuple[Meter, bool] | None, first: bool
) -> Element | None:
    """The attributes that a measure begins with: divisions, key and time; None for none."""
    attributes = Element("attributes")
    if first:
        child(attributes, "divisions", DIVISIONS)
    for row in out.settings:
        if isinstance(row.value, Key):
            _write_key(attributes, row)
    if meter_before != (out.meter, out.free):
        time = child(attributes, "time")
        if out.free:
            child(time, "senza-misura")
        else:
            child(time, "beats", out.meter.count)
            child(time, "beat-type", out.meter.unit)
    capos = [capo for row in out.settings if (capo := capo_of_row(row)) is not None]
    if capos and not first:
        over_all = 0 if capos[-1].strings else capos[-1].fret
        child(child(attributes, "staff-details"), "capo", over_all)
    return attributes if len(attributes) else None


def _write_key(attributes: Element, row: SettingRow) -> None:
    assert isinstance(row.value, Key)
    for old in attributes.findall("key"):
        attributes.remove(old)
    key = child(attributes, "key")
    child(key, "fifths", row.value.signature)
    child(key, "mode", row.value.mode)


def tempo_direction(tempo: int | None, feel: str, meter: Meter) -> Element:
    """A direction with the feel in words and the tempo as a metronome mark; the beat is the
    meter's own."""
    direction = Element("direction", placement="above")
    if feel:
        child(child(direction, "direction-type"), "words", feel)
    if tempo is not None:
        metronome = child(child(direction, "direction-type"), "metronome")
        unit = meter.unit // 2 if meter.compound else meter.unit
        child(metronome, "beat-unit", _BEAT_UNITS[unit])
        if meter.compound:
            child(metronome, "beat-unit-dot")
        child(metronome, "per-minute", tempo)
        quarters = tempo * 4 * (3 if meter.compound else 1) / meter.unit
        child(direction, "sound", tempo=f"{quarters:g}")
    return direction


_BEAT_UNITS = {1: "whole", 2: "half", 4: "quarter", 8: "eighth", 16: "16th", 32: "32nd", 64: "64th"}
