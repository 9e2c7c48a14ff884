"""From MusicXML to a chart, as a list of steps.

No library: those that read MusicXML build every note of a score, in many times the parse.
"""

from collections.abc import Sequence
from contextlib import suppress
from typing import NamedTuple
from xml.etree.ElementTree import Element

from chartkit.chart.model import Chart, Section
from chartkit.chart.walk import iter_bars
from chartkit.interchange.intake_result import Findings, IntakeResult, Refused, SymbolReader
from chartkit.interchange.musicxml.archive import score_in_archive
from chartkit.interchange.musicxml.capo import capo_of_score
from chartkit.interchange.musicxml.given_diagrams import shape_rows
from chartkit.interchange.musicxml.header import (
    carried_settings,
    is_ours,
    names_no_mode,
    people_of,
    title_of,
    top_rows,
)
from chartkit.interchange.musicxml.other_parts import with_what_others_say
from chartkit.interchange.musicxml.page_text import (
    carried_words,
    with_words_alone,
    words_on_the_page,
)
from chartkit.interchange.musicxml.part_reader import PartReader, units_in_quarter
from chartkit.interchange.musicxml.parts import (
    RawPart,
    attributes_in,
    merged_measures,
    other_singers,
    parts_with_other_chords,
    raw_parts,
    wanted_parts,
)
from chartkit.interchange.musicxml.xml import LARGEST_SCORE_BYTES, NotWellFormed, parsed_tree
from chartkit.interchange.score.bars import BarWriter
from chartkit.interchange.score.build import SectionWriter
from chartkit.interchange.score.chords_of_parts import with_chords_once, with_more_chords
from chartkit.interchange.score.doubtful_names import with_doubtful_names
from chartkit.interchange.score.events import NO_EDGE, Measure, Part
from chartkit.interchange.score.feel import with_feel_beside_tempo
from chartkit.interchange.score.heard_tempos import with_heard_tempos
from chartkit.interchange.score.hidden_chords import with_hidden_chords
from chartkit.interchange.score.jumps import with_jumps
from chartkit.interchange.score.key import with_modes, with_signature
from chartkit.interchange.score.lines_behind_repeats import with_lines_behind_repeats
from chartkit.interchange.score.meters import timed_measures
from chartkit.interchange.score.refrains import with_refrains_between
from chartkit.interchange.score.said_among_words import without_said_words
from chartkit.interchange.score.sung_names import without_sung_names
from chartkit.interchange.score.systems import Systems
from chartkit.interchange.score.timed import Timed
from chartkit.interchange.score.turns import with_words_of
from chartkit.interchange.score.typed_basses import with_typed_basses
from chartkit.interchange.score.typed_chords import report_typed_chords, with_typed_chords
from chartkit.interchange.score.typed_endings import with_typed_endings
from chartkit.interchange.score.typed_times import with_typed_similes, with_typed_times
from chartkit.interchange.score.verse_lines import with_plain_lines
from chartkit.interchange.score.verse_numbers import without_printed_numbers
from chartkit.interchange.score.verse_times import with_times_of_verses
from chartkit.interchange.score.words import (
    report_voices,
    verse_numbers,
    without_doubled_voices,
)
from chartkit.interchange.wording import PRIVATE, counted, is_unknown_sign, one_line

_LONGEST_ROW = 16
"""Rows of more bars are not rows but a missing break (ours)."""
_LONGEST_DECLARATION = 200
_ROOTS = ("score-partwise", "score-timewise")


def read_musicxml(
    data: bytes, read_symbol: SymbolReader, part: str | None = None, before: Findings | None = None
) -> IntakeResult:
    """The chart of a score, MusicXML 1.0 to 4.0, uncompressed.

    ``part`` names the part to take.  ``read_symbol`` reads chord symbols, for kinds that are given
    by their text; ``before`` has what is known of the file already.  Raises Refused for a file that
    is not a score, is unsafe or too large.
    """
    if len(data) > LARGEST_SCORE_BYTES:
        raise Refused(f"the score is too large: more than {LARGEST_SCORE_BYTES:,} bytes")
    findings = before or Findings()
    root = _tree(data, findings)
    if root.tag not in _ROOTS:
        raise Refused(f'this is XML, but not a score: its root element is "{root.tag[:40]}"')
    chart = _chart(root, read_symbol, part, findings)
    if not data.isascii() or b"&#" in data:
        _report_signs(root, findings)
    return IntakeResult(chart, tuple(findings.collected), "MusicXML", rows=findings.rows)


