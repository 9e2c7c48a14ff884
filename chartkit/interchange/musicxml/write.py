"""From a chart to MusicXML 4.0: one part of chords over slash notes, with the words.

What MusicXML cannot carry of a chart is listed in ``losses.py``.
"""

from functools import partial
from xml.etree.ElementTree import Element, indent, tostring

from chartkit.arrange.rewrite import rewritten_chart
from chartkit.arrange.view import View
from chartkit.chart.capos import capo_after, capo_of_row, moves_capo
from chartkit.chart.model import BEST_CAPO, Chart, Meter, SettingRow
from chartkit.interchange.musicxml.capo import OPEN_STRINGS
from chartkit.interchange.musicxml.chord_diagrams import shape_of, shapes_by_key
from chartkit.interchange.musicxml.page_text import WORDS_FIELD, words_fields
from chartkit.interchange.musicxml.write_measure import (
    attributes_element,
    fill_measure,
    tempo_direction,
    write_words,
)
from chartkit.interchange.musicxml.write_notes import child
from chartkit.interchange.score.outgoing import OutgoingMeasure, outgoing_measures
from chartkit.interchange.wording import NAMED_TEXTS
from chartkit.theory.capo import NO_CAPO, Capo
from chartkit.theory.note import SEMITONE_PLACES, accidentals_of, letter_of
from chartkit.theory.pitch import Pitch, parse_pitch, transposed_pitch

DOCTYPE = (
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">'
)
CARRIED = (*NAMED_TEXTS, "range", "note", "shape")
"""Settings that travel as miscellaneous fields, for want of a place of their own."""


def musicxml_bytes(chart: Chart) -> bytes:
    """The chart as an uncompressed MusicXML 4.0 document in UTF-8."""
    if chart.written_as_shapes:
        chart = rewritten_chart(chart, View(), as_shapes=False)
    root = Element("score-partwise", version="4.0")
    _write_header(root, chart)
    part = child(root, "part", id="P1")
    measures = outgoing_measures(chart)
    _write_measures(part, measures, chart)
    if not measures:
        child(part, "measure", number="1")
    indent(root)
    body = tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{DOCTYPE}\n{body}\n'.encode()


# ---- header


def _write_header(root: Element, chart: Chart) -> None:
    if title := chart.text("title"):
        child(child(root, "work"), "work-title", title)
    identification = child(root, "identification")
    if writer := chart.text("writer"):
        child(identification, "creator", writer, type="composer")
    encoding = child(identification, "encoding")
    child(encoding, "software", "chartkit")
    child(encoding, "supports", element="print", attribute="new-system", type="yes", value="yes")
    settings = [row for row in chart.top if isinstance(row, SettingRow)]
    fields = [row for row in settings if row.name in CARRIED or _is_open(row)]
    words_alone = list(words_fields(chart))
    if fields or words_alone:
        other = child(identification, "miscellaneous")
        for row in fields:
            child(other, "miscellaneous-field", row.value, name=row.name)
        for text in words_alone:
            child(other, "miscellaneous-field", text, name=WORDS_FIELD)
    if language := chart.text("language"):
        lyric_language = child(child(root, "defaults"), "lyric-language")
        lyric_language.set("xml:lang", language)
    score_part = child(child(root, "part-list"), "score-part", id="P1")
    child(score_part, "part-name", chart.text("instrument") or "Chords")


def _is_open(row: SettingRow) -> bool:
    """Whether it leaves the choice of the capo open, which no number can say."""
    return row.name == "capo" and row.value == BEST_CAPO


# ---- measures


def _write_measures(part: Element, measures: tuple[OutgoingMeasure, ...], chart: Chart) -> None:
    meter: tuple[Meter, bool] | None = None
    endings = _ending_stops(measures)
    shapes, capo = shapes_by_key(chart), chart.capo
    number = 0
    for i, out in enumerate(measures):
        before = measures[i - 1] if i else None
        following = measures[i + 1] if i + 1 < len(measures) else None
        number += not out.bar.pickup
        measure = _measure_element(part, out, number, i)
        if out.new_row:
            child(measure, "print", new_system="yes")
        _write_attributes(measure, out, meter, chart, i == 0)
        _write_styles(measure, out, before)
        meter = (out.meter, out.free)
        _write_left(measure, out)
        _write_start(measure, out, chart, i == 0)
        capo = capo_after(out.settings, capo)
        fill_measure(measure, out, before, following, partial(shape_of, capo=capo, shapes=shapes))
        _write_right(measure, out, following, endings.get(i, ()))


def _measure_element(part: Element, out: OutgoingMeasure, number: int, index: int) -> Element:
    if not out.bar.pickup:
        return child(part, "measure", number=str(number))
    return child(part, "measure", number=f"X{index}" if index else "0", implicit="yes")


def _write_attributes(
    measure: Element,
    out: OutgoingMeasure,
    meter: tuple[Meter, bool] | None,
    chart: Chart,
    first: bool,
) -> None:
    attributes = attributes_element(out, meter, first)
    if attributes is None:
        return
    measure.append(attributes)
    if first:
        _write_key_and_capo(attributes, chart)


def _write_key_and_capo(attributes: Element, chart: Chart) -> None:
    if chart.key is not None and attributes.find("key") is None:
        key = Element("key")
        child(key, "fifths", chart.key.signature)
        child(key, "mode", chart.key.mode)
        attributes.insert(1, key)
    clef = child(attributes, "clef")
    child(clef, "sign", "percussion")
    if (chart.capo != NO_CAPO and not chart.capo.strings) or moves_capo(chart):
        _write_capo(child(attributes, "staff-details"), chart.capo, moves_capo(chart))