def _tree(data: bytes, findings: Findings) -> Element:
    """The root element, also of a document that is not quite well formed or breaks off."""
    if not data.isascii() and b"utf" not in data[:_LONGEST_DECLARATION].lower():
        data = _in_its_encoding(data, findings)
    try:
        return parsed_tree(data)
    except NotWellFormed as reason:
        from chartkit.interchange.musicxml.repair import repaired, torn  # for few files

        again = repaired(data) or data
        with suppress(Refused):
            root = parsed_tree(again)
            findings.guess("mended-xml", f"{reason}: read, except for the faulty part")
            return root
        with suppress(Refused):
            root = parsed_tree(torn(again) or b"")
            last = next((one.get("number", "") for one in reversed([*root.iter("measure")])), "")
            findings.guess(
                "torn-score",
                f"the file breaks off ({reason}): what comes after it is missing",
                f"measure {one_line(last)[:12]}",
            )
            return root
        raise


def _in_its_encoding(data: bytes, findings: Findings) -> bytes:
    """The document, in UTF-8 where it is in UTF-8 and says otherwise."""
    from chartkit.interchange.musicxml.repair import misdeclared  # for few files

    again = misdeclared(data)
    if again is not None:
        findings.guess("mended-xml", "the file names another encoding, but its letters are UTF-8")
    return again or data


def read_compressed(
    data: bytes, read_symbol: SymbolReader, part: str | None = None
) -> IntakeResult:
    """The chart of the score inside an archive; a refusal names that score."""
    findings = Findings()
    name, score = score_in_archive(data, findings)
    try:
        return read_musicxml(score, read_symbol, part, findings)
    except Refused as reason:
        raise Refused(f"{one_line(name)[:60]} in the archive: {reason}") from None


class _Source(NamedTuple):
    """The context of every step; ``ours`` says that our own writer made the score, and
    ``attributes`` are all those in its measures."""

    root: Element
    attributes: Sequence[Element]
    units: int
    read_symbol: SymbolReader
    findings: Findings
    ours: bool


def _chart(root: Element, read_symbol: SymbolReader, name: str | None, findings: Findings) -> Chart:
    parts = raw_parts(root)
    attributes = attributes_in(parts)
    units = units_in_quarter(attributes)
    source = _Source(root, attributes, units, read_symbol, findings, is_ours(root))
    main, chorded = wanted_parts(parts, name, read_symbol, findings)
    hidden = _all_hidden(chorded, findings)
    melody = _read_part(source, main, hidden, main is chorded)
    melody = _with_other_singers(source, parts, main, melody, one_alone=name is not None)
    chords = melody if chorded is main else _read_part(source, chorded, hidden, chorded=True)
    unheard = source._replace(findings=Findings())
    for more in () if name else parts_with_other_chords(parts, chorded, read_symbol):
        other = melody
        if more is not main:
            other = _read_part(unheard, more, hidden, chorded=True, hidden_alone=False)
        chords = with_more_chords(chords, other, findings)
    above = parts[0]
    top = melody if above is main else _read_part(unheard, above, hidden, above is chorded)
    others = [part for part in parts if part.id not in {melody.id, chords.id, top.id}]
    top = with_what_others_say(
        (melody, chords, top),
        others,
        lambda other: _read_part(unheard, other, hidden, chorded=True),
        findings,
    )
    measures, verses = _measures(source, melody, chords, top)
    timed = timed_measures(measures, source.units, findings)
    sections = _sections(source, parts, measures, verses, timed)
    first = timed[1] if timed[0].sung_before else timed[0]
    capo = capo_of_score(root, (melody, chords, top), findings)
    head = top_rows(root, first, melody, capo, source.units, read_symbol, findings)
    head += shape_rows(chords.shapes, capo, findings)
    one_key = not any(now.measure.key for now in timed if now is not first)
    chart = _in_meant_keys(source, Chart(head, sections), melody, one_key)
    _report_whole(measures, verses, chart, findings)
    return chart


def _with_other_singers(
    source: _Source, parts: Sequence[RawPart], main: RawPart, melody: Part, one_alone: bool
) -> Part:
    """The part that is sung with the words of others that take turns with it, unless it is asked
    for ``one_alone``."""
    unheard = source._replace(findings=Findings())
    for other, sings_alone in other_singers(parts, main):
        if sings_alone and not one_alone:
            read = _read_part(unheard, other, hidden=False, chorded=False)
            melody = with_words_of(melody, read, source.findings)
        else:
            source.findings.leave_out(
                "words-of-part", f'the words of the part "{other.name}" (take it with --part)'
            )
    return melody


def _read_part(
    source: _Source, part: RawPart, hidden: bool, chorded: bool, *, hidden_alone: bool = True
) -> Part:
    """A part of the score; chord symbols may be typed as words in one that is ``chorded``, and
    hidden where no other stands if ``hidden_alone`` are taken too."""
    findings = source.findings
    before = len(findings.collected)
    reader = PartReader(source.units, source.read_symbol, findings, hidden, ours=source.ours)
    read = reader.part(part.id, part.name, part.measures)
    if reader.singing.clashes:
        # Voices sing one verse at once: walk again, with their words kept apart.
        del findings.collected[before:]
        apart = frozenset(reader.singing.clashes)
        again = PartReader(source.units, source.read_symbol, findings, hidden, apart, source.ours)
        read = again.part(part.id, part.name, part.measures)
    measures = read.measures
    if chorded and not source.ours:
        measures = with_typed_chords(measures, read.interval, source.read_symbol, findings)
        measures = with_typed_basses(measures, read.interval, source.read_symbol, findings)
    taken = chorded and hidden_alone and not source.ours
    measures = with_hidden_chords(measures, findings, taken)
    return read if measures is read.measures else read._replace(measures=measures)


def _measures(
    source: _Source, melody: Part, chords: Part, top: Part
) -> tuple[tuple[Measure, ...], dict[str, int]]:
    """The measures of the parts together, and the number of each verse."""
    measures = with_chords_once(merged_measures(melody, chords, top), source.findings)
    if chords is not melody and not source.ours:  # some parts type what others have as symbols
        context = melody.interval, source.read_symbol, source.findings
        measures = with_typed_chords(measures, *context)
    if not source.ours:
        measures = with_jumps(without_said_words(measures, source.findings), source.findings)
    measures = _without_feel(measures, carried_settings(source.root).get("feel"))
    if source.ours:
        measures = tuple(one._replace(left=NO_EDGE) if one.implicit else one for one in measures)
        return measures, verse_numbers(measures)  # a repeat leads back to a pick-up by itself
    measures = with_heard_tempos(measures, source.findings)
    measures = with_feel_beside_tempo(_without_measure_numbers(measures), source.read_symbol)
    measures = without_doubled_voices(measures, source.findings)
    measures = with_typed_endings(measures, source.findings)
    measures = with_typed_times(measures, source.findings)
    measures = with_typed_similes(measures, source.findings)
    measures = without_sung_names(measures, source.findings)
    measures = with_doubtful_names(measures, source.findings)
    verses = verse_numbers(measures)
    report_typed_chords(measures, source.read_symbol, source.findings)
    measures, verses = without_printed_numbers(measures, verses, source.findings)
    measures, verses = with_plain_lines(measures, verses, source.findings)
    report_voices(verses, source.findings)
    measures = with_lines_behind_repeats(measures, verses, source.findings)
    return with_times_of_verses(measures, verses, source.findings), verses