def _write_capo(details: Element, capo: Capo, is_moved: bool) -> None:
    """The capo; a guitar tuned down says so with its strings, and one whose capo comes later that
    it has none yet."""
    if capo.tuned_down:
        place = SEMITONE_PLACES[-capo.tuned_down % 12]
        for line, name in enumerate(OPEN_STRINGS, 1):
            _write_string(
                details, line, transposed_pitch(parse_pitch(name), place, -capo.tuned_down)
            )
    if capo.fret or is_moved:
        child(details, "capo", 0 if capo.strings else capo.fret)


def _write_string(details: Element, line: int, pitch: Pitch) -> None:
    tuning = child(details, "staff-tuning", line=str(line))
    child(tuning, "tuning-step", letter_of(pitch.note))
    if signs := accidentals_of(pitch.note):
        child(tuning, "tuning-alter", signs)
    child(tuning, "tuning-octave", pitch.octave)


def _write_styles(measure: Element, out: OutgoingMeasure, before: OutgoingMeasure | None) -> None:
    """Begins and ends slash notation (beats written out) and measure repeats, and tells how
    many measures a rest lasts."""
    if out.rests > 1:
        attributes = _attributes_of(measure)
        child(child(attributes, "measure-style"), "multiple-rest", out.rests)
    old = (False, 0) if before is None else _style(before)
    new = _style(out)
    if old == new and new[1] == 0:
        return
    attributes = _attributes_of(measure)
    if old[0] != new[0]:
        style = child(attributes, "measure-style")
        child(style, "slash", type="start" if new[0] else "stop")
    if old[1] and old[1] != new[1]:
        child(child(attributes, "measure-style"), "measure-repeat", type="stop")
    if new[1] and (old[1] != new[1] or out.part_of_two == 1):
        style = child(attributes, "measure-style")
        child(style, "measure-repeat", new[1], type="start", slashes=str(new[1]))


def _attributes_of(measure: Element) -> Element:
    attributes = measure.find("attributes")
    return child(measure, "attributes") if attributes is None else attributes


def _style(out: OutgoingMeasure) -> tuple[bool, int]:
    return out.bar.beats_written and not out.bar.pickup, 2 if out.part_of_two else out.bar.simile


def _write_start(measure: Element, out: OutgoingMeasure, chart: Chart, first: bool) -> None:
    """The section's name as a rehearsal mark, tempo, feel, and a capo over some strings, which
    the element for capos cannot say."""
    if out.section:
        direction = child(measure, "direction", placement="above")
        child(child(direction, "direction-type"), "rehearsal", out.section)
    tempo = chart.setting("tempo") if first else None
    feel = chart.text("feel") if first else ""
    for row in out.settings:
        if row.name == "tempo":
            tempo = row.value
        elif row.name == "feel":
            feel = str(row.value)
    capos = [capo for row in out.settings if (capo := capo_of_row(row)) is not None]
    capo = capos[-1] if capos else chart.capo if first else NO_CAPO
    if capo.strings:
        write_words(measure, f"Capo {capo.place}")
    if tempo is not None or feel:
        measure.append(tempo_direction(tempo if isinstance(tempo, int) else None, feel, out.meter))


# ---- bar lines


def _ending_stops(measures: tuple[OutgoingMeasure, ...]) -> dict[int, tuple[int, ...]]:
    """Where each ending stops: at a repeat, a double line, before the next ending, section or
    repeat, or at the end."""
    stops: dict[int, tuple[int, ...]] = {}
    opened: tuple[int, ...] = ()
    for i, out in enumerate(measures):
        opened = out.opening.endings or opened
        following = measures[i + 1] if i + 1 < len(measures) else None
        over = (
            following is None
            or following.opening.endings
            or following.section
            or (following.opening.kind == "repeat-start")
        )
        if opened and (over or out.closing.kind in ("repeat-end", "double")):
            stops[i], opened = opened, ()
    return stops


def _ending(barline: Element, endings: tuple[int, ...], kind: str) -> None:
    child(barline, "ending", number=",".join(map(str, endings)), type=kind)


def _write_left(measure: Element, out: OutgoingMeasure) -> None:
    kind, endings = out.opening.kind, out.opening.endings
    if kind not in ("repeat-start", "repeat-both", "double") and not endings:
        return
    barline = child(measure, "barline", location="left")
    if kind == "double":
        child(barline, "bar-style", "light-light")
    elif kind != "single":
        child(barline, "bar-style", "heavy-light")
    if endings:
        _ending(barline, endings, "start")
    if kind in ("repeat-start", "repeat-both"):
        child(barline, "repeat", direction="forward")


def _write_right(
    measure: Element,
    out: OutgoingMeasure,
    following: OutgoingMeasure | None,
    stops: tuple[int, ...],
) -> None:
    kind, times = out.closing.kind, out.closing.times
    if following is not None and following.opening.kind in ("repeat-end", "repeat-both"):
        kind, times = "repeat-end", times or following.opening.times
    if kind not in ("repeat-end", "double") and not stops and following is not None:
        return
    barline = child(measure, "barline", location="right")
    if kind == "repeat-end" or (kind == "double" and following is None):
        child(barline, "bar-style", "light-heavy")
    elif kind == "double":
        child(barline, "bar-style", "light-light")
    if stops:
        _ending(barline, stops, "stop" if kind == "repeat-end" else "discontinue")
    if kind == "repeat-end":
        played = {"times": str(times)} if times else {}
        child(barline, "repeat", direction="backward", **played)