def _sections(
    source: _Source,
    parts: tuple[RawPart, ...],
    measures: tuple[Measure, ...],
    verses: dict[str, int],
    timed: tuple[Timed, ...],
) -> tuple[Section, ...]:
    """The sections of music, and those of words alone that fields or the page hold."""
    root, findings, ours = source.root, source.findings, source.ours
    has_chords = any(measure.struck for measure in measures)
    if not (has_chords or ours):
        findings.guess(
            "no-chords", "the score has no chord symbols: its bars have slashes in their place"
        )
    bars = BarWriter(findings, says_pickups=not ours, silent_first=has_chords and not ours)
    writer = SectionWriter(verses, source.units, findings, bars, joins_alike=not ours)
    music = writer.sections(timed, _systems(source, measures))
    if ours:
        empty = not any(m.length or m.struck or m.sung for m in measures)
        return with_words_alone(() if empty else music, carried_words(root))
    music = with_refrains_between(music, measures, findings)
    people = people_of(root)
    known = (title_of(root), *people, *(p.name for p in parts))
    return (*music, *words_on_the_page(root, known, people, findings))


def _in_meant_keys(source: _Source, chart: Chart, melody: Part, one_key: bool) -> Chart:
    """The chart in the keys that its chords say are meant; ``one_key`` says that it has one."""
    unnamed, weights = names_no_mode(source.attributes), melody.melody.weights
    if unnamed or not source.ours:
        chart = with_modes(chart, weights, not unnamed, source.findings)
    if not source.ours and one_key:
        chart = with_signature(chart, weights, source.findings)
    return chart


def _report_signs(root: Element, findings: Findings) -> None:
    """Reports which signs of private use are left out, for nobody knows what they mean."""
    unknown = {
        f"U+{ord(sign):04X}"
        for element in root.iter()
        if element.text and not element.text.isascii()
        for sign in PRIVATE.findall(element.text)
        if is_unknown_sign(sign)
    }
    if unknown:
        findings.leave_out(
            "private-sign", "signs of one special font: " + ", ".join(sorted(unknown)[:8])
        )


def _without_feel(measures: tuple[Measure, ...], feel: object) -> tuple[Measure, ...]:
    """The measures without the words at the start that repeat a feel carried elsewhere."""
    said = tuple(one for one in measures[0].instructions if one.onset or one.text != feel)
    return (measures[0]._replace(instructions=said), *measures[1:])


def _systems(source: _Source, measures: tuple[Measure, ...]) -> Systems:
    """What the systems say of the rows: all in a score of ours, perhaps all where the source says
    that its breaks mean something and they make rows that a chart could have."""
    says = any(
        e.get("element") == "print"
        and e.get("attribute") == "new-system"
        and e.get("type") == e.get("value") == "yes"
        for e in source.root.iterfind("identification/encoding/supports")
    )
    rows = "".join("\n" * measure.new_row + "x" for measure in measures).split("\n")
    if not says or max(map(len, rows)) > _LONGEST_ROW:
        return ""
    return "are rows" if source.ours else "may be rows"


def _all_hidden(part: RawPart, findings: Findings) -> bool:
    """Whether no chord symbol of a part is printed, so that the hidden ones are taken."""
    symbols = [one for measure in part.measures for one in measure if one.tag == "harmony"]
    hidden = bool(symbols) and all(h.get("print-object") == "no" for h in symbols)
    if hidden:
        findings.guess("hidden-chords", "no chord symbol is printed: the hidden ones are taken")
    return hidden


def _without_measure_numbers(measures: tuple[Measure, ...]) -> tuple[Measure, ...]:
    """The measures without rehearsal marks that are only their numbers, as some programs put where
    lines begin."""
    boxed = [(one.section, one.number) for one in measures if one.section.isdecimal()]
    if len(boxed) < 2 or any(section != number for section, number in boxed):
        return measures
    return tuple(
        one._replace(section="", new_row=True) if one.section == one.number else one
        for one in measures
    )


def _report_whole(
    measures: tuple[Measure, ...], verses: dict[str, int], chart: Chart, findings: Findings
) -> None:
    struck = sum(len(measure.struck) for measure in measures)
    sung = sum(not one.held for measure in measures for one in measure.sung)
    bars = sum(1 for _ in iter_bars(chart.sections))
    findings.sure(
        "read",
        f"{counted(len(measures), 'measure')} in {counted(bars, 'bar')}, "
        f"{counted(struck, 'chord symbol')}, {counted(sung, 'syllable')} in "
        f"{counted(len(verses), 'verse')}",
    )
